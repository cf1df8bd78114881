/* Precious rolls do not try out a bath: where another load may run first as well, the one with the fewest of them does.
 * */
#include "compute/plan_draft.h"

static size_t count_precious(const struct plan_kind *kind, const struct packing_load *load)
{
	size_t count = 0;
	for (size_t i = 0; i < load->count; i++)
		count += kind->rolls[load->rolls[i]]->is_precious;
	return count;
}

static bool has_urgent(const struct plan_kind *kind, const struct packing_load *load)
{
	for (size_t i = 0; i < load->count; i++) {
		if (kind->rolls[load->rolls[i]]->is_urgent)
			return true;
	}
	return false;
}

/* Whether an untried load may hold so much of each origin: at most half of it, one roll at least. */
static bool is_spread(const struct plan_kind *kind, const struct packing_load *load, const size_t *in_all,
		      size_t *in_load)
{
	const struct packing_problem *problem = kind->problem;
	bool is_within = true;
	for (size_t i = 0; i < load->count; i++) {
		uint32_t party = problem->rolls[load->rolls[i]].party;
		size_t half = in_all[party] / 2 > 1 ? in_all[party] / 2 : 1;
		if (++in_load[party] > half && !problem->parties[party].is_together)
			is_within = false;
	}
	for (size_t i = 0; i < load->count; i++)
		in_load[problem->rolls[load->rolls[i]].party] = 0;
	return is_within;
}

void plan_precious_spare(struct plan_draft *draft, struct plan_kind *kind)
{
	const struct packing *packing = kind->packing;
	if (packing->load_count < 2 || has_urgent(kind, &packing->loads[0]))
		return;
	size_t *in_all = ARENA_ARRAY(draft->arena, size_t, kind->problem->party_count);
	size_t *in_load = ARENA_ARRAY(draft->arena, size_t, kind->problem->party_count);
	size_t chosen = 0, fewest = count_precious(kind, &packing->loads[0]);
	for (size_t i = 0; i < kind->problem->roll_count; i++)
		in_all[kind->problem->rolls[i].party]++;
	for (size_t i = 1; i < packing->load_count; i++) {
		const struct packing_load *load = &packing->loads[i];
		size_t precious = count_precious(kind, load);
		if (precious < fewest && load->fill == packing->loads[0].fill && !has_urgent(kind, load) &&
		    is_spread(kind, load, in_all, in_load)) {
			chosen = i;
			fewest = precious;
		}
	}
	if (chosen == 0)
		return;
	struct packing *swapped = ARENA_NEW(draft->arena, struct packing);
	*swapped = *packing;
	swapped->loads = ARENA_ARRAY(draft->arena, struct packing_load, packing->load_count);
	for (size_t i = 0; i < packing->load_count; i++)
		swapped->loads[i] = packing->loads[i == chosen ? 0 : i == 0 ? chosen : i];
	kind->packing = swapped;
}
