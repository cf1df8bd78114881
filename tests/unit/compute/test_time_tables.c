/* The rules for time and temperature against published tables; the tables name their source. */
#include "figures.h"

#include "compute/development.h"

#define TABLES "tests/reference/time_temperature.tsv"
#define CHART "tests/reference/development_chart.tsv"
#define FITS "tests/reference/time_temperature_fits.tsv"
#define CHART_ROUNDING 0.5
#define SERIES_MOST 16
#define ROWS_MOST 32

/* One film in one developer, from cold to warm. */
struct series {
	char name[64];
	double temp_f[ROWS_MOST], minutes[ROWS_MOST];
	double rounding; /* to what the minutes are printed */
	size_t count;
};

struct tables {
	struct series series[SERIES_MOST];
	size_t count;
};

static int64_t fahrenheit(double temp_f)
{
	return llround((temp_f - 32) * 5000);
}

static double celsius_of(const struct series *series, size_t row)
{
	return quantity_celsius(fahrenheit(series->temp_f[row]));
}

static void add_row(struct series *series, const char *temp_f, const char *minutes)
{
	size_t at = series->count++;
	assert_true(at < ROWS_MOST);
	series->temp_f[at] = strtod(temp_f, NULL);
	series->minutes[at] = strtod(minutes, NULL);
	assert_true(at == 0 || series->temp_f[at] > series->temp_f[at - 1]);
}

static void read_series(struct tables *tables)
{
	struct reference_table table;
	open_table(&table, TABLES);
	while (next_row(&table)) {
		char name[64];
		snprintf(name, sizeof(name), "%s/%s", table.columns[0], table.columns[1]);
		struct series *series = tables->count > 0 ? &tables->series[tables->count - 1] : NULL;
		if (!series || strcmp(series->name, name) != 0) {
			assert_true(tables->count < SERIES_MOST);
			series = &tables->series[tables->count++];
			memcpy(series->name, name, sizeof(name));
			series->rounding = strtod(table.columns[4], NULL);
		}
		add_row(series, table.columns[2], table.columns[3]);
	}
}

/* Printed from warm to cold. */
static void read_chart(struct tables *tables)
{
	struct series *chart = &tables->series[tables->count++];
	struct reference_table table;
	double temp_f[ROWS_MOST], minutes[ROWS_MOST];
	size_t count = 0;
	open_table(&table, CHART);
	while (next_row(&table) && count < ROWS_MOST) {
		temp_f[count] = strtod(table.columns[0], NULL);
		minutes[count++] = strtod(table.columns[1], NULL);
	}
	*chart = (struct series){ .name = "chart/standard", .rounding = CHART_ROUNDING, .count = count };
	for (size_t i = 0; i < count; i++) {
		chart->temp_f[i] = temp_f[count - 1 - i];
		chart->minutes[i] = minutes[count - 1 - i];
	}
}

static const struct tables *read_tables(void)
{
	static struct tables tables;
	tables = (struct tables){ .count = 0 };
	read_series(&tables);
	read_chart(&tables);
	assert_int_equal(tables.count, 12);
	return &tables;
}

/* Minutes at a row's temperature by the program's rule from the rows before and after it, both moved by `moved`. */
static double from_neighbours(const struct series *series, size_t row, double moved)
{
	struct time_row rows[2] = {
		{ said(fahrenheit(series->temp_f[row - 1])), said(llround((series->minutes[row - 1] + moved) * 60000)),
		  &rows[1] },
		{ said(fahrenheit(series->temp_f[row + 1])), said(llround((series->minutes[row + 1] + moved) * 60000)),
		  NULL },
	};
	struct step step = { .times = rows, .at = window_within(0, 0.5) };
	double rate = NAN;
	step.at.nominal = rows[0].temperature.value;
	assert_true(development_rate(&step, celsius_of(series, row), &rate));
	return (series->minutes[row - 1] + moved) / rate;
}

/* A printed figure stands for all that round to it: half a step for the row, and what half a step in its neighbours
 * makes of the guess. Charts to half minutes are coarse, so that far from every row agrees with the printed figures
 * alone. */
static void test_every_row_follows_from_its_neighbours(void **state)
{
	(void)state;
	const struct tables *tables = read_tables();
	size_t rows = 0, alone = 0;
	for (size_t i = 0; i < tables->count; i++) {
		const struct series *series = &tables->series[i];
		double half = series->rounding / 2;
		for (size_t row = 1; row + 1 < series->count; row++) {
			double off = fabs(from_neighbours(series, row, 0) - series->minutes[row]);
			double low = from_neighbours(series, row, -half) - half;
			double high = from_neighbours(series, row, half) + half;
			if (series->minutes[row] < low || series->minutes[row] > high)
				fail_msg("%s at %g F: %g min is not within %g to %g", series->name, series->temp_f[row],
					 series->minutes[row], low, high);
			assert_true(off <= series->rounding);
			alone += off <= half;
			rows++;
		}
	}
	assert_int_equal(rows, 41);
	assert_true(alone >= 28);
	print_message("%zu of %zu rows agree within their own rounding alone\n", alone, rows);
}

/* k and ln t0 of the straight line of ln(minutes) over °C, by least squares. */
static double fit(const struct series *series, double *log_t0)
{
	double n = (double)series->count, x = 0, y = 0, xx = 0, xy = 0;
	for (size_t i = 0; i < series->count; i++) {
		double at = celsius_of(series, i), value = log(series->minutes[i]);
		x += at;
		y += value;
		xx += at * at;
		xy += at * value;
	}
	double slope = (n * xy - x * y) / (n * xx - x * x);
	*log_t0 = (y - slope * x) / n;
	return -slope;
}

static double fitted(const struct series *series, size_t column)
{
	struct reference_table table;
	double figure = NAN;
	open_table(&table, FITS);
	while (next_row(&table)) {
		char name[64];
		snprintf(name, sizeof(name), "%s/%s", table.columns[0], table.columns[1]);
		if (strcmp(name, series->name) == 0)
			figure = strtod(table.columns[column], NULL);
	}
	if (isnan(figure))
		fail_msg("%s has no row for %s", FITS, series->name);
	return figure;
}

/* The coefficient's rule with the fitted coefficient gives each printed time back within the largest residual that the
 * fit has by another program. */
static void test_the_coefficient_fits_each_table(void **state)
{
	(void)state;
	const struct tables *tables = read_tables();
	for (size_t i = 0; i < tables->count; i++) {
		const struct series *series = &tables->series[i];
		double log_t0;
		double k = fit(series, &log_t0);
		assert_near(k, fitted(series, 3), 0.000006);
		struct step step = { .at = window_within(20, 0.5),
				     .coefficient = said(llround(k * 100 * PERCENT_ONE)) };
		for (size_t row = 0; row < series->count; row++) {
			double rate;
			assert_true(development_rate(&step, celsius_of(series, row), &rate));
			double minutes = exp(log_t0 - k * 20) / rate;
			assert_near(minutes / series->minutes[row], 1, fitted(series, 5) + 0.0005);
		}
	}
}

/* Published: the rate doubles for 10 °C, and factors of 1.5 to 4 are observed. Every series is so steep, once the
 * rounding of its first and last figure is allowed for; all but one without that. */
static void test_coefficients_are_as_published(void **state)
{
	(void)state;
	const struct tables *tables = read_tables();
	size_t inside = 0;
	for (size_t i = 0; i < tables->count; i++) {
		const struct series *series = &tables->series[i];
		size_t last = series->count - 1;
		double half = series->rounding / 2, log_t0;
		double difference_k = celsius_of(series, last) - celsius_of(series, 0);
		double steepest = log((series->minutes[0] + half) / (series->minutes[last] - half)) / difference_k;
		double flattest = log((series->minutes[0] - half) / (series->minutes[last] + half)) / difference_k;
		assert_true(exp(10 * steepest) >= 1.5 && exp(10 * flattest) <= 4);
		double q10 = exp(10 * fit(series, &log_t0));
		assert_near(q10, fitted(series, 4), 0.001);
		inside += q10 >= 1.5 && q10 <= 4;
	}
	assert_int_equal(inside, tables->count - 1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_every_row_follows_from_its_neighbours),
		cmocka_unit_test(test_the_coefficient_fits_each_table),
		cmocka_unit_test(test_coefficients_are_as_published),
	};
	return cmocka_run_group_tests_name("time tables", tests, NULL, NULL);
}
