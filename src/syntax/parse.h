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

struct parse_tokens {
	const struct feed_token *items; /* as the grammar got them; the last is the end of the file */
	size_t count;
	bool is_whole; /* nothing was passed over or put in for a mistake of syntax, told or not */
};

/** The same, with the tokens that the file was read as, for whoever prints it again. None where it cannot be read. */
struct tree *parse_file_tokens(struct source_set *sources, const struct source_file *file, struct arena *arena,
			       struct report *report, struct parse_tokens *tokens);

#endif
