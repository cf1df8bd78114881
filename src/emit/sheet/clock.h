/* What happens when in one step, and by which rule its time is counted. */
#ifndef EMIT_SHEET_CLOCK_H
#define EMIT_SHEET_CLOCK_H

#include "emit/sheet/sheet.h"

/** The rule by which most of the poured steps count their time, in words: "from the first pour, draining included";
 * null where nothing is poured. A step that follows another rule says so itself. */
const char *clock_rule(const struct sheet *sheet);

/** Adds the paragraph that goes with a step's strip: agitation, drain, light and what else there is to do. */
void clock_add(struct sheet *sheet, cmark_node *block, size_t index);

#endif
