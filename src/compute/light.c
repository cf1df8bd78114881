/* The earliest moment at which light may come on. */
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

static int64_t light_in_step(enum light_rule rule, enum role_id role, const struct timeline_step *place)
{
	int64_t after_ms = place->end_ms - place->start_ms;

	if (rule == LIGHT_AFTER_TWO_MINUTES_OF_FIX)
		after_ms = TWO_MINUTES_MS;
	else if (rule == LIGHT_AFTER_ONE_MINUTE_OF_REVERSAL_BATH && role == ROLE_reversal_bath)
		after_ms = ONE_MINUTE_MS;
	else if (role == ROLE_exposing)
		after_ms = 0;
	if (place->start_ms + after_ms > place->end_ms)
		return place->end_ms;
	return place->start_ms + after_ms;
}

/* Marks the first step that meets a rule; false where there is none. */
static bool mark_by(enum light_rule rule, const struct process *process, struct timeline *timeline)
{
	for (size_t i = 0; i < process->step_count; i++) {
		if (!marks_light(rule, process->steps[i].role))
			continue;
		timeline->steps[i].light_ms = light_in_step(rule, process->steps[i].role, &timeline->steps[i]);
		return true;
	}
	return false;
}

void light_mark(const struct process *process, struct timeline *timeline)
{
	if (span_is_set(process->family_span) && !mark_by(family_row(process->family)->light, process, timeline))
		mark_by(LIGHT_AT_END_OF_FIX, process, timeline);
}
