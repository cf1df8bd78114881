/* A step's agitation in one sentence: the pattern as the timeline lays it out, with its instants. */
#ifndef EMIT_SHEET_AGITATION_H
#define EMIT_SHEET_AGITATION_H

#include "emit/sheet/sheet.h"

/** Adds "Agitate 0:00–0:30, then 5 s at 1:00, 1:30, 2:00; tap 2 × after each. " with a space behind it, or nothing
 * where nothing is agitated and nothing was said. Times count from the start of the step's time. */
void agitation_add(struct sheet *sheet, cmark_node *paragraph, size_t index);

#endif
