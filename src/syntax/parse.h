/* Text in, tree out: the scanner, the grammar and what stands between them (clause ends, units, recovery). */
#ifndef SYNTAX_PARSE_H
#define SYNTAX_PARSE_H

#include "support/diagnostic.h"
#include "support/source.h"
#include "syntax/feed.h"
#include "syntax/tree.h"

/** Parses a file into `arena`. Mistakes go to the report; the tree holds every declaration and clause that was
 * understood. Never null. */
struct tree *parse_file(struct source_set *sources, const struct source_file *file, struct arena *arena,
			struct report *report);

/** What may come next where a text breaks off: the file holds what stands before that place. */
struct feed_fitting parse_fitting(struct source_set *sources, const struct source_file *file, struct arena *arena);

#endif
