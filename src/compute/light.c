/* The moments at which film bears light and at which light may come on. */
#include "compute/light.h"

#define TWO_MINUTES_MS 120000
#define ONE_MINUTE_MS 60000

static bool marks_light(enum light_rule rule, enum role_id role)
{
	switch (rule) {
	case LIGHT_AT_END_OF_BLEACH:
		return role == ROLE_bleach || role == ROLE_bleach_fix;
	case LIGHT_AFTER_ONE_MINUTE_OF_REVERSAL_BATH:
		return role == ROLE_reversal_bath || role == ROLE_exposing;
	case LIGHT_AT_EXPOSING:
		return role == ROLE_exposing || role == ROLE_fogging;
	case LIGHT_AFTER_TWO_MINUTES_OF_FIX:
	case LIGHT_AT_END_OF_FIX:
		break;
	}
	return role_fixes(role);
}

/* How long light waits in a marked step. A bath that does more than fix has to end first: at two minutes a monobath
 * still develops. */
static int64_t wait_in_step(enum light_rule rule, enum role_id role, int64_t fixed_ms, int64_t lasts_ms)
{
	if (role == ROLE_exposing)
		return 0;
	if (rule == LIGHT_AFTER_TWO_MINUTES_OF_FIX && role == ROLE_fix)
		return TWO_MINUTES_MS - fixed_ms;
	if (rule == LIGHT_AFTER_ONE_MINUTE_OF_REVERSAL_BATH && lasts_ms > ONE_MINUTE_MS)
		return ONE_MINUTE_MS;
	return lasts_ms;
}

/* Marks the first step that meets a rule; false where there is none. Minutes of fix add up over the fixes of a process;
 * where they are too few, the end of the last one is the earliest moment. */
static bool mark_by(enum light_rule rule, const struct process *process, struct timeline *timeline)
{
	struct timeline_step *last = NULL;
	int64_t fixed_ms = 0;

	for (size_t i = 0; i < process->step_count; i++) {
		enum role_id role = process->steps[i].role;
		struct timeline_step *place = &timeline->steps[i];
		int64_t lasts_ms = place->end_ms - place->start_ms;
		if (!marks_light(rule, role))
			continue;
		int64_t wait_ms = wait_in_step(rule, role, fixed_ms, lasts_ms);
		if (wait_ms <= lasts_ms) {
			place->bears_light_ms = place->start_ms + wait_ms;
			return true;
		}
		fixed_ms += lasts_ms;
		last = place;
	}
	if (last == NULL)
		return false;
	last->bears_light_ms = last->end_ms;
	return true;
}

int64_t timeline_lights_on(const struct step *step, const struct timeline_step *place)
{
	if (!span_is_set(step->lights_span))
		return TIMELINE_NEVER;
	if (!span_is_set(step->lights_after.span))
		return place->pour_ms;
	int64_t on_ms = place->start_ms + step->lights_after.value;
	int64_t last_ms = place->latest_end_ms == TIMELINE_NEVER ? place->end_ms : place->latest_end_ms;
	return place->time.form == TIME_AT_LEAST || on_ms < last_ms ? on_ms : last_ms;
}

/* The step that first puts light on, or the count of steps. Where film is exposed before any does, none counts: it has
 * seen light by then. */
static size_t first_lit(const struct process *process)
{
	for (size_t i = 0; i < process->step_count; i++) {
		if (span_is_set(process->steps[i].lights_span))
			return i;
		if (process->steps[i].role == ROLE_exposing)
			break;
	}
	return process->step_count;
}

/* Light waits for the recipe where that is later than the film asks for: who wrote it knows the film. */
static void allow_light(const struct process *process, struct timeline *timeline)
{
	size_t lit = first_lit(process);
	size_t borne = 0;

	while (borne < timeline->step_count && timeline->steps[borne].bears_light_ms == TIMELINE_NEVER)
		borne++;
	if (borne < timeline->step_count)
		timeline->steps[borne].light_ms = timeline->steps[borne].bears_light_ms;
	if (lit == timeline->step_count || (borne < timeline->step_count && lit < borne))
		return;
	int64_t lit_ms = timeline_lights_on(&process->steps[lit], &timeline->steps[lit]);
	if (lit == borne && lit_ms < timeline->steps[borne].light_ms)
		return;
	if (borne < timeline->step_count)
		timeline->steps[borne].light_ms = TIMELINE_NEVER;
	timeline->steps[lit].light_ms = lit_ms;
}

void light_mark(const struct process *process, struct timeline *timeline)
{
	if (span_is_set(process->family_span) && !mark_by(family_row(process->family)->light, process, timeline))
		mark_by(LIGHT_AT_END_OF_FIX, process, timeline);
	allow_light(process, timeline);
}
