/* What a log says that a run developed. Expected figures are worked out beside each. */
#include "figures.h"

#include "compute/review.h"

/* Eight minutes at 20 °C, as fast again at 30 °C: by straight lines over the logarithms, 2^(1/2) at 25 °C. */
static struct run_log_rate warmer = { 30000, 2000000, NULL };
static struct run_log_rate working = { 20000, 1000000, &warmer };

struct scene {
	struct run_log log;
	struct run_log_step step;
};

/* One step, exactly as long as planned, in a bath that does not cool. */
static struct scene scene_of(struct run_log_rate *rates, double measured_c)
{
	const int64_t end_cs = 48000;
	return (struct scene){
		.step = {
			.number = 1,
			.name = TEXT("develop"),
			.plan = { RUN_LOG_EXACT, RUN_LOG_NONE, end_cs, end_cs, RUN_LOG_NONE, 0 },
			.planned_drain_cs = end_cs,
			.planned_end_cs = end_cs,
			.aim_milli_c = 20000,
			.low_milli_c = 19500,
			.high_milli_c = 20500,
			.development = { true, true, 480000, 480000, 20000, 0, 20000, RUN_LOG_NONE, RUN_LOG_NONE,
					 rates },
			.is_begun = true,
			.is_over = true,
			.drained_cs = end_cs,
			.over_cs = end_cs,
			.measured_milli_c = llround(measured_c * 1000),
		},
	};
}

static const struct review_step *review(struct scene *scene)
{
	struct run_log *logs[] = { &scene->log };
	scene->log.steps = &scene->step;
	scene->log.step_count = 1;
	return &reviews_build(logs, 1, &arena)->items[0].steps[0];
}

static void test_effective(void **state)
{
	(void)state;
	static const struct {
		double measured_c, effective_s, stray_percent;
		bool strays, is_spoilt;
	} cases[] = {
		{ 20, 480, 0, false, false },	 { 20.2, 487, 1.4, false, false }, /* 480 s × 2^(0.02) */
		{ 20.5, 497, 3.5, true, false }, { 25, 679, 41.4, true, true },	   { 30, 960, 100, true, true },
	};
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct scene scene = scene_of(&working, cases[i].measured_c);
		const struct review_step *step = review(&scene);
		assert_true(step->has_effective);
		assert_true(step->is_measured);
		assert_int_equal(step->effective_ms, llround(cases[i].effective_s * 1000));
		assert_int_equal(step->stray_percent, llround(cases[i].stray_percent * (double)PERCENT_ONE));
		assert_int_equal(step->strays, cases[i].strays);
		assert_int_equal(step->is_spoilt, cases[i].is_spoilt);
	}
}

/* A table is never read beyond its ends: a hundredth of a degree is outside, a thousandth is the log's rounding. */
static void test_nothing_is_said_outside_of_the_table(void **state)
{
	(void)state;
	static const struct {
		double measured_c;
		bool is_inside;
	} cases[] = { { 15, false },	{ 19.99, false }, { 19.999, true }, { 20, true },
		      { 30.001, true }, { 30.01, false }, { 35, false } };
	for (size_t i = 0; i < sizeof cases / sizeof cases[0]; i++) {
		struct scene scene = scene_of(&working, cases[i].measured_c);
		assert_int_equal(review(&scene)->has_effective, cases[i].is_inside);
	}
}

static void test_one_temperature_is_known(void **state)
{
	(void)state;
	struct run_log_rate only = { 20000, 1000000, NULL };
	struct scene there = scene_of(&only, 20);
	assert_true(review(&there)->has_effective);
	struct scene elsewhere = scene_of(&only, 20.1);
	assert_false(review(&elsewhere)->has_effective);
}

static void test_no_rates_say_nothing(void **state)
{
	(void)state;
	struct scene scene = scene_of(NULL, 20);
	assert_false(review(&scene)->has_effective);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_effective),
		ARENA_TEST(test_nothing_is_said_outside_of_the_table),
		ARENA_TEST(test_one_temperature_is_known),
		ARENA_TEST(test_no_rates_say_nothing),
	};

	RUN_TESTS(tests);
}
