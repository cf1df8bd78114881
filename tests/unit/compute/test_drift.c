#include "figures.h"

#include "compute/cooling.h"
#include "compute/drift.h"

/* A pre-wet, a developer; the tank of a 2.5 L line with its heat-loss test. */
struct bench {
	struct takes takes;
	struct tank tank;
	struct step steps[2];
	struct process process;
	struct timeline_step rows[2];
	struct timeline timeline;
};

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
			{ .at = window_within(36, 1), .time = exactly(60000), .bath = BATH_WATER },
			{ .at = window_within(38, 0.15), .time = exactly(210000), .bath = BATH_SOLUTION },
		},
		.rows = {
			{ .is_poured = true, .time = exactly(60000) },
			{ .is_poured = true, .time = exactly(210000) },
		},
	};
	bench->tank.takes = &bench->takes;
	bench->process = (struct process){ .tank = &bench->tank, .steps = bench->steps, .step_count = 2 };
	bench->timeline = (struct timeline){ .process = &bench->process, .steps = bench->rows, .step_count = 2 };
}

static void test_what_the_prewet_takes(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct drift_pour pour;
	assert_true(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	assert_int_equal(pour.before, 0);
	assert_int_equal(pour.poured, celsius(38));
	assert_int_equal(pour.met, celsius(36));
	assert_int_equal(pour.carried, millilitres(120));
	assert_int_equal(pour.absorbs, millilitres(180));
	/* by hand: (2500 × 38 + 300 × 36) / 2800 */
	assert_int_equal(pour.after, celsius((2500 * 38.0 + 300 * 36) / 2800));
	assert_int_equal(pour.pour_for, celsius(38 + 300 * 2 / 2500.0));
	/* at which temperature would the pre-wet leave it at 37.85 °C? 37.85 − 2500 × 0.15 / 300 */
	int64_t before;
	assert_true(drift_before_for(&bench.process, &pour, celsius(37.85), &before));
	assert_int_equal(before, celsius(37.85 - 2500 * 0.15 / 300));
}

/* A range says that the bath may be anywhere in it. */
static void test_a_range_counts_at_its_nearest_point(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct drift_pour pour;
	bench.steps[0].at = window_between(27, 41);
	assert_true(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	assert_int_equal(pour.met, celsius(38));
	assert_int_equal(pour.after, celsius(38));
	bench.steps[0].at = window_between(27, 37);
	assert_true(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	assert_int_equal(pour.met, celsius(37));
	bench.steps[0].at = window_between(39, 41);
	assert_true(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	assert_int_equal(pour.met, celsius(39));
}

static void test_a_first_bath_meets_the_tank_alone(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct drift_pour pour;
	bench.rows[0].is_poured = false;
	assert_false(drift_pour(&bench.process, &bench.timeline, 1, &pour)); /* nobody says how warm the tank is */
	bench.process.room = said(celsius(20));
	assert_true(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	assert_int_equal(pour.before, 1);
	assert_int_equal(pour.carried, 0);
	assert_int_equal(pour.after, celsius((2500 * 38.0 + 180 * 20) / 2680));
	bench.tank.bath = window_within(38.5, 0.5);
	assert_true(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	assert_int_equal(pour.after, celsius((2500 * 38.0 + 180 * 38.5) / 2680));
}

static void test_where_nothing_is_known_of_a_pour(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct drift_pour pour;
	bench.steps[0].at.span = (struct span){ 0, 0 };
	assert_false(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	set_up(&bench);
	bench.tank.absorbs.span = bench.tank.carries.span = (struct span){ 0, 0 };
	assert_false(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	set_up(&bench);
	bench.steps[1].at.span = (struct span){ 0, 0 };
	assert_false(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	bench.steps[1].pour_at = window_within(38.3, 0.1);
	assert_true(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	assert_int_equal(pour.poured, celsius(38.3));
}

/* Common practice, no source: a tank that loses 0.7 K in the step, in a window of 0.3 K. */
static void test_drift(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct drift drift;
	assert_true(drift_from(&bench.process, &bench.timeline, 1, celsius(38), &drift));
	assert_int_equal(drift.end, celsius(37.3));
	assert_int_equal(drift.surroundings, celsius(20));
	assert_true(drift.mean > celsius(37.64) && drift.mean < celsius(37.66));
	assert_false(drift.has_effective);
}

static void test_effective_development(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.steps[1].coefficient = said(9 * PERCENT_ONE);
	struct drift drift;
	assert_true(drift_from(&bench.process, &bench.timeline, 1, celsius(38), &drift));
	assert_true(drift.has_effective);
	/* about e^(−0.09 × 0.35) − 1 = −3.1 %: the mean lies 0.35 K low */
	assert_true(drift.effective < -3 * PERCENT_ONE && drift.effective > -(3 * PERCENT_ONE + PERCENT_ONE / 4));
}

/* Whatever is called slight without the integral is slight by it too: tanks in rooms from cold to hot, windows from
 * narrow to wide, rules of every kind. */
static void test_slight_drift(void **state)
{
	(void)state;
	struct time_row rows[] = {
		{ said(celsius(30)), said(400000), &rows[1] },
		{ said(celsius(37.9)), said(215000), &rows[2] },
		{ said(celsius(38.2)), said(220000), &rows[3] }, /* a table that falls and rises */
		{ said(celsius(45)), said(150000), NULL },
	};
	int slight = 0, strong = 0;
	for (int i = 0; i < 4 * 8 * 6 * 4; i++) {
		struct bench bench;
		set_up(&bench);
		struct step *step = &bench.steps[1];
		bench.process.room = said(celsius(16 + 4 * (i / 4 % 8)));
		step->at = window_within(38, 0.05 + 0.3 * (i / 32 % 6));
		bench.rows[1].time = exactly(60000 * (1 + i / 192 % 4));
		step->time = bench.rows[1].time;
		if (i % 4 == 1)
			step->coefficient = said(9 * PERCENT_ONE);
		else if (i % 4 == 2)
			step->activation_energy = said(80000);
		else if (i % 4 == 3)
			step->times = rows;
		struct drift drift;
		assert_true(drift_from(&bench.process, &bench.timeline, 1, celsius(38.1), &drift));
		bool is_slight = drift_is_slight(&bench.process, &bench.timeline, 1, celsius(38.1));
		bool is_inside = drift.mean >= step->at.low && drift.mean <= step->at.high;
		bool strays = drift.has_effective &&
			      (drift.effective > DRIFT_BEARABLE_PERCENT || drift.effective < -DRIFT_BEARABLE_PERCENT);
		assert_false(is_slight && (!is_inside || strays));
		slight += is_slight;
		strong += !is_inside || strays;
	}
	assert_true(slight > 400 && strong > 100);
}

/* A measured temperature is what was poured; a bath that has done film needs longer, which is no drift. */
static void test_this_run(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.steps[1].coefficient = said(9 * PERCENT_ONE);
	struct used_time used[2] = {
		{ .is_measured = true, .temperature = celsius(37) },
		{ .is_measured = true, .temperature = celsius(38.1), .lengthened_percent = 10 * PERCENT_ONE },
	};
	bench.timeline.used = used;
	struct drift_pour pour;
	assert_true(drift_pour(&bench.process, &bench.timeline, 1, &pour));
	assert_int_equal(pour.poured, celsius(38.1));
	assert_int_equal(pour.met, celsius(37));
	assert_int_equal(pour.after, celsius((2500 * 38.1 + 300 * 37) / 2800));
	bench.process.room = said(celsius(38));
	struct drift drift;
	assert_true(drift_from(&bench.process, &bench.timeline, 1, celsius(38), &drift));
	assert_near((double)drift.effective, (1 / 1.1 - 1) * 100 * (double)PERCENT_ONE, 1); /* 3:30 instead of 3:51 */
	bench.rows[1].time = exactly(231000);
	assert_true(drift_from(&bench.process, &bench.timeline, 1, celsius(38), &drift));
	assert_int_equal(drift.effective, 0);
}

static void test_where_nothing_is_known_of_the_drift(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct drift drift;
	bench.rows[1].time.span = (struct span){ 0, 0 };
	assert_false(drift_from(&bench.process, &bench.timeline, 1, celsius(38), &drift));
	set_up(&bench);
	bench.steps[1].at.span = (struct span){ 0, 0 };
	assert_false(drift_from(&bench.process, &bench.timeline, 1, celsius(38), &drift));
	set_up(&bench);
	bench.tank.cools.span = (struct span){ 0, 0 };
	assert_false(drift_from(&bench.process, &bench.timeline, 1, celsius(38), &drift));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_what_the_prewet_takes),
		cmocka_unit_test(test_a_range_counts_at_its_nearest_point),
		cmocka_unit_test(test_a_first_bath_meets_the_tank_alone),
		cmocka_unit_test(test_where_nothing_is_known_of_a_pour),
		cmocka_unit_test(test_drift),
		cmocka_unit_test(test_effective_development),
		cmocka_unit_test(test_slight_drift),
		cmocka_unit_test(test_this_run),
		cmocka_unit_test(test_where_nothing_is_known_of_the_drift),
	};
	return cmocka_run_group_tests_name("drift", tests, NULL, NULL);
}
