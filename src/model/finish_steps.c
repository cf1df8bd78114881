/* What follows for the steps of a process once all its clauses are read: roles, timing, bottles, what is missing. */
#include "model/resolve_process.h"

static enum role_id role_of(const struct step *step, bool is_before_first_solution)
{
	switch (step->bath) {
	case BATH_SOLUTION:
		return step->solution->role;
	case BATH_WATER:
	case BATH_RUNNING_WATER:
		return is_before_first_solution ? ROLE_prewet : ROLE_wash;
	case BATH_LIGHT:
		return ROLE_exposing;
	case BATH_AIR:
	case BATH_DRYER:
	case BATH_NONE:
		break;
	}
	return ROLE_drying;
}

/* Film is turned once: a step that only says how long each side is exposed lasts for both. */
static void give_exposing_time(struct step *step)
{
	if (span_is_set(step->time.span) || !span_is_set(step->expose.span))
		return;
	step->time =
		(struct time_window){ step->expose.span, TIME_EXACT, 2 * step->expose.value, 2 * step->expose.value };
}

static void give_roles(struct process *process)
{
	bool is_before = true;

	for (size_t i = 0; i < process->step_count; i++) {
		struct step *step = &process->steps[i];

		if (step->bath == BATH_SOLUTION)
			is_before = false;
		if (!span_is_set(step->role_span))
			step->role = role_of(step, is_before);
		give_exposing_time(step);
		if (!span_is_set(step->starts_span))
			step->starts = process->starts;
		if (!span_is_set(step->draining_span))
			step->includes_draining = process->includes_draining;
	}
}

static void number_bottles(struct process *process, struct arena *arena)
{
	struct number_map first_steps = { 0 }; /* by the name of their solution */
	uint32_t bottles = 0;

	for (size_t i = 0; i < process->step_count; i++) {
		struct step *step = &process->steps[i];
		const struct step *first;

		if (step->bath != BATH_SOLUTION)
			continue;
		first = number_map_find(&first_steps, step->solution->declared.name);
		step->bottle = first == NULL ? ++bottles : first->bottle;
		if (first == NULL)
			number_map_put(&first_steps, arena, step->solution->declared.name, step);
	}
}

static bool is_in_tank(const struct step *step)
{
	return step->bath == BATH_SOLUTION || step->bath == BATH_WATER || step->bath == BATH_RUNNING_WATER;
}

void steps_complain_incomplete(struct recipe *recipe, const struct process *process)
{
	bool needs_tank = false;
	bool was_developed = false;

	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];

		needs_tank = needs_tank || is_in_tank(step);
		if (!span_is_set(step->bath_span))
			complain_missing(
				recipe, step->name_span, "a step in no bath",
				"say where the film is, as in `in developer`, `in water`, `in light`, `in air`");
		if (is_in_tank(step) && !span_is_set(step->time.span))
			complain_missing(recipe, step->name_span, "a step in a bath without its time",
					 "say how long, as in `for 3:30` or `for at least 6:30`");
		if (step->bath == BATH_SOLUTION && role_develops(step->role) && !was_developed &&
		    !span_is_set(step->at.span) && !span_is_set(step->pour_at.span))
			complain_missing(recipe, step->name_span, "a developer without its temperature",
					 "say how warm, as in `at 38 ± 0.15 °C`");
		was_developed = was_developed || role_develops(step->role);
	}
	if (needs_tank && !span_is_set(process->tank_span))
		complain_missing(recipe, process->declared.name_span, "a process without its tank",
				 "add a line such as `tank upright`");
}

/* What is said of a bath that is poured, in a step that has none. */
static void check_dry_places(struct recipe *recipe, const struct step *step)
{
	const struct span spans[] = { step->pour_at.span,	   step->mean.span,  step->measure_span,
				      step->changes.span,	   step->times_span, step->coefficient.span,
				      step->activation_energy.span };

	for (size_t i = 0; i < sizeof spans / sizeof *spans; i++)
		if (span_is_set(spans[i]))
			report_add(recipe->report, CHECK_out_of_place, spans[i],
				   "this is said of a bath, and the step has none");
}

/* What is said at `span` fits another bath than the step's. */
static void complain_bath(struct recipe *recipe, const struct step *step, struct span span, const char *message,
			  const char *right)
{
	struct diagnostic *finding = report_add(recipe->report, CHECK_out_of_place, span, "%s", message);

	report_help(recipe->report, finding, "write `in %s`", right);
	if (step->bath == BATH_WATER)
		report_fix(recipe->report, finding, FIX_ASKS, step->bath_span, text_from(right));
}

/* Light later than a step lasts would be read at the sink as light in that step. What has a minimum may go on. */
static void check_light(struct recipe *recipe, const struct process *process, const struct step *step)
{
	const struct time_window *time = &step->time;
	int64_t drain_ms = process->tank == NULL ? 0 : process->tank->drain.value;

	if (!is_in_tank(step) || !span_is_set(time->span) || time->form == TIME_AT_LEAST ||
	    step->lights_after.value <= time->high_ms + drain_ms)
		return;
	report_help(recipe->report,
		    report_add(recipe->report, CHECK_out_of_place, step->lights_span,
			       "the step is over before this light comes"),
		    "say it in the step in which light comes, counted from that step's start");
}

static void check_places(struct recipe *recipe, const struct step *step)
{
	struct span span = span_is_set(step->agitation_span) ? step->agitation_span : step->taps_span;

	if (step->bath == BATH_NONE)
		return;
	if (!is_in_tank(step) && span_is_set(span))
		report_add(recipe->report, CHECK_out_of_place, span, "there is nothing to agitate outside a bath");
	if (step->bath != BATH_LIGHT && span_is_set(step->expose.span))
		complain_bath(recipe, step, step->expose.span, "only light exposes", "light");
	if (!is_in_tank(step))
		check_dry_places(recipe, step);
	if (step->bath != BATH_RUNNING_WATER && span_is_set(step->flow.span))
		complain_bath(recipe, step, step->flow.span, "only running water flows", "running water");
	if (step->bath == BATH_SOLUTION && span_is_set(step->changes.span))
		complain_bath(recipe, step, step->changes.span, "only water is changed within a step", "water");
	if (step->bath == BATH_RUNNING_WATER && span_is_set(step->changes.span))
		report_help(recipe->report,
			    report_add(recipe->report, CHECK_out_of_place, step->changes.span,
				       "running water is not changed"),
			    "write `in water`, or `flow 4 L per min`");
	if (span_is_set(step->taps_span) && step->agitation == NULL && !recipe->has_parse_errors)
		report_add(recipe->report, CHECK_out_of_place, step->taps_span,
			   "taps follow an agitation, and there is none");
}

void steps_finish(struct recipe *recipe, struct process *process, struct arena *arena)
{
	give_roles(process);
	number_bottles(process, arena);
	for (size_t i = 0; i < process->step_count; i++) {
		check_places(recipe, &process->steps[i]);
		check_light(recipe, process, &process->steps[i]);
	}
}
