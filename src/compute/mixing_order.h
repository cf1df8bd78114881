/* In which order the baths of a process are mixed. Against contamination first (mixing_order.def); among equals what
 * must cool longest, then what keeps longest, then what is poured first. A stock comes before what is diluted from it.
 */
#ifndef COMPUTE_MIXING_ORDER_H
#define COMPUTE_MIXING_ORDER_H

#include "model/recipe.h"

/** Why a bath stands behind the one before it. */
enum mixing_reason { MIXING_BY_GROUP, MIXING_BY_STOCK, MIXING_BY_COOLING, MIXING_BY_KEEPING, MIXING_BY_POUR };

/** One bath in the order. The caller fills in the first five members, in the order of pouring. */
struct mixing_turn {
	const struct solution *solution;
	size_t index;	  /* the caller's */
	int64_t cools_ms; /* how long it must cool; negative: not known */
	int64_t excess;	  /* by how much it is too warm, a difference; counts where a time in its group is not known */
	int64_t keeps_ms; /* in a full bottle; 0: not known */
	int group;
	enum mixing_reason reason; /* the first one's is its group */
	bool is_placed;
};

/** Puts the turns in order; `arena` is scratch. */
void mixing_order(struct mixing_turn *turns, size_t count, struct arena *arena);

/** Why the baths that do the same to film as this one are mixed when they are: part of a sentence. */
struct text mixing_order_why(const struct solution *solution);

#endif
