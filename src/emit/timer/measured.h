/* What a timer carries so that a step can have the time for a temperature that is measured only at the sink. Private to
 * the timer. */
#ifndef EMIT_TIMER_MEASURED_H
#define EMIT_TIMER_MEASURED_H

#include "emit/timer/plan.h"

struct measured;

/** The times of a step by what the thermometer reads, in the arena of its emission. Null where the step does not ask
 * for a temperature or the recipe gives no times by it. A temperature for which the recipe itself would be refused
 * with --at is left out. */
const struct measured *measured_find(const struct placed_step *placed);

/** Writes `step_times` and a `step_row` for each temperature; before the step's cues. */
void measured_put_rows(const struct measured *measured);

/** Writes the cues that only longer times have, as `step_more`; behind the step's cues. */
void measured_put_more(const struct measured *measured);

#endif
