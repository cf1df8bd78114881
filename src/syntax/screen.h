/* A look at a file's bytes before it is scanned, and at texts for what cannot be seen in them. */
#ifndef SYNTAX_SCREEN_H
#define SYNTAX_SCREEN_H

#include <stdbool.h>

#include "support/diagnostic.h"
#include "support/source.h"

/** Reports a NUL or a byte that is no UTF-8: then the file is not to be parsed, and the result is false. Says whether
 * there is any hidden character, for which texts are then to be screened. */
bool screen_file(const struct source_file *file, struct report *report, bool *has_hidden);

/** Reports every hidden or direction-changing character of a text, comment or name. Outside of these the scanner finds
 * that such a character has no meaning. */
void screen_text(struct text text, struct span span, struct report *report);

#endif
