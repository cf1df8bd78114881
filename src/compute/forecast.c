#include "compute/forecast.h"

#include <math.h>

#include "compute/cooling.h"
#include "compute/development.h"
#include "compute/rounding.h"

/* A water bath farther than this from the working point mends one step and spoils the next: common practice, no
 * source. */
#define BATH_REACH_K 2.0

#define HUNDREDTH_K (TEMPERATURE_PER_KELVIN / 100)
#define TENTH_PERCENT (PERCENT_ONE / 10)

static const struct forecast_word state_rows[FORECAST_STATE_COUNT] = {
#define FORECAST(id, word, summary) { { word, sizeof(word) - 1 }, { summary, sizeof(summary) - 1 } },
#include "compute/forecasts.def"
#undef FORECAST
};

static const struct forecast_word fit_rows[FORECAST_FIT_COUNT] = {
#define FORECAST_FIT(id, word, summary) { { word, sizeof(word) - 1 }, { summary, sizeof(summary) - 1 } },
#include "compute/forecast_fits.def"
#undef FORECAST_FIT
};

static const struct forecast_word pour_rows[FORECAST_POUR_COUNT] = {
#define FORECAST_POUR(id, word, summary) { { word, sizeof(word) - 1 }, { summary, sizeof(summary) - 1 } },
#include "compute/forecast_pours.def"
#undef FORECAST_POUR
};

const struct forecast_word *forecast_state_row(enum forecast_state state)
{
	return &state_rows[state];
}

const struct forecast_word *forecast_fit_row(enum forecast_fit fit)
{
	return &fit_rows[fit];
}

const struct forecast_word *forecast_pour_row(enum forecast_pour pour)
{
	return &pour_rows[pour];
}

/* ---- figures on their way out ---- */

static int64_t to_whole(double value, int64_t one)
{
	return rounding_whole(value / (double)one) * one;
}

static int64_t temperature(double temp_c)
{
	return rounding_whole(temp_c * TEMPERATURE_PER_KELVIN);
}

/* From the model's unit, as a finding about the same bath. */
int64_t forecast_temperature(double temp_c)
{
	return to_whole((double)temperature(temp_c), HUNDREDTH_K);
}

int64_t forecast_time(double time_s)
{
	return to_whole(time_s * MILLISECONDS_PER_SECOND, MILLISECONDS_PER_SECOND);
}

int64_t forecast_percent(const struct forecast *forecast)
{
	return to_whole(forecast->effective_s / forecast->wanted_s * 100 * (double)PERCENT_ONE, TENTH_PERCENT);
}

/* ---- the window ---- */

static bool limits(const struct temperature_window *window)
{
	return window && span_is_set(window->span) && window->form != WINDOW_POINT;
}

/* −1 below the window, 1 above it. */
static int side(const struct temperature_window *window, double temp_c)
{
	int64_t value = temperature(temp_c);
	return value < window->low ? -1 : value > window->high ? 1 : 0;
}

static double passing_s(const struct drift_course *course, int64_t limit)
{
	return cooling_time_s(course->start_c, quantity_celsius(limit), course->surroundings_c, course->rate);
}

/* The bath goes one way only, so that it is outside at first, or at last, or both. */
static void find_outside(const struct temperature_window *window, struct forecast *forecast)
{
	const struct drift_course *course = &forecast->course;
	int first = side(window, forecast->start_c);
	int last = side(window, forecast->end_c);
	if (first != 0)
		forecast->outside[forecast->outside_count++] = (struct forecast_stretch){
			0, last == first ? course->time_s : passing_s(course, first < 0 ? window->low : window->high)
		};
	if (last != 0 && last != first)
		forecast->outside[forecast->outside_count++] =
			(struct forecast_stretch){ passing_s(course, last < 0 ? window->low : window->high),
						   course->time_s };
}

static enum forecast_fit fit_of(const struct step *step, bool is_compensated, const struct forecast *forecast)
{
	const struct temperature_window *window = development_window(step);
	if (is_compensated)
		return FORECAST_FIT_compensated;
	if (limits(window) && side(window, forecast->mean_c) != 0)
		return FORECAST_FIT_mean_outside;
	if (forecast->outside_count > 0)
		return FORECAST_FIT_leaves;
	return limits(window) ? FORECAST_FIT_inside : FORECAST_FIT_no_window;
}

/* ---- what would make it exact ---- */

/* The start that makes a step exact; false where there is none. */
static bool exact_start(const struct step *step, const struct forecast *forecast, double *start_c)
{
	const struct drift_course *course = &forecast->course;
	double share = forecast->wanted_s / course->time_s;
	if (development_has_rule(step))
		return development_start_for(step, share, course->surroundings_c, course->rate, course->time_s,
					     start_c);
	double working_c = quantity_celsius(development_window(step)->nominal);
	*start_c = cooling_start_for_mean_c(working_c, course->surroundings_c, course->rate, course->time_s);
	return *start_c > WATER_FREEZES_C && *start_c < WATER_BOILS_C;
}

/* The start over the surroundings: a first bath meets a tank that stands in them. */
static struct cooling_start start_over_surroundings(const struct forecast *forecast,
						    const struct drift_meeting *meeting)
{
	struct cooling_start start = { forecast->start_c, 0 };
	if (!forecast->is_met || !forecast->is_first)
		return start;
	struct heat_share bath = { meeting->poured_c, meeting->bath_ml };
	struct heat_carried carried = meeting->carried;
	carried.tank.temp_c = 0;
	start.fixed_c = heat_balance_pour_c(bath, &carried);
	carried.tank.temp_c = 1;
	start.share = heat_balance_pour_c(bath, &carried) - start.fixed_c;
	return start;
}

static bool exact_bath(const struct step *step, const struct forecast *forecast, const struct drift_meeting *meeting,
		       double *bath_c)
{
	const struct drift_course *course = &forecast->course;
	struct cooling_start start = start_over_surroundings(forecast, meeting);
	double working_c = quantity_celsius(development_window(step)->nominal);
	double share = forecast->wanted_s / course->time_s;
	if (!development_has_rule(step))
		*bath_c = cooling_surroundings_for_mean_c(working_c, start, course->rate, course->time_s);
	else if (!development_surroundings_for(step, share, start, course->rate, course->time_s, bath_c))
		return false;
	return fabs(*bath_c - working_c) <= BATH_REACH_K && *bath_c > WATER_FREEZES_C;
}

/* A figure that reads as the limit is within it. */
static bool is_within(const struct temperature_window *window, double temp_c)
{
	return side(window, temp_c) == 0 || side(window, quantity_celsius(forecast_temperature(temp_c))) == 0;
}

static enum forecast_pour judge_pour(const struct step *step, bool is_compensated, double pour_c)
{
	const struct temperature_window *window = development_pour_window(step);
	if (step->solution && span_is_set(step->solution->usable.span) && !is_within(&step->solution->usable, pour_c))
		return FORECAST_POUR_outside_usable;
	if (!is_compensated && limits(window) && !is_within(window, pour_c))
		return FORECAST_POUR_outside_window;
	return FORECAST_POUR_inside;
}

static void find_exact(const struct step *step, const struct drift_meeting *meeting, struct forecast *forecast)
{
	struct forecast_exact *exact = &forecast->exact;
	bool is_compensated = forecast->fit == FORECAST_FIT_compensated;
	double start_c;
	forecast->has_exact = true;
	exact->is_by_development = development_has_rule(step);
	exact->pour = FORECAST_POUR_none;
	exact->has_bath = exact_bath(step, forecast, meeting, &exact->bath_c);
	if (!exact_start(step, forecast, &start_c))
		return;
	exact->pour_c = start_c;
	if (forecast->is_met)
		exact->pour_c = heat_balance_bath_for_c(start_c, meeting->bath_ml, &meeting->carried);
	if (exact->pour_c > WATER_FREEZES_C && exact->pour_c < WATER_BOILS_C)
		exact->pour = judge_pour(step, is_compensated, exact->pour_c);
}

/* ---- the step ---- */

static enum forecast_state state_of(const struct process *process, const struct timeline *timeline, size_t index,
				    bool has_pour)
{
	const struct step *step = &process->steps[index];
	double rate;
	if (!timeline->steps[index].is_wet)
		return FORECAST_no_bath;
	if (role_row(step->role)->action == ACTION_ENDS)
		return FORECAST_own_vessel;
	if (step->bath == BATH_RUNNING_WATER)
		return FORECAST_running_water;
	if (!has_pour || !development_window(step))
		return FORECAST_no_temperature;
	if (!span_is_set(step->time.span) || timeline->steps[index].time.low_ms <= 0)
		return FORECAST_no_time;
	if (!process->tank || !cooling_rate_of_test(&process->tank->cools, &rate))
		return FORECAST_no_heat_loss_test;
	return FORECAST_made;
}

static void follow(const struct step *step, const struct used_time *used, const struct drift_meeting *meeting,
		   struct forecast *forecast)
{
	const struct drift_course *course = &forecast->course;
	bool is_compensated = used && used->is_for_temperature;
	forecast->mid_c = forecast_temp_c(forecast, course->time_s / 2);
	forecast->end_c = forecast_temp_c(forecast, course->time_s);
	forecast->mean_c = cooling_mean_c(course->start_c, course->surroundings_c, course->rate, course->time_s);
	if (!is_compensated && limits(&step->at))
		find_outside(&step->at, forecast);
	forecast->fit = fit_of(step, is_compensated, forecast);
	forecast->wanted_s = used_wanted_s(step, used);
	forecast->has_effective = drift_effective_s(step, course, &forecast->effective_s);
	if (forecast->has_effective) {
		double off = fabs(forecast->effective_s / forecast->wanted_s - 1) * 100 * (double)PERCENT_ONE;
		forecast->strays = rounding_whole(off) > DRIFT_BEARABLE_PERCENT;
	}
	find_exact(step, meeting, forecast);
}

struct forecast forecast_step(const struct process *process, const struct timeline *timeline, size_t step)
{
	struct forecast forecast = { .state = FORECAST_made };
	struct drift_meeting meeting = { 0 };
	int64_t poured = 0;
	forecast.has_pour = timeline->steps[step].is_wet && drift_poured(process, timeline, step, &poured);
	forecast.is_measured = forecast.has_pour && timeline->used && timeline->used[step].is_measured;
	forecast.pour_c = quantity_celsius(poured);
	forecast.state = state_of(process, timeline, step, forecast.has_pour);
	if (forecast.state != FORECAST_made)
		return forecast;
	forecast.is_met = drift_meets(process, timeline, step, &meeting);
	forecast.is_first = forecast.is_met && meeting.before == step;
	forecast.met_c = meeting.met_c;
	struct heat_share bath = { meeting.poured_c, meeting.bath_ml };
	forecast.start_c = forecast.is_met ? heat_balance_pour_c(bath, &meeting.carried) : forecast.pour_c;
	drift_course(process, timeline, step, forecast.start_c, &forecast.course);
	follow(&process->steps[step], timeline->used ? &timeline->used[step] : NULL, &meeting, &forecast);
	return forecast;
}

struct forecast *forecast_run(const struct process *process, const struct timeline *timeline, struct arena *arena)
{
	struct forecast *forecasts = ARENA_ARRAY(arena, struct forecast, process->step_count);
	for (size_t i = 0; i < process->step_count; i++)
		forecasts[i] = forecast_step(process, timeline, i);
	return forecasts;
}

bool forecast_wants_remedy(const struct forecast *forecast)
{
	return forecast->state == FORECAST_made && (forecast->fit == FORECAST_FIT_mean_outside || forecast->strays);
}

/* ---- the curve ---- */

double forecast_temp_c(const struct forecast *forecast, double time_s)
{
	const struct drift_course *course = &forecast->course;
	return cooling_temp_c(course->start_c, course->surroundings_c, course->rate, time_s);
}

double forecast_interval_s(const struct forecast *forecast, size_t most)
{
	static const double rounds[] = { 1, 2, 5, 10, 15, 30, 60, 120, 300, 600, 900, 1800, 3600 };
	const size_t count = sizeof(rounds) / sizeof(rounds[0]);
	double interval_s = rounds[count - 1];
	for (size_t i = count; i-- > 0 && forecast->course.time_s <= rounds[i] * (double)most;)
		interval_s = rounds[i];
	while (forecast->course.time_s > interval_s * (double)most)
		interval_s *= 2;
	return interval_s;
}

size_t forecast_point_count(const struct forecast *forecast, double interval_s)
{
	return (size_t)ceil(forecast->course.time_s / interval_s) + 1;
}

double forecast_point_s(const struct forecast *forecast, double interval_s, size_t point)
{
	return fmin((double)point * interval_s, forecast->course.time_s);
}
