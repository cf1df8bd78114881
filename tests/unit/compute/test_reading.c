/* What is read on a thermometer with a correction. Expected figures are worked out beside each: the reading is the true
 * temperature less the correction, a working point goes to the nearest division, limits to the next one inside. */
#include "figures.h"

#include "compute/reading.h"

/* A scale of which one is too low: at 38.0 °C it shows 37.8 °C. */
static struct thermometer celsius_in(double division_k, double correction_k)
{
	return (struct thermometer){
		.reads = { celsius(division_k), SOMEWHERE, UNIT_celsius },
		.correction = said(celsius(correction_k)),
	};
}

static void check_window(struct temperature_window shown, double nominal_c, double low_c, double high_c)
{
	assert_int_equal(shown.nominal, celsius(nominal_c));
	assert_int_equal(shown.low, celsius(low_c));
	assert_int_equal(shown.high, celsius(high_c));
}

static void test_limits_are_read_inside(void **state)
{
	(void)state;
	struct thermometer halves = celsius_in(0.5, 0.2);
	struct temperature_window range = window_between(36, 39);
	/* 37.3, 35.8 .. 38.8 in halves: 37.5, 36.0 .. 38.5 */
	check_window(reading_window(&halves, &range), 37.5, 36, 38.5);
	struct temperature_window tolerance = window_within(38, 1.5);
	/* 37.8, 36.3 .. 39.3 */
	check_window(reading_window(&halves, &tolerance), 38, 36.5, 39);
	struct temperature_window point = window_within(38, 0);
	check_window(reading_window(&halves, &point), 38, 38, 38);
}

static void test_below_zero(void **state)
{
	(void)state;
	struct thermometer halves = celsius_in(0.5, 0.2);
	struct temperature_window range = window_between(-3, -1);
	/* -2.2, -3.2 .. -1.2 in halves */
	check_window(reading_window(&halves, &range), -2, -3, -1.5);
}

static void test_a_narrow_window_is_only_shifted(void **state)
{
	(void)state;
	struct thermometer ones = celsius_in(1, 0.2);
	struct temperature_window narrow = window_within(38, 0.15);
	/* 37.65 .. 37.95 holds no whole degree */
	check_window(reading_window(&ones, &narrow), 37.8, 37.65, 37.95);
}

static void test_without_a_correction_nothing_is_rounded(void **state)
{
	(void)state;
	struct thermometer right = celsius_in(0.5, 0);
	struct thermometer without_scale = celsius_in(0, 0.2);
	struct temperature_window range = window_between(36.1, 38.9);
	check_window(reading_window(&right, &range), 37.5, 36.1, 38.9);
	check_window(reading_window(NULL, &range), 37.5, 36.1, 38.9);
	check_window(reading_window(&without_scale, &range), 37.3, 35.9, 38.7);
}

/* Divisions of 1 °F count from 0 °F. 38 °C is 100.4 °F, 36 °C 96.8 °F, 39 °C 102.2 °F; it shows 1 °F too much. */
static void test_divisions_of_fahrenheit(void **state)
{
	(void)state;
	const int64_t degree = TEMPERATURE_PER_KELVIN * 5 / 9;
	const int64_t zero = -(32 * degree);
	struct thermometer fahrenheit = { .reads = { degree, SOMEWHERE, UNIT_fahrenheit },
					  .correction = said(-degree) };
	struct temperature_window range = window_between(36, 39);
	range.nominal = celsius(38);
	struct temperature_window shown = reading_window(&fahrenheit, &range);
	/* 101.4, 97.8 .. 103.2 °F */
	assert_int_equal(shown.nominal, zero + 101 * degree);
	assert_int_equal(shown.low, zero + 98 * degree);
	assert_int_equal(shown.high, zero + 103 * degree);
}

static void test_there_and_back(void **state)
{
	(void)state;
	struct thermometer low = celsius_in(0.1, 0.2);
	assert_int_equal(reading_of(&low, celsius(38)), celsius(37.8));
	assert_int_equal(reading_true(&low, celsius(37.8)), celsius(38));
	assert_int_equal(reading_of(NULL, celsius(38)), celsius(38));
	assert_int_equal(reading_true(NULL, celsius(38)), celsius(38));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_limits_are_read_inside),
		ARENA_TEST(test_below_zero),
		ARENA_TEST(test_a_narrow_window_is_only_shifted),
		ARENA_TEST(test_without_a_correction_nothing_is_rounded),
		ARENA_TEST(test_divisions_of_fahrenheit),
		ARENA_TEST(test_there_and_back),
	};

	RUN_TESTS(tests);
}
