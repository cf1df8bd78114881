#include "figures.h"

#include "compute/cooling.h"

/* Source: examples of Newton's law with printed answers; the table names the textbook of each. The law is the same in
 * degrees Fahrenheit and in minutes. */
#define EXAMPLES "tests/reference/worked_examples_heat_rate_wash.tsv"
#define MORE_EXAMPLES "tests/reference/cooling_and_rate_examples.tsv"
#define ANSWER 4

static double time_to(double start, double later, double after, double surroundings, double end)
{
	return cooling_time_s(start, end, surroundings, cooling_rate(start, later, after, surroundings));
}

static void test_textbook_times(void **state)
{
	(void)state;
	assert_near(time_to(200, 180, 2, 70, 175), printed(EXAMPLES, "C1", ANSWER), 0.005);
	assert_near(time_to(200, 185, 2, 75, 175), printed(EXAMPLES, "C3", ANSWER), 0.05); /* to the half minute */
	assert_near(time_to(200, 185, 2, 75, 155), 7, 0.05);				   /* the second answer of C3 */
	assert_near(time_to(450, 330, 10, 70, 75), printed(EXAMPLES, "C5", ANSWER), 0.5);
	assert_near(time_to(165, 150, 10, 35, 70), printed(MORE_EXAMPLES, "N4", ANSWER), 0.5);
}

static void test_textbook_rate(void **state)
{
	(void)state;
	assert_near(cooling_rate(95, 61, 30, 20), printed(MORE_EXAMPLES, "N3", ANSWER), 0.005);
	/* 70, 60, 53 minute by minute: one rate fits both falls */
	double outside = printed(MORE_EXAMPLES, "N6", ANSWER);
	assert_near(cooling_rate(70, 60, 1, outside), cooling_rate(60, 53, 1, outside), 2e-4);
}

static void test_the_law_gives_its_readings_back(void **state)
{
	(void)state;
	double rate = cooling_rate(38.0, 37.3, 210, 20);
	assert_near(cooling_temp_c(38.0, 20, rate, 0), 38.0, 1e-12);
	assert_near(cooling_temp_c(38.0, 20, rate, 210), 37.3, 1e-12);
	assert_near(cooling_temp_c(38.0, 20, rate, 1e6), 20, 1e-9);
	assert_near(cooling_time_s(38.0, 37.3, 20, rate), 210, 1e-9);
}

static void test_the_mean_is_that_of_the_curve(void **state)
{
	(void)state;
	double rate = cooling_rate(38.0, 37.3, 210, 20);
	double sum = 0;
	const int strips = 20000;
	for (int i = 0; i < strips; i++)
		sum += cooling_temp_c(38.0, 20, rate, 210 * (i + 0.5) / strips);
	assert_near(cooling_mean_c(38.0, 20, rate, 210), sum / strips, 1e-9);
	assert_near(cooling_mean_c(38.0, 20, 0, 210), 38.0, 1e-12);
	assert_near(cooling_mean_c(38.0, 20, rate, 0), 38.0, 1e-12);
	double start = cooling_start_for_mean_c(38.0, 20, rate, 210);
	assert_near(cooling_mean_c(start, 20, rate, 210), 38.0, 1e-12);
	assert_true(start > 38.3 && start < 38.4);
}

/* Surroundings that give a wanted mean, also where a first bath starts at what they have made of the tank. */
static void test_surroundings_for_a_mean(void **state)
{
	(void)state;
	const double rate = 2e-4, time_s = 600;
	const struct cooling_start starts[] = { { 37.5, 0 }, { 35.0, 0.07 }, { 0, 1 } };
	for (size_t i = 0; i < sizeof(starts) / sizeof(starts[0]); i++) {
		double found = cooling_surroundings_for_mean_c(38, starts[i], rate, time_s);
		assert_near(cooling_mean_c(cooling_start_c(starts[i], found), found, rate, time_s), 38, 1e-9);
	}
}

static struct heat_loss_test heat_loss(double from_c, double to_c, int64_t within_ms, double surroundings_c)
{
	return (struct heat_loss_test){
		.span = SOMEWHERE,
		.from = said(celsius(from_c)),
		.to = said(celsius(to_c)),
		.within = said(within_ms),
		.surroundings = said(celsius(surroundings_c)),
	};
}

static void test_which_heat_loss_tests_say_something(void **state)
{
	(void)state;
	double rate = 0;
	struct heat_loss_test test = heat_loss(38, 37, 210000, 20);
	assert_true(cooling_rate_of_test(&test, &rate));
	assert_near(rate, log(18.0 / 17.0) / 210, 1e-12);
	test = heat_loss(20, 20.2, 600000, 22); /* in a warm room it gains heat */
	assert_true(cooling_rate_of_test(&test, &rate));
	assert_near(rate, log(2.0 / 1.8) / 600, 1e-12);
	const struct heat_loss_test senseless[] = {
		heat_loss(38, 37, 0, 20),				      /* no time */
		heat_loss(38, 38, 210000, 20),				      /* no movement */
		heat_loss(38, 39, 210000, 20),				      /* away from the room */
		heat_loss(38, 20, 210000, 20),				      /* all the way, which takes for ever */
		heat_loss(38, 19, 210000, 20),				      /* beyond it */
		heat_loss(20, 19, 210000, 22), heat_loss(20, 19, 210000, 20), /* from the room's own temperature */
	};
	for (size_t i = 0; i < sizeof(senseless) / sizeof(senseless[0]); i++)
		assert_false(cooling_rate_of_test(&senseless[i], &rate));
	test = heat_loss(38, 37, 210000, 20);
	test.span = (struct span){ 0, 0 };
	assert_false(cooling_rate_of_test(&test, &rate));
}

static void test_what_a_tank_goes_towards(void **state)
{
	(void)state;
	struct tank tank = { .cools = heat_loss(38, 37, 210000, 18) };
	struct process process = { .tank = &tank };
	assert_near(cooling_surroundings_c(&process), 18, 1e-12);
	process.room = said(celsius(21));
	assert_near(cooling_surroundings_c(&process), 21, 1e-12);
	tank.bath = window_within(38.5, 0.5);
	assert_near(cooling_surroundings_c(&process), 38.5, 1e-12);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_textbook_times),
		cmocka_unit_test(test_textbook_rate),
		cmocka_unit_test(test_the_law_gives_its_readings_back),
		cmocka_unit_test(test_the_mean_is_that_of_the_curve),
		cmocka_unit_test(test_surroundings_for_a_mean),
		cmocka_unit_test(test_which_heat_loss_tests_say_something),
		cmocka_unit_test(test_what_a_tank_goes_towards),
	};
	return cmocka_run_group_tests_name("cooling", tests, NULL, NULL);
}
