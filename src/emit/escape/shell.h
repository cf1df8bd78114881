/* User text in a shell script: one door, so that nothing in it is ever expanded, run or moves the cursor. */
#ifndef EMIT_ESCAPE_SHELL_H
#define EMIT_ESCAPE_SHELL_H

#include "support/text.h"

/** The text as one word in single quotes, on one line: line ends and tabs are spaces, controls and direction changers
 * shown as escapes. Lives in `arena`. */
struct text shell_word(struct arena *arena, struct text text);

/** The text for the rest of a comment line: one line, harmless. Lives in `arena`. */
struct text shell_comment(struct arena *arena, struct text text);

/** The text as a part of a file name: ASCII letters, digits, points, hyphens; all else is a low line, and it begins
 * with a letter, a digit or a low line; of a long text the beginning. Never empty. Lives in `arena`. */
struct text shell_file_name(struct arena *arena, struct text text);

#endif
