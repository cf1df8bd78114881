/* Which parties are in which load, with as few splits as may be: a search, load by load.
 *
 * A load is chosen party by party, large ones first: all of it, a part of it (which is a split, since the rest goes into
 * a later load), or nothing. Parties that have the same left are interchangeable, so that the later of two takes no more
 * than the earlier one. Without fills to count, loads are alike, and three things may be taken for granted: the next load
 * holds some of the largest party; no party fits into it whole that is not (moving it there costs no split and makes no
 * later load fuller); what is left fits by kind, whoever owns it. Untried loads are not alike, and only the last of them
 * is so full surely (see packing_kinds.c). */
#include <string.h>

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
	int64_t greedy_used; /* the most space; -1: nothing found */
	struct packing_sharing *greedy;
	size_t greedy_from; /* shares before this load */
};

/* One load being filled. */
struct place {
	size_t load;
	size_t party_count; /* in its order */
	int64_t splits;	    /* that are still allowed */
	struct packing_fills fills;
	bool has_leader;
	bool is_untried;
};

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
	parties->memo = packing_memo_make(tally->roll_count > 30 ? 16 : 13, tally->arena);
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

static enum packing_answer share_loads(struct packing_parties *parties, size_t load, int64_t splits,
				       struct packing_fills fills);
static enum packing_answer choose(struct packing_parties *parties, const struct place *place, size_t at);

static int64_t *left_of(const struct packing_parties *parties, size_t party)
{
	return &parties->left[party * parties->tally->kind_count];
}

static int64_t rolls_left(const struct packing_parties *parties, size_t party)
{
	const int64_t *left = left_of(parties, party);
	int64_t sum = 0;

	for (size_t kind = 0; kind < parties->tally->kind_count; kind++)
		sum += left[kind];
	return sum;
}

static bool is_empty(const struct packing_parties *parties)
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
	int64_t rolls = rolls_left(parties, party);
	int64_t untried = load < parties->untried ? (int64_t)(parties->untried - load) : 0;
	int64_t needed = 1;

	for (size_t row = 0; row < tally->row_count; row++) {
		int64_t loads =
			rounded_up(packing_row_sum(tally, row, left_of(parties, party)), tally->rows[row].capacity);

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
		if (rolls_left(parties, party) > 0)
			splits += loads_needed(parties, 0, party) - 1;
	return splits;
}

/* ---- one load ---- */

static bool has_room(const struct packing_parties *parties, size_t load, size_t kind)
{
	const struct packing_tally *tally = parties->tally;
	const int64_t *room = &parties->room[load * tally->limit_count];

	for (size_t row = 0; row < tally->limit_count; row++)
		if (tally->rows[row].weights[kind] > room[row])
			return false;
	return true;
}

/* Whether all of a party that is left fits in besides. */
static bool fits_whole(const struct packing_parties *parties, const struct place *place, size_t party)
{
	const struct packing_tally *tally = parties->tally;
	const int64_t *room = &parties->room[place->load * tally->limit_count];

	if (place->is_untried &&
	    parties->took[place->load * (tally->party_count + 1) + party] + rolls_left(parties, party) >
		    tally->halves[party])
		return false;
	for (size_t row = 0; row < tally->limit_count; row++)
		if (packing_row_sum(tally, row, left_of(parties, party)) > room[row])
			return false;
	return !tally->has_fills || packing_area_sum(tally, left_of(parties, party)) <= place->fills.room;
}

static bool takes_more(const struct packing_parties *parties, const struct place *place)
{
	const size_t *order = &parties->order[place->load * (parties->tally->party_count + 1)];

	for (size_t at = 0; at < place->party_count; at++)
		if (rolls_left(parties, order[at]) > 0 && fits_whole(parties, place, order[at]))
			return true;
	return false;
}

/* Without looking back: the fullest load within the work it may take is kept. */
static enum packing_answer keep_load(struct packing_parties *parties, const struct place *place)
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

static enum packing_answer close_load(struct packing_parties *parties, const struct place *place)
{
	struct packing_fills fills = place->fills;
	const struct packing_sharing *sharing = parties->sharing;

	if (sharing->share_count == 0 || sharing->shares[sharing->share_count - 1].load != place->load)
		return PACKING_NO;
	if (!parties->tally->has_fills && place->load + 1 >= parties->untried && takes_more(parties, place))
		return PACKING_NO;
	if (parties->is_greedy)
		return keep_load(parties, place);
	return share_loads(parties, place->load + 1, place->splits, fills);
}

/* Whether the load can still be as full as it has to be, so that what is left goes into the loads after it. */
static bool gets_full(const struct packing_parties *parties, const struct place *place)
{
	const struct packing_tally *tally = parties->tally;
	int64_t after = (int64_t)(parties->load_count - place->load - 1);

	for (size_t row = 0; row < tally->limit_count; row++) {
		int64_t room = parties->room[place->load * tally->limit_count + row];
		int64_t rest = parties->rest[place->load * tally->limit_count + row];
		int64_t left = packing_row_sum(tally, row, parties->totals);

		if (left - (rest < room ? rest : room) > after * tally->rows[row].capacity)
			return false;
	}
	return true;
}

/* Puts rolls into the load, or takes them out again. */
static void put(struct packing_parties *parties, const struct place *place, size_t party, size_t kind, int64_t count)
{
	const struct packing_tally *tally = parties->tally;

	left_of(parties, party)[kind] -= count;
	parties->totals[kind] -= count;
	parties->took[place->load * (tally->party_count + 1) + party] += count;
	for (size_t row = 0; row < tally->limit_count; row++)
		parties->room[place->load * tally->limit_count + row] -= count * tally->rows[row].weights[kind];
}

static int64_t most_of(const struct packing_parties *parties, const struct place *place, size_t party, size_t kind)
{
	const struct packing_tally *tally = parties->tally;
	int64_t most = left_of(parties, party)[kind];
	int64_t half = tally->halves[party] - parties->took[place->load * (tally->party_count + 1) + party];

	if (place->is_untried && half < most)
		most = half;
	for (size_t row = 0; row < tally->limit_count; row++) {
		int64_t weight = tally->rows[row].weights[kind];
		int64_t room = parties->room[place->load * tally->limit_count + row];

		if (weight > 0 && room / weight < most)
			most = room / weight;
	}
	if (tally->has_fills && tally->areas[kind] > 0 && place->fills.room / tally->areas[kind] < most)
		most = place->fills.room / tally->areas[kind];
	return most;
}

static enum packing_answer taken(struct packing_parties *parties, const struct place *place, size_t at)
{
	const struct packing_tally *tally = parties->tally;
	size_t party = parties->order[place->load * (tally->party_count + 1) + at];
	bool takes = parties->took[place->load * (tally->party_count + 1) + party] > 0;
	struct place next = *place;

	if (!takes && at == 0 && place->has_leader)
		return PACKING_NO;
	if (takes && rolls_left(parties, party) > 0 && --next.splits < 0)
		return PACKING_NO;
	return choose(parties, &next, at + 1);
}

/* Chooses how many of each kind of a party, the most first. Where it has a twin before it that has taken as many of the
 * kinds before (`is_tied`), it takes no more of this one. */
static enum packing_answer take(struct packing_parties *parties, const struct place *place, size_t at, size_t kind,
				bool is_tied)
{
	const struct packing_tally *tally = parties->tally;
	const size_t *order = &parties->order[place->load * (tally->party_count + 1)];
	size_t party = order[at];
	enum packing_answer answer = PACKING_NO;
	int64_t most;
	int64_t tie = 0;

	while (kind < tally->kind_count && left_of(parties, party)[kind] == 0)
		kind++;
	if (kind == tally->kind_count)
		return taken(parties, place, at);
	most = most_of(parties, place, party, kind);
	if (is_tied) {
		tie = left_of(parties, party)[kind] - left_of(parties, order[at - 1])[kind];
		if (tie < most)
			most = tie;
	}
	for (int64_t count = most; count >= 0 && answer == PACKING_NO; count--) {
		struct place next = *place;
		size_t before = parties->sharing->share_count;

		if (count > 0)
			packing_sharing_add(parties->sharing,
					    (struct packing_share){ place->load, party, kind, count });
		put(parties, place, party, kind, count);
		next.fills.room -= tally->has_fills ? count * tally->areas[kind] : 0;
		answer = take(parties, &next, at, kind + 1, is_tied && count == tie);
		put(parties, place, party, kind, -count);
		if (answer != PACKING_YES || parties->is_greedy)
			parties->sharing->share_count = before;
	}
	return answer;
}

/* Where no split is left: all of it, or nothing. */
static enum packing_answer take_whole(struct packing_parties *parties, const struct place *place, size_t at)
{
	const struct packing_tally *tally = parties->tally;
	size_t party = parties->order[place->load * (tally->party_count + 1) + at];
	size_t before = parties->sharing->share_count;
	size_t after;
	struct place next = *place;
	enum packing_answer answer;

	for (size_t kind = 0; kind < tally->kind_count; kind++) {
		int64_t count = left_of(parties, party)[kind];

		if (count == 0)
			continue;
		packing_sharing_add(parties->sharing, (struct packing_share){ place->load, party, kind, count });
		put(parties, place, party, kind, count);
		next.fills.room -= tally->has_fills ? count * tally->areas[kind] : 0;
	}
	after = parties->sharing->share_count;
	answer = taken(parties, &next, at);
	for (size_t i = before; i < after; i++)
		put(parties, place, party, parties->sharing->shares[i].kind, -parties->sharing->shares[i].count);
	if (answer != PACKING_YES || parties->is_greedy)
		parties->sharing->share_count = before;
	return answer;
}

/* Nothing that is left fits in. */
static bool is_full(const struct packing_parties *parties, const struct place *place)
{
	for (size_t kind = 0; kind < parties->tally->kind_count; kind++)
		if (parties->totals[kind] > 0 && has_room(parties, place->load, kind))
			return false;
	return true;
}

static enum packing_answer choose(struct packing_parties *parties, const struct place *place, size_t at)
{
	const struct packing_tally *tally = parties->tally;
	int64_t *rest = &parties->rest[place->load * tally->limit_count];
	enum packing_answer answer = PACKING_NO;
	bool is_tied;
	size_t party;

	if (!packing_work_on(parties->tally) || (parties->is_greedy && parties->greedy_work-- <= 0))
		return PACKING_UNKNOWN;
	if (!gets_full(parties, place))
		return PACKING_NO;
	if (at == place->party_count || is_full(parties, place))
		return close_load(parties, place);
	party = parties->order[place->load * (tally->party_count + 1) + at];
	is_tied = parties->is_twin[place->load * (tally->party_count + 1) + at];
	for (size_t row = 0; row < tally->limit_count; row++)
		rest[row] -= packing_row_sum(tally, row, left_of(parties, party));
	if (place->splits > 0 && rolls_left(parties, party) > 1) {
		answer = take(parties, place, at, 0, is_tied);
	} else {
		size_t before = parties->order[place->load * (tally->party_count + 1) + at - is_tied];
		bool may_take = !is_tied || parties->took[place->load * (tally->party_count + 1) + before] > 0;

		if (is_tied && rolls_left(parties, before) > 0)
			may_take = false;
		if (may_take && fits_whole(parties, place, party))
			answer = take_whole(parties, place, at);
		if (answer == PACKING_NO)
			answer = taken(parties, place, at);
	}
	for (size_t row = 0; row < tally->limit_count; row++)
		rest[row] += packing_row_sum(tally, row, left_of(parties, party));
	return answer;
}

/* ---- load after load ---- */

static int64_t size_of(const struct packing_parties *parties, size_t party)
{
	const struct packing_tally *tally = parties->tally;
	int64_t most = 0;

	for (size_t row = 0; row < tally->limit_count; row++) {
		int64_t part = packing_part_of(packing_row_sum(tally, row, left_of(parties, party)),
					       tally->rows[row].capacity);

		if (part > most)
			most = part;
	}
	return most;
}

/* Below 0: the left one comes first, as larger; 0: they have the same left, and the same half where that still counts. */
static int compare_parties(const struct packing_parties *parties, size_t left, size_t right, bool is_untried)
{
	const struct packing_tally *tally = parties->tally;
	int64_t sizes[2] = { size_of(parties, left), size_of(parties, right) };

	if (sizes[0] != sizes[1])
		return sizes[0] > sizes[1] ? -1 : 1;
	for (size_t kind = 0; kind < tally->kind_count; kind++) {
		int64_t counts[2] = { left_of(parties, left)[kind], left_of(parties, right)[kind] };

		if (counts[0] != counts[1])
			return counts[0] > counts[1] ? -1 : 1;
	}
	if (is_untried && tally->halves[left] != tally->halves[right])
		return tally->halves[left] > tally->halves[right] ? -1 : 1;
	return 0;
}

/* The parties that have anything left, from the order of the load before. */
static void make_order(struct packing_parties *parties, size_t load, bool is_untried)
{
	const struct packing_tally *tally = parties->tally;
	size_t *order = &parties->order[load * (tally->party_count + 1)];
	bool *is_twin = &parties->is_twin[load * (tally->party_count + 1)];
	const size_t *before = load == 0 ? NULL : order - (tally->party_count + 1);
	size_t count = 0;

	for (size_t i = 0; i < (before == NULL ? tally->party_count : parties->counts[load - 1]); i++) {
		size_t party = before == NULL ? i : before[i];
		size_t at = count;

		if (rolls_left(parties, party) == 0)
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

static void open_load(struct packing_parties *parties, size_t load)
{
	const struct packing_tally *tally = parties->tally;

	memset(&parties->took[load * (tally->party_count + 1)], 0, tally->party_count * sizeof *parties->took);
	for (size_t row = 0; row < tally->limit_count; row++) {
		parties->room[load * tally->limit_count + row] = tally->rows[row].capacity;
		parties->rest[load * tally->limit_count + row] = packing_row_sum(tally, row, parties->totals);
	}
}

static struct packing_key key_of(const struct packing_parties *parties, size_t load, struct packing_fills fills)
{
	const struct packing_tally *tally = parties->tally;
	const size_t *order = &parties->order[load * (tally->party_count + 1)];
	struct packing_key bag = { load + 1, parties->untried };

	for (size_t at = 0; at < parties->counts[load]; at++) {
		struct packing_key key = { 1, 2 };

		for (size_t kind = 0; kind < tally->kind_count; kind++)
			key = packing_key_add(key, (uint64_t)left_of(parties, order[at])[kind]);
		if (load < parties->untried)
			key = packing_key_add(key, (uint64_t)tally->halves[order[at]]);
		bag = packing_key_sum(bag, key);
	}
	return packing_key_add(packing_key_add(bag, (uint64_t)fills.room), (uint64_t)fills.fresh);
}

static enum packing_answer fill_load(struct packing_parties *parties, struct place place)
{
	place.party_count = parties->counts[place.load];
	open_load(parties, place.load);
	return choose(parties, &place, 0);
}

static enum packing_answer next_load(struct packing_parties *parties, size_t load, int64_t splits,
				     struct packing_fills fills)
{
	const struct packing_tally *tally = parties->tally;
	bool is_untried = load < parties->untried;
	struct place place = {
		.load = load, .splits = splits, .fills = fills, .has_leader = !is_untried, .is_untried = is_untried
	};
	enum packing_answer answer = PACKING_NO;
	enum packing_answer fresh;

	if (!tally->has_fills)
		return fill_load(parties, place);
	place.has_leader = false;
	if (fills.room > 0)
		answer = fill_load(parties, place);
	if (answer == PACKING_YES || fills.fresh == 0)
		return answer;
	place.has_leader = !is_untried;
	place.fills = (struct packing_fills){ tally->fill, fills.fresh - 1 };
	fresh = fill_load(parties, place);
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
		is_wanted =
			packing_order_arrange(tally, parties->areas, parties->is_part ? parties->all_count : load_count,
					      parties->arranged, parties->is_placed) <= parties->fills_wanted;
	}
	if (is_wanted)
		return PACKING_YES;
	parties->refused++;
	return PACKING_NO;
}

static enum packing_answer share_loads(struct packing_parties *parties, size_t load, int64_t splits,
				       struct packing_fills fills)
{
	int64_t refused = parties->refused;
	struct packing_tally *tally = parties->tally;
	size_t loads = parties->load_count - load;
	size_t untried = load < parties->untried ? parties->untried - load : 0;
	enum packing_answer answer;
	struct packing_key key;
	int64_t known;

	if (is_empty(parties))
		return accept(parties, load);
	if (load == parties->load_count)
		return PACKING_NO;
	make_order(parties, load, untried > 0);
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

static void start(struct packing_parties *parties, struct packing_sharing *sharing)
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

	start(parties, sharing);
	parties->is_greedy = false;
	answer = share_loads(parties, 0, splits_most, packing_fills_start(parties->tally, parties->fill_count));
	if (answer == PACKING_YES)
		packing_sharing_count(parties->tally, sharing);
	return answer;
}

/* ---- without looking back ---- */

/* Steps for one load. */
#define GREEDY_WORK 4000
#define GREEDY_SPLITS_MOST 4

/* Fills one load: the fewest parts with which no more than its share of the spare space is lost. */
static bool fill_greedily(struct packing_parties *parties, size_t load)
{
	const struct packing_tally *tally = parties->tally;
	int64_t capacity = tally->rows[0].capacity;
	int64_t loads = (int64_t)(parties->load_count - load);
	int64_t spare = (capacity * loads - packing_row_sum(tally, 0, parties->totals)) / loads;

	for (int64_t splits = 0; splits <= GREEDY_SPLITS_MOST; splits++) {
		struct place place = { .load = load, .splits = splits, .is_untried = load < parties->untried };

		place.has_leader = !place.is_untried;
		parties->greedy_used = -1;
		parties->greedy_work = GREEDY_WORK;
		parties->greedy_from = parties->sharing->share_count;
		if (fill_load(parties, place) == PACKING_UNKNOWN && parties->greedy_work > 0)
			return false;
		if (parties->greedy_used < 0 ||
		    (capacity - parties->greedy_used > spare && splits < GREEDY_SPLITS_MOST))
			continue;
		for (size_t i = 0; i < parties->greedy->share_count; i++) {
			const struct packing_share *share = &parties->greedy->shares[i];

			packing_sharing_add(parties->sharing, *share);
			put(parties, &place, share->party, share->kind, share->count);
		}
		return true;
	}
	return false;
}

enum packing_answer packing_parties_greedy(struct packing_parties *parties, struct packing_sharing *sharing)
{
	start(parties, sharing);
	parties->is_greedy = true;
	parties->greedy = packing_sharing_make(parties->tally, parties->load_count);
	for (size_t load = 0; load < parties->load_count; load++) {
		if (is_empty(parties)) {
			sharing->load_count = load;
			break;
		}
		make_order(parties, load, load < parties->untried);
		if (!fill_greedily(parties, load))
			return PACKING_UNKNOWN;
	}
	if (!is_empty(parties))
		return PACKING_UNKNOWN;
	packing_sharing_count(parties->tally, sharing);
	return PACKING_YES;
}
