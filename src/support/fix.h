/* Fixes: what is to be written instead, where that is known exactly. */
#ifndef SUPPORT_FIX_H
#define SUPPORT_FIX_H

#include "support/source.h"
#include "support/span.h"
#include "support/text.h"

/** Who may apply a fix. */
enum fix_confidence {
	FIX_SAFE, /* a program: it is what was meant, or changes nothing of what the recipe says */
	FIX_ASKS, /* a person: one of the things that may have been meant */
	FIX_GAPS, /* a person: what stands in it still has to be filled in */
};

struct fix {
	struct span span; /* what is taken out; of length 0 where something is put in */
	struct text text; /* what is written in its place; may be empty */
	enum fix_confidence confidence;
	struct fix *next;
};

/** "safe", "asks" or "gaps". */
const char *fix_confidence_name(enum fix_confidence confidence);

/** "write `1.5`" or "take it out", in `arena`. */
struct text fix_words(struct arena *arena, const struct fix *fix);

/** What goes with a clause that is taken out: its line, where it is alone on it; a `;` that parts it from others. */
struct span fix_whole_clause(const struct source_set *sources, struct span clause);

/** What puts a clause at the end of a block that ends in `}`, with a confidence, in `arena`; null where the span does
 * not end so. */
struct fix *fix_added_clause(struct arena *arena, const struct source_set *sources, struct span block,
			     struct text clause, enum fix_confidence confidence);

/** The text of a file with fixes applied, in `arena`; they are sorted by place and do not overlap. */
struct text fix_apply(struct arena *arena, const struct source_file *file, const struct fix *const *fixes,
		      size_t count);

#endif
