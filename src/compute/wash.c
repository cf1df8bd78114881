#include "compute/wash.h"

#include <math.h>

#include "compute/rounding.h"

#define MS_PER_MIN 60000

double wash_left_by_changes(double carried_ml, double filled_ml, double changes)
{
	return pow(carried_ml / (filled_ml + carried_ml), changes);
}

double wash_left_by_flow(double flow_ml_per_min, double vessel_ml, double minutes)
{
	return exp(-flow_ml_per_min * minutes / vessel_ml);
}

/* Time during which water is taken: the step's declared time, to its earliest end. */
static int64_t running_ms(const struct step *step)
{
	return span_is_set(step->time.span) ? step->time.low_ms : 0;
}

/* What flows in a time. */
static int64_t flowing(const struct quantity *flow, int64_t time_ms)
{
	return span_is_set(flow->span) ? rounding_whole((double)flow->value * (double)time_ms / MS_PER_MIN) : 0;
}

int64_t wash_water(const struct process *process, size_t step)
{
	const struct step *wash = &process->steps[step];
	int64_t flow = flowing(&wash->flow, running_ms(wash));
	int64_t changed = 0;
	if (span_is_set(wash->changes.span) && process->tank)
		changed = rounding_whole((double)process->tank->holds.value * (double)wash->changes.value);
	return flow > changed ? flow : changed;
}

/* The rest of a step's time: filling and draining outside the declared time. */
static int64_t other_ms(const struct process *process, const struct timeline *timeline, size_t step)
{
	int64_t all_ms = timeline->steps[step].end_ms - timeline->steps[step].pour_ms;
	int64_t rest_ms = all_ms - running_ms(&process->steps[step]);
	return rest_ms > 0 ? rest_ms : 0;
}

/* What the heater gives in the whole of a step. */
static int64_t given(const struct process *process, const struct timeline *timeline, size_t step)
{
	return flowing(&process->heater->gives, running_ms(&process->steps[step])) +
	       flowing(&process->heater->gives, other_ms(process, timeline, step));
}

/* A step at whose start the store is full: the first, or one after steps without washing in which it fills up. */
static size_t full_at(const struct process *process, const struct timeline *timeline, size_t step, int64_t stores)
{
	int64_t filled = 0;
	size_t at = step;
	for (; at > 0 && filled < stores; at--)
		filled = wash_water(process, at - 1) > 0 ? 0 : filled + given(process, timeline, at - 1);
	return at;
}

int64_t wash_shortage(const struct process *process, const struct timeline *timeline, size_t step)
{
	const struct heater *heater = process->heater;
	int64_t stores = span_is_set(heater->stores.span) ? heater->stores.value : 0;
	int64_t level = stores;
	for (size_t i = full_at(process, timeline, step, stores);; i++) {
		level += flowing(&heater->gives, running_ms(&process->steps[i])) - wash_water(process, i);
		if (i == step)
			return level < 0 ? -level : 0;
		level = (level < 0 ? 0 : level) + flowing(&heater->gives, other_ms(process, timeline, i));
		if (level > stores)
			level = stores;
	}
}

int64_t wash_flow_for(int64_t water, int64_t time_ms)
{
	return rounding_whole((double)water * MS_PER_MIN / (double)time_ms);
}
