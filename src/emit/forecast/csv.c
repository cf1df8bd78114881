/* The forecast as comma-separated values: one row a point of the curve, with the figures of its step beside it; one row
 * where there is no forecast. */
#include <inttypes.h>

#include "compute/development.h"
#include "compute/rounding.h"
#include "emit/cues/wording.h"
#include "emit/escape/csv.h"
#include "emit/forecast/remarks.h"

static const char *const columns[] = {
	"step",		 "step_name",	  "role",	   "bath",
	"at_s",		 "since_start_s", "temperature_c", "window_low_c",
	"window_high_c", "state",	  "fit",	   "pour_c",
	"mean_c",	 "effective_s",	  "wanted_s",	   "effective_percent",
	"exact_pour_c",	 "exact_pour",	  "water_bath_c",  "process",
	"fingerprint",
};

static void put_whole(struct csv_row *row, size_t number)
{
	csv_row_figure(row, text_format(row->arena, "%zu", number));
}

/* To a thousandth: the figure is rounded to a hundredth already, a limit may be finer. */
static void put_celsius(struct csv_row *row, bool is_known, int64_t temperature)
{
	if (is_known)
		csv_row_decimal(row, rounding_whole(quantity_celsius(temperature) * 1000));
	else
		csv_row_empty(row);
}

static void put_forecast(struct csv_row *row, bool is_known, double temp_c)
{
	put_celsius(row, is_known, is_known ? forecast_temperature(temp_c) : 0);
}

static void put_seconds(struct csv_row *row, bool is_known, double time_s)
{
	if (is_known)
		csv_row_decimal(row, forecast_time(time_s));
	else
		csv_row_empty(row);
}

static void put_word(struct csv_row *row, bool is_known, struct text word)
{
	if (is_known)
		csv_row_figure(row, word);
	else
		csv_row_empty(row);
}

/* What is the same at every point of a step. */
static void put_step(struct csv_row *row, const struct forecast *forecast)
{
	const struct forecast_exact *exact = &forecast->exact;
	bool is_made = forecast->state == FORECAST_made;
	bool has_effective = is_made && forecast->has_effective;
	bool has_exact = is_made && forecast->has_exact;
	put_word(row, true, forecast_state_row(forecast->state)->word);
	put_word(row, is_made, forecast_fit_row(forecast->fit)->word);
	put_forecast(row, forecast->has_pour, forecast->pour_c);
	put_forecast(row, is_made, forecast->mean_c);
	put_seconds(row, has_effective, forecast->effective_s);
	put_seconds(row, is_made, forecast->wanted_s);
	if (has_effective)
		csv_row_decimal(row, forecast_percent(forecast) / (PERCENT_ONE / 1000));
	else
		csv_row_empty(row);
	put_forecast(row, has_exact && exact->pour != FORECAST_POUR_none, exact->pour_c);
	put_word(row, has_exact, forecast_pour_row(exact->pour)->word);
	put_forecast(row, has_exact && exact->has_bath, exact->bath_c);
}

/* One row; a step without a forecast has one without a point. */
static void put_row(const struct emission *emission, struct output *output, const struct forecast *forecast,
		    size_t step, double since_s)
{
	struct csv_row row = csv_row_start(output, emission->arena);
	const struct timeline_step *timed = &emission->timeline->steps[step];
	const struct temperature_window *window = development_window(&emission->process->steps[step]);
	bool is_made = forecast->state == FORECAST_made;
	int64_t since_ms = rounding_whole(since_s * MILLISECONDS_PER_SECOND);
	put_whole(&row, step + 1);
	csv_row_text(&row, wording_step(emission, step));
	csv_row_text(&row, role_row(emission->process->steps[step].role)->word);
	csv_row_text(&row, wording_bath(emission, step));
	csv_row_decimal(&row, timed->start_ms + since_ms);
	csv_row_decimal(&row, since_ms);
	put_forecast(&row, is_made, is_made ? forecast_temp_c(forecast, since_s) : 0);
	put_celsius(&row, window != NULL, window ? window->low : 0);
	put_celsius(&row, window != NULL, window ? window->high : 0);
	put_step(&row, forecast);
	csv_row_text(&row, intern_text(emission->recipe->names, emission->process->declared.name));
	csv_row_figure(&row, emission->process->fingerprint);
	csv_row_end(&row);
}

static void put_curve(const struct emission *emission, struct output *output, const struct forecast *forecast,
		      size_t step)
{
	double interval_s = forecast_interval_s(forecast, FORECAST_STRETCHES_MOST);
	size_t count = forecast_point_count(forecast, interval_s);
	for (size_t i = 0; i < count; i++)
		put_row(emission, output, forecast, step, forecast_point_s(forecast, interval_s, i));
}

void emit_forecast_csv(const struct emission *emission, struct output *output)
{
	const struct forecast *forecasts = forecast_run(emission->process, emission->timeline, emission->arena);
	struct csv_row head = csv_row_start(output, emission->arena);
	for (size_t i = 0; i < sizeof(columns) / sizeof(columns[0]); i++)
		csv_row_figure(&head, text_from(columns[i]));
	csv_row_end(&head);
	for (size_t i = 0; i < emission->process->step_count; i++) {
		if (forecasts[i].state == FORECAST_made)
			put_curve(emission, output, &forecasts[i], i);
		else if (forecasts[i].state != FORECAST_no_bath)
			put_row(emission, output, &forecasts[i], i, 0);
	}
}
