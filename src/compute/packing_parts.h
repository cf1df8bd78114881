/* What the files of packing share. Nobody else includes this.
 *
 * Rolls that weigh the same in every limit are of one kind, and only how many rolls of a kind a party has is looked
 * at. A limit is a row: a whole-numbered weight of each kind, and what a load holds of it. Space is such a row too:
 * with the least common multiple of what the tank takes as the load, a roll weighs a whole number, and no fraction is
 * rounded. */
#ifndef COMPUTE_PACKING_PARTS_H
#define COMPUTE_PACKING_PARTS_H

#include "compute/packing.h"

#define PACKING_NONE UINT32_MAX
/* More kinds than this are made fewer by rounding film up; what is found is right then, but not known to be the best.
 * */
#define PACKING_KINDS_MOST 48
/* With the formats, which cannot be made fewer. */
#define PACKING_KINDS_ROOM (PACKING_KINDS_MOST + PACKING_FORMATS_MOST)

struct packing_row {
	int64_t *weights; /* by kind */
	int64_t capacity; /* of one load */
};

/** The problem, counted. */
struct packing_tally {
	const struct packing_problem *problem;
	struct arena *arena;
	size_t kind_count;
	uint32_t *kind_of;	  /* by roll; PACKING_NONE: it fits no load */
	int64_t *areas;		  /* by kind: film of a roll, as the fills count it; 0 where nothing counts it */
	struct packing_row *rows; /* first those that limit a load, then those that only bound the number of loads */
	size_t limit_count;
	size_t row_count;
	size_t party_count;
	int64_t *rolls;	 /* [party][kind] */
	int64_t *totals; /* by kind */
	int64_t *halves; /* by party: most of its rolls in an untried load */
	size_t untried;
	bool has_fills;	 /* the film does not all fit into the first fill */
	bool is_rounded; /* weights were rounded up: not everything that fits is found */
	int64_t fill, first_fill;
	int64_t roll_count; /* without those too large */
	int64_t work;
	int64_t work_most; /* changes from stage to stage */
};

/** So many rolls of a kind and a party in a load. */
struct packing_share {
	size_t load;
	size_t party;
	size_t kind;
	int64_t count;
};

/** Everything shared out. */
struct packing_sharing {
	struct packing_share *shares;
	size_t share_count;
	size_t load_count;
	size_t split_count;
	size_t fill_count;
};

/** What is left of the fills while loads are put on them in order. */
struct packing_fills {
	int64_t room;  /* of the fill in use */
	int64_t fresh; /* fills after it */
};

enum packing_answer {
	PACKING_NO,
	PACKING_YES,
	PACKING_UNKNOWN /* the work was spent first */
};

/* ---- packing_tally.c ---- */

/** Counts the problem; everything lives in the arena. */
struct packing_tally *packing_tally_make(const struct packing_problem *problem, struct arena *arena);

/** Weight in millionths (2^20) of the capacity, rounded down. */
int64_t packing_part_of(int64_t weight, int64_t capacity);

/** The largest share that a roll of a kind has of any limit of a load, in 2^-20. */
int64_t packing_kind_size(const struct packing_tally *tally, size_t kind);

/** Sum of a row over counts by kind. */
int64_t packing_row_sum(const struct packing_tally *tally, size_t row, const int64_t *counts);

/** Film of counts by kind. */
int64_t packing_area_sum(const struct packing_tally *tally, const int64_t *counts);

/** Whether so many loads may be enough, as far as every row tells. */
bool packing_rows_allow(const struct packing_tally *tally, const int64_t *counts, size_t load_count);

/** The fills as they are before the first load, `fill_count` of them in all. */
struct packing_fills packing_fills_start(const struct packing_tally *tally, size_t fill_count);

/** Counts one step of the work; false when it is spent. */
bool packing_work_on(struct packing_tally *tally);

/* ---- packing_bound.c ---- */

/** The best bound that can be told in a sentence, written into the result. */
void packing_bound_find(const struct packing_tally *tally, struct packing *packing);

/** Adds the rows that bound, made from those that limit. */
void packing_bound_rows(struct packing_tally *tally, size_t source);

/* ---- packing_memo.c: what a search has found out about a state ---- */

struct packing_key {
	uint64_t high, low;
};

struct packing_memo {
	struct packing_memory *memories;
	size_t mask;
};

struct packing_memo packing_memo_make(size_t bits, struct arena *arena);
struct packing_key packing_key_add(struct packing_key key, uint64_t value);
/** The key of a bag of keys: the order of the sum does not matter. */
struct packing_key packing_key_sum(struct packing_key left, struct packing_key right);
bool packing_memo_find(const struct packing_memo *memo, struct packing_key key, int64_t *value);
void packing_memo_store(struct packing_memo *memo, struct packing_key key, int64_t value);

/* ---- packing_kinds.c: whether counts by kind fit, whoever owns them ---- */

struct packing_kinds;

struct packing_kinds *packing_kinds_make(struct packing_tally *tally, size_t load_most);

/** Whether counts by kind fit into so many loads on such fills. The next `untried` loads take no more of a party than
 * its half; what one of them takes is not missing in the next of them, so NO is certain, YES only below two. */
enum packing_answer packing_kinds_fit(struct packing_kinds *kinds, const int64_t *left, size_t load_count,
				      struct packing_fills fills, size_t untried);

/** As packing_kinds_fit, and after YES the loads are in `packing_kinds_load`. */
enum packing_answer packing_kinds_solve(struct packing_kinds *kinds, const int64_t *left, size_t load_count,
					struct packing_fills fills, size_t untried);

/** Fills load after load with what is worth most where the limits press most, never looking back; none is untried. The
 * number of loads; they are as after packing_kinds_solve. */
size_t packing_kinds_price(struct packing_kinds *kinds, const int64_t *left);

/** Untried loads are taken from these ([party][kind]) from now on, not from all rolls. */
void packing_kinds_own(struct packing_kinds *kinds, const int64_t *owned);

/** Counts by kind of a load found; all 0 behind the last. */
const int64_t *packing_kinds_load(const struct packing_kinds *kinds, size_t load);

/* ---- packing_spread.c ---- */

/** A flow of rolls from kinds through parties, of each no more than its half. */
struct packing_flow {
	const struct packing_tally *tally;
	int64_t *taken; /* [party][kind] */
	int64_t *sums;	/* by party */
	bool *is_seen;	/* by party */
};

struct packing_flow *packing_flow_make(const struct packing_tally *tally);

/** Takes `wanted` counts by kind from what the parties have left ([party][kind]); what each gives is in `taken`.
 * False: impossible. */
bool packing_flow_take(struct packing_flow *flow, const int64_t *left, const int64_t *wanted);

/* ---- packing_construct.c ---- */

/** Shares the parties out over loads of which the counts by kind are known. Null: the untried loads could not be
 * spread in the order tried. */
struct packing_sharing *packing_construct(const struct packing_tally *tally, const struct packing_kinds *kinds,
					  size_t load_count);

/** Fills load after load with the largest kinds, never looking back: always something. */
struct packing_sharing *packing_construct_first(struct packing_tally *tally);

/** Goes on from what a search has shared out already: `left` is [party][kind], `first` the next load; the kinds were
 * solved for the loads from `solved_from` on. */
void packing_construct_rest(const struct packing_tally *tally, const struct packing_kinds *kinds,
			    struct packing_sharing *sharing, int64_t *left, size_t first, size_t solved_from);

/** An empty sharing with room for every roll. */
struct packing_sharing *packing_sharing_make(const struct packing_tally *tally, size_t load_count);
void packing_sharing_add(struct packing_sharing *sharing, struct packing_share share);
void packing_sharing_copy(struct packing_sharing *to, const struct packing_sharing *from);
/** By load, party, kind. */
void packing_sharing_sort(struct packing_sharing *sharing);
/** Counts splits; shares of a load lie together. */
void packing_sharing_count(const struct packing_tally *tally, struct packing_sharing *sharing);

/* ---- packing_parties.c: who is in which load ---- */

struct packing_parties;

#define PACKING_SPLITS_ANY (INT64_MAX / 4)

struct packing_parties *packing_parties_make(struct packing_tally *tally, struct packing_kinds *kinds,
					     size_t load_count, size_t fill_count);

/** Looks for loads with at most so many splits; after YES they are in `sharing`. With PACKING_SPLITS_ANY the first
 * that fits is taken. */
enum packing_answer packing_parties_solve(struct packing_parties *parties, int64_t splits_most,
					  struct packing_sharing *sharing);

/** From now on only loads that are put on so few fills are an answer; the tally itself counts no fills then. A search
 * for these does not find all of them: after NO nothing is known. */
void packing_parties_want_fills(struct packing_parties *parties, size_t fill_count, size_t all_count);

/** The loads are now some of more (`all_count`): with such film, at such places, so many of them untried. All of them
 * are wanted. The tally may have changed since. */
void packing_parties_aim(struct packing_parties *parties, size_t untried, const int64_t *all_areas,
			 const size_t *all_places);

/** Fills load after load with as few splits as it can, never looking back. YES or UNKNOWN. */
enum packing_answer packing_parties_greedy(struct packing_parties *parties, struct packing_sharing *sharing);

/** Fewer splits are impossible, as far as each party by itself tells. */
int64_t packing_splits_bound(struct packing_parties *parties);

/* ---- packing_again.c ---- */

/** Packs a few loads anew wherever that saves splits; loads and fills stay as many. Counts its work. */
void packing_again(struct packing_tally *tally, struct packing_sharing *best, int64_t work);

/* ---- packing_splits.c ---- */

/** Fewer splits than these are impossible for what such parties have left ([party][kind]) in so many loads. */
int64_t packing_splits_least(const struct packing_tally *tally, const int64_t *left, const size_t *parties,
			     size_t count, size_t load_count);

/* ---- packing_order.c ---- */

/** The order in which loads with such film take few fills: the untried ones as they are, then always the one with the
 * most film that fits. The number of fills; `order` and `is_placed` have room for every load. */
size_t packing_order_arrange(const struct packing_tally *tally, const int64_t *areas, size_t count, size_t *order,
			     bool *is_placed);

/** Puts the loads into that order, and counts the fills. */
void packing_order_fills(const struct packing_tally *tally, struct packing_sharing *sharing);

/** Fills that loads with such film take in this order; where wanted, the fill of each. */
size_t packing_order_count(const struct packing_tally *tally, const int64_t *areas, size_t count, size_t *fills);

/** Puts loads with urgent rolls first, as far as that costs nothing, and writes loads, fills and splits. */
void packing_order_write(const struct packing_tally *tally, struct packing_sharing *sharing, struct packing *packing);

#endif
