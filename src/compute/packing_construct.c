/* Parties shared out over loads of which the counts by kind are known: whole parties first, the largest that fit, then
 * parts as large as they can be. */
#include <stdlib.h>
#include <string.h>

#include "compute/packing_parts.h"

struct packing_sharing *packing_sharing_make(const struct packing_tally *tally, size_t load_count)
{
	struct packing_sharing *sharing = ARENA_NEW(tally->arena, struct packing_sharing);

	sharing->shares = ARENA_ARRAY(tally->arena, struct packing_share, (size_t)tally->roll_count + 1);
	sharing->load_count = load_count;
	return sharing;
}

void packing_sharing_add(struct packing_sharing *sharing, struct packing_share share)
{
	sharing->shares[sharing->share_count++] = share;
}

void packing_sharing_copy(struct packing_sharing *to, const struct packing_sharing *from)
{
	memcpy(to->shares, from->shares, from->share_count * sizeof *from->shares);
	to->share_count = from->share_count;
	to->load_count = from->load_count;
	to->split_count = from->split_count;
	to->fill_count = from->fill_count;
}

static int compare_shares(const void *left, const void *right)
{
	const struct packing_share *a = left;
	const struct packing_share *b = right;

	if (a->load != b->load)
		return a->load < b->load ? -1 : 1;
	if (a->party != b->party)
		return a->party < b->party ? -1 : 1;
	return (a->kind > b->kind) - (a->kind < b->kind);
}

void packing_sharing_sort(struct packing_sharing *sharing)
{
	qsort(sharing->shares, sharing->share_count, sizeof *sharing->shares, compare_shares);
}

/* Shares of a load lie together, so a party is seen anew where its load changes. */
void packing_sharing_count(const struct packing_tally *tally, struct packing_sharing *sharing)
{
	size_t *loads = ARENA_ARRAY(tally->arena, size_t, tally->party_count + 1);
	size_t edges = 0;
	size_t parties = 0;

	for (size_t i = 0; i < sharing->share_count; i++) {
		const struct packing_share *share = &sharing->shares[i];

		parties += loads[share->party] == 0;
		edges += loads[share->party] != share->load + 1;
		loads[share->party] = share->load + 1;
	}
	sharing->split_count = edges - parties;
}

/* ---- one load ---- */

static int64_t common_of(const int64_t *left, const int64_t *right, size_t count)
{
	int64_t sum = 0;

	for (size_t i = 0; i < count; i++)
		sum += left[i] < right[i] ? left[i] : right[i];
	return sum;
}

static int64_t sum_of(const int64_t *counts, size_t count)
{
	return common_of(counts, counts, count);
}

static size_t best_party(const struct packing_tally *tally, const int64_t *left, const int64_t *wanted)
{
	size_t kind_count = tally->kind_count;
	size_t best = tally->party_count;
	int64_t best_common = 0;
	bool best_whole = false;

	for (size_t party = 0; party < tally->party_count; party++) {
		const int64_t *has = &left[party * kind_count];
		int64_t common = common_of(has, wanted, kind_count);
		bool is_whole = common == sum_of(has, kind_count);

		if (common == 0 || (best_whole && !is_whole))
			continue;
		if (common > best_common || (is_whole && !best_whole)) {
			best = party;
			best_common = common;
			best_whole = is_whole;
		}
	}
	return best;
}

static void give(const struct packing_tally *tally, struct packing_sharing *sharing, size_t load, size_t party,
		 const int64_t *counts, int64_t *left)
{
	for (size_t kind = 0; kind < tally->kind_count; kind++) {
		if (counts[kind] == 0)
			continue;
		packing_sharing_add(sharing, (struct packing_share){ load, party, kind, counts[kind] });
		left[party * tally->kind_count + kind] -= counts[kind];
	}
}

static void fill(const struct packing_tally *tally, struct packing_sharing *sharing, size_t load, int64_t *wanted,
		 int64_t *left)
{
	size_t kind_count = tally->kind_count;
	int64_t counts[PACKING_KINDS_ROOM];
	size_t party;

	while ((party = best_party(tally, left, wanted)) < tally->party_count) {
		for (size_t kind = 0; kind < kind_count; kind++) {
			int64_t has = left[party * kind_count + kind];

			counts[kind] = has < wanted[kind] ? has : wanted[kind];
			wanted[kind] -= counts[kind];
		}
		give(tally, sharing, load, party, counts, left);
	}
}

/* ---- the loads ---- */

void packing_construct_rest(const struct packing_tally *tally, const struct packing_kinds *kinds,
			    struct packing_sharing *sharing, int64_t *left, size_t first, size_t solved_from)
{
	int64_t wanted[PACKING_KINDS_ROOM];

	for (size_t load = first; load < sharing->load_count; load++) {
		memcpy(wanted, packing_kinds_load(kinds, load - solved_from), tally->kind_count * sizeof *wanted);
		if (sum_of(wanted, tally->kind_count) == 0) {
			sharing->load_count = load;
			break;
		}
		fill(tally, sharing, load, wanted, left);
	}
	packing_sharing_count(tally, sharing);
}

struct packing_sharing *packing_construct(const struct packing_tally *tally, const struct packing_kinds *kinds,
					  size_t load_count)
{
	struct packing_sharing *sharing = packing_sharing_make(tally, load_count);
	size_t count = tally->party_count * tally->kind_count;
	int64_t *left = ARENA_ARRAY(tally->arena, int64_t, count + 1);
	struct packing_flow *flow = packing_flow_make(tally);
	size_t spread = tally->untried < load_count ? tally->untried : load_count;

	memcpy(left, tally->rolls, count * sizeof *left);
	for (size_t load = 0; load < spread; load++) {
		if (!packing_flow_take(flow, left, packing_kinds_load(kinds, load)))
			return NULL;
		for (size_t party = 0; party < tally->party_count; party++)
			give(tally, sharing, load, party, &flow->taken[party * tally->kind_count], left);
	}
	packing_construct_rest(tally, kinds, sharing, left, spread, 0);
	return sharing;
}

/* Takes one untried load from what is left. */
static void spread_one(struct packing_tally *tally, struct packing_kinds *kinds, struct packing_flow *flow,
		       struct packing_sharing *sharing, size_t load, int64_t *left, int64_t *totals)
{
	packing_kinds_own(kinds, left);
	packing_kinds_solve(kinds, totals, (size_t)tally->roll_count, packing_fills_start(tally, 0), 1);
	packing_flow_take(flow, left, packing_kinds_load(kinds, 0));
	for (size_t party = 0; party < tally->party_count; party++)
		give(tally, sharing, load, party, &flow->taken[party * tally->kind_count], left);
	for (size_t kind = 0; kind < tally->kind_count; kind++)
		totals[kind] -= packing_kinds_load(kinds, 0)[kind];
}

struct packing_sharing *packing_construct_first(struct packing_tally *tally)
{
	struct packing_sharing *sharing = packing_sharing_make(tally, (size_t)tally->roll_count);
	struct packing_kinds *kinds = packing_kinds_make(tally, (size_t)tally->roll_count);
	struct packing_flow *flow = packing_flow_make(tally);
	size_t count = tally->party_count * tally->kind_count;
	int64_t *left = ARENA_ARRAY(tally->arena, int64_t, count + 1);
	int64_t *totals = ARENA_ARRAY(tally->arena, int64_t, tally->kind_count + 1);
	size_t load = 0;
	size_t simple = 0;

	memcpy(left, tally->rolls, count * sizeof *left);
	memcpy(totals, tally->totals, tally->kind_count * sizeof *totals);
	tally->work_most = INT64_MAX; /* the simple way never goes back, so there is little of it */
	for (; load < tally->untried && sum_of(totals, tally->kind_count) > 0; load++)
		spread_one(tally, kinds, flow, sharing, load, left, totals);
	packing_kinds_solve(kinds, totals, (size_t)tally->roll_count, packing_fills_start(tally, 0), 0);
	while (sum_of(packing_kinds_load(kinds, simple), tally->kind_count) > 0)
		simple++;
	if (packing_kinds_price(kinds, totals) >= simple)
		packing_kinds_solve(kinds, totals, (size_t)tally->roll_count, packing_fills_start(tally, 0), 0);
	packing_construct_rest(tally, kinds, sharing, left, load, load);
	return sharing;
}
