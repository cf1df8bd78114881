/* Whether an untried load can be filled with no more than half of any party: a flow from kinds through parties.
 *
 * Ford and Fulkerson's way: roll after roll takes a path from its kind to a party that has room, on which rolls that
 * were taken before may change their party. */
#include <string.h>

#include "compute/packing_parts.h"

/* Finds a place for one more roll of a kind. */
static bool find_path(struct packing_flow *flow, const int64_t *left, size_t kind)
{
	size_t kind_count = flow->tally->kind_count;

	for (size_t party = 0; party < flow->tally->party_count; party++) {
		int64_t *taken = &flow->taken[party * kind_count];

		if (flow->is_seen[party] || taken[kind] >= left[party * kind_count + kind])
			continue;
		flow->is_seen[party] = true;
		if (flow->sums[party] < flow->tally->halves[party]) {
			flow->sums[party]++;
			taken[kind]++;
			return true;
		}
		for (size_t other = 0; other < kind_count; other++)
			if (other != kind && taken[other] > 0 && find_path(flow, left, other)) {
				taken[other]--;
				taken[kind]++;
				return true;
			}
	}
	return false;
}

struct packing_flow *packing_flow_make(const struct packing_tally *tally)
{
	struct packing_flow *flow = ARENA_NEW(tally->arena, struct packing_flow);

	flow->tally = tally;
	flow->taken = ARENA_ARRAY(tally->arena, int64_t, tally->party_count * tally->kind_count + 1);
	flow->sums = ARENA_ARRAY(tally->arena, int64_t, tally->party_count + 1);
	flow->is_seen = ARENA_ARRAY(tally->arena, bool, tally->party_count + 1);
	return flow;
}

bool packing_flow_take(struct packing_flow *flow, const int64_t *left, const int64_t *wanted)
{
	const struct packing_tally *tally = flow->tally;

	memset(flow->taken, 0, tally->party_count * tally->kind_count * sizeof *flow->taken);
	memset(flow->sums, 0, tally->party_count * sizeof *flow->sums);
	for (size_t kind = 0; kind < tally->kind_count; kind++)
		for (int64_t i = 0; i < wanted[kind]; i++) {
			memset(flow->is_seen, 0, tally->party_count * sizeof *flow->is_seen);
			if (!find_path(flow, left, kind))
				return false;
		}
	return true;
}
