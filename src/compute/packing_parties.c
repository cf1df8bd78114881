/* Which parties are in which load, with as few splits as may be: a search, load by load. */
#include <string.h>

#include "compute/packing_search.h"

struct packing_parties *packing_parties_make(struct packing_tally *tally, struct packing_kinds *kinds,
					     size_t load_count, size_t fill_count)
{
	struct packing_parties *parties = ARENA_NEW(tally->arena, struct packing_parties);
	size_t parties_room = tally->party_count + 1;

	*parties = (struct packing_parties){ .tally = tally,
					     .kinds = kinds,
					     .load_count = load_count,
					     .fill_count = fill_count,
					     .untried = tally->untried < load_count ? tally->untried : load_count };
	parties->memo = packing_memo_make(load_count < 4 ? 10 : tally->roll_count > 30 ? 16 : 13, tally->arena);
	parties->left = ARENA_ARRAY(tally->arena, int64_t, parties_room * tally->kind_count + 1);
	parties->totals = ARENA_ARRAY(tally->arena, int64_t, tally->kind_count + 1);
	parties->counts = ARENA_ARRAY(tally->arena, size_t, load_count + 1);
	parties->order = ARENA_ARRAY(tally->arena, size_t, load_count * parties_room + 1);
	parties->is_twin = ARENA_ARRAY(tally->arena, bool, load_count *parties_room + 1);
	parties->took = ARENA_ARRAY(tally->arena, int64_t, load_count * parties_room + 1);
	parties->room = ARENA_ARRAY(tally->arena, int64_t, load_count * tally->limit_count + 1);
	parties->rest = ARENA_ARRAY(tally->arena, int64_t, load_count * tally->limit_count + 1);
	return parties;
}

int64_t *packing_left_of(const struct packing_parties *parties, size_t party)
{
	return &parties->left[party * parties->tally->kind_count];
}

int64_t packing_rolls_left(const struct packing_parties *parties, size_t party)
{
	const int64_t *left = packing_left_of(parties, party);
	int64_t sum = 0;

	for (size_t kind = 0; kind < parties->tally->kind_count; kind++)
		sum += left[kind];
	return sum;
}

bool packing_is_shared_out(const struct packing_parties *parties)
{
	for (size_t kind = 0; kind < parties->tally->kind_count; kind++)
		if (parties->totals[kind] > 0)
			return false;
	return true;
}

/* ---- how few splits ---- */

static int64_t rounded_up(int64_t numerator, int64_t denominator)
{
	return numerator / denominator + (numerator % denominator != 0);
}

/* Loads that what a party has left needs by itself, from `load` on. */
static int64_t loads_needed(const struct packing_parties *parties, size_t load, size_t party)
{
	const struct packing_tally *tally = parties->tally;
	int64_t rolls = packing_rolls_left(parties, party);
	int64_t untried = load < parties->untried ? (int64_t)(parties->untried - load) : 0;
	int64_t needed = 1;

	for (size_t row = 0; row < tally->row_count; row++) {
		int64_t loads = rounded_up(packing_row_sum(tally, row, packing_left_of(parties, party)),
					   tally->rows[row].capacity);

		if (loads > needed)
			needed = loads;
	}
	/* only where no load is left that is not untried, half of it cannot be got round */
	if (untried > 0 && parties->load_count == parties->untried && rounded_up(rolls, tally->halves[party]) > needed)
		needed = rounded_up(rolls, tally->halves[party]);
	return needed;
}

int64_t packing_splits_bound(struct packing_parties *parties)
{
	const struct packing_tally *tally = parties->tally;
	int64_t splits = 0;

	memcpy(parties->left, tally->rolls, tally->party_count * tally->kind_count * sizeof *tally->rolls);
	for (size_t party = 0; party < tally->party_count; party++)
		if (packing_rolls_left(parties, party) > 0)
			splits += loads_needed(parties, 0, party) - 1;
	return splits;
}

/* ---- load after load ---- */

static int64_t size_of(const struct packing_parties *parties, size_t party)
{
	const struct packing_tally *tally = parties->tally;
	int64_t most = 0;

	for (size_t row = 0; row < tally->limit_count; row++) {
		int64_t part = packing_part_of(packing_row_sum(tally, row, packing_left_of(parties, party)),
					       tally->rows[row].capacity);

		if (part > most)
			most = part;
	}
	return most;
}

/* Below 0: the left one comes first, as larger; 0: they have the same left, and the same half where that still
 * counts. */
static int compare_parties(const struct packing_parties *parties, size_t left, size_t right, bool is_untried)
{
	const struct packing_tally *tally = parties->tally;
	int64_t sizes[2] = { size_of(parties, left), size_of(parties, right) };

	if (sizes[0] != sizes[1])
		return sizes[0] > sizes[1] ? -1 : 1;
	for (size_t kind = 0; kind < tally->kind_count; kind++) {
		int64_t counts[2] = { packing_left_of(parties, left)[kind], packing_left_of(parties, right)[kind] };

		if (counts[0] != counts[1])
			return counts[0] > counts[1] ? -1 : 1;
	}
	if (is_untried && tally->halves[left] != tally->halves[right])
		return tally->halves[left] > tally->halves[right] ? -1 : 1;
	return 0;
}

/* The parties that have anything left, from the order of the load before. */
void packing_make_order(struct packing_parties *parties, size_t load, bool is_untried)
{
	const struct packing_tally *tally = parties->tally;
	size_t *order = &parties->order[load * (tally->party_count + 1)];
	bool *is_twin = &parties->is_twin[load * (tally->party_count + 1)];
	const size_t *before = load == 0 ? NULL : order - (tally->party_count + 1);
	size_t count = 0;

	for (size_t i = 0; i < (before == NULL ? tally->party_count : parties->counts[load - 1]); i++) {
		size_t party = before == NULL ? i : before[i];
		size_t at = count;

		if (packing_rolls_left(parties, party) == 0)
			continue;
		for (; at > 0 && compare_parties(parties, order[at - 1], party, is_untried) > 0; at--)
			order[at] = order[at - 1];
		order[at] = party;
		count++;
	}
	for (size_t i = 0; i < count; i++)
		is_twin[i] = i > 0 && compare_parties(parties, order[i - 1], order[i], is_untried) == 0;
	parties->counts[load] = count;
}

static struct packing_key key_of(const struct packing_parties *parties, size_t load, struct packing_fills fills)
{
	const struct packing_tally *tally = parties->tally;
	const size_t *order = &parties->order[load * (tally->party_count + 1)];
	struct packing_key bag = { load + 1, parties->untried };

	for (size_t at = 0; at < parties->counts[load]; at++) {
		struct packing_key key = { 1, 2 };

		for (size_t kind = 0; kind < tally->kind_count; kind++)
			key = packing_key_add(key, (uint64_t)packing_left_of(parties, order[at])[kind]);
		if (load < parties->untried)
			key = packing_key_add(key, (uint64_t)tally->halves[order[at]]);
		bag = packing_key_sum(bag, key);
	}
	return packing_key_add(packing_key_add(bag, (uint64_t)fills.room), (uint64_t)fills.fresh);
}

static enum packing_answer next_load(struct packing_parties *parties, size_t load, int64_t splits,
				     struct packing_fills fills)
{
	const struct packing_tally *tally = parties->tally;
	bool is_untried = load < parties->untried;
	struct packing_place place = {
		.load = load, .splits = splits, .fills = fills, .has_leader = !is_untried, .is_untried = is_untried
	};
	enum packing_answer answer = PACKING_NO;
	enum packing_answer fresh;

	if (!tally->has_fills)
		return packing_fill_load(parties, place);
	place.has_leader = false;
	if (fills.room > 0)
		answer = packing_fill_load(parties, place);
	if (answer == PACKING_YES || fills.fresh == 0)
		return answer;
	place.has_leader = !is_untried;
	place.fills = (struct packing_fills){ tally->fill, fills.fresh - 1 };
	fresh = packing_fill_load(parties, place);
	return fresh == PACKING_NO ? answer : fresh;
}

/* What the rest needs at least is more than what is allowed. */
static bool is_hopeless(const struct packing_parties *parties, size_t load, int64_t splits)
{
	const size_t *order = &parties->order[load * (parties->tally->party_count + 1)];

	int64_t needed = 0;

	for (size_t at = 0; at < parties->counts[load]; at++)
		needed += loads_needed(parties, load, order[at]) - 1;
	return needed > splits || (splits < PACKING_SPLITS_ANY / 2 &&
				   packing_splits_least(parties->tally, parties->left, order, parties->counts[load],
							parties->load_count - load) > splits);
}

/* Any split is allowed: once the untried loads are full, it does not matter any more who is where. */
static enum packing_answer finish(struct packing_parties *parties, size_t load, struct packing_fills fills)
{
	struct packing_tally *tally = parties->tally;
	enum packing_answer answer =
		packing_kinds_solve(parties->kinds, parties->totals, parties->load_count - load, fills, 0);

	if (answer == PACKING_YES) {
		size_t count = tally->party_count * tally->kind_count;
		int64_t *left = ARENA_ARRAY(tally->arena, int64_t, count + 1);

		memcpy(left, parties->left, count * sizeof *left);
		packing_construct_rest(tally, parties->kinds, parties->sharing, left, load, load);
	}
	return answer;
}

void packing_parties_want_fills(struct packing_parties *parties, size_t fill_count, size_t all_count)
{
	struct arena *arena = parties->tally->arena;

	parties->fills_wanted = fill_count;
	parties->all_count = all_count;
	parties->areas = ARENA_ARRAY(arena, int64_t, all_count + 1);
	parties->arranged = ARENA_ARRAY(arena, size_t, all_count + 1);
	parties->is_placed = ARENA_ARRAY(arena, bool, all_count + 1);
}

void packing_parties_aim(struct packing_parties *parties, size_t untried, const int64_t *all_areas,
			 const size_t *all_places)
{
	parties->untried = untried;
	parties->is_part = true;
	parties->all_areas = all_areas;
	parties->all_places = all_places;
}

/* Film of every load, with what these hold now. */
static void gather_areas(struct packing_parties *parties, size_t load_count)
{
	const struct packing_tally *tally = parties->tally;

	if (parties->is_part)
		memcpy(parties->areas, parties->all_areas, parties->all_count * sizeof *parties->areas);
	for (size_t load = 0; load < load_count; load++)
		parties->areas[parties->is_part ? parties->all_places[load] : load] = 0;
	for (size_t i = 0; i < parties->sharing->share_count; i++) {
		const struct packing_share *share = &parties->sharing->shares[i];
		size_t load = parties->is_part ? parties->all_places[share->load] : share->load;

		parties->areas[load] += share->count * tally->areas[share->kind];
	}
}

/* Everything is in a load. Of loads that are a part of all none may stay empty. */
static enum packing_answer accept(struct packing_parties *parties, size_t load_count)
{
	const struct packing_tally *tally = parties->tally;
	bool is_wanted = !parties->is_part || load_count == parties->load_count;

	parties->sharing->load_count = load_count;
	if (is_wanted && parties->fills_wanted > 0) {
		gather_areas(parties, load_count);
		parties->tally->work += (int64_t)(parties->all_count * parties->all_count / 8);
		is_wanted =
			packing_order_arrange(tally, parties->areas, parties->is_part ? parties->all_count : load_count,
					      parties->arranged, parties->is_placed) <= parties->fills_wanted;
	}
	if (is_wanted)
		return PACKING_YES;
	parties->refused++;
	return PACKING_NO;
}

enum packing_answer packing_share_loads(struct packing_parties *parties, size_t load, int64_t splits,
					struct packing_fills fills)
{
	int64_t refused = parties->refused;
	struct packing_tally *tally = parties->tally;
	size_t loads = parties->load_count - load;
	size_t untried = load < parties->untried ? parties->untried - load : 0;
	enum packing_answer answer;
	struct packing_key key;
	int64_t known;

	if (packing_is_shared_out(parties))
		return accept(parties, load);
	if (load == parties->load_count)
		return PACKING_NO;
	packing_make_order(parties, load, untried > 0);
	tally->work += (int64_t)parties->counts[load];
	if (is_hopeless(parties, load, splits) || !packing_rows_allow(tally, parties->totals, loads))
		return PACKING_NO;
	if (splits >= PACKING_SPLITS_ANY / 2 && untried == 0)
		return finish(parties, load, fills);
	key = key_of(parties, load, fills);
	if (packing_memo_find(&parties->memo, key, &known) && known >= splits)
		return PACKING_NO;
	if (packing_kinds_fit(parties->kinds, parties->totals, loads, fills, parties->is_part ? 0 : untried) ==
	    PACKING_NO)
		return PACKING_NO;
	answer = next_load(parties, load, splits, fills);
	if (answer == PACKING_NO && parties->refused == refused)
		packing_memo_store(&parties->memo, key, splits);
	return answer;
}

void packing_parties_start(struct packing_parties *parties, struct packing_sharing *sharing)
{
	const struct packing_tally *tally = parties->tally;

	memcpy(parties->left, tally->rolls, tally->party_count * tally->kind_count * sizeof *tally->rolls);
	memcpy(parties->totals, tally->totals, tally->kind_count * sizeof *tally->totals);
	parties->sharing = sharing;
	sharing->share_count = 0;
	sharing->load_count = parties->load_count;
}

enum packing_answer packing_parties_solve(struct packing_parties *parties, int64_t splits_most,
					  struct packing_sharing *sharing)
{
	enum packing_answer answer;

	packing_parties_start(parties, sharing);
	parties->is_greedy = false;
	answer = packing_share_loads(parties, 0, splits_most, packing_fills_start(parties->tally, parties->fill_count));
	if (answer == PACKING_YES)
		packing_sharing_count(parties->tally, sharing);
	return answer;
}
