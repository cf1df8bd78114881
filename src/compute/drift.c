#include "compute/drift.h"

#include <math.h>

#include "compute/cooling.h"
#include "compute/development.h"
#include "compute/heat_balance.h"
#include "compute/rounding.h"

/* A remedy beyond this is none. */
#define HOTTEST_C 100.0

static int64_t temperature(double temp_c)
{
	return rounding_whole(temp_c * TEMPERATURE_PER_KELVIN);
}

/* The last bath before a step that was poured into the tank; the step itself where there is none. */
static size_t step_before(const struct timeline *timeline, size_t step)
{
	for (size_t i = step; i-- > 0;) {
		if (timeline->steps[i].is_poured)
			return i;
	}
	return step;
}

static int64_t nearest_in(const struct temperature_window *window, int64_t wanted)
{
	if (window->form != WINDOW_RANGE)
		return window->nominal;
	return wanted < window->low ? window->low : wanted > window->high ? window->high : wanted;
}

static const struct temperature_window *window_of_pour(const struct step *step)
{
	return span_is_set(step->pour_at.span) ? &step->pour_at : &step->at;
}

/* The tank before a first bath. */
static bool tank_at_start(const struct process *process, int64_t *met)
{
	bool stands_in_bath = span_is_set(process->tank->bath.span);
	*met = stands_in_bath ? process->tank->bath.nominal : process->room.value;
	return stands_in_bath || span_is_set(process->room.span);
}

bool drift_pour(const struct process *process, const struct timeline *timeline, size_t step, struct drift_pour *pour)
{
	const struct tank *tank = process->tank;
	const struct temperature_window *window = window_of_pour(&process->steps[step]);
	if (!tank || !timeline->steps[step].is_poured || !span_is_set(window->span) || tank->holds.value <= 0)
		return false;
	pour->poured = window->nominal;
	pour->before = step_before(timeline, step);
	bool has_before = pour->before != step;
	if (has_before) {
		const struct temperature_window *before = &process->steps[pour->before].at;
		if (!span_is_set(before->span))
			return false;
		pour->met = nearest_in(before, pour->poured);
	} else if (!tank_at_start(process, &pour->met)) {
		return false;
	}
	double met_c = quantity_celsius(pour->met);
	double poured_c = quantity_celsius(pour->poured);
	struct heat_share bath = { poured_c, quantity_ml(tank->holds.value) };
	struct heat_carried carried = heat_balance_carried(process, has_before, met_c, met_c);
	if (carried.tank.volume_ml <= 0 && carried.water.volume_ml <= 0)
		return false;
	pour->after = temperature(heat_balance_pour_c(bath, &carried));
	pour->pour_for = temperature(heat_balance_bath_for_c(poured_c, bath.volume_ml, &carried));
	pour->carried = rounding_whole(carried.water.volume_ml * (double)VOLUME_PER_ML);
	pour->absorbs = rounding_whole(carried.tank.volume_ml * (double)VOLUME_PER_ML);
	return true;
}

int64_t drift_pour_for(const struct process *process, const struct timeline *timeline, size_t step, int64_t after)
{
	struct drift_pour pour;
	if (!drift_pour(process, timeline, step, &pour))
		return after;
	double met_c = quantity_celsius(pour.met);
	struct heat_carried carried = heat_balance_carried(process, pour.before != step, met_c, met_c);
	double bath_ml = quantity_ml(process->tank->holds.value);
	return temperature(heat_balance_bath_for_c(quantity_celsius(after), bath_ml, &carried));
}

bool drift_before_for(const struct process *process, const struct drift_pour *pour, int64_t after, int64_t *before)
{
	double carried_ml = quantity_ml(pour->carried) + quantity_ml(pour->absorbs);
	if (carried_ml <= 0)
		return false;
	double missing_c = quantity_celsius(after - pour->poured) * quantity_ml(process->tank->holds.value);
	double before_c = quantity_celsius(after) + missing_c / carried_ml;
	if (!(fabs(before_c) < HOTTEST_C))
		return false;
	*before = temperature(before_c);
	return true;
}

/* What Newton's law needs to know about a step. */
static bool rate_and_time(const struct process *process, size_t step, double *rate, double *time_s)
{
	const struct step *subject = &process->steps[step];
	if (!process->tank || !span_is_set(subject->time.span) || subject->time.low_ms <= 0)
		return false;
	*time_s = (double)subject->time.low_ms / MILLISECONDS_PER_SECOND;
	return development_window(subject) && cooling_rate_of_test(&process->tank->cools, rate);
}

bool drift_from(const struct process *process, size_t step, int64_t start, struct drift *drift)
{
	double rate;
	double time_s;
	if (!rate_and_time(process, step, &rate, &time_s))
		return false;
	const struct step *subject = &process->steps[step];
	double start_c = quantity_celsius(start);
	double working_c = quantity_celsius(development_window(subject)->nominal);
	double surroundings_c = cooling_surroundings_c(process);
	drift->start = start;
	drift->end = temperature(cooling_temp_c(start_c, surroundings_c, rate, time_s));
	drift->mean = temperature(cooling_mean_c(start_c, surroundings_c, rate, time_s));
	drift->surroundings = temperature(surroundings_c);
	drift->start_for_mean = temperature(cooling_start_for_mean_c(working_c, surroundings_c, rate, time_s));
	double share;
	drift->has_effective = development_effective(subject, start_c, surroundings_c, rate, time_s, &share);
	drift->effective = drift->has_effective ? rounding_whole((share - 1) * 100 * (double)PERCENT_ONE) : 0;
	return true;
}

bool drift_bath_for_mean(const struct process *process, size_t step, int64_t start, int64_t mean, int64_t *bath)
{
	double rate;
	double time_s;
	if (!rate_and_time(process, step, &rate, &time_s))
		return false;
	/* mean = Ts + (T0 − Ts)·f, f being the mean of a start 1 K above surroundings of 0 */
	double f = cooling_mean_c(1, 0, rate, time_s);
	double bath_c = (quantity_celsius(mean) - quantity_celsius(start) * f) / (1 - f);
	if (!(fabs(bath_c) < HOTTEST_C))
		return false;
	*bath = temperature(bath_c);
	return true;
}
