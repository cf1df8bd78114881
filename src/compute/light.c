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
			place->light_ms = place->start_ms + wait_ms;
			return true;
		}
		fixed_ms += lasts_ms;
		last = place;
	}
	if (last == NULL)
		return false;
	last->light_ms = last->end_ms;
	return true;
}

void light_mark(const struct process *process, struct timeline *timeline)
{
	if (span_is_set(process->family_span) && !mark_by(family_row(process->family)->light, process, timeline))
		mark_by(LIGHT_AT_END_OF_FIX, process, timeline);
}
