/* Which rolls go together: the rolls of one kind (those that one process develops) shared out over loads of its tank.
 *
 * Hard, in every load: what the tank takes, where `8 x 135 or 4 x 120` is a column (n135/8 + n120/4 <= 1); so many
 * reels of a format; so much film for the bath. Then, in this order: the fewest loads, the fewest fills of the leading
 * bath, the fewest splits, urgent rolls in the earliest loads.
 *
 * An origin is spread: the first `untried` loads hold at most half of an origin's rolls of this kind (rounded down,
 * but one at least); an origin that is kept together is exempt. A split is one more load that an origin or a group is
 * in: splits = sum over origins and groups of (loads it is in - 1). Rolls of a group are counted with the group, not
 * with the origin.
 *
 * Precisely:
 * - Space is exact: fractions over the least common multiple of what the tank takes. (Where that is beyond counting,
 *   or there are more than some fifty kinds of film, weights are rounded up: every load still fits, but only a bound
 *   told by plain sums is proven.)
 * - A load is done on one fill, so no load holds more film than load_area or fill_area, whichever is less.
 * - Fills: loads are done in their order on one fill until the next does not fit into what is left of it; then a
 *   fresh one is mixed. Where first_fill_area is set, fill 0 is what is on hand, even if no load fits into it.
 *   fill_count is the number of the last fill + 1, and what is counted least is that, over all orders and contents of
 *   so many loads.
 * - "Half of an origin" is of its rolls that fit at all. No load is empty; with no more loads than `untried` all of
 *   them spread. A group that would fit into one load is split where that saves a load or a fill, and is counted then.
 * - Urgent rolls come early as far as order and the choice between rolls of one party and kind go: fewer fills and
 *   fewer splits come first, and that this is the earliest is not proven.
 * - What is proven is proven for the figures before it: splits_least for load_count and fill_count as they are here.
 * Work is counted in steps, never in time, so that the answer is the same on every machine.
 *
 * Pure: no model, no text. Deterministic. Everything lives in the arena given. */
#ifndef COMPUTE_PACKING_H
#define COMPUTE_PACKING_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "support/arena.h"

#define PACKING_FORMATS_MOST 24

struct packing_roll {
	uint32_t format;	  /* index below format_count */
	uint32_t party;		  /* index below party_count: the group it is kept together with, else its origin */
	int64_t area_milli_rolls; /* above 0 */
	bool is_urgent;
};

/** Rolls that belong together. */
struct packing_party {
	bool is_together; /* a `keep together` group: exempt from spreading */
};

struct packing_problem {
	size_t format_count;
	int64_t takes[PACKING_FORMATS_MOST]; /* of a format in one load, if it is alone there; 0: does not fit */
	int64_t reels[PACKING_FORMATS_MOST]; /* of a format in one load at most; -1: as many as wanted */
	int64_t load_area_milli_rolls; /* of film in one load at most (bath capacity, developer a roll); 0: no limit */
	int64_t fill_area_milli_rolls; /* of film that one fill of the leading bath does; 0: no limit */
	int64_t first_fill_area_milli_rolls; /* that what is on hand still does, if it is a fill too; 0: none */
	size_t untried;			     /* of the first loads, how many must spread */
	const struct packing_roll *rolls;
	size_t roll_count;
	const struct packing_party *parties;
	size_t party_count;
	int64_t work_most; /* steps that may be taken before the best so far is taken; 0: the default (0.3 s or so) */
};

/** What bounds the number of loads from below, in words a person can follow (the emitters put them). */
enum packing_bound {
	PACKING_BOUND_NONE,   /* no rolls */
	PACKING_BOUND_SPACE,  /* sum of 1/takes over the rolls, rounded up */
	PACKING_BOUND_REELS,  /* rolls of `bound_format` over its reels, rounded up */
	PACKING_BOUND_AREA,   /* film over load_area, rounded up */
	PACKING_BOUND_LARGE,  /* rolls of which no two, or only so many, fit together: rolls over so many */
	PACKING_BOUND_SPREAD, /* one party alone needs more, since the first loads take half of it: its rolls over the
			       * half; where only untried loads are too few for it, one load more over 1 */
	PACKING_BOUND_SEARCH  /* all ways to do it in one load less were tried: loads over 1 */
};

struct packing_load {
	uint32_t *rolls; /* indices, in the order in which they are to lie beside each other: party by party */
	size_t count;
	int64_t area_milli_rolls;
	size_t fill; /* of the leading bath, from 0; 0 as well where there is no limit */
};

struct packing {
	struct packing_load *loads; /* in the order in which they are to run, but for what only the day decides */
	size_t load_count;
	size_t fill_count;
	size_t split_count;
	uint32_t *too_large; /* rolls that fit no load at all; they are in none */
	size_t too_large_count;
	size_t loads_least; /* fewer loads are impossible */
	enum packing_bound bound;
	uint32_t bound_format;	 /* PACKING_BOUND_REELS */
	int64_t bound_numerator; /* the bound is numerator / denominator, rounded up: 76 thirds of … */
	int64_t bound_denominator;
	size_t fills_least;  /* with so many loads, fewer fills are impossible */
	size_t splits_least; /* with so many loads and fills, fewer splits are impossible */
	bool is_proven_loads, is_proven_fills, is_proven_splits;
	int64_t work; /* steps of the search */
};

/** Packs. Rolls of a format with takes 0 or reels 0, or larger than load_area or fill_area, are left out as too
 * large. */
struct packing *packing_solve(const struct packing_problem *problem, struct arena *arena);

#endif
