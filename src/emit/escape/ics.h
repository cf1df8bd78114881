/* Content lines of an iCalendar stream (RFC 5545, 3.1): CR LF, folded at 75 octets and never within a character, texts
 * escaped, nothing in them that could begin a line of its own. */
#ifndef EMIT_ESCAPE_ICS_H
#define EMIT_ESCAPE_ICS_H

#include "support/output.h"

/** Writes `name:value`, where the value holds no user text and needs no escapes: a time, a word. `name` may carry
 * parameters. */
void ics_line(struct output *output, struct arena *arena, const char *name, struct text value);

/** Writes `name:value` with a value of type TEXT (3.3.11): backslash, comma, semicolon and line feed are escaped;
 * controls, hidden characters and what is no UTF-8 become visible. */
void ics_text(struct output *output, struct arena *arena, const char *name, struct text value);

#endif
