/* User text on a terminal or on paper: nothing in it moves the cursor, turns the writing round or starts a new line. */
#ifndef EMIT_ESCAPE_TERMINAL_H
#define EMIT_ESCAPE_TERMINAL_H

#include <stddef.h>

#include "support/output.h"
#include "support/text.h"

/** The text on one line: line ends and tabs become spaces, controls and direction changers are shown as escapes. The
 * text itself where nothing has to change, else in `arena`. */
struct text terminal_line(struct arena *arena, struct text text);

/** Writes a text, made harmless by terminal_line, in lines of at most `width` columns, each ended by a line feed. The
 * first line goes on at column `indent`, where the cursor stands already; the others are indented to it. Lines break at
 * spaces, but not at no-break spaces, which are written as spaces; a word wider than a line is cut. */
void terminal_wrap(struct output *output, struct text text, size_t indent, size_t width);

#endif
