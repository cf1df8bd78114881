/* A reel on its column, seen from the side: rows of a table, one on top of the other, show how they stand in the
 * tank. */
#ifndef EMIT_LISTS_REEL_H
#define EMIT_LISTS_REEL_H

#include <stddef.h>

#include "support/output.h"

/** What the number of a reel's mark says, one bit each. */
#define REEL_IS_BOTTOM 1
#define REEL_IS_TOP 2
#define REEL_IS_EMPTY 4

/** Draws one reel as an SVG element that fills its cell. */
void reel_draw(size_t bits, struct output *output);

#endif
