/* What happens when in one step, and by which rule its time is counted. */
#ifndef EMIT_SHEET_CLOCK_H
#define EMIT_SHEET_CLOCK_H

#include "emit/sheet/sheet.h"

/** A step whose rule holds for all that are poured; null where they differ, or where none is. */
const struct step *clock_rule_of_all(const struct sheet *sheet);

/** The rule in words: "from the first pour, draining included". */
const char *clock_rule(const struct step *step);

/** Adds the paragraph that goes with a step's strip: agitation, drain, light and what else there is to do. */
void clock_add(struct sheet *sheet, cmark_node *block, size_t step);

#endif
