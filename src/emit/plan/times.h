/* What a plan carries so that a step can have the time for a temperature that is measured only at the sink. Private to
 * the plan. */
#ifndef EMIT_PLAN_TIMES_H
#define EMIT_PLAN_TIMES_H

#include "emit/plan/plan.h"

/** One step of the process on its way into the plan. */
struct placed_step {
	const struct emission *emission;
	size_t index;
	const struct step *step;
	const struct timeline_step *timed;
};

/** The times of a step by what the thermometer reads. Null where the step does not ask for a temperature or the recipe
 * gives no times by it. A temperature for which the recipe itself would be refused with --at is left out. */
const struct plan_times *plan_times_of(const struct placed_step *placed);

/** A reading of the process's thermometer in hundredths of a degree of its scale. */
int64_t plan_reading(const struct placed_step *placed, int64_t reading);

/** A cue of the step with the agitations, taps and ends of `timeline`. */
struct plan_cue plan_cue_of(const struct placed_step *placed, const struct timeline *timeline, const struct cue *cue);

/** When agitation goes on past the earliest end: first then, and on in its interval. */
struct plan_seconds plan_again(const struct step *step, const struct timeline_step *timed);

#endif
