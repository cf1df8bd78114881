/* Forecasts of cases from standard input, one a line, with all digits: for tests/reference/forecast_against_scipy.py,
 * which works the same cases out with another program. Figures of a case are whole numbers in the model's units, in
 * this order; a line of answers is written for each.
 *
 *     nominal low high time_ms lengthened pour from to within_ms test_surroundings room holds absorbs carries
 *     has_before met RULE
 *
 * RULE is `coefficient C`, `energy E`, or `table N` and N pairs of temperature and time. has_before 0: the tank is at
 * the room's temperature. Answers: start, mid, end, mean, effective seconds, exact pour, its word, exact water bath,
 * the start and the surroundings that are exact from there; nan where there is none. */
#include <inttypes.h>
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "compute/cooling.h"
#include "compute/development.h"
#include "compute/forecast.h"

#define ROWS_MOST 16
#define SOMEWHERE ((struct span){ 1, 1 })

struct bench {
	struct takes takes;
	struct tank tank;
	struct time_row rows[ROWS_MOST];
	struct step steps[2];
	struct process process;
	struct used_time used[2];
	struct timeline_step places[2];
	struct timeline timeline;
	int64_t has_before;
};

static struct quantity said(int64_t value)
{
	return (struct quantity){ value, SOMEWHERE, UNIT_none };
}

static struct time_window exactly(int64_t time_ms)
{
	return (struct time_window){ .span = SOMEWHERE, .form = TIME_EXACT, .low_ms = time_ms, .high_ms = time_ms };
}

static int read_figure(int64_t *figure)
{
	return scanf("%" SCNd64, figure) == 1;
}

static int read_rule(struct bench *bench)
{
	struct step *step = &bench->steps[1];
	char word[16];
	int64_t count;
	if (scanf("%15s", word) != 1)
		return 0;
	if (strcmp(word, "coefficient") == 0) {
		step->coefficient.span = SOMEWHERE;
		return read_figure(&step->coefficient.value);
	}
	if (strcmp(word, "energy") == 0) {
		step->activation_energy.span = SOMEWHERE;
		return read_figure(&step->activation_energy.value);
	}
	if (!read_figure(&count) || count < 1 || count > ROWS_MOST)
		return 0;
	step->times = bench->rows;
	for (int64_t i = 0; i < count; i++) {
		struct time_row *row = &bench->rows[i];
		*row = (struct time_row){ said(0), said(0), i + 1 < count ? row + 1 : NULL };
		if (!read_figure(&row->temperature.value) || !read_figure(&row->time.value))
			return 0;
	}
	return 1;
}

/* A bath before it, or none; then the step of the case, used for the time as it is, of which it needs more or less. */
static int read_case(struct bench *bench)
{
	struct heat_loss_test *cools = &bench->tank.cools;
	struct temperature_window *at = &bench->steps[1].at;
	int64_t time_ms, lengthened, pour, carries, met;
	*bench = (struct bench){ .takes = { .count = 1 } };
	*at = (struct temperature_window){ .span = SOMEWHERE, .form = WINDOW_TOLERANCE, .unit = UNIT_celsius };
	if (!read_figure(&at->nominal) || !read_figure(&at->low) || !read_figure(&at->high) || !read_figure(&time_ms) ||
	    !read_figure(&lengthened) || !read_figure(&pour) || !read_figure(&cools->from.value) ||
	    !read_figure(&cools->to.value) || !read_figure(&cools->within.value) ||
	    !read_figure(&cools->surroundings.value) || !read_figure(&bench->process.room.value) ||
	    !read_figure(&bench->tank.holds.value) || !read_figure(&bench->tank.absorbs.value) ||
	    !read_figure(&carries) || !read_figure(&bench->has_before) || !read_figure(&met) || !read_rule(bench))
		return 0;
	cools->span = bench->tank.holds.span = bench->tank.absorbs.span = bench->process.room.span = SOMEWHERE;
	bench->tank.carries = said(carries);
	bench->tank.takes = &bench->takes;
	bench->steps[0] = (struct step){ .bath = BATH_WATER, .at = *at };
	bench->steps[0].at.nominal = met;
	bench->steps[1].bath = BATH_SOLUTION;
	bench->steps[1].role = ROLE_developer;
	bench->steps[1].time = exactly(time_ms);
	bench->process = (struct process){
		.tank = &bench->tank, .steps = bench->steps, .step_count = 2, .room = bench->process.room
	};
	bench->used[1] =
		(struct used_time){ .is_measured = true, .temperature = pour, .lengthened_percent = lengthened };
	bench->places[0].is_wet = bench->places[0].is_poured = bench->has_before != 0;
	bench->places[1] = (struct timeline_step){ .is_wet = true, .is_poured = true, .time = exactly(time_ms) };
	bench->timeline = (struct timeline){
		.process = &bench->process, .used = bench->used, .steps = bench->places, .step_count = 2
	};
	return 1;
}

static double or_nan(bool is_known, double figure)
{
	return is_known ? figure : (double)NAN;
}

static void answer(const struct bench *bench)
{
	const struct forecast forecast = forecast_step(&bench->process, &bench->timeline, 1);
	const struct step *step = &bench->steps[1];
	const struct drift_course *course = &forecast.course;
	double share = forecast.wanted_s / course->time_s;
	double start_c = 0, surroundings_c = 0;
	bool has_start =
		development_start_for(step, share, course->surroundings_c, course->rate, course->time_s, &start_c);
	bool has_surroundings = development_surroundings_for(step, share, (struct cooling_start){ forecast.start_c, 0 },
							     course->rate, course->time_s, &surroundings_c);
	if (forecast.state != FORECAST_made) {
		printf("not made: %s\n", forecast_state_row(forecast.state)->word.data);
		return;
	}
	printf("%.17g %.17g %.17g %.17g %.17g %.17g %s %.17g %.17g %.17g\n", forecast.start_c, forecast.mid_c,
	       forecast.end_c, forecast.mean_c, or_nan(forecast.has_effective, forecast.effective_s),
	       or_nan(forecast.exact.pour != FORECAST_POUR_none, forecast.exact.pour_c),
	       forecast_pour_row(forecast.exact.pour)->word.data,
	       or_nan(forecast.exact.has_bath, forecast.exact.bath_c), or_nan(has_start, start_c),
	       or_nan(has_surroundings, surroundings_c));
}

int main(void)
{
	struct bench bench;
	while (read_case(&bench))
		answer(&bench);
	return feof(stdin) ? 0 : 1;
}
