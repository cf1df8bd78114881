/* Which thing of one list is which of another: by name, then by what they have in common. */
#ifndef COMPUTE_MATCHING_H
#define COMPUTE_MATCHING_H

#include "model/outline.h"

#define MATCHING_NONE ((size_t)-1)

struct matching {
	const struct outline **old, **new; /* the items of each list, in order */
	size_t old_count, new_count;
	size_t *of_old, *of_new; /* index of the partner in the other list; MATCHING_NONE */
	bool *is_moved;		 /* by old index: it has passed others that stayed in order */
};

/** Matches the objects of two lists, which may be null. `by_likeness`: those whose names have no partner are matched
 * where they are alike. */
struct matching matching_of(const struct outline *old, const struct outline *new, bool by_likeness,
			    struct arena *arena);

#endif
