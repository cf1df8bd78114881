/* What the files of the search for parties share: packing_parties.c goes from load to load, packing_choose.c fills
 * one, packing_greedy.c fills all without looking back. Nobody else includes this. */
#ifndef COMPUTE_PACKING_SEARCH_H
#define COMPUTE_PACKING_SEARCH_H

#include "compute/packing_parts.h"

struct packing_parties {
	struct packing_tally *tally;
	struct packing_kinds *kinds;
	struct packing_memo memo;
	struct packing_sharing *sharing;
	size_t load_count, fill_count, untried;
	int64_t *left;	 /* [party][kind] */
	int64_t *totals; /* by kind: what is left of all */
	/* by load: */
	size_t *counts;	     /* parties in its order */
	size_t *order;	     /* [load][place]: parties that have anything left */
	bool *is_twin;	     /* [load][place]: the party before has the same left */
	int64_t *took;	     /* [load][party]: rolls */
	int64_t *room;	     /* [load][limit] */
	int64_t *rest;	     /* [load][limit]: what the parties not yet looked at weigh */
	size_t fills_wanted; /* 0: any number */
	bool is_part;	     /* these loads are some of more */
	int64_t refused;     /* answers that took more */
	size_t all_count;    /* loads to put on the fills: these, or more of which these are some */
	const int64_t *all_areas;
	const size_t *all_places; /* of these among all */
	int64_t *areas;		  /* by load, with what puts them in order */
	size_t *arranged;
	bool *is_placed;
	bool is_greedy;
	int64_t greedy_work; /* left for this load */
	size_t depth; /* of the search now: loads by parties */
	int64_t greedy_used; /* the most space; -1: nothing found */
	struct packing_sharing *greedy;
	size_t greedy_from; /* shares before this load */
};

/* One load being filled. */
struct packing_place {
	size_t load;
	size_t party_count; /* in its order */
	int64_t splits;	    /* that are still allowed */
	struct packing_fills fills;
	bool has_leader;
	bool is_untried;
};

/* ---- packing_parties.c ---- */

/** What a party has left, by kind. */
int64_t *packing_left_of(const struct packing_parties *parties, size_t party);

/** The number of rolls it has left. */
int64_t packing_rolls_left(const struct packing_parties *parties, size_t party);

/** Whether nobody has anything left. */
bool packing_is_shared_out(const struct packing_parties *parties);

/** Everything is to be shared out again, into `sharing`. */
void packing_parties_start(struct packing_parties *parties, struct packing_sharing *sharing);

/** Puts the parties that have anything left in order for a load, large ones first. */
void packing_make_order(struct packing_parties *parties, size_t load, bool is_untried);

/** Shares what is left out over the loads from this one on. */
enum packing_answer packing_share_loads(struct packing_parties *parties, size_t load, int64_t splits,
					struct packing_fills fills);

/* ---- packing_choose.c ---- */

/** Fills an empty load in every way, and goes on from each; the parties are in order. */
enum packing_answer packing_fill_load(struct packing_parties *parties, struct packing_place place);

/** Puts rolls into a load, or takes them out again (count below 0). */
void packing_put(struct packing_parties *parties, const struct packing_place *place, size_t party, size_t kind,
		 int64_t count);

/* ---- packing_greedy.c ---- */

/** A load is full: keeps it if it is the fullest. YES: none can be fuller. */
enum packing_answer packing_keep_load(struct packing_parties *parties, const struct packing_place *place);

#endif
