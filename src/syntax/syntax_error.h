/* What the grammar could not read, said in a reader's words. */
#ifndef SYNTAX_SYNTAX_ERROR_H
#define SYNTAX_SYNTAX_ERROR_H

#include "syntax/feed.h"

/** Reports the token `found` at `span`, where one of `fits` (kinds of token) would have been right. */
void syntax_error_report(struct feed *feed, int found, struct span span, const int *fits, size_t fit_count);

#endif
