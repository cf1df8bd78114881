#include "reference_table.h"

#include "model/quantity.h"

static int64_t read_figure(const char *digits, enum unit_id unit, bool is_difference)
{
	int64_t value = -1;
	const char *problem = quantity_read(text_from(digits), unit, is_difference, &value);
	if (problem)
		fail_msg("%s %s", digits, problem);
	return value;
}

static int64_t figure(const char *digits, enum unit_id unit)
{
	return read_figure(digits, unit, false);
}

static void assert_refused(const char *digits, enum unit_id unit, bool is_difference, const char *problem)
{
	int64_t value = 4711;
	const char *said = quantity_read(text_from(digits), unit, is_difference, &value);
	if (!said)
		fail_msg("%s is accepted, which %s", digits, problem);
	assert_string_equal(said, problem);
	assert_int_equal(value, 4711);
}

static void test_figures_are_exact(void **state)
{
	(void)state;
	assert_int_equal(figure("38", UNIT_celsius), 342000);
	assert_int_equal(figure("37.85", UNIT_celsius), 340650);
	assert_int_equal(figure("-5", UNIT_celsius), -45000);
	assert_int_equal(figure("\u22125", UNIT_celsius), -45000);
	assert_int_equal(figure("+0.2", UNIT_celsius), 1800);
	assert_int_equal(figure("32", UNIT_fahrenheit), 0);
	assert_int_equal(figure("212", UNIT_fahrenheit), 900000);
	assert_int_equal(figure("3.5", UNIT_minute), 210000);
	assert_int_equal(figure("0.1", UNIT_second), 100);
	assert_int_equal(figure("2.5", UNIT_litre), 25000000000000);
	assert_int_equal(figure("1", UNIT_grain), 64798910);
	assert_int_equal(figure("0", UNIT_gram), 0);
	assert_int_equal(figure("8", UNIT_none), 8000);
	assert_int_equal(figure("10.05", UNIT_none), 10050);
	assert_int_equal(figure("007.50", UNIT_none), 7500);
	assert_int_equal(figure("2.000000000000000000000000", UNIT_percent), 2000000);
	assert_int_equal(figure("9", UNIT_percent), 9 * PERCENT_ONE);
	assert_int_equal(figure("60", UNIT_kilojoule_per_mole), 60000);
}

static void test_differences_have_no_zero_point(void **state)
{
	(void)state;
	assert_int_equal(read_figure("0.15", UNIT_celsius, true), 1350);
	assert_int_equal(read_figure("0.15", UNIT_kelvin, true), 1350);
	assert_int_equal(read_figure("-0.2", UNIT_celsius, true), -1800);
	assert_int_equal(read_figure("0.25", UNIT_fahrenheit, true), 1250);
	assert_int_equal(read_figure("9", UNIT_fahrenheit, true), read_figure("5", UNIT_celsius, true));
}

/* Half an ounce and half a fluid ounce are no whole number of base units; the nearest is far finer than any balance. */
static void test_volumes_and_masses_are_rounded_to_their_base_unit(void **state)
{
	(void)state;
	assert_int_equal(figure("0.5", UNIT_ounce), 14174761563);
	assert_int_equal(figure("0.25", UNIT_grain), 16199728);
	assert_int_equal(figure("0.5", UNIT_us_fluid_ounce), 147867647813);
}

static void test_figures_that_are_refused(void **state)
{
	(void)state;
	static const char too_fine[] = "has more decimals than can be meant";
	assert_refused("", UNIT_gram, false, "is not a number");
	assert_refused("-", UNIT_celsius, false, "is not a number");
	assert_refused(".5", UNIT_gram, false, "is not a number");
	assert_refused("5.", UNIT_gram, false, "is not a number");
	assert_refused("1.2.3", UNIT_gram, false, "is not a number");
	assert_refused("12a4", UNIT_gram, false, "is not a number");
	assert_refused("1e3", UNIT_gram, false, "is not a number");
	assert_refused("--1", UNIT_celsius, false, "is not a number");
	assert_refused("38.0001", UNIT_celsius, false, too_fine);
	assert_refused("0.0005", UNIT_second, false, too_fine);
	assert_refused("1.0000000001", UNIT_millilitre, false, too_fine);
	assert_refused("0.0000000000000000000000001", UNIT_gram, false, too_fine);
	assert_refused("0.33333333333333333333", UNIT_litre, false, too_fine);
	assert_refused("99999999999999999999999999", UNIT_gram, false, "is too large");
	assert_refused("999999999999999999", UNIT_kilogram, false, "is too large");
	assert_refused("-3", UNIT_second, false, "is below zero");
	assert_refused("-1", UNIT_none, false, "is below zero");
}

static void test_figures_that_cannot_be_meant(void **state)
{
	(void)state;
	assert_refused("-30.1", UNIT_celsius, false, "lies outside -30 … 120 °C");
	assert_refused("120.001", UNIT_celsius, false, "lies outside -30 … 120 °C");
	assert_refused("248.1", UNIT_fahrenheit, false, "lies outside -22 … 248 °F");
	assert_refused("100.5", UNIT_celsius, true, "is more than 100 K");
	assert_refused("-101", UNIT_kelvin, true, "is more than 100 K");
	assert_refused("181", UNIT_fahrenheit, true, "is more than 180 °F");
	assert_refused("3654", UNIT_day, false, "is longer than 10 years");
	assert_refused("1000.1", UNIT_litre, false, "is more than 1000 L");
	assert_refused("1001", UNIT_kilogram, false, "is more than 1000 kg");
	assert_refused("1000.5", UNIT_percent, false, "is more than 1000 %");
	assert_refused("1001", UNIT_metre, false, "is longer than 1000 m");
	assert_refused("1000001", UNIT_square_centimetre, false, "is more than 100 m²");
	assert_refused("1001", UNIT_kilojoule_per_mole, false, "is more than 1000 kJ/mol");
	assert_refused("1000001", UNIT_none, false, "is more than 1000000");
	assert_int_equal(figure("-30", UNIT_celsius), -270000);
	assert_int_equal(figure("120", UNIT_celsius), figure("248", UNIT_fahrenheit));
	assert_int_equal(figure("1000", UNIT_litre), 10000000000000000);
	assert_int_equal(figure("120", UNIT_month), 3600LL * 86400000);
}

static bool is_near(double a, double b, double tolerance)
{
	double difference = a - b;
	return difference > -tolerance && difference < tolerance;
}

/* Common practice (no source): mixing at 110 °F, working at 102 °F ± 0.25, bleach-fix from
 * 95 to 105 °F. The Celsius figures follow from (F - 32) × 5/9. */
static void test_fahrenheit_figures_of_common_practice(void **state)
{
	(void)state;
	assert_text(quantity_print_temperature(&arena, figure("110", UNIT_fahrenheit)), "43.3\u00A0°C");
	assert_text(quantity_print_temperature(&arena, figure("102", UNIT_fahrenheit)), "38.9\u00A0°C");
	assert_text(quantity_print_temperature(&arena, figure("95", UNIT_fahrenheit)), "35.0\u00A0°C");
	assert_text(quantity_print_temperature(&arena, figure("105", UNIT_fahrenheit)), "40.6\u00A0°C");
	assert_text(quantity_print_difference(&arena, read_figure("0.25", UNIT_fahrenheit, true)), "0.139\u00A0K");
	assert_true(is_near(quantity_kelvin(read_figure("0.25", UNIT_fahrenheit, true)), 0.139, 0.0005));
	assert_true(is_near(quantity_celsius(figure("110", UNIT_fahrenheit)), 43.3333333333, 1e-9));
}

/* Rounds as a table does, half away from zero, to a whole number of steps. */
static double rounded(double value, double step)
{
	double half = value < 0 ? -0.5 : 0.5;
	return (double)(int64_t)(value / step + half) * step;
}

static size_t decimals_of(const char *digits)
{
	const char *point = strchr(digits, '.');
	return point ? strlen(point + 1) : 0;
}

/* What is printed in the pair's Celsius column is the Fahrenheit figure rounded to the same decimals, but for two
 * misprints and two roundings to a coarser step, which the table notes. */
static void check_pair(const struct reference_table *row)
{
	const char *note = row->columns[5], *printed = row->columns[1];
	bool is_difference = strcmp(row->columns[2], "difference") == 0;
	int64_t value = read_figure(row->columns[0], UNIT_fahrenheit, is_difference);
	double ours = is_difference ? quantity_kelvin(value) : quantity_celsius(value);
	double step = decimals_of(printed) == 0 ? 1 : decimals_of(printed) == 1 ? 0.1 : 0.01;
	if (strstr(note, "nearest 10"))
		step = 10;
	if (strcmp(note, "exact 0.139, printed 0.15") == 0)
		step = 0.05;
	bool is_equal = is_near(rounded(ours, step), strtod(printed, NULL), 1e-9);
	bool is_misprint = strstr(note, "PRINTED VALUE IS WRONG") != NULL;
	if (is_equal == is_misprint)
		fail_msg("%s F: %s printed, %.3f computed", row->columns[0], printed, ours);
	if (is_difference || step != 0.1 || is_misprint)
		return;
	struct text text = text_format(&arena, "%s\u00A0°C", printed);
	assert_text(quantity_print_temperature(&arena, value), text.data);
}

/* Source: tests/reference/temperature_pairs.tsv, each row with its publication. */
static void test_published_temperature_pairs(void **state)
{
	(void)state;
	struct reference_table table;
	open_table(&table, "tests/reference/temperature_pairs.tsv");
	size_t rows = 0;
	for (; next_row(&table); rows++) {
		assert_int_equal(table.count, 6);
		check_pair(&table);
	}
	assert_int_equal(rows, 44);
}

static void test_floating_figures_for_compute(void **state)
{
	(void)state;
	assert_true(quantity_celsius(figure("37.85", UNIT_celsius)) == 37.85);
	assert_true(quantity_kelvin(1350) == 0.15);
	assert_true(quantity_ml(figure("2.5", UNIT_litre)) == 2500.0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_figures_are_exact),
		ARENA_TEST(test_differences_have_no_zero_point),
		ARENA_TEST(test_volumes_and_masses_are_rounded_to_their_base_unit),
		ARENA_TEST(test_figures_that_are_refused),
		ARENA_TEST(test_figures_that_cannot_be_meant),
		ARENA_TEST(test_fahrenheit_figures_of_common_practice),
		ARENA_TEST(test_published_temperature_pairs),
		ARENA_TEST(test_floating_figures_for_compute),
	};
	RUN_TESTS(tests);
}
