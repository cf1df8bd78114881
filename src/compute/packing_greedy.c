/* Loads filled one after the other, never looking back: what large problems begin with. */
#include "compute/packing_search.h"

/* Steps for one load. */
#define GREEDY_WORK 4000
#define GREEDY_SPLITS_MOST 4

/* Without looking back: the fullest load within the work it may take is kept. */
enum packing_answer packing_keep_load(struct packing_parties *parties, const struct packing_place *place)
{
	const struct packing_tally *tally = parties->tally;
	const struct packing_sharing *sharing = parties->sharing;
	int64_t used = tally->rows[0].capacity - parties->room[place->load * tally->limit_count];

	if (!packing_rows_allow(tally, parties->totals, parties->load_count - place->load - 1))
		return PACKING_NO;
	if (used > parties->greedy_used) {
		parties->greedy_used = used;
		parties->greedy->share_count = 0;
		for (size_t i = parties->greedy_from; i < sharing->share_count; i++)
			packing_sharing_add(parties->greedy, sharing->shares[i]);
	}
	return used == tally->rows[0].capacity ? PACKING_YES : PACKING_NO;
}

/* Fills one load: the fewest parts with which no more than its share of the spare space is lost. */
static bool fill_greedily(struct packing_parties *parties, size_t load)
{
	const struct packing_tally *tally = parties->tally;
	int64_t capacity = tally->rows[0].capacity;
	int64_t loads = (int64_t)(parties->load_count - load);
	int64_t spare = (capacity * loads - packing_row_sum(tally, 0, parties->totals)) / loads;

	for (int64_t splits = 0; splits <= GREEDY_SPLITS_MOST; splits++) {
		struct packing_place place = { .load = load, .splits = splits, .is_untried = load < parties->untried };

		place.has_leader = !place.is_untried;
		parties->greedy_used = -1;
		parties->greedy_work = GREEDY_WORK;
		parties->greedy_from = parties->sharing->share_count;
		if (packing_fill_load(parties, place) == PACKING_UNKNOWN && parties->greedy_work > 0)
			return false;
		if (parties->greedy_used < 0 ||
		    (capacity - parties->greedy_used > spare && splits < GREEDY_SPLITS_MOST))
			continue;
		for (size_t i = 0; i < parties->greedy->share_count; i++) {
			const struct packing_share *share = &parties->greedy->shares[i];

			packing_sharing_add(parties->sharing, *share);
			packing_put(parties, &place, share->party, share->kind, share->count);
		}
		return true;
	}
	return false;
}

enum packing_answer packing_parties_greedy(struct packing_parties *parties, struct packing_sharing *sharing)
{
	packing_parties_start(parties, sharing);
	parties->is_greedy = true;
	parties->greedy = packing_sharing_make(parties->tally, parties->load_count);
	for (size_t load = 0; load < parties->load_count; load++) {
		if (packing_is_shared_out(parties)) {
			sharing->load_count = load;
			break;
		}
		packing_make_order(parties, load, load < parties->untried);
		if (!fill_greedily(parties, load))
			return PACKING_UNKNOWN;
	}
	if (!packing_is_shared_out(parties))
		return PACKING_UNKNOWN;
	packing_sharing_count(parties->tally, sharing);
	return PACKING_YES;
}
