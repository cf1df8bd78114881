/* Whether so many rolls of each kind fit into so many loads, whoever they belong to: a search, load by load.
 *
 * Without fills to count, loads are alike: the next one may be taken to be that with a roll of the largest kind left,
 * and to be so full that no roll left fits in as well (a roll moved forward from a later load makes that one no
 * fuller, and if it makes it empty, one load less does). Of untried loads only the last is full so surely: without
 * another, a load that is not spread would move up among them. With fills neither is sure; only fills are alike then.
 * */
#include <string.h>

#include "compute/packing_parts.h"

struct packing_kinds {
	struct packing_tally *tally;
	struct packing_flow *flow;
	const int64_t *owned; /* [party][kind]: what untried loads are taken from */
	struct packing_memo memo;
	size_t load_most;
	int64_t *left;	 /* [depth][kind] */
	int64_t *loads;	 /* [depth][kind] */
	int64_t *room;	 /* [depth][limit] */
	bool is_telling; /* loads are wanted, so that a remembered YES is not enough */
};

/* One load being filled. */
struct place {
	size_t depth;
	size_t loads_after;
	struct packing_fills fills; /* before it */
	int64_t area_most;
	size_t untried;
	bool has_leader;
};

struct packing_kinds *packing_kinds_make(struct packing_tally *tally, size_t load_most)
{
	struct packing_kinds *kinds = ARENA_NEW(tally->arena, struct packing_kinds);

	kinds->tally = tally;
	kinds->flow = packing_flow_make(tally);
	kinds->owned = tally->rolls;
	kinds->memo = packing_memo_make(tally->roll_count > 100 ? 15 : 13, tally->arena);
	kinds->load_most = load_most;
	kinds->left = ARENA_ARRAY(tally->arena, int64_t, (load_most + 2) * tally->kind_count + 1);
	kinds->loads = ARENA_ARRAY(tally->arena, int64_t, (load_most + 2) * tally->kind_count + 1);
	kinds->room = ARENA_ARRAY(tally->arena, int64_t, (load_most + 2) * tally->limit_count + 1);
	return kinds;
}

const int64_t *packing_kinds_load(const struct packing_kinds *kinds, size_t load)
{
	return &kinds->loads[load * kinds->tally->kind_count];
}

static enum packing_answer fit(struct packing_kinds *kinds, size_t depth, size_t load_count, struct packing_fills fills,
			       size_t untried);

static bool has_any(const int64_t *counts, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (counts[i] > 0)
			return true;
	return false;
}

static bool has_room(const struct packing_kinds *kinds, size_t depth, size_t kind)
{
	const struct packing_tally *tally = kinds->tally;
	const int64_t *room = &kinds->room[depth * tally->limit_count];

	for (size_t row = 0; row < tally->limit_count; row++)
		if (tally->rows[row].weights[kind] > room[row])
			return false;
	return true;
}

/* Whether the load could take one roll more. */
static bool takes_more(struct packing_kinds *kinds, const struct place *place)
{
	size_t kind_count = kinds->tally->kind_count;
	const int64_t *left = &kinds->left[place->depth * kind_count];
	int64_t *load = &kinds->loads[place->depth * kind_count];

	for (size_t kind = 0; kind < kind_count; kind++) {
		bool is_spread = true;

		if (left[kind] == load[kind] || !has_room(kinds, place->depth, kind))
			continue;
		if (place->untried > 0) {
			load[kind]++;
			is_spread = packing_flow_take(kinds->flow, kinds->owned, load);
			load[kind]--;
		}
		if (is_spread)
			return true;
	}
	return false;
}

static enum packing_answer close_load(struct packing_kinds *kinds, const struct place *place)
{
	struct packing_tally *tally = kinds->tally;
	size_t kind_count = tally->kind_count;
	int64_t *left = &kinds->left[place->depth * kind_count];
	const int64_t *load = &kinds->loads[place->depth * kind_count];
	struct packing_fills fills = place->fills;

	if (!has_any(load, kind_count))
		return PACKING_NO;
	if (tally->has_fills)
		fills.room -= packing_area_sum(tally, load);
	else if (place->untried <= 1 && takes_more(kinds, place))
		return PACKING_NO;
	for (size_t kind = 0; kind < kind_count; kind++)
		left[kind_count + kind] = left[kind] - load[kind];
	return fit(kinds, place->depth + 1, place->loads_after, fills, place->untried > 0 ? place->untried - 1 : 0);
}

/* How many of a kind fit in besides what is there. */
static int64_t most_of(const struct packing_kinds *kinds, const struct place *place, size_t kind)
{
	const struct packing_tally *tally = kinds->tally;
	const int64_t *room = &kinds->room[place->depth * tally->limit_count];
	int64_t most = kinds->left[place->depth * tally->kind_count + kind];

	for (size_t row = 0; row < tally->limit_count; row++) {
		int64_t weight = tally->rows[row].weights[kind];

		if (weight > 0 && room[row] / weight < most)
			most = room[row] / weight;
	}
	return most;
}

static void put(struct packing_kinds *kinds, const struct place *place, size_t kind, int64_t count)
{
	const struct packing_tally *tally = kinds->tally;
	int64_t *room = &kinds->room[place->depth * tally->limit_count];

	kinds->loads[place->depth * tally->kind_count + kind] += count;
	for (size_t row = 0; row < tally->limit_count; row++)
		room[row] -= count * tally->rows[row].weights[kind];
}

static enum packing_answer choose(struct packing_kinds *kinds, const struct place *place, size_t kind, int64_t area)
{
	struct packing_tally *tally = kinds->tally;
	enum packing_answer answer = PACKING_NO;
	const int64_t *load = &kinds->loads[place->depth * tally->kind_count];
	bool is_leader = place->has_leader;
	int64_t most;

	while (kind < tally->kind_count && kinds->left[place->depth * tally->kind_count + kind] == 0)
		kind++;
	if (kind == tally->kind_count)
		return close_load(kinds, place);
	if (!packing_work_on(tally))
		return PACKING_UNKNOWN;
	for (size_t before = 0; before < kind; before++)
		is_leader &= kinds->left[place->depth * tally->kind_count + before] == 0;
	most = most_of(kinds, place, kind);
	if (tally->areas[kind] > 0 && tally->has_fills && area / tally->areas[kind] < most)
		most = area / tally->areas[kind];
	put(kinds, place, kind, most);
	for (int64_t count = most; answer == PACKING_NO && count >= (is_leader ? 1 : 0); count--) {
		tally->work += place->untried > 0 ? (int64_t)tally->party_count / 4 : 0;
		if (place->untried == 0 || packing_flow_take(kinds->flow, kinds->owned, load))
			answer = choose(kinds, place, kind + 1, area - count * tally->areas[kind]);
		if (answer == PACKING_YES)
			return answer;
		if (count > 0)
			put(kinds, place, kind, -1);
		else
			break;
	}
	/* the count of a leader stops at one, or the work was spent in between */
	put(kinds, place, kind, -load[kind]);
	return answer;
}

static enum packing_answer fill_load(struct packing_kinds *kinds, struct place place)
{
	const struct packing_tally *tally = kinds->tally;

	memset(&kinds->loads[place.depth * tally->kind_count], 0, tally->kind_count * sizeof *kinds->loads);
	for (size_t row = 0; row < tally->limit_count; row++)
		kinds->room[place.depth * tally->limit_count + row] = tally->rows[row].capacity;
	return choose(kinds, &place, 0, place.area_most);
}

static enum packing_answer worse_of(enum packing_answer left, enum packing_answer right)
{
	if (left == PACKING_YES || right == PACKING_YES)
		return PACKING_YES;
	return left == PACKING_UNKNOWN ? left : right;
}

/* The next load: on the fill in use, or the first on a fresh one. */
static enum packing_answer next_load(struct packing_kinds *kinds, size_t depth, size_t load_count,
				     struct packing_fills fills, size_t untried)
{
	const struct packing_tally *tally = kinds->tally;
	struct place place = { depth, load_count - 1, fills, fills.room, untried, untried == 0 };
	enum packing_answer answer = PACKING_NO;

	if (!tally->has_fills)
		return fill_load(kinds, place);
	place.has_leader = false;
	if (fills.room > 0)
		answer = fill_load(kinds, place);
	if (answer == PACKING_YES || fills.fresh == 0)
		return answer;
	place.fills = (struct packing_fills){ tally->fill, fills.fresh - 1 };
	place.area_most = tally->fill;
	place.has_leader = untried == 0;
	return worse_of(answer, fill_load(kinds, place));
}

static struct packing_key key_of(const struct packing_tally *tally, const int64_t *left, size_t load_count,
				 struct packing_fills fills, size_t untried)
{
	struct packing_key key = { load_count, untried };

	key = packing_key_add(key, (uint64_t)fills.room);
	key = packing_key_add(key, (uint64_t)fills.fresh);
	for (size_t kind = 0; kind < tally->kind_count; kind++)
		key = packing_key_add(key, (uint64_t)left[kind]);
	return key;
}

static enum packing_answer fit(struct packing_kinds *kinds, size_t depth, size_t load_count, struct packing_fills fills,
			       size_t untried)
{
	struct packing_tally *tally = kinds->tally;
	const int64_t *left = &kinds->left[depth * tally->kind_count];
	enum packing_answer answer;
	struct packing_key key;
	int64_t known;

	if (!has_any(left, tally->kind_count)) {
		memset(&kinds->loads[depth * tally->kind_count], 0,
		       (kinds->load_most + 1 - depth) * tally->kind_count * sizeof *kinds->loads);
		return PACKING_YES;
	}
	if (load_count == 0 || !packing_rows_allow(tally, left, load_count))
		return PACKING_NO;
	if (tally->has_fills && packing_area_sum(tally, left) > fills.room + fills.fresh * tally->fill)
		return PACKING_NO;
	if (!packing_work_on(tally))
		return PACKING_UNKNOWN;
	key = key_of(tally, left, load_count, fills, untried);
	if (packing_memo_find(&kinds->memo, key, &known) && (known == PACKING_NO || !kinds->is_telling))
		return (enum packing_answer)known;
	answer = next_load(kinds, depth, load_count, fills, untried);
	if (answer != PACKING_UNKNOWN)
		packing_memo_store(&kinds->memo, key, answer);
	return answer;
}

void packing_kinds_own(struct packing_kinds *kinds, const int64_t *owned)
{
	kinds->owned = owned;
}

enum packing_answer packing_kinds_fit(struct packing_kinds *kinds, const int64_t *left, size_t load_count,
				      struct packing_fills fills, size_t untried)
{
	if (load_count > kinds->load_most)
		load_count = kinds->load_most;
	memcpy(kinds->left, left, kinds->tally->kind_count * sizeof *left);
	return fit(kinds, 0, load_count, fills, untried);
}

enum packing_answer packing_kinds_solve(struct packing_kinds *kinds, const int64_t *left, size_t load_count,
					struct packing_fills fills, size_t untried)
{
	enum packing_answer answer;

	kinds->is_telling = true;
	answer = packing_kinds_fit(kinds, left, load_count, fills, untried);
	kinds->is_telling = false;
	return answer;
}

/* ---- without looking back ---- */

/* Steps for one load. */
#define PRICED_WORK 3000

/* The load worth most among those looked at. */
struct pricing {
	const int64_t *left;
	int64_t *load;
	int64_t *best;
	int64_t prices[PACKING_KINDS_ROOM];
	int64_t worth_most;
	int64_t work;
};

/* What a roll of each kind is worth: its share of each limit, those more of which the most loads are needed. */
static void set_prices(const struct packing_tally *tally, struct pricing *pricing)
{
	int64_t most = 1;

	for (size_t row = 0; row < tally->limit_count; row++) {
		int64_t need = packing_row_sum(tally, row, pricing->left) / (tally->rows[row].capacity / 1024 + 1);

		most = need > most ? need : most;
	}
	memset(pricing->prices, 0, sizeof pricing->prices);
	for (size_t row = 0; row < tally->limit_count; row++) {
		int64_t capacity = tally->rows[row].capacity;
		int64_t need = packing_row_sum(tally, row, pricing->left) / (capacity / 1024 + 1);
		int64_t weight = (need << 10) / most;

		/* to the eighth power */
		for (int i = 0; i < 3; i++)
			weight = weight * weight >> 10;
		for (size_t kind = 0; kind < tally->kind_count; kind++)
			pricing->prices[kind] +=
				(weight + 1) * packing_part_of(tally->rows[row].weights[kind], capacity);
	}
}

static void choose_priced(struct packing_kinds *kinds, struct pricing *pricing, size_t kind, int64_t worth)
{
	const struct packing_tally *tally = kinds->tally;
	const struct place place = { 0 };
	int64_t most;

	if (pricing->work-- <= 0 && pricing->worth_most > 0)
		return;
	if (worth > pricing->worth_most) {
		pricing->worth_most = worth;
		memcpy(pricing->best, pricing->load, tally->kind_count * sizeof *pricing->best);
	}
	if (kind == tally->kind_count)
		return;
	most = most_of(kinds, &place, kind);
	for (int64_t count = most; count >= 0; count--) {
		pricing->load[kind] = count;
		for (size_t row = 0; row < tally->limit_count; row++)
			kinds->room[row] -= count * tally->rows[row].weights[kind];
		choose_priced(kinds, pricing, kind + 1, worth + count * pricing->prices[kind]);
		for (size_t row = 0; row < tally->limit_count; row++)
			kinds->room[row] += count * tally->rows[row].weights[kind];
	}
	pricing->load[kind] = 0;
}

size_t packing_kinds_price(struct packing_kinds *kinds, const int64_t *left)
{
	struct packing_tally *tally = kinds->tally;
	size_t kind_count = tally->kind_count;
	struct pricing pricing = { .load = ARENA_ARRAY(tally->arena, int64_t, kind_count + 1) };
	size_t load = 0;

	memcpy(kinds->left, left, kind_count * sizeof *left);
	pricing.left = kinds->left;
	for (; has_any(kinds->left, kind_count); load++) {
		pricing.best = &kinds->loads[load * kind_count];
		pricing.worth_most = 0;
		pricing.work = PRICED_WORK;
		memset(pricing.best, 0, kind_count * sizeof *pricing.best);
		for (size_t row = 0; row < tally->limit_count; row++)
			kinds->room[row] = tally->rows[row].capacity;
		set_prices(tally, &pricing);
		choose_priced(kinds, &pricing, 0, 0);
		tally->work += PRICED_WORK - (pricing.work > 0 ? pricing.work : 0);
		for (size_t kind = 0; kind < kind_count; kind++)
			kinds->left[kind] -= pricing.best[kind];
	}
	memset(&kinds->loads[load * kind_count], 0, (kinds->load_most + 1 - load) * kind_count * sizeof *kinds->loads);
	return load;
}
