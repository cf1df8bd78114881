#include "figures.h"

#include "compute/cooling.h"
#include "compute/development.h"

/* Source: the chart and the kinetics examples name theirs. */
#define CHART "tests/reference/development_chart.tsv"
#define EXAMPLES "tests/reference/worked_examples_heat_rate_wash.tsv"
#define MORE_EXAMPLES "tests/reference/cooling_and_rate_examples.tsv"
#define ANSWER 4
#define ROWS_MOST 32

/* 1/9000 K from degrees Fahrenheit. */
static int64_t fahrenheit(double temp_f)
{
	return llround((temp_f - 32) * 5000);
}

struct chart {
	struct time_row rows[ROWS_MOST];
	double temp_f[ROWS_MOST], minutes[ROWS_MOST];
	size_t count;
};

/* The chart from cold to warm; it is printed the other way. */
static void read_chart(struct chart *chart)
{
	struct reference_table table;
	open_table(&table, CHART);
	chart->count = 0;
	while (next_row(&table)) {
		assert_true(chart->count < ROWS_MOST);
		memmove(chart->temp_f + 1, chart->temp_f, chart->count * sizeof(double));
		memmove(chart->minutes + 1, chart->minutes, chart->count * sizeof(double));
		chart->temp_f[0] = strtod(table.columns[0], NULL);
		chart->minutes[0] = strtod(table.columns[1], NULL);
		chart->count++;
	}
	assert_int_equal(chart->count, 21);
}

/* A step that works at `nominal_f` with every n-th row of the chart as its table. */
static struct step step_with_chart(struct chart *chart, size_t every, double nominal_f)
{
	struct time_row *last = NULL;
	for (size_t i = 0; i < chart->count; i += every) {
		chart->rows[i] = (struct time_row){ said(fahrenheit(chart->temp_f[i])),
						    said(llround(chart->minutes[i] * 60000)), NULL };
		if (last)
			last->next = &chart->rows[i];
		last = &chart->rows[i];
	}
	struct step step = { .times = chart->rows, .at = window_within(0, 0.5) };
	step.at.nominal = fahrenheit(nominal_f);
	return step;
}

static void test_table_rows_are_kept(void **state)
{
	(void)state;
	struct chart chart;
	read_chart(&chart);
	struct step step = step_with_chart(&chart, 1, 68);
	for (size_t i = 0; i < chart.count; i++) {
		double rate;
		assert_true(development_rate(&step, quantity_celsius(fahrenheit(chart.temp_f[i])), &rate));
		assert_near(5 / rate, chart.minutes[i], 1e-9); /* 5 min at 68 °F */
	}
	double rate;
	assert_true(development_rate(&step, quantity_celsius(fahrenheit(75)), &rate));
	assert_near(5 / rate, printed(MORE_EXAMPLES, "G1", ANSWER), 1e-9);
}

/* Between rows: every fifth row of the chart predicts those between within its rounding to half minutes. */
static void test_table_between_rows(void **state)
{
	(void)state;
	struct chart chart;
	read_chart(&chart);
	struct step step = step_with_chart(&chart, 5, 70);
	for (size_t i = 0; i < chart.count; i++) {
		double rate;
		assert_true(development_rate(&step, quantity_celsius(fahrenheit(chart.temp_f[i])), &rate));
		assert_near(4.5 / rate, chart.minutes[i], 0.5);
	}
}

static void test_table_is_never_carried_on(void **state)
{
	(void)state;
	struct chart chart;
	read_chart(&chart);
	struct step step = step_with_chart(&chart, 1, 68);
	double rate;
	assert_true(development_rate(&step, quantity_celsius(fahrenheit(60)), &rate));
	assert_false(development_rate(&step, quantity_celsius(fahrenheit(60) - 1), &rate));
	assert_true(development_rate(&step, quantity_celsius(fahrenheit(80)), &rate));
	assert_false(development_rate(&step, quantity_celsius(fahrenheit(80) + 1), &rate));
	step.at.nominal = fahrenheit(81); /* a working point outside: nothing to compare with */
	assert_false(development_rate(&step, quantity_celsius(fahrenheit(70)), &rate));
}

/* A bath that stands where its table begins or ends is in it, whatever rounding does. */
static void test_the_ends_of_a_table(void **state)
{
	(void)state;
	struct time_row rows[2] = { { said(celsius(18)), said(570000), &rows[1] },
				    { said(celsius(24)), said(330000), NULL } };
	struct step step = { .times = rows, .at = window_within(18, 0.5) };
	for (double surroundings_c = 18; surroundings_c <= 24; surroundings_c += 0.037) {
		double share;
		assert_true(development_effective(&step, 18, surroundings_c, 1e-4, 600, &share));
		assert_true(share >= 1 - 1e-12);
		assert_true(development_effective(&step, 24, surroundings_c, 1e-4, 600, &share));
	}
	double share;
	assert_false(development_effective(&step, 18, 17.99, 1e-4, 600, &share));
	rows[0].next = NULL; /* one row: only there */
	assert_true(development_effective(&step, 18, 18, 1e-4, 600, &share));
	assert_near(share, 1, 1e-12);
	assert_false(development_effective(&step, 18, 18.1, 1e-4, 600, &share));
}

static void test_what_a_measured_pour_stands_for(void **state)
{
	(void)state;
	struct step step = { .at = window_within(38, 0.5) };
	assert_int_equal(development_measured(&step, celsius(37.2)), celsius(37.2));
	step.pour_at = window_within(38.4, 0.1);
	assert_int_equal(development_measured(&step, celsius(38.4)), celsius(38));
	step.mean = window_within(38.1, 0.2);
	assert_int_equal(development_measured(&step, celsius(38.2)), celsius(37.9));
}

static void test_coefficient(void **state)
{
	(void)state;
	struct step step = { .at = window_within(20, 0.5), .coefficient = said(9 * PERCENT_ONE) };
	double rate;
	assert_true(development_has_rule(&step));
	assert_true(development_rate(&step, 20, &rate));
	assert_near(rate, 1, 1e-12);
	assert_true(development_rate(&step, 21, &rate));
	assert_near(rate, exp(0.09), 1e-12); /* t = t0·e^(−c·(T − T0)) */
	step.mean = window_within(21, 0.5);
	assert_true(development_rate(&step, 21, &rate));
	assert_near(rate, 1, 1e-12);
}

static double rate_ratio(double energy_kj, double cold_k, double hot_k)
{
	struct step step = { .at = window_within(0, 0.5), .activation_energy = said(llround(energy_kj * 1000)) };
	step.at.nominal = celsius(cold_k - 273.15);
	double rate = 0;
	assert_true(development_rate(&step, hot_k - 273.15, &rate));
	return rate;
}

/* Source: kinetics examples; the printed energy must give the printed constants back within its rounding. */
static void test_activation_energy(void **state)
{
	(void)state;
	assert_near(rate_ratio(printed(MORE_EXAMPLES, "R1", ANSWER), 298, 320), 0.01 / 0.001, 0.01);
	assert_near(rate_ratio(printed(MORE_EXAMPLES, "R3", ANSWER), 300, 350), 2.5, 0.01);
	double wanted = 3.95e-2 / 3.52e-7; /* to three figures: 184.5 to 185.5 */
	assert_true(rate_ratio(printed(MORE_EXAMPLES, "R2", ANSWER) - 0.5, 555, 781) < wanted);
	assert_true(rate_ratio(printed(MORE_EXAMPLES, "R2", ANSWER) + 0.5, 555, 781) > wanted);
	double low = rate_ratio(printed(EXAMPLES, "A3", ANSWER) - 5, 650, 700);
	double high = rate_ratio(printed(EXAMPLES, "A3", ANSWER) + 5, 650, 700);
	assert_true(low < 7.39 / 1.66 && 7.39 / 1.66 < high); /* two significant figures */
}

static void test_without_a_rule(void **state)
{
	(void)state;
	struct step step = { .at = window_within(20, 0.5) };
	double rate;
	assert_false(development_has_rule(&step));
	assert_false(development_rate(&step, 20, &rate));
	step.at.span = (struct span){ 0, 0 };
	step.coefficient = said(9 * PERCENT_ONE);
	assert_false(development_rate(&step, 20, &rate));
	assert_null(development_window(&step));
}

/* A coefficient and a straight fall of the temperature have a closed form: (e^(c·d) − 1) / (c·d) with d the whole
 * change. Towards very far surroundings Newton's law is a straight line. */
static void test_effective_development(void **state)
{
	(void)state;
	struct step step = { .at = window_within(20, 0.5), .coefficient = said(9 * PERCENT_ONE) };
	double share;
	assert_true(development_effective(&step, 20, 20, 1e-4, 480, &share));
	assert_near(share, 1, 1e-12);
	assert_true(development_effective(&step, 21, 21, 1e-4, 480, &share));
	assert_near(share, exp(0.09), 1e-12);
	double far = -1e6;
	double rate = cooling_rate(20, 19, 480, far);
	assert_true(development_effective(&step, 20, far, rate, 480, &share));
	assert_near(share, (exp(-0.09) - 1) / -0.09, 1e-6);
	struct chart chart;
	read_chart(&chart);
	struct step charted = step_with_chart(&chart, 1, 61);
	assert_true(development_effective(&charted, 16.0, 10, 1e-5, 600, &share));
	assert_false(development_effective(&charted, 16.0, 10, 1e-3, 600, &share)); /* falls out of the table */
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_table_rows_are_kept),	  cmocka_unit_test(test_table_between_rows),
		cmocka_unit_test(test_table_is_never_carried_on), cmocka_unit_test(test_the_ends_of_a_table),
		cmocka_unit_test(test_what_a_measured_pour_stands_for), cmocka_unit_test(test_coefficient),
		cmocka_unit_test(test_activation_energy),	  cmocka_unit_test(test_without_a_rule),
		cmocka_unit_test(test_effective_development),
	};
	return cmocka_run_group_tests_name("development", tests, NULL, NULL);
}
