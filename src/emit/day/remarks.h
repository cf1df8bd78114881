/* What a day or its table says of single rolls, for whoever reads the plan or the lists. */
#ifndef EMIT_DAY_REMARKS_H
#define EMIT_DAY_REMARKS_H

#include "emit/day/paper.h"

/** True where more is said of a roll than its title: whoever has it in hand is to look. */
bool remarks_has(const struct roll *roll);

/** Titles, notes, who decided that a roll is developed as what and why, what is allowed for it and why; nothing where
 * nothing is said. */
void remarks_add(struct paper *paper);

#endif
