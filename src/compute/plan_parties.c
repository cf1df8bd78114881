/* How origins and groups lie in the loads: where an origin is spread, and where a group is one load's risk. */
#include <stdlib.h>
#include <string.h>

#include "compute/plan_draft.h"

/* What is known of one party of a kind, by its number in the packing. */
struct party_count {
	uint32_t first_roll; /* of it, in order of declaration */
	size_t rolls;
	size_t loads;
	size_t last_load; /* counted; from 1 */
};

static void count_rolls(const struct packing_problem *problem, struct party_count *counts)
{
	for (size_t i = 0; i < problem->roll_count; i++) {
		struct party_count *count = &counts[problem->rolls[i].party];
		if (count->rolls++ == 0)
			count->first_roll = (uint32_t)i;
	}
}

static void count_loads(const struct plan_kind *kind, struct party_count *counts)
{
	for (size_t i = 0; i < kind->packing->load_count; i++) {
		const struct packing_load *load = &kind->packing->loads[i];
		for (size_t j = 0; j < load->count; j++) {
			struct party_count *count = &counts[kind->problem->rolls[load->rolls[j]].party];
			count->loads += count->last_load != i + 1;
			count->last_load = i + 1;
		}
	}
}

/* The rolls of each party one after the other: where those of a party begin. */
static struct packing_roll *rolls_by_party(const struct packing_problem *problem, const struct party_count *counts,
					   size_t *begins, struct arena *arena)
{
	struct packing_roll *rolls = ARENA_ARRAY(arena, struct packing_roll, problem->roll_count);
	size_t *filled = ARENA_ARRAY(arena, size_t, problem->party_count);
	for (size_t i = 1; i < problem->party_count; i++)
		begins[i] = begins[i - 1] + counts[i - 1].rolls;
	for (size_t i = 0; i < problem->roll_count; i++) {
		uint32_t party = problem->rolls[i].party;
		rolls[begins[party] + filled[party]] = problem->rolls[i];
		rolls[begins[party] + filled[party]++].party = 0;
	}
	return rolls;
}

static bool are_alike(const struct packing_roll *rolls, size_t count)
{
	for (size_t i = 1; i < count; i++) {
		if (rolls[i].format != rolls[0].format || rolls[i].area_milli_rolls != rolls[0].area_milli_rolls)
			return false;
	}
	return true;
}

static int64_t smaller(int64_t a, int64_t b)
{
	return a < b ? a : b;
}

/* Loads of so many rolls that are alike. */
static size_t loads_of_alike(const struct packing_problem *problem, const struct packing_roll *roll, int64_t count)
{
	int64_t most = problem->takes[roll->format];
	if (problem->reels[roll->format] >= 0)
		most = smaller(most, problem->reels[roll->format]);
	if (problem->load_area_milli_rolls > 0)
		most = smaller(most, problem->load_area_milli_rolls / roll->area_milli_rolls);
	return most <= 0 ? 0 : (size_t)((count + most - 1) / most);
}

/* Loads that a party would lie in by itself, under the same limits, but for its spreading. */
static size_t loads_alone(const struct packing_problem *problem, size_t party, const struct packing_roll *rolls,
			  size_t count, struct arena *arena)
{
	struct packing_problem alone = *problem;
	if (are_alike(rolls, count))
		return loads_of_alike(problem, rolls, (int64_t)count);
	alone.untried = 0;
	alone.rolls = rolls;
	alone.roll_count = count;
	alone.parties = &problem->parties[party];
	alone.party_count = 1;
	return packing_solve(&alone, arena)->load_count;
}

static void list_parties(struct plan_draft *draft, size_t kind_index)
{
	const struct plan_kind *kind = &draft->kinds[kind_index];
	const struct packing_problem *problem = kind->problem;
	struct day_plan *plan = draft->plan;
	struct party_count *counts = ARENA_ARRAY(draft->arena, struct party_count, problem->party_count);
	size_t *begins = ARENA_ARRAY(draft->arena, size_t, problem->party_count);
	count_rolls(problem, counts);
	count_loads(kind, counts);
	const struct packing_roll *rolls = rolls_by_party(problem, counts, begins, draft->arena);
	for (size_t i = 0; i < problem->party_count; i++) {
		const struct roll *first = kind->rolls[counts[i].first_roll];
		bool is_together = problem->parties[i].is_together;
		struct text name = is_together ? first->together : first->origin;
		if (name.length == 0)
			continue;
		ARENA_RESERVE(draft->arena, plan->parties, plan->party_count, draft->party_capacity);
		plan->parties[plan->party_count++] = (struct plan_party){
			.name = name,
			.is_together = is_together,
			.kind = kind_index,
			.roll_count = counts[i].rolls,
			.load_count = counts[i].loads,
			.least_loads = loads_alone(problem, i, rolls + begins[i], counts[i].rolls, draft->arena),
		};
	}
}

/* A party of one process, among those of the day. */
struct named_party {
	struct plan_party party;
	size_t place;	   /* in the order of processes */
	size_t first;	   /* place of the first of its name */
	size_t name_rolls; /* of all that have its name */
};

static int compare_names(const struct plan_party *a, const struct plan_party *b)
{
	if (a->is_together != b->is_together)
		return a->is_together ? -1 : 1;
	return text_compare(a->name, b->name);
}

static int compare_by_name(const void *left, const void *right)
{
	const struct named_party *a = left;
	const struct named_party *b = right;
	int order = compare_names(&a->party, &b->party);
	return order != 0 ? order : (a->place > b->place) - (a->place < b->place);
}

static int compare_by_first(const void *left, const void *right)
{
	const struct named_party *a = left;
	const struct named_party *b = right;
	if (a->first != b->first)
		return a->first < b->first ? -1 : 1;
	return (a->place > b->place) - (a->place < b->place);
}

/* What they have in common, of those that lie beside each other with one name. */
static void join_names(struct named_party *named, size_t count)
{
	for (size_t first = 0, end; first < count; first = end) {
		size_t rolls = 0;
		for (end = first; end < count && compare_names(&named[end].party, &named[first].party) == 0; end++)
			rolls += named[end].party.roll_count;
		for (size_t i = first; i < end; i++) {
			named[i].first = named[first].place;
			named[i].name_rolls = rolls;
		}
	}
}

/* Those of one name behind each other, whatever process they are of. A roll that is the only one of its name belongs
 * together with nothing. */
static void gather_names(struct plan_draft *draft)
{
	struct day_plan *plan = draft->plan;
	size_t count = plan->party_count;
	struct named_party *named = ARENA_ARRAY(draft->arena, struct named_party, count);
	if (count == 0)
		return;
	for (size_t i = 0; i < count; i++)
		named[i] = (struct named_party){ .party = plan->parties[i], .place = i };
	qsort(named, count, sizeof *named, compare_by_name);
	join_names(named, count);
	qsort(named, count, sizeof *named, compare_by_first);
	plan->party_count = 0;
	for (size_t i = 0; i < count; i++) {
		if (named[i].name_rolls > 1)
			plan->parties[plan->party_count++] = named[i].party;
	}
}

void plan_parties_find(struct plan_draft *draft)
{
	for (size_t i = 0; i < draft->kind_count; i++)
		list_parties(draft, i);
	gather_names(draft);
}
