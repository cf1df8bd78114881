/* Figures for tests of compute: a row of a reference table by its id, quantities in the model's units. */
#ifndef FIGURES_H
#define FIGURES_H

#include <math.h>

#include "model/recipe.h"
#include "reference_table.h"

#define SOMEWHERE ((struct span){ 1, 1 })

/* The printed answer of an example: the column of that index in the row of that id. */
static inline double printed(const char *path, const char *id, size_t column)
{
	struct reference_table table;
	open_table(&table, path);
	double answer = NAN;
	while (next_row(&table)) {
		if (strcmp(table.columns[0], id) == 0 && table.count > column)
			answer = strtod(table.columns[column], NULL);
	}
	if (isnan(answer))
		fail_msg("%s has no row %s", path, id);
	return answer;
}

#define assert_near(value, wanted, allowance) check_near((value), (wanted), (allowance), __FILE__, __LINE__)

static inline void check_near(double value, double wanted, double allowance, const char *file, int line)
{
	if (fabs(value - wanted) <= allowance)
		return;
	print_error("%.9g is not %.9g ± %.3g\n", value, wanted, allowance);
	_fail(file, line);
}

static inline int64_t celsius(double temp_c)
{
	return llround(temp_c * TEMPERATURE_PER_KELVIN);
}

static inline int64_t litres(double volume_l)
{
	return llround(volume_l * 1000 * (double)VOLUME_PER_ML);
}

static inline int64_t millilitres(double volume_ml)
{
	return llround(volume_ml * (double)VOLUME_PER_ML);
}

static inline struct quantity said(int64_t value)
{
	return (struct quantity){ value, SOMEWHERE, UNIT_none };
}

static inline struct temperature_window window_within(double nominal_c, double tolerance_c)
{
	return (struct temperature_window){
		.span = SOMEWHERE,
		.form = tolerance_c > 0 ? WINDOW_TOLERANCE : WINDOW_POINT,
		.nominal = celsius(nominal_c),
		.low = celsius(nominal_c - tolerance_c),
		.high = celsius(nominal_c + tolerance_c),
		.unit = UNIT_celsius,
	};
}

static inline struct temperature_window window_between(double low_c, double high_c)
{
	struct temperature_window window = window_within((low_c + high_c) / 2, (high_c - low_c) / 2);
	window.form = WINDOW_RANGE;
	return window;
}

static inline struct time_window exactly(int64_t time_ms)
{
	return (struct time_window){ .span = SOMEWHERE, .form = TIME_EXACT, .low_ms = time_ms, .high_ms = time_ms };
}

#endif
