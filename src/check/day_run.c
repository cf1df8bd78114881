/* The table of checks over a day: each of its rolls with the process that develops it, then the day itself. */
#include "check/run.h"

#include "compute/day_plan.h"
#include "model/soundness.h"

/* A day is planned where every process that it runs may be judged. */
static struct day_plan *plan_of(struct recipe *recipe, const struct check_run *run, struct arena *arena)
{
	for (size_t i = 0; i < run->day->run_count; i++)
		if (!run->runs[i])
			return NULL;
	return day_plan_outline(recipe, run->day, NULL, arena);
}

/* The processes of a day, by their place in it; null for one with a mistake in what it is made of. */
static const struct process *const *resolve_runs(struct recipe *recipe, const struct day *day, struct arena *arena)
{
	const struct process **runs = ARENA_ARRAY(arena, const struct process *, day->run_count);
	for (size_t i = 0; i < day->run_count; i++) {
		const struct process *process = process_resolve(recipe, day->runs[i].process, arena);
		if (process && process_is_sound(recipe, process))
			runs[i] = process;
	}
	return runs;
}

struct day_plan *check_day(struct recipe *recipe, const struct check_basis *basis, const struct day *day,
			   struct arena *arena, struct arena *plan_arena)
{
	if (!day_is_sound(recipe, day))
		return NULL;
	struct check_run run = {
		.recipe = recipe,
		.basis = basis,
		.report = recipe->report,
		.arena = arena,
		.day = day,
		.runs = resolve_runs(recipe, day, arena),
		.has_spoken = ARENA_ARRAY(arena, bool, CHECK_COUNT),
	};
	for (const struct roll *roll = day->rolls; roll; roll = roll->next) {
		if (!roll_is_sound(recipe, roll))
			continue;
		run.roll = roll;
		run.process = roll->run == ROLL_NO_RUN ? NULL : run.runs[roll->run];
		check_rows(&run, SUBJECT_ROLL, roll->span);
	}
	run.roll = NULL;
	run.process = NULL;
	struct day_plan *plan = plan_of(recipe, &run, plan_arena);
	run.plan = plan;
	check_rows(&run, SUBJECT_DAY, day->declared.name_span);
	return plan;
}
