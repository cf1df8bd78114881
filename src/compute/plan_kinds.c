/* The processes of a day, their rolls, and what one load of each may hold. */
#include <stdlib.h>
#include <string.h>

#include "compute/mixing.h"
#include "compute/plan_draft.h"
#include "compute/preparation.h"
#include "model/fingerprint.h"

#define HALF_A_MILLION 500000

/* The first load of a kind has to come out right before the second is poured, whatever tanks there are. */
#define UNTRIED_LOADS 1

static void gather_rolls(struct plan_draft *draft, struct plan_kind *kind)
{
	const struct roll **rolls = ARENA_ARRAY(draft->arena, const struct roll *, draft->day->roll_count);
	for (const struct roll *roll = draft->day->rolls; roll; roll = roll->next) {
		if (roll->run == kind->run && !span_is_set(roll->set_aside.span))
			rolls[kind->roll_count++] = roll;
	}
	kind->rolls = rolls;
}

/* The room of the day is that of its processes, unless the run says otherwise. */
static void apply_room(const struct plan_draft *draft, struct process *process)
{
	conditions_apply(draft->conditions, process);
	if (!draft->conditions->has_room && span_is_set(draft->day->room.span))
		process->room = draft->day->room;
}

static const struct preparation *prepare(const struct plan_draft *draft, const struct process *process)
{
	struct conditions conditions = *draft->conditions;
	conditions.has_volume = true;
	conditions.volume = process->tank ? process->tank->holds.value : 0;
	return preparation_build(draft->recipe, process, &conditions, draft->arena);
}

void plan_kinds_find(struct plan_draft *draft)
{
	const struct day *day = draft->day;
	draft->kinds = ARENA_ARRAY(draft->arena, struct plan_kind, day->run_count);
	draft->preparations = ARENA_ARRAY(draft->arena, const struct preparation *, day->run_count);
	for (size_t run = 0; run < day->run_count; run++) {
		struct plan_kind *kind = &draft->kinds[draft->kind_count];
		*kind = (struct plan_kind){ .run = run };
		gather_rolls(draft, kind);
		if (kind->roll_count == 0)
			continue;
		struct process *process = process_resolve(draft->recipe, day->runs[run].process, draft->arena);
		if (!process)
			continue;
		process->fingerprint = fingerprint_of(draft->recipe, process, draft->arena);
		apply_room(draft, process);
		kind->process = process;
		draft->preparations[draft->kind_count++] = prepare(draft, process);
	}
}

int64_t plan_tanks(const struct plan_draft *draft, const struct tank *tank)
{
	int64_t count = 0;
	for (size_t i = 0; i < draft->day->tank_count; i++)
		count += draft->day->tanks[i].tank == tank;
	if (count == 0)
		count = 1;
	return count + (tank && draft->change.tank == tank);
}

bool plan_format_has_reels(enum format_id format)
{
	static const char sheet[] = "sheet ";
	struct text title = format_row(format)->title;
	return title.length < sizeof(sheet) || memcmp(title.data, sheet, sizeof(sheet) - 1) != 0;
}

int64_t plan_reels(const struct plan_draft *draft, enum format_id format)
{
	const struct day *day = draft->day;
	int64_t count = 0;
	if (day->reels_count == 0 || !plan_format_has_reels(format))
		return -1;
	for (size_t i = 0; i < day->reels_count; i++) {
		if (day->reels[i].format == format)
			count += day->reels[i].count;
	}
	return count * draft->change.reel_sets;
}

static int64_t smaller_limit(int64_t limit, int64_t other)
{
	return limit == 0 || other < limit ? other : limit;
}

/* What a bath allows of film in one load: what a fresh fill of it does, and its share of stock for each roll. */
static void limit_by_bath(const struct plan_draft *draft, struct plan_kind *kind, struct packing_problem *problem,
			  const struct solution *solution)
{
	const struct plan_bath *bath = plan_bath(draft, solution);
	int64_t holds = kind->process->tank->holds.value;
	int64_t least = solution->least_per_roll.value;
	int64_t stock = mixing_stock(solution, holds);
	if (span_is_set(solution->least_per_roll.span) && least > 0 && stock > 0) {
		double share = (double)stock * PLAN_MILLI / (double)least;
		problem->load_area_milli_rolls =
			smaller_limit(problem->load_area_milli_rolls, share < 1 ? 1
								      : share > (double)HALF_A_MILLION * PLAN_MILLI
									      ? (int64_t)HALF_A_MILLION * PLAN_MILLI
									      : (int64_t)share);
	}
	if (solution->capacity_volume.value <= 0 || solution->use == USE_REPLENISH)
		return;
	int64_t does = mixing_capacity_milli_rolls(solution, plan_bath_fill_volume(draft, bath));
	if (does <= 0)
		does = 1; /* nothing can be done in it, and nothing is what 0 would not say */
	problem->load_area_milli_rolls = smaller_limit(problem->load_area_milli_rolls, does);
	if (plan_bath_is_reused(solution) && (!kind->leading || does < problem->fill_area_milli_rolls)) {
		kind->leading = solution;
		problem->fill_area_milli_rolls = does;
		problem->first_fill_area_milli_rolls = plan_bath_first_fill(bath);
	}
}

/* Rolls by party: the group that is kept together, else the origin; a roll of which neither is known is one of its
 * own. Parties are found by sorting, so that thousands of rolls take no longer than need be. */
struct named_roll {
	struct text name;
	bool is_together;
	uint32_t index;
};

static int compare_named(const void *left, const void *right)
{
	const struct named_roll *a = left;
	const struct named_roll *b = right;
	if (a->is_together != b->is_together)
		return a->is_together ? -1 : 1;
	int order = text_compare(a->name, b->name);
	return order != 0 ? order : (a->index > b->index) - (a->index < b->index);
}

/* Numbers the parties in the order in which their first rolls were declared. */
static void number_parties(const struct named_roll *named, size_t count, struct packing_roll *rolls,
			   struct packing_party *parties, size_t *party_count, struct arena *arena)
{
	uint32_t *first_of = ARENA_ARRAY(arena, uint32_t, count); /* by roll: the first roll of its party */
	uint32_t first = 0;
	for (size_t i = 0; i < count; i++) {
		const struct named_roll *before = i > 0 ? &named[i - 1] : NULL;
		if (!before || named[i].name.length == 0 || before->is_together != named[i].is_together ||
		    !text_equal(before->name, named[i].name))
			first = named[i].index;
		first_of[named[i].index] = first;
	}
	for (size_t i = 0; i < count; i++) {
		if (first_of[i] == i)
			rolls[i].party = (uint32_t)(*party_count)++;
		else
			rolls[i].party = rolls[first_of[i]].party;
	}
	for (size_t i = 0; i < count; i++)
		parties[rolls[named[i].index].party].is_together = named[i].is_together;
}

static void list_rolls(const struct plan_draft *draft, const struct plan_kind *kind, struct packing_problem *problem)
{
	size_t count = kind->roll_count;
	struct packing_roll *rolls = ARENA_ARRAY(draft->arena, struct packing_roll, count);
	struct packing_party *parties = ARENA_ARRAY(draft->arena, struct packing_party, count);
	struct named_roll *named = ARENA_ARRAY(draft->arena, struct named_roll, count);
	for (size_t i = 0; i < count; i++) {
		const struct roll *roll = kind->rolls[i];
		bool is_together = roll->together.length > 0;
		rolls[i] = (struct packing_roll){
			.format = (uint32_t)roll->format,
			.area_milli_rolls = roll->area_milli_rolls > 0 ? roll->area_milli_rolls : 1,
			.is_urgent = roll->is_urgent,
		};
		named[i] = (struct named_roll){ is_together ? roll->together : roll->origin, is_together, (uint32_t)i };
	}
	qsort(named, count, sizeof *named, compare_named);
	number_parties(named, count, rolls, parties, &problem->party_count, draft->arena);
	problem->rolls = rolls;
	problem->roll_count = count;
	problem->parties = parties;
}

static void pack(struct plan_draft *draft, struct plan_kind *kind)
{
	struct packing_problem *problem = ARENA_NEW(draft->arena, struct packing_problem);
	const struct process *process = kind->process;
	problem->format_count = FORMAT_COUNT;
	problem->untried = UNTRIED_LOADS;
	kind->leading = NULL;
	for (int format = 0; format < FORMAT_COUNT; format++)
		problem->reels[format] = plan_reels(draft, (enum format_id)format);
	for (const struct takes *takes = process->tank ? process->tank->takes : NULL; takes; takes = takes->next) {
		if (problem->reels[takes->format] != 0)
			problem->takes[takes->format] = takes->count;
	}
	for (size_t i = 0; process->tank && i < process->step_count; i++) {
		if (process->steps[i].solution)
			limit_by_bath(draft, kind, problem, process->steps[i].solution);
	}
	list_rolls(draft, kind, problem);
	kind->problem = problem;
	kind->packing = packing_solve(problem, draft->arena);
}

void plan_kinds_pack(struct plan_draft *draft)
{
	for (size_t i = 0; i < draft->kind_count; i++)
		pack(draft, &draft->kinds[i]);
	for (size_t i = 0; i < draft->kind_count; i++)
		plan_precious_spare(draft, &draft->kinds[i]);
}
