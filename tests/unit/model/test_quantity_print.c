#include "arena_fixture.h"
#include "model/quantity.h"

/* A figure and its unit are kept together by U+00A0; minus is U+2212. */
struct printed {
	int64_t value;
	const char *text;
};

static void check_all(struct text (*print)(struct arena *arena, int64_t value), const struct printed *cases,
		      size_t count)
{
	for (size_t i = 0; i < count; i++)
		assert_text(print(&arena, cases[i].value), cases[i].text);
}

#define CHECK_ALL(print, cases) check_all((print), (cases), sizeof(cases) / sizeof(*(cases)))

static void test_temperatures(void **state)
{
	(void)state;
	static const struct printed celsius[] = {
		{ 342000, "38.0\u00A0°C" },	 { 340650, "37.85\u00A0°C" },	 { 0, "0.0\u00A0°C" },
		{ 340200, "37.8\u00A0°C" },	 { 340290, "37.81\u00A0°C" },	 { 341999, "38.0\u00A0°C" },
		{ -45000, "\u22125.0\u00A0°C" }, { -450, "\u22120.05\u00A0°C" }, { -1, "0.0\u00A0°C" },
		{ 390000, "43.3\u00A0°C" },	 { 451, "0.1\u00A0°C" },	 { 449, "0.0\u00A0°C" },
		{ 449999, "50.0\u00A0°C" },
	};
	static const struct printed fahrenheit[] = {
		{ 342000, "100.4\u00A0°F" }, { 350000, "102.0\u00A0°F" },      { 351250, "102.25\u00A0°F" },
		{ -160000, "0.0\u00A0°F" },  { -165000, "\u22121.0\u00A0°F" },
	};
	CHECK_ALL(quantity_print_temperature, celsius);
	CHECK_ALL(quantity_print_fahrenheit, fahrenheit);
}

static void test_differences(void **state)
{
	(void)state;
	static const struct printed cases[] = {
		{ 1350, "0.15\u00A0K" },       { 18000, "2\u00A0K" },	 { 1800, "0.2\u00A0K" },
		{ 1250, "0.139\u00A0K" },      { 25000, "2.78\u00A0K" }, { 0, "0\u00A0K" },
		{ -1800, "\u22120.2\u00A0K" }, { 5, "0.001\u00A0K" },	 { -25000, "\u22122.78\u00A0K" },
		{ 9001, "1\u00A0K" },
	};
	CHECK_ALL(quantity_print_difference, cases);
}

static void test_amounts(void **state)
{
	(void)state;
	static const struct printed volumes[] = {
		{ 800 * VOLUME_PER_ML, "800\u00A0mL" },
		{ 2500 * VOLUME_PER_ML, "2.5\u00A0L" },
		{ 1000 * VOLUME_PER_ML, "1\u00A0L" },
		{ 1000 * VOLUME_PER_ML - VOLUME_PER_ML / 20, "1\u00A0L" },
		{ 1000 * VOLUME_PER_ML - VOLUME_PER_ML / 20 - 1, "999.9\u00A0mL" },
		{ 125 * VOLUME_PER_ML / 10, "12.5\u00A0mL" },
		{ 16666666666667LL, "1.667\u00A0L" },
		{ 1234 * VOLUME_PER_ML, "1.234\u00A0L" },
		{ 295735295625, "29.6\u00A0mL" },
		{ 25 * VOLUME_PER_ML / 10, "2.5\u00A0mL" },
		{ 5 * VOLUME_PER_ML, "5\u00A0mL" },
		{ VOLUME_PER_ML / 4, "0.25\u00A0mL" },
		{ 0, "0\u00A0mL" },
		{ 1000000 * VOLUME_PER_ML, "1000\u00A0L" },
	};
	static const struct printed masses[] = {
		{ 7500000000, "7.5\u00A0g" },	  { 14174761563, "14.17\u00A0g" },  { 100000000000, "100\u00A0g" },
		{ 5000000, "0.005\u00A0g" },	  { 500000, "0.0005\u00A0g" },	    { 0, "0\u00A0g" },
		{ 1500000000000, "1500\u00A0g" }, { 999999999, "1\u00A0g" },	    { 100028000001, "100\u00A0g" },
		{ 249999999, "0.25\u00A0g" },	  { 14175000000, "14.175\u00A0g" },
	};
	static const struct printed percents[] = {
		{ 2 * PERCENT_ONE, "2\u00A0%" }, { PERCENT_ONE / 2, "0.5\u00A0%" },
		{ 12345678, "12.35\u00A0%" },	 { 0, "0\u00A0%" },
		{ 2500, "0.0025\u00A0%" },
	};
	CHECK_ALL(quantity_print_volume, volumes);
	CHECK_ALL(quantity_print_mass, masses);
	CHECK_ALL(quantity_print_percent, percents);
}

/* An ounce is 437.5 grains (NIST SP 811: 28.349523125 g and 64.79891 mg). 100 g are 3.5274 oz, 2 g are 30.86 gr. */
static void test_avoirdupois(void **state)
{
	(void)state;
	static const struct printed cases[] = {
		{ 28349523125, "1\u00A0oz" },
		{ 100000000000, "3\u00A0oz\u00A0231\u00A0gr" },
		{ 2000000000, "30.9\u00A0gr" },
		{ 64798910, "1\u00A0gr" },
		{ 0, "0\u00A0gr" },
		{ 99 * 64798910LL + 64798910 / 2, "99.5\u00A0gr" },
		{ 100 * 64798910LL + 64798910 / 4, "100\u00A0gr" },
		{ 28349523125 - 64798910 / 4, "437\u00A0gr" },
		{ 28349523125 + 64798910 / 4, "1\u00A0oz" },
		{ 453592370000, "16\u00A0oz" },
	};
	CHECK_ALL(quantity_print_avoirdupois, cases);
}

/* What is rounded for data is what is printed, and stays when it is rounded again. */
static void test_rounding_is_one(void **state)
{
	(void)state;
	for (int64_t i = 1; i < 4000; i++) {
		int64_t volume = i * i * i * 1234567;
		int64_t mass = i * i * 98765;
		int64_t temperature = i * 83 - 40000;
		int64_t rounded = quantity_round_volume(volume);
		assert_int_equal(quantity_round_volume(rounded), rounded);
		assert_text(quantity_print_volume(&arena, rounded), quantity_print_volume(&arena, volume).data);
		rounded = quantity_round_mass(mass);
		assert_int_equal(quantity_round_mass(rounded), rounded);
		assert_text(quantity_print_mass(&arena, rounded), quantity_print_mass(&arena, mass).data);
		rounded = quantity_round_temperature(temperature);
		assert_int_equal(quantity_round_temperature(rounded), rounded);
		assert_text(quantity_print_temperature(&arena, rounded),
			    quantity_print_temperature(&arena, temperature).data);
	}
}

static void test_times(void **state)
{
	(void)state;
	static const struct printed durations[] = {
		{ 210000, "3:30" },
		{ 3900000, "1:05:00" },
		{ 2500, "0:02.5" },
		{ 0, "0:00" },
		{ 59999, "0:59.999" },
		{ 60010, "1:00.01" },
		{ 3600000, "1:00:00" },
		{ 3599000, "59:59" },
		{ -5000, "\u22120:05" },
		{ 360000000, "100:00:00" },
		{ INT64_MIN, "\u22122562047788015:12:55.808" },
	};
	static const struct printed keeping[] = {
		{ 42LL * 86400000, "6\u00A0weeks" },
		{ 7LL * 86400000, "1\u00A0week" },
		{ 2LL * 86400000, "2\u00A0days" },
		{ 86400000, "1\u00A0day" },
		{ 43200000, "12\u00A0h" },
		{ 129600000, "36\u00A0h" },
		{ 180LL * 86400000, "6\u00A0months" },
		{ 30LL * 86400000, "1\u00A0month" },
		{ 5400000, "90\u00A0min" },
		{ 30000, "30\u00A0s" },
		{ 0, "0\u00A0s" },
		{ 1500, "1.5\u00A0s" },
	};
	CHECK_ALL(quantity_print_duration, durations);
	CHECK_ALL(quantity_print_keeping, keeping);
}

static struct text window(enum window_form form, int64_t nominal, int64_t low, int64_t high)
{
	const struct temperature_window window = { { 1, 1 }, form, nominal, low, high, UNIT_celsius };
	return quantity_print_window(&arena, &window);
}

static void test_windows(void **state)
{
	(void)state;
	assert_text(window(WINDOW_POINT, 342000, 342000, 342000), "38.0\u00A0°C");
	assert_text(window(WINDOW_TOLERANCE, 342000, 340200, 343800), "38.0\u00A0°C, not below 37.8, not above 38.2");
	assert_text(window(WINDOW_TOLERANCE, 342000, 340650, 343350), "38.0\u00A0°C, not below 37.85, not above 38.15");
	/* 102 ± 0.25 °F: a tenth of a kelvin would move the limits by a third of the tolerance. */
	assert_text(window(WINDOW_TOLERANCE, 350000, 348750, 351250),
		    "38.89\u00A0°C, not below 38.75, not above 39.03");
	/* 95 to 105 °F */
	assert_text(window(WINDOW_RANGE, 340000, 315000, 365000), "37.8\u00A0°C, not below 35.0, not above 40.6");
	const struct temperature_window none = { 0 };
	assert_text(quantity_print_window(&arena, &none), "");
	assert_text(quantity_print_window_fahrenheit(&arena, &none), "");
	const struct temperature_window written = { { 1, 1 }, WINDOW_TOLERANCE, 350000,
						    348750,   351250,		UNIT_fahrenheit };
	assert_text(quantity_print_window_fahrenheit(&arena, &written),
		    "102.0\u00A0°F, not below 101.75, not above 102.25");
}

static void test_time_windows(void **state)
{
	(void)state;
	const struct time_window exact = { { 1, 1 }, TIME_EXACT, 210000, 210000 };
	const struct time_window open = { { 1, 1 }, TIME_AT_LEAST, 390000, TIME_OPEN };
	const struct time_window range = { { 1, 1 }, TIME_RANGE, 30000, 60000 };
	const struct time_window none = { 0 };
	assert_text(quantity_print_time_window(&arena, &exact), "3:30");
	assert_text(quantity_print_time_window(&arena, &open), "at least 6:30");
	assert_text(quantity_print_time_window(&arena, &range), "0:30 to 1:00");
	assert_text(quantity_print_time_window(&arena, &none), "");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_temperatures), ARENA_TEST(test_differences),	 ARENA_TEST(test_amounts),
		ARENA_TEST(test_avoirdupois),  ARENA_TEST(test_rounding_is_one), ARENA_TEST(test_times),
		ARENA_TEST(test_windows),      ARENA_TEST(test_time_windows),
	};
	RUN_TESTS(tests);
}
