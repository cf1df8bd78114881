/* The difference of two texts, line by line. */
#ifndef COMMANDS_DIFFERENCE_H
#define COMMANDS_DIFFERENCE_H

#include "support/output.h"

/** Prints a unified difference, such as patch(1) takes; nothing where both are the same. It is exact, and small where
 * lines were changed in place; lines that moved far count as taken away and added. Takes linear time. */
void difference_print(struct output *output, struct arena *arena, struct text name, struct text old, struct text fresh);

#endif
