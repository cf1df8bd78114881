/* Fewer splits by packing a few loads anew: two that share a party, and perhaps a third, are emptied and shared out
 * again with one split less, for as long as that is found. What other loads hold does not change. */
#include <stdlib.h>
#include <string.h>

#include "compute/packing_parts.h"

#define CHOSEN_MOST 3
/* Steps for one such try. */
#define TRY_WORK 4000

struct again {
	const struct packing_tally *whole;
	struct packing_tally tally; /* of the chosen loads */
	struct packing_sharing *best;
	struct packing_sharing *found;
	struct packing_parties *parties[CHOSEN_MOST + 1]; /* by the number of loads chosen */
	size_t *firsts;					  /* by load: its first share; one more at the end */
	bool *is_in;					  /* [load][party] */
	int64_t *areas;					  /* by load */
	size_t loads[CHOSEN_MOST];
	size_t load_count;
	bool is_changed;
};

static bool *in_load(const struct again *again, size_t load)
{
	return &again->is_in[load * again->whole->party_count];
}

/* Where each load's shares are, and who is in it. */
static void look_again(struct again *again)
{
	const struct packing_sharing *best = again->best;
	size_t at = 0;

	packing_sharing_sort(again->best);
	memset(again->is_in, 0, best->load_count * again->whole->party_count * sizeof *again->is_in);
	for (size_t load = 0; load < best->load_count; load++) {
		again->firsts[load] = at;
		again->areas[load] = 0;
		for (; at < best->share_count && best->shares[at].load == load; at++) {
			in_load(again, load)[best->shares[at].party] = true;
			again->areas[load] += best->shares[at].count * again->whole->areas[best->shares[at].kind];
		}
	}
	again->firsts[best->load_count] = at;
}

/* The tally of what is in the chosen loads; how often that is split among them. */
static int64_t count_chosen(struct again *again)
{
	struct packing_tally *tally = &again->tally;
	int64_t splits = 0;

	memset(tally->rolls, 0, tally->party_count * tally->kind_count * sizeof *tally->rolls);
	memset(tally->totals, 0, tally->kind_count * sizeof *tally->totals);
	for (size_t place = 0; place < again->load_count; place++) {
		size_t load = again->loads[place];

		for (size_t i = again->firsts[load]; i < again->firsts[load + 1]; i++) {
			const struct packing_share *share = &again->best->shares[i];

			tally->rolls[share->party * tally->kind_count + share->kind] += share->count;
			tally->totals[share->kind] += share->count;
		}
	}
	for (size_t party = 0; party < tally->party_count; party++) {
		int64_t count = 0;

		for (size_t place = 0; place < again->load_count; place++)
			count += in_load(again, again->loads[place])[party];
		splits += count > 1 ? count - 1 : 0;
	}
	return splits;
}

/* What was found takes the place of what the chosen loads held. */
static void put_back(struct again *again)
{
	struct packing_sharing *best = again->best;
	size_t kept = 0;

	for (size_t i = 0; i < best->share_count; i++) {
		bool is_chosen = false;

		for (size_t place = 0; place < again->load_count; place++)
			is_chosen |= best->shares[i].load == again->loads[place];
		if (!is_chosen)
			best->shares[kept++] = best->shares[i];
	}
	best->share_count = kept;
	for (size_t i = 0; i < again->found->share_count; i++) {
		struct packing_share share = again->found->shares[i];

		share.load = again->loads[share.load];
		packing_sharing_add(best, share);
	}
	look_again(again);
	packing_sharing_count(again->whole, best);
	again->is_changed = true;
}

static int compare_loads(const void *left, const void *right)
{
	const size_t a = *(const size_t *)left;
	const size_t b = *(const size_t *)right;

	return (a > b) - (a < b);
}

/* Packs the chosen loads anew with fewer splits; false: not found. The untried ones among them come first. */
static bool try_chosen(struct again *again, int64_t *work)
{
	struct packing_parties *parties = again->parties[again->load_count];
	size_t untried = 0;
	int64_t splits;

	qsort(again->loads, again->load_count, sizeof *again->loads, compare_loads);
	while (untried < again->load_count && again->loads[untried] < again->whole->untried)
		untried++;
	splits = count_chosen(again);
	if (splits == 0 || *work <= 0)
		return false;
	again->tally.work = 0;
	again->tally.work_most = *work < TRY_WORK ? *work : TRY_WORK;
	packing_parties_aim(parties, untried, again->areas, again->loads);
	if (packing_parties_solve(parties, splits - 1, again->found) != PACKING_YES) {
		*work -= again->tally.work + 1;
		return false;
	}
	*work -= again->tally.work + 1;
	put_back(again);
	return true;
}

static bool is_shared(const struct again *again, size_t left, size_t right)
{
	for (size_t party = 0; party < again->whole->party_count; party++)
		if (in_load(again, left)[party] && in_load(again, right)[party])
			return true;
	return false;
}

static bool try_pair(struct again *again, size_t left, size_t right, int64_t *work)
{
	again->load_count = 2;
	again->loads[0] = left;
	again->loads[1] = right;
	return try_chosen(again, work);
}

static bool try_triples(struct again *again, size_t left, size_t right, int64_t *work)
{
	for (size_t third = 0; *work > 0 && third < again->best->load_count; third++) {
		if (third == left || third == right)
			continue;
		again->load_count = 3;
		again->loads[0] = left;
		again->loads[1] = right;
		again->loads[2] = third;
		if (try_chosen(again, work))
			return true;
	}
	return false;
}

/* Every pair that shares a party once; whether anything was made better. */
static bool pass(struct again *again, bool with_third, int64_t *work)
{
	size_t count = again->best->load_count;
	bool is_better = false;

	for (size_t left = 0; *work > 0 && left < count; left++)
		for (size_t right = left + 1; *work > 0 && right < count; right++) {
			if (!is_shared(again, left, right))
				continue;
			is_better |=
				with_third ? try_triples(again, left, right, work) : try_pair(again, left, right, work);
		}
	return is_better;
}

void packing_again(struct packing_tally *tally, struct packing_sharing *best, int64_t work)
{
	struct again *again = ARENA_NEW(tally->arena, struct again);
	size_t cells = tally->party_count * tally->kind_count + 1;
	struct packing_kinds *kinds;
	int64_t left = work;

	again->whole = tally;
	again->tally = *tally;
	again->tally.has_fills = false;
	again->tally.rolls = ARENA_ARRAY(tally->arena, int64_t, cells);
	again->tally.totals = ARENA_ARRAY(tally->arena, int64_t, tally->kind_count + 1);
	again->best = best;
	again->found = packing_sharing_make(tally, CHOSEN_MOST);
	again->firsts = ARENA_ARRAY(tally->arena, size_t, best->load_count + 2);
	again->is_in = ARENA_ARRAY(tally->arena, bool, (best->load_count + 1) * tally->party_count + 1);
	again->areas = ARENA_ARRAY(tally->arena, int64_t, best->load_count + 1);
	kinds = packing_kinds_make(&again->tally, CHOSEN_MOST);
	for (size_t count = 2; count <= CHOSEN_MOST; count++) {
		again->parties[count] = packing_parties_make(&again->tally, kinds, count, 0);
		packing_parties_want_fills(again->parties[count], tally->has_fills ? best->fill_count : 0,
					   best->load_count);
	}
	look_again(again);
	while (left > 0 && best->split_count > 0 && (pass(again, false, &left) || pass(again, true, &left)))
		continue;
	tally->work += work - (left > 0 ? left : 0);
	/* what was found was tried in this order; what was there may need its own */
	if (tally->has_fills && again->is_changed)
		packing_order_fills(tally, best);
}
