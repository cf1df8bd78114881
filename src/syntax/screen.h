/* A first look at a file's bytes, before it is scanned. */
#ifndef SYNTAX_SCREEN_H
#define SYNTAX_SCREEN_H

#include <stdbool.h>

#include "support/diagnostic.h"
#include "support/source.h"

/** Reports a NUL or a byte that is no UTF-8 (then the file is not to be parsed: returns false) and every hidden or
 * direction-changing character. */
bool screen_file(const struct source_file *file, struct report *report);

#endif
