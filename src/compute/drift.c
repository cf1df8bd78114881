#include "compute/drift.h"

#include <math.h>

#include "compute/cooling.h"
#include "compute/development.h"
#include "compute/heat_balance.h"
#include "compute/rounding.h"

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

/* The tank before a first bath. */
static bool tank_at_start(const struct process *process, int64_t *met)
{
	bool stands_in_bath = span_is_set(process->tank->bath.span);
	*met = stands_in_bath ? process->tank->bath.nominal : process->room.value;
	return stands_in_bath || span_is_set(process->room.span);
}

static const struct used_time *used_of(const struct timeline *timeline, size_t step)
{
	return timeline->used ? &timeline->used[step] : NULL;
}

static bool is_measured(const struct timeline *timeline, size_t step)
{
	const struct used_time *used = used_of(timeline, step);
	return used && used->is_measured;
}

bool drift_poured(const struct process *process, const struct timeline *timeline, size_t step, int64_t *poured)
{
	const struct temperature_window *window = development_pour_window(&process->steps[step]);
	if (!span_is_set(window->span)) /* only its mean is declared */
		window = &process->steps[step].mean;
	*poured = is_measured(timeline, step) ? timeline->used[step].temperature : window->nominal;
	return span_is_set(window->span) || is_measured(timeline, step);
}

/* The temperature that the bath before has left in tank and reels. */
static bool left_before(const struct process *process, const struct timeline *timeline, size_t before, int64_t poured,
			int64_t *met)
{
	const struct temperature_window *window = &process->steps[before].at;
	*met = is_measured(timeline, before) ? timeline->used[before].temperature : nearest_in(window, poured);
	return span_is_set(window->span) || is_measured(timeline, before);
}

bool drift_meets(const struct process *process, const struct timeline *timeline, size_t step,
		 struct drift_meeting *meeting)
{
	const struct tank *tank = process->tank;
	int64_t poured;
	int64_t met;
	if (!tank || !timeline->steps[step].is_poured || tank->holds.value <= 0 ||
	    !span_is_set(development_pour_window(&process->steps[step])->span))
		return false;
	drift_poured(process, timeline, step, &poured);
	meeting->before = step_before(timeline, step);
	bool has_before = meeting->before != step;
	if (has_before ? !left_before(process, timeline, meeting->before, poured, &met) : !tank_at_start(process, &met))
		return false;
	meeting->poured_c = quantity_celsius(poured);
	meeting->met_c = quantity_celsius(met);
	meeting->bath_ml = quantity_ml(tank->holds.value);
	meeting->carried = heat_balance_carried(process, has_before, meeting->met_c, meeting->met_c);
	return meeting->carried.tank.volume_ml > 0 || meeting->carried.water.volume_ml > 0;
}

bool drift_pour(const struct process *process, const struct timeline *timeline, size_t step, struct drift_pour *pour)
{
	struct drift_meeting meeting;
	if (!drift_meets(process, timeline, step, &meeting))
		return false;
	struct heat_share bath = { meeting.poured_c, meeting.bath_ml };
	pour->before = meeting.before;
	pour->poured = temperature(meeting.poured_c);
	pour->met = temperature(meeting.met_c);
	pour->after = temperature(heat_balance_pour_c(bath, &meeting.carried));
	pour->pour_for = temperature(heat_balance_bath_for_c(meeting.poured_c, meeting.bath_ml, &meeting.carried));
	pour->carried = rounding_whole(meeting.carried.water.volume_ml * (double)VOLUME_PER_ML);
	pour->absorbs = rounding_whole(meeting.carried.tank.volume_ml * (double)VOLUME_PER_ML);
	return true;
}

bool drift_before_for(const struct process *process, const struct drift_pour *pour, int64_t after, int64_t *before)
{
	double carried_ml = quantity_ml(pour->carried) + quantity_ml(pour->absorbs);
	if (carried_ml <= 0)
		return false;
	double missing_c = quantity_celsius(after - pour->poured) * quantity_ml(process->tank->holds.value);
	double before_c = quantity_celsius(after) + missing_c / carried_ml;
	if (!(fabs(before_c) < WATER_BOILS_C))
		return false;
	*before = temperature(before_c);
	return true;
}

bool drift_course(const struct process *process, const struct timeline *timeline, size_t step, double start_c,
		  struct drift_course *course)
{
	const struct time_window *time = &timeline->steps[step].time;
	if (!process->tank || !span_is_set(time->span) || time->low_ms <= 0)
		return false;
	course->start_c = start_c;
	course->surroundings_c = cooling_surroundings_c(process);
	course->time_s = (double)time->low_ms / MILLISECONDS_PER_SECOND;
	return cooling_rate_of_test(&process->tank->cools, &course->rate);
}

bool drift_effective_s(const struct step *step, const struct drift_course *course, double *effective_s)
{
	double share;
	if (!development_effective(step, course->start_c, course->surroundings_c, course->rate, course->time_s, &share))
		return false;
	*effective_s = share * course->time_s;
	return true;
}

bool drift_is_outside(const struct temperature_window *window, int64_t temperature)
{
	return window->form != WINDOW_POINT && (temperature < window->low || temperature > window->high);
}

/* How far a development is off what is wanted, in the units of a percentage. */
static double off_wanted(double effective_s, double wanted_s)
{
	return (effective_s / wanted_s - 1) * 100 * (double)PERCENT_ONE;
}

bool drift_is_slight(const struct process *process, const struct timeline *timeline, size_t step, int64_t start)
{
	const struct step *subject = &process->steps[step];
	const struct temperature_window *window = development_window(subject);
	struct drift_course way;
	if (!window || !drift_course(process, timeline, step, quantity_celsius(start), &way))
		return false;
	double end_c = cooling_temp_c(way.start_c, way.surroundings_c, way.rate, way.time_s);
	double slowest;
	double fastest;
	if (drift_is_outside(window, start) || drift_is_outside(window, temperature(end_c)))
		return false;
	if (!development_rates_between(subject, way.start_c, end_c, &slowest, &fastest))
		return !development_has_rule(subject);
	double wanted_s = used_wanted_s(subject, used_of(timeline, step));
	return off_wanted(fastest * way.time_s, wanted_s) < DRIFT_BEARABLE_PERCENT &&
	       off_wanted(slowest * way.time_s, wanted_s) > -DRIFT_BEARABLE_PERCENT;
}

bool drift_from(const struct process *process, const struct timeline *timeline, size_t step, int64_t start,
		struct drift *drift)
{
	const struct step *subject = &process->steps[step];
	struct drift_course way;
	if (!development_window(subject) || !drift_course(process, timeline, step, quantity_celsius(start), &way))
		return false;
	drift->start = start;
	drift->end = temperature(cooling_temp_c(way.start_c, way.surroundings_c, way.rate, way.time_s));
	drift->mean = temperature(cooling_mean_c(way.start_c, way.surroundings_c, way.rate, way.time_s));
	drift->surroundings = temperature(way.surroundings_c);
	double effective_s = 0;
	drift->has_effective = drift_effective_s(subject, &way, &effective_s);
	double wanted_s = used_wanted_s(subject, used_of(timeline, step));
	drift->effective = drift->has_effective ? rounding_whole(off_wanted(effective_s, wanted_s)) : 0;
	return true;
}
