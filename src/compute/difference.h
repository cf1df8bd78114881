/* What differs between two processes: a list of differences as a value, made from the outlines of their runs.
 *
 * Things are matched by name within their kind, then, where they are steps, baths or the like, by what they have in
 * common: a thing that was renamed is not one that went and another that came. Order counts where the order of the run
 * follows from it. Texts and figures are compared exactly, however they read. */
#ifndef COMPUTE_DIFFERENCE_H
#define COMPUTE_DIFFERENCE_H

#include "compute/timeline.h"
#include "model/outline.h"

/** One fact that is not the same. */
struct difference {
	const struct outline *old, *new; /* of one key; never null */
	struct difference *next;
};

/** A thing that is not the same: a process itself, a step, a bath, a part of a formula, an `allow` … */
struct difference_subject {
	const struct outline *old, *new;	 /* null: it was added, or removed */
	const struct outline *thing;		 /* the one of them that is there; of two the new one */
	const struct difference_subject *within; /* the bath of a part, the step of an `allow`; null: the process */
	bool is_renamed;
	bool is_moved;
	struct text after; /* what comes before it: in the new list, or, of what was removed, in the old one */
	struct difference *first, *last;
	struct difference_subject *next;
};

/** Two processes, or the files themselves where they declare none. */
struct difference_pair {
	const struct outline *old, *new; /* null: it was added, or removed */
	bool is_renamed;
	struct difference_subject *first, *last; /* the process first, if it differs itself */
	size_t counts[OUTLINE_ASIDE];		 /* of differences, by matter */
	struct difference_pair *next;
};

struct comparison {
	struct difference_pair *first, *last;
	size_t counts[OUTLINE_ASIDE];
};

/** The outline of a process's run with what its timeline gives: agitations and length of each step, bath time. */
struct outline *difference_outline(const struct recipe *recipe, const struct process *process,
				   const struct timeline *timeline, struct arena *arena);

/** An empty comparison. */
struct comparison *comparison_create(struct arena *arena);

/** Adds what differs between two outlines; one of them may be null. Two that do not differ leave a pair without
 * subjects. */
void comparison_add(struct comparison *comparison, struct arena *arena, const struct outline *old,
		    const struct outline *new, bool is_renamed);

/** Matches two lists of processes and adds each pair. */
void comparison_add_lists(struct comparison *comparison, struct arena *arena, const struct outline *old,
			  const struct outline *new);

/** True where the run, or what is recorded of it, is not the same; titles and notes do not count. */
bool comparison_differs(const struct comparison *comparison);

/** What a difference of a fact means: the graver of its two sides. */
enum outline_matter difference_matter(const struct difference *difference);

#endif
