/* One load filled with parties, in every way that may be part of the fewest splits.
 *
 * A load is chosen party by party, large ones first: all of it, a part of it (which is a split, since the rest goes
 * into a later load), or nothing. Parties that have the same left are interchangeable, so that the later of two takes
 * no more than the earlier one. Without fills to count, loads are alike, and three things may be taken for granted:
 * the next load holds some of the largest party; no party fits into it whole that is not (moving it there costs no
 * split and makes no later load fuller); what is left fits by kind, whoever owns it. Untried loads are not alike, and
 * only the last of them is so full surely (see packing_kinds.c). */
#include <string.h>

#include "compute/packing_search.h"

/* The search goes down by every party of every load: so deep the stack bears it, under a sanitizer too. */
#define DEPTH_MOST 10000

static enum packing_answer choose(struct packing_parties *parties, const struct packing_place *place, size_t at);

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
static bool fits_whole(const struct packing_parties *parties, const struct packing_place *place, size_t party)
{
	const struct packing_tally *tally = parties->tally;
	const int64_t *room = &parties->room[place->load * tally->limit_count];

	if (place->is_untried &&
	    parties->took[place->load * (tally->party_count + 1) + party] + packing_rolls_left(parties, party) >
		    tally->halves[party])
		return false;
	for (size_t row = 0; row < tally->limit_count; row++)
		if (packing_row_sum(tally, row, packing_left_of(parties, party)) > room[row])
			return false;
	return !tally->has_fills || packing_area_sum(tally, packing_left_of(parties, party)) <= place->fills.room;
}

static bool takes_more(const struct packing_parties *parties, const struct packing_place *place)
{
	const size_t *order = &parties->order[place->load * (parties->tally->party_count + 1)];

	for (size_t at = 0; at < place->party_count; at++)
		if (packing_rolls_left(parties, order[at]) > 0 && fits_whole(parties, place, order[at]))
			return true;
	return false;
}

static enum packing_answer close_load(struct packing_parties *parties, const struct packing_place *place)
{
	struct packing_fills fills = place->fills;
	const struct packing_sharing *sharing = parties->sharing;

	if (sharing->share_count == 0 || sharing->shares[sharing->share_count - 1].load != place->load)
		return PACKING_NO;
	if (!parties->tally->has_fills && place->load + 1 >= parties->untried && takes_more(parties, place))
		return PACKING_NO;
	if (parties->is_greedy)
		return packing_keep_load(parties, place);
	return packing_share_loads(parties, place->load + 1, place->splits, fills);
}

/* Whether the load can still be as full as it has to be, so that what is left goes into the loads after it. */
static bool gets_full(const struct packing_parties *parties, const struct packing_place *place)
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
void packing_put(struct packing_parties *parties, const struct packing_place *place, size_t party, size_t kind,
		 int64_t count)
{
	const struct packing_tally *tally = parties->tally;

	packing_left_of(parties, party)[kind] -= count;
	parties->totals[kind] -= count;
	parties->took[place->load * (tally->party_count + 1) + party] += count;
	for (size_t row = 0; row < tally->limit_count; row++)
		parties->room[place->load * tally->limit_count + row] -= count * tally->rows[row].weights[kind];
}

static int64_t most_of(const struct packing_parties *parties, const struct packing_place *place, size_t party,
		       size_t kind)
{
	const struct packing_tally *tally = parties->tally;
	int64_t most = packing_left_of(parties, party)[kind];
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

static enum packing_answer taken(struct packing_parties *parties, const struct packing_place *place, size_t at)
{
	const struct packing_tally *tally = parties->tally;
	size_t party = parties->order[place->load * (tally->party_count + 1) + at];
	bool takes = parties->took[place->load * (tally->party_count + 1) + party] > 0;
	struct packing_place next = *place;

	if (!takes && at == 0 && place->has_leader)
		return PACKING_NO;
	if (takes && packing_rolls_left(parties, party) > 0 && --next.splits < 0)
		return PACKING_NO;
	return choose(parties, &next, at + 1);
}

/* Chooses how many of each kind of a party, the most first. Where it has a twin before it that has taken as many of
 * the kinds before (`is_tied`), it takes no more of this one. */
static enum packing_answer take(struct packing_parties *parties, const struct packing_place *place, size_t at,
				size_t kind, bool is_tied)
{
	const struct packing_tally *tally = parties->tally;
	const size_t *order = &parties->order[place->load * (tally->party_count + 1)];
	size_t party = order[at];
	enum packing_answer answer = PACKING_NO;
	int64_t most;
	int64_t tie = 0;

	while (kind < tally->kind_count && packing_left_of(parties, party)[kind] == 0)
		kind++;
	if (kind == tally->kind_count)
		return taken(parties, place, at);
	most = most_of(parties, place, party, kind);
	if (is_tied) {
		tie = packing_left_of(parties, party)[kind] - packing_left_of(parties, order[at - 1])[kind];
		if (tie < most)
			most = tie;
	}
	for (int64_t count = most; count >= 0 && answer == PACKING_NO; count--) {
		struct packing_place next = *place;
		size_t before = parties->sharing->share_count;

		if (count > 0)
			packing_sharing_add(parties->sharing,
					    (struct packing_share){ place->load, party, kind, count });
		packing_put(parties, place, party, kind, count);
		next.fills.room -= tally->has_fills ? count * tally->areas[kind] : 0;
		answer = take(parties, &next, at, kind + 1, is_tied && count == tie);
		packing_put(parties, place, party, kind, -count);
		if (answer != PACKING_YES || parties->is_greedy)
			parties->sharing->share_count = before;
	}
	return answer;
}

/* Where no split is left: all of it, or nothing. */
static enum packing_answer take_whole(struct packing_parties *parties, const struct packing_place *place, size_t at)
{
	const struct packing_tally *tally = parties->tally;
	size_t party = parties->order[place->load * (tally->party_count + 1) + at];
	size_t before = parties->sharing->share_count;
	size_t after;
	struct packing_place next = *place;
	enum packing_answer answer;

	for (size_t kind = 0; kind < tally->kind_count; kind++) {
		int64_t count = packing_left_of(parties, party)[kind];

		if (count == 0)
			continue;
		packing_sharing_add(parties->sharing, (struct packing_share){ place->load, party, kind, count });
		packing_put(parties, place, party, kind, count);
		next.fills.room -= tally->has_fills ? count * tally->areas[kind] : 0;
	}
	after = parties->sharing->share_count;
	answer = taken(parties, &next, at);
	for (size_t i = before; i < after; i++)
		packing_put(parties, place, party, parties->sharing->shares[i].kind,
			    -parties->sharing->shares[i].count);
	if (answer != PACKING_YES || parties->is_greedy)
		parties->sharing->share_count = before;
	return answer;
}

/* Nothing that is left fits in. */
static bool is_full(const struct packing_parties *parties, const struct packing_place *place)
{
	for (size_t kind = 0; kind < parties->tally->kind_count; kind++)
		if (parties->totals[kind] > 0 && has_room(parties, place->load, kind))
			return false;
	return true;
}

static enum packing_answer choose_next(struct packing_parties *parties, const struct packing_place *place, size_t at)
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
		rest[row] -= packing_row_sum(tally, row, packing_left_of(parties, party));
	if (place->splits > 0 && packing_rolls_left(parties, party) > 1) {
		answer = take(parties, place, at, 0, is_tied);
	} else {
		size_t before = parties->order[place->load * (tally->party_count + 1) + at - is_tied];
		bool may_take = !is_tied || parties->took[place->load * (tally->party_count + 1) + before] > 0;

		if (is_tied && packing_rolls_left(parties, before) > 0)
			may_take = false;
		if (may_take && fits_whole(parties, place, party))
			answer = take_whole(parties, place, at);
		if (answer == PACKING_NO)
			answer = taken(parties, place, at);
	}
	for (size_t row = 0; row < tally->limit_count; row++)
		rest[row] += packing_row_sum(tally, row, packing_left_of(parties, party));
	return answer;
}

static enum packing_answer choose(struct packing_parties *parties, const struct packing_place *place, size_t at)
{
	enum packing_answer answer = PACKING_UNKNOWN;

	if (parties->depth >= DEPTH_MOST)
		return answer;
	parties->depth++;
	answer = choose_next(parties, place, at);
	parties->depth--;
	return answer;
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

enum packing_answer packing_fill_load(struct packing_parties *parties, struct packing_place place)
{
	place.party_count = parties->counts[place.load];
	open_load(parties, place.load);
	return choose(parties, &place, 0);
}
