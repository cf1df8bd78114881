#include "figures.h"

#include "compute/cooling.h"
#include "compute/development.h"
#include "compute/forecast.h"

/* A pre-wet, a developer, a wash and a last bath; the tank of a 2.5 L line with its heat-loss test. What is random
 * here is compared with another program in tests/reference/forecast_against_scipy.py. */
enum { PREWET, DEVELOP, WASH, LAST, STEPS };

struct bench {
	struct takes takes;
	struct tank tank;
	struct solution developer;
	struct step steps[STEPS];
	struct process process;
	struct used_time used[STEPS];
	struct timeline_step rows[STEPS];
	struct timeline timeline;
};

static void set_time(struct bench *bench, size_t step, int64_t time_ms)
{
	bench->steps[step].time = bench->used[step].time = bench->rows[step].time = exactly(time_ms);
}

static void set_up(struct bench *bench)
{
	*bench = (struct bench){
		.takes = { .count = 8 },
		.tank = {
			.holds = said(litres(2.5)),
			.absorbs = said(millilitres(180)),
			.carries = said(millilitres(15)),
			.cools = { SOMEWHERE, said(celsius(38)), said(celsius(37.3)), said(210000), said(celsius(20)) },
		},
		.steps = {
			{ .role = ROLE_prewet, .at = window_within(38, 1), .bath = BATH_WATER },
			{ .role = ROLE_developer, .at = window_within(38, 0.15), .bath = BATH_SOLUTION },
			{ .role = ROLE_wash, .at = window_within(38, 3), .bath = BATH_RUNNING_WATER },
			{ .role = ROLE_stabiliser, .at = window_within(30, 5), .bath = BATH_SOLUTION },
		},
	};
	bench->tank.takes = &bench->takes;
	bench->steps[DEVELOP].solution = &bench->developer;
	bench->process = (struct process){ .tank = &bench->tank, .steps = bench->steps, .step_count = STEPS };
	bench->process.room = said(celsius(20));
	bench->timeline = (struct timeline){
		.process = &bench->process, .used = bench->used, .steps = bench->rows, .step_count = STEPS
	};
	for (size_t i = 0; i < STEPS; i++) {
		bench->rows[i].is_wet = bench->rows[i].is_poured = true;
		set_time(bench, i, 60000);
	}
	set_time(bench, DEVELOP, 210000);
}

static struct forecast forecast_of(const struct bench *bench, size_t step)
{
	return forecast_step(&bench->process, &bench->timeline, step);
}

static void measure(struct bench *bench, size_t step, double temp_c)
{
	bench->used[step].is_measured = true;
	bench->used[step].temperature = celsius(temp_c);
}

/* Common practice, no source: a tank that loses 0.7 K in a window of 0.3 K. By hand: pre-wet and tank are at
 * 38, so the developer starts there; half way the loss is a little more than half. */
static void test_the_tank_that_loses(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct forecast forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast.state, FORECAST_made);
	assert_near(forecast.pour_c, 38, 1e-12);
	assert_near(forecast.met_c, 38, 1e-12);
	assert_false(forecast.is_first);
	assert_near(forecast.start_c, 38, 1e-12);
	assert_near(forecast.end_c, 37.3, 1e-9);
	assert_near(forecast.mid_c, 20 + 18 * sqrt(17.3 / 18), 1e-9);
	assert_near(forecast.mean_c, 20 + 0.7 / log(18 / 17.3), 1e-9); /* (1 − e^−x)/x with x = ln(18/17.3) */
	assert_int_equal(forecast.fit, FORECAST_FIT_mean_outside);
	assert_int_equal(forecast.outside_count, 1);
	assert_near(forecast_temp_c(&forecast, forecast.outside[0].from_s), 37.85, 1e-9);
	assert_near(forecast.outside[0].to_s, 210, 1e-12);
	assert_true(forecast_wants_remedy(&forecast));
	assert_false(forecast.has_effective);
	assert_false(forecast.exact.is_by_development);
	assert_int_equal(forecast.exact.pour, FORECAST_POUR_outside_window);
	assert_true(forecast.exact.has_bath);
	assert_near(forecast.exact.bath_c, 38, 1e-9);
}

/* The remedies, put in, make it exact. */
static void check_remedies(const struct bench *bench, size_t step)
{
	struct bench better = *bench;
	better.tank.takes = &better.takes;
	better.process.tank = &better.tank;
	better.process.steps = better.steps;
	better.timeline = (struct timeline){
		.process = &better.process, .used = better.used, .steps = better.rows, .step_count = STEPS
	};
	struct forecast forecast = forecast_of(&better, step);
	if (forecast.exact.has_bath) {
		better.tank.bath = window_within(forecast.exact.bath_c, 0.5);
		struct forecast in_bath = forecast_of(&better, step);
		assert_near(in_bath.mean_c, 38, forecast.exact.is_by_development ? 0.01 : 2e-4);
		if (forecast.exact.is_by_development)
			assert_near(in_bath.effective_s, in_bath.wanted_s, 0.01);
		better.tank.bath.span = (struct span){ 0, 0 };
	}
	assert_true(forecast.exact.pour != FORECAST_POUR_none);
	measure(&better, step, forecast.exact.pour_c);
	struct forecast poured = forecast_of(&better, step);
	assert_true(poured.is_measured);
	if (forecast.exact.is_by_development)
		assert_near(poured.effective_s, poured.wanted_s, 0.01); /* the pour is rounded to 1/9000 K */
	else
		assert_near(poured.mean_c, 38, 2e-4);
}

static void test_remedies_make_it_exact(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	check_remedies(&bench, DEVELOP);
	check_remedies(&bench, PREWET); /* a first bath: the tank is at the room's temperature, or its water bath's */
	bench.steps[PREWET].at = window_within(37.5, 1);
	check_remedies(&bench, DEVELOP);
	bench.steps[DEVELOP].coefficient = said(9 * PERCENT_ONE);
	check_remedies(&bench, DEVELOP);
	bench.steps[DEVELOP].coefficient.span = (struct span){ 0, 0 };
	bench.steps[DEVELOP].activation_energy = said(80000);
	check_remedies(&bench, DEVELOP);
}

/* With the room at the temperature of all baths nothing moves, whatever the tank and the rule. */
static void test_a_room_as_warm_as_the_bath_is_flat(void **state)
{
	(void)state;
	uint64_t chance = 20260314;
	for (int i = 0; i < 100; i++) {
		struct bench bench;
		set_up(&bench);
		chance = chance * 6364136223846793005u + 1442695040888963407u;
		double temp_c = 15 + (double)(chance >> 40) / (1 << 24) * 30;
		int64_t time_ms = 1000 + (int64_t)(chance >> 20 & 0xFFFFF);
		bench.tank.cools.within.value = 10000 + (int64_t)(chance >> 30 & 0xFFFFF);
		bench.process.room = said(celsius(temp_c));
		bench.steps[PREWET].at = bench.steps[DEVELOP].at = window_within(temp_c, 0.1);
		bench.steps[DEVELOP].coefficient = said((int64_t)(chance >> 50 & 15) * PERCENT_ONE);
		set_time(&bench, DEVELOP, time_ms);
		for (size_t step = PREWET; step <= DEVELOP; step++) {
			struct forecast forecast = forecast_of(&bench, step);
			assert_int_equal(forecast.state, FORECAST_made);
			assert_near(forecast.start_c, quantity_celsius(celsius(temp_c)), 1e-9);
			assert_near(forecast.mid_c, forecast.start_c, 1e-9);
			assert_near(forecast.end_c, forecast.start_c, 1e-9);
			assert_near(forecast.mean_c, forecast.start_c, 1e-9);
			assert_int_equal(forecast.fit, FORECAST_FIT_inside);
			assert_int_equal(forecast.outside_count, 0);
			assert_false(forecast_wants_remedy(&forecast));
			if (step == DEVELOP)
				assert_near(forecast.effective_s, forecast.wanted_s, 1e-9 * forecast.wanted_s);
		}
	}
}

static void test_a_warmer_pour_never_develops_less(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct time_row rows[] = { { said(celsius(36)), said(270000), &rows[1] },
				   { said(celsius(38)), said(210000), &rows[2] },
				   { said(celsius(38.5)), said(210000), &rows[3] },
				   { said(celsius(41)), said(150000), NULL } };
	bench.steps[DEVELOP].times = rows;
	double before_s = 0;
	int made = 0;
	for (double pour_c = 36; pour_c <= 42; pour_c += 0.02) {
		measure(&bench, DEVELOP, pour_c);
		struct forecast forecast = forecast_of(&bench, DEVELOP);
		if (!forecast.has_effective)
			continue;
		assert_true(forecast.effective_s >= before_s);
		before_s = forecast.effective_s;
		made++;
	}
	/* By hand: the start lies between 20 + 16 × 18/17.3, which ends at 36, and 41; with 300 mL at 38 °C that is
	 * poured between 36.485 and 41.36 °C. */
	assert_in_range(made, 243, 245);
}

static void test_stretches_outside(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.steps[PREWET].at = window_within(38, 1);
	set_time(&bench, DEVELOP, 2100000);
	measure(&bench, PREWET, 39);
	measure(&bench, DEVELOP, 39); /* from above the window, through it, and out below */
	struct forecast forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast.outside_count, 2);
	assert_near(forecast.outside[0].from_s, 0, 0);
	assert_near(forecast_temp_c(&forecast, forecast.outside[0].to_s), 38.15, 1e-9);
	assert_near(forecast_temp_c(&forecast, forecast.outside[1].from_s), 37.85, 1e-9);
	assert_near(forecast.outside[1].to_s, 2100, 0);
	measure(&bench, PREWET, 37);
	measure(&bench, DEVELOP, 37); /* below from first to last */
	forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast.outside_count, 1);
	assert_near(forecast.outside[0].from_s, 0, 0);
	assert_near(forecast.outside[0].to_s, 2100, 0);
	bench.steps[DEVELOP].at = window_within(38, 0.8); /* from inside */
	measure(&bench, PREWET, 38);
	measure(&bench, DEVELOP, 38);
	set_time(&bench, DEVELOP, 300000);
	forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast.fit, FORECAST_FIT_leaves);
	assert_false(forecast_wants_remedy(&forecast));
	bench.steps[DEVELOP].at = window_within(38, 0); /* a point has no limits */
	forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast.fit, FORECAST_FIT_no_window);
	bench.steps[DEVELOP].mean = window_within(38, 0.1);
	forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast.fit, FORECAST_FIT_mean_outside);
	bench.used[DEVELOP].is_for_temperature = true;
	forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast.fit, FORECAST_FIT_compensated);
	assert_int_equal(forecast.outside_count, 0);
}

static void test_where_there_is_no_remedy(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct time_row rows[] = { { said(celsius(37.9)), said(212000), &rows[1] },
				   { said(celsius(38.1)), said(208000), NULL } };
	bench.steps[DEVELOP].times = rows; /* it loses more than the table is wide */
	struct forecast forecast = forecast_of(&bench, DEVELOP);
	assert_false(forecast.has_effective);
	assert_int_equal(forecast.exact.pour, FORECAST_POUR_none);
	assert_true(forecast.exact.has_bath); /* in a water bath it loses nothing */
	assert_near(forecast.exact.bath_c, 38, 1e-6);
	bench.steps[DEVELOP].times = NULL;
	bench.developer.usable = window_within(38, 0.3);
	bench.developer.usable.form = WINDOW_RANGE;
	forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast.exact.pour, FORECAST_POUR_outside_usable);
	bench.developer.usable = window_within(38, 2);
	bench.steps[DEVELOP].pour_at = window_within(38.36, 0.1);
	bench.steps[DEVELOP].mean = window_within(38, 0.15);
	bench.steps[DEVELOP].at.span = (struct span){ 0, 0 };
	forecast = forecast_of(&bench, DEVELOP);
	assert_near(forecast.pour_c, 38.36, 1e-3);
	assert_int_equal(forecast.exact.pour, FORECAST_POUR_inside);
	measure(&bench, PREWET, 30); /* no water bath near the working point warms that much in 3:30 */
	forecast = forecast_of(&bench, DEVELOP);
	assert_false(forecast.exact.has_bath);
}

static void check_state(const struct bench *bench, size_t step, enum forecast_state state)
{
	struct forecast forecast = forecast_of(bench, step);
	assert_int_equal(forecast.state, state);
	assert_false(forecast_wants_remedy(&forecast));
}

static void test_what_is_not_forecast(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	check_state(&bench, WASH, FORECAST_running_water);
	check_state(&bench, LAST, FORECAST_own_vessel);
	bench.rows[LAST].is_wet = false;
	check_state(&bench, LAST, FORECAST_no_bath);
	bench.rows[DEVELOP].time.low_ms = 0;
	check_state(&bench, DEVELOP, FORECAST_no_time);
	set_up(&bench);
	bench.steps[DEVELOP].at.span = (struct span){ 0, 0 };
	check_state(&bench, DEVELOP, FORECAST_no_temperature);
	set_up(&bench);
	bench.tank.cools.to = said(celsius(39));
	check_state(&bench, DEVELOP, FORECAST_no_heat_loss_test);
	bench.tank.cools.span = (struct span){ 0, 0 };
	check_state(&bench, DEVELOP, FORECAST_no_heat_loss_test);
	for (int i = 0; i < FORECAST_STATE_COUNT; i++)
		assert_true(forecast_state_row((enum forecast_state)i)->word.length > 3);
}

/* What a tired bath has to do more of is wanted, not drift. */
static void test_a_tired_bath_wants_longer(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.process.room = said(celsius(38));
	bench.steps[DEVELOP].coefficient = said(9 * PERCENT_ONE);
	bench.used[DEVELOP].lengthened_percent = 10 * PERCENT_ONE;
	bench.rows[DEVELOP].time = exactly(231000);
	struct forecast forecast = forecast_of(&bench, DEVELOP);
	assert_near(forecast.wanted_s, 231, 1e-9);
	assert_near(forecast.effective_s, 231, 1e-9);
	assert_int_equal(forecast_percent(&forecast), 100 * PERCENT_ONE);
	bench.rows[DEVELOP].time = exactly(210000);
	forecast = forecast_of(&bench, DEVELOP);
	assert_int_equal(forecast_percent(&forecast), 909 * PERCENT_ONE / 10); /* 210/231 */
	assert_true(forecast.strays);
	check_remedies(&bench, PREWET);
}

static void test_figures_are_rounded_once(void **state)
{
	(void)state;
	assert_int_equal(forecast_temperature(37.6549), celsius(37.65));
	assert_int_equal(forecast_temperature(37.6551), celsius(37.66));
	assert_int_equal(forecast_temperature(-0.006), celsius(-0.01));
	assert_int_equal(forecast_time(203.5), 204000);
	assert_int_equal(forecast_time(203.49), 203000);
}

static void test_points_of_the_curve(void **state)
{
	(void)state;
	for (double time_s = 0.5; time_s < 5e6; time_s *= 1.37) {
		struct forecast forecast = { .course = { 38, 20, 1e-4, time_s } };
		double interval_s = forecast_interval_s(&forecast, FORECAST_STRETCHES_MOST);
		size_t count = forecast_point_count(&forecast, interval_s);
		assert_in_range(count, 2, FORECAST_STRETCHES_MOST + 1);
		assert_near(forecast_point_s(&forecast, interval_s, 0), 0, 0);
		assert_near(forecast_point_s(&forecast, interval_s, count - 1), time_s, 0);
		for (size_t i = 1; i < count; i++)
			assert_true(forecast_point_s(&forecast, interval_s, i) >
				    forecast_point_s(&forecast, interval_s, i - 1));
	}
	struct forecast forecast = { .course = { 38, 20, 1e-4, 210 } };
	assert_near(forecast_interval_s(&forecast, 24), 10, 0);
	assert_near(forecast_interval_s(&forecast, 7), 30, 0);
	forecast.course.time_s = 24;
	assert_near(forecast_interval_s(&forecast, 24), 1, 0);
	forecast.course.time_s = 25;
	assert_near(forecast_interval_s(&forecast, 24), 2, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_the_tank_that_loses),
		cmocka_unit_test(test_remedies_make_it_exact),
		cmocka_unit_test(test_a_room_as_warm_as_the_bath_is_flat),
		cmocka_unit_test(test_a_warmer_pour_never_develops_less),
		cmocka_unit_test(test_stretches_outside),
		cmocka_unit_test(test_where_there_is_no_remedy),
		cmocka_unit_test(test_what_is_not_forecast),
		cmocka_unit_test(test_a_tired_bath_wants_longer),
		cmocka_unit_test(test_figures_are_rounded_once),
		cmocka_unit_test(test_points_of_the_curve),
	};
	return cmocka_run_group_tests_name("forecast", tests, NULL, NULL);
}
