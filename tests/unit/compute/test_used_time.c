#include "figures.h"

#include "compute/reading.h"
#include "compute/used_time.h"

/* One step in one bath, and a run. */
struct bench {
	struct tank tank;
	struct solution solution;
	struct solution *solutions[1];
	struct step step;
	struct process process;
	struct recipe recipe;
	struct report report;
	struct condition at, done;
	struct conditions conditions;
};

static void set_up(struct bench *bench)
{
	*bench = (struct bench){ .tank = { .holds = said(litres(1)) } };
	bench->recipe.names = intern_create(&arena);
	bench->recipe.solutions = bench->solutions;
	bench->recipe.solution_count = 1;
	bench->solutions[0] = &bench->solution;
	bench->solution.declared.name = intern_name(bench->recipe.names, TEXT("soup"));
	bench->solution.role = ROLE_developer;
	bench->step = (struct step){
		.name = intern_name(bench->recipe.names, TEXT("develop")),
		.name_span = SOMEWHERE,
		.role = ROLE_developer,
		.bath = BATH_SOLUTION,
		.solution = &bench->solution,
		.at = window_within(20, 0.5),
		.time = exactly(480000),
	};
	bench->process = (struct process){ .tank = &bench->tank, .steps = &bench->step, .step_count = 1 };
	bench->process.family = FAMILY_black_and_white_negative;
	bench->at.name = TEXT("develop");
	bench->done.name = TEXT("soup");
	report_init(&bench->report, &arena);
}

static struct used_time use(struct bench *bench)
{
	return *used_times(&bench->recipe, &bench->process, &bench->conditions, &bench->report, &arena);
}

static struct used_time use_at(struct bench *bench, double temp_c)
{
	bench->at.value = celsius(temp_c);
	bench->conditions.temperatures = &bench->at;
	return use(bench);
}

static struct used_time use_done(struct bench *bench, double rolls)
{
	bench->done.value = llround(rolls * 1000);
	bench->conditions.done = &bench->done;
	return use(bench);
}

/* By hand: between 20 °C 8:00 and 24 °C 5:30, 22 °C is half way, so the time is √(480 × 330) = 398.0 s. */
static void test_a_table(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct time_row rows[3] = { { said(celsius(18)), said(570000), &rows[1] },
				    { said(celsius(20)), said(480000), &rows[2] },
				    { said(celsius(24)), said(330000), NULL } };
	bench.step.times = rows;
	assert_int_equal(use_at(&bench, 22).time.low_ms, 398000);
	assert_int_equal(use_at(&bench, 24).time.low_ms, 330000);
	assert_int_equal(use_at(&bench, 18).time.high_ms, 570000);
	assert_int_equal(use_at(&bench, 20).time.low_ms, 480000);
	bench.step.round_to = said(5000);
	assert_int_equal(use_at(&bench, 22).time.low_ms, 400000);
	assert_int_equal(bench.report.count, 0);
	assert_int_equal(use_at(&bench, 24.001).time.low_ms, 480000); /* beyond it: as declared, after a finding */
	assert_int_equal(bench.report.count, 1);
	assert_int_equal(bench.report.items[0].check, CHECK_outside_time_table);
}

/* The pour has a temperature of its own: there the declared time is right. */
static void test_a_pour_of_its_own(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.step.coefficient = said(9 * PERCENT_ONE);
	bench.step.pour_at = window_within(20.4, 0.2);
	bench.solution.usable = window_between(18, 24);
	assert_int_equal(use_at(&bench, 20.4).time.low_ms, 480000);
	assert_int_equal(use_at(&bench, 21.4).time.low_ms, llround(480 * exp(-0.09)) * 1000);
	assert_int_equal(bench.report.count, 0);
}

/* A bath that names no range of its own: the step's window is what the rule is good for. */
static void test_a_bath_without_a_range(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.step.coefficient = said(9 * PERCENT_ONE);
	assert_int_equal(use_at(&bench, 20.5).time.low_ms, llround(480 * exp(-0.045)) * 1000);
	assert_int_equal(bench.report.count, 0);
	use_at(&bench, 20.6);
	assert_int_equal(bench.report.count, 1);
}

static void test_inside_the_window_no_rule_is_wanted(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct used_time used = use_at(&bench, 20.5);
	assert_true(used.is_measured);
	assert_false(used.is_for_temperature);
	assert_int_equal(used.temperature, celsius(20.5));
	assert_int_equal(used.time.low_ms, 480000);
	assert_int_equal(bench.report.count, 0);
	use_at(&bench, 20.51);
	assert_int_equal(bench.report.count, 1);
	assert_int_equal(bench.report.items[0].check, CHECK_outside_time_table);
}

static void test_colour_is_not_put_right_by_time(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.process.family = FAMILY_c_41;
	bench.solution.usable = window_between(15, 25);
	bench.step.coefficient = said(9 * PERCENT_ONE);
	struct used_time used = use_at(&bench, 20.2);
	assert_int_equal(used.time.low_ms, 480000);
	assert_int_equal(bench.report.count, 0);
	use_at(&bench, 21);
	assert_int_equal(bench.report.count, 1);
	bench.step.times_are_makers = true;
	assert_int_equal(use_at(&bench, 21).time.low_ms, llround(480 * exp(-0.09)) * 1000);
	assert_int_equal(bench.report.count, 1);
}

/* What is read on a thermometer that shows 0.2 K too much is 0.2 K colder. */
static void test_a_reading(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct thermometer thermometer = { .correction = said(celsius(-0.2)) };
	bench.process.thermometer = &thermometer;
	struct used_time used = use_at(&bench, 20.6);
	assert_int_equal(used.reading, celsius(20.6));
	assert_int_equal(used.temperature, celsius(20.4));
	assert_int_equal(bench.report.count, 0);
}

/* One product rule: t × (1 + p·N/V) / r(T). */
static void test_a_tired_bath(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.solution.lengthen_percent = said(10 * PERCENT_ONE);
	bench.solution.lengthen_volume = said(litres(1));
	struct used_time used = use_done(&bench, 4);
	assert_int_equal(used.time.low_ms, 672000); /* 480 × 1.4 */
	assert_int_equal(used.lengthened_percent, 40 * PERCENT_ONE);
	assert_near(used_wanted_s(&bench.step, &used), 672, 1e-9);
	bench.tank.holds = said(litres(2));
	assert_int_equal(use_done(&bench, 4).time.low_ms, 576000); /* the same film in twice the bath */
	bench.tank.holds = said(litres(1));
	bench.solution.lengthen_compounds = true;
	assert_int_equal(use_done(&bench, 4).time.low_ms, llround(480 * 1.1 * 1.1 * 1.1 * 1.1) * 1000);
	bench.solution.lengthen_compounds = false;
	bench.step.coefficient = said(9 * PERCENT_ONE);
	bench.solution.usable = window_between(18, 24);
	used = use_at(&bench, 21);
	assert_int_equal(used.time.low_ms, llround(480 * 1.4 * exp(-0.09)) * 1000);
	assert_near(used_wanted_s(&bench.step, &used), 672, 1e-9);
	assert_near(used_wanted_s(&bench.step, NULL), 480, 1e-12);
}

static uint64_t next(uint64_t *chance)
{
	*chance = *chance * 6364136223846793005u + 1442695040888963407u;
	return *chance >> 33;
}

/* What nobody knows the volume of is not lengthened: a rule counts by the litre. */
static void test_a_tired_bath_of_unknown_volume(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.solution.lengthen_percent = said(10 * PERCENT_ONE);
	bench.solution.lengthen_volume = said(litres(1));
	assert_true(use_done(&bench, 8).time.low_ms > 480000);
	bench.process.tank = NULL;
	struct used_time used = use_done(&bench, 8);
	assert_int_equal(used.time.low_ms, 480000);
	assert_false(used.is_for_done);
}

/* Any falling table, any coefficient: a warmer bath never needs longer. Any lengthening: more film never less time. */
static void test_warmer_and_more_are_monotone(void **state)
{
	(void)state;
	uint64_t chance = 20260314;
	for (int i = 0; i < 300; i++) {
		struct bench bench;
		set_up(&bench);
		struct time_row rows[5];
		int64_t time_ms = 600000;
		for (size_t row = 0; row < 5; row++) {
			rows[row] = (struct time_row){ said(celsius(16 + 2.0 * (double)row)), said(time_ms),
						       row < 4 ? &rows[row + 1] : NULL };
			time_ms -= (int64_t)(next(&chance) % 100000) * (int64_t)(next(&chance) % 2);
		}
		bench.solution.usable = window_between(16, 24);
		bench.solution.lengthen_percent = said((int64_t)(next(&chance) % 20) * PERCENT_ONE);
		bench.solution.lengthen_volume = said(litres(1));
		bench.solution.lengthen_compounds = next(&chance) % 2;
		if (i % 3 == 0)
			bench.step.times = rows;
		else if (i % 3 == 1)
			bench.step.coefficient = said((int64_t)(next(&chance) % 15) * PERCENT_ONE);
		else
			bench.step.activation_energy = said((int64_t)(next(&chance) % 100000));
		int64_t before_ms = INT64_MAX;
		for (double temp_c = 16; temp_c <= 24; temp_c += 0.25) {
			int64_t used_ms = use_at(&bench, temp_c).time.low_ms;
			assert_true(used_ms <= before_ms && used_ms > 0);
			before_ms = used_ms;
		}
		before_ms = 0;
		for (int rolls = 0; rolls <= 12; rolls++) {
			int64_t used_ms = use_done(&bench, rolls).time.low_ms;
			assert_true(used_ms >= before_ms);
			before_ms = used_ms;
		}
		assert_int_equal(bench.report.count, 0);
	}
}

static void test_names_that_are_not_there(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.at.name = TEXT("devlop");
	use_at(&bench, 20);
	assert_int_equal(bench.report.count, 1);
	assert_int_equal(bench.report.items[0].check, CHECK_unknown_name);
	bench.conditions.temperatures = NULL;
	bench.done.name = TEXT("soop");
	use_done(&bench, 2);
	assert_int_equal(bench.report.count, 2);
	assert_int_equal(bench.report.items[1].check, CHECK_unknown_name);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_a_table),
		ARENA_TEST(test_a_pour_of_its_own),
		ARENA_TEST(test_a_bath_without_a_range),
		ARENA_TEST(test_inside_the_window_no_rule_is_wanted),
		ARENA_TEST(test_colour_is_not_put_right_by_time),
		ARENA_TEST(test_a_reading),
		ARENA_TEST(test_a_tired_bath),
		ARENA_TEST(test_a_tired_bath_of_unknown_volume),
		ARENA_TEST(test_warmer_and_more_are_monotone),
		ARENA_TEST(test_names_that_are_not_there),
	};
	RUN_TESTS(tests);
}
