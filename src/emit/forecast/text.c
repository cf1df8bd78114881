/* The forecast to read, on a terminal or on paper, within 80 columns. */
#include <inttypes.h>

#include "compute/development.h"
#include "compute/reading.h"
#include "emit/cues/wording.h"
#include "emit/escape/terminal.h"
#include "emit/forecast/remarks.h"
#include "emit/this_run.h"
#include "support/utf8.h"

#define COLUMNS 80
#define FACT_COLUMNS 13
#define NAME_COLUMNS 16

/* How many stretches of the curve are written out. */
#define STRETCHES_MOST 10

static void put_fact(const struct emission *emission, struct output *output, const char *label, struct text fact)
{
	if (fact.length == 0)
		return;
	output_format(output, "%-*s", FACT_COLUMNS, label);
	terminal_wrap(output, terminal_line(emission->arena, fact), FACT_COLUMNS, COLUMNS);
}

static struct text print_tank(const struct emission *emission)
{
	const struct tank *tank = emission->process->tank;
	if (!tank)
		return TEXT("");
	struct text name = intern_text(emission->recipe->names, tank->declared.name);
	struct text holds = quantity_print_volume(emission->arena, tank->holds.value);
	struct text where = remarks_surroundings(emission);
	return text_format(emission->arena, "%.*s, %.*s%s%.*s", TEXT_ARGUMENT(name), TEXT_ARGUMENT(holds),
			   where.length > 0 ? ", " : "", TEXT_ARGUMENT(where));
}

static void put_head(const struct emission *emission, struct output *output)
{
	const struct process *process = emission->process;
	struct text name = intern_text(emission->recipe->names, process->declared.name);
	struct text title = process->declared.title.text;
	terminal_wrap(output, terminal_line(emission->arena, title.length > 0 ? title : name), 0, COLUMNS);
	output_string(output, "\n");
	put_fact(emission, output, "process", name);
	put_fact(emission, output, "tank", print_tank(emission));
	put_fact(emission, output, "fingerprint", process->fingerprint);
	put_fact(emission, output, "this run", this_run_line(emission));
	output_string(output, "\n");
}

static void put_remarks(const struct emission *emission, struct output *output, const struct remarks *remarks,
			size_t indent)
{
	for (size_t i = 0; i < remarks->count; i++) {
		output_format(output, "%*s", (int)indent, "");
		terminal_wrap(output, terminal_line(emission->arena, remarks->items[i]), indent, COLUMNS);
	}
}

/* ---- the table ---- */

static int number_columns(const struct emission *emission)
{
	int width = 0;
	for (size_t steps = emission->process->step_count; steps > 0; steps /= 10)
		width++;
	return width;
}

static void put_figure(const struct emission *emission, struct output *output, bool is_known, double temp_c)
{
	struct text figure = is_known ? remarks_number(emission->arena, temp_c) : TEXT("-");
	size_t columns = utf8_columns(figure);
	output_format(output, "%*s", columns < 7 ? (int)(7 - columns) : 1, "");
	output_write(output, figure);
}

/* A name wider than its column has a line of its own. */
static void put_name(const struct emission *emission, struct output *output, size_t step)
{
	int width = number_columns(emission);
	struct text name = terminal_line(emission->arena, wording_step(emission, step));
	size_t columns = utf8_columns(name);
	output_format(output, "%*zu. ", width, step + 1);
	if (columns > NAME_COLUMNS) {
		terminal_wrap(output, name, (size_t)width + 2, COLUMNS);
		output_format(output, "%*s", width + 2 + NAME_COLUMNS, "");
		return;
	}
	output_write(output, name);
	output_format(output, "%*s", (int)(NAME_COLUMNS - columns), "");
}

static void put_row(const struct emission *emission, struct output *output, const struct forecast *forecast,
		    size_t index)
{
	const struct step *step = &emission->process->steps[index];
	const struct time_window *time = &emission->timeline->steps[index].time;
	struct text printed =
		span_is_set(time->span) ? quantity_print_duration(emission->arena, time->low_ms) : TEXT("-");
	bool is_made = forecast->state == FORECAST_made;
	put_name(emission, output, index);
	output_format(output, " %7.*s", TEXT_ARGUMENT(printed));
	put_figure(emission, output, forecast->has_pour, forecast->pour_c);
	put_figure(emission, output, is_made, forecast->start_c);
	put_figure(emission, output, is_made, forecast->mid_c);
	put_figure(emission, output, is_made, forecast->end_c);
	put_figure(emission, output, is_made, forecast->mean_c);
	struct text window = remarks_window(emission->arena, development_window(step));
	output_format(output, "%s%.*s\n", window.length > 0 ? "  " : "", TEXT_ARGUMENT(window));
}

/* Where a thermometer shows something else, a forecast of the bath is not what it will show. */
static struct text temperatures_words(const struct emission *emission)
{
	const struct thermometer *thermometer = emission->process->thermometer;
	if (!reading_is_corrected(thermometer))
		return TEXT("Temperatures");
	struct text name = intern_text(emission->recipe->names, thermometer->declared.name);
	return text_format(emission->arena, "True temperatures, not as %.*s shows them,", TEXT_ARGUMENT(name));
}

static void put_table(const struct emission *emission, struct output *output, const struct forecast *forecasts)
{
	struct text heading =
		text_format(emission->arena,
			    "%.*s in °C: as poured; once mixed with what tank and wet reels hold; half way "
			    "and at the end of the step's time, and their mean.",
			    TEXT_ARGUMENT(temperatures_words(emission)));
	terminal_wrap(output, terminal_line(emission->arena, heading), 0, COLUMNS);
	output_format(output, "\n%*s %7s %6s %6s %6s %6s %6s  %s\n", number_columns(emission) + 2 + NAME_COLUMNS, "",
		      "time", "poured", "mixed", "half", "end", "mean", "window");
	for (size_t i = 0; i < emission->process->step_count; i++)
		if (forecasts[i].state != FORECAST_no_bath)
			put_row(emission, output, &forecasts[i], i);
}

/* ---- the steps ---- */

static struct text print_course(const struct emission *emission, const struct forecast *forecast)
{
	double interval_s = forecast_interval_s(forecast, STRETCHES_MOST);
	size_t count = forecast_point_count(forecast, interval_s);
	struct text_builder line = text_builder_start(emission->arena);
	if (forecast_temperature(forecast->start_c) == forecast_temperature(forecast->end_c))
		return TEXT("");
	text_append_string(&line, "Course:");
	for (size_t i = 0; i < count; i++) {
		double time_s = forecast_point_s(forecast, interval_s, i);
		struct text time = quantity_print_duration(emission->arena, forecast_time(time_s));
		struct text figure = remarks_number(emission->arena, forecast_temp_c(forecast, time_s));
		text_append_format(&line, "%s %.*s\xC2\xA0%.*s", i > 0 ? "," : "", TEXT_ARGUMENT(time),
				   TEXT_ARGUMENT(figure));
	}
	text_append_byte(&line, '.');
	return text_builder_text(&line);
}

/* A step that stays where it belongs, and develops nothing, is told by its row. */
static bool is_told(const struct emission *emission, const struct forecast *forecast, size_t step)
{
	bool stays = forecast->fit == FORECAST_FIT_inside || forecast->fit == FORECAST_FIT_no_window;
	return forecast->state == FORECAST_made &&
	       (!stays || forecast->has_effective || role_develops(emission->process->steps[step].role));
}

static void put_step(const struct emission *emission, struct output *output, const struct forecast *forecast,
		     size_t index)
{
	size_t indent = (size_t)number_columns(emission) + 2;
	struct remarks remarks = remarks_of_step(emission, forecast, index);
	struct text course = print_course(emission, forecast);
	if (course.length > 0 && remarks.count < REMARKS_MOST)
		remarks.items[remarks.count++] = course;
	output_format(output, "\n%*zu. ", (int)indent - 2, index + 1);
	terminal_wrap(output, terminal_line(emission->arena, wording_step(emission, index)), indent, COLUMNS);
	put_remarks(emission, output, &remarks, indent);
}

/* Why there is no forecast of a step; the tank's trouble was told before. */
static void put_reason(const struct emission *emission, struct output *output, const struct forecast *forecast,
		       size_t index)
{
	size_t indent = (size_t)number_columns(emission) + 2;
	struct text name = terminal_line(emission->arena, wording_step(emission, index));
	struct text summary = forecast_state_row(forecast->state)->summary;
	if (forecast->state == FORECAST_made || forecast->state == FORECAST_no_bath ||
	    forecast->state == FORECAST_no_heat_loss_test)
		return;
	output_format(output, "%*zu. ", (int)indent - 2, index + 1);
	terminal_wrap(output, text_format(emission->arena, "%.*s: %.*s.", TEXT_ARGUMENT(name), TEXT_ARGUMENT(summary)),
		      indent, COLUMNS);
}

static void put_reasons(const struct emission *emission, struct output *output, const struct forecast *forecasts)
{
	struct output lines;
	output_open_memory(&lines, emission->arena);
	for (size_t i = 0; i < emission->process->step_count; i++)
		put_reason(emission, &lines, &forecasts[i], i);
	if (output_memory(&lines).length == 0)
		return;
	output_string(output, "\nNot forecast:\n");
	output_write(output, output_memory(&lines));
}

void emit_forecast_text(const struct emission *emission, struct output *output)
{
	const struct forecast *forecasts = forecast_run(emission->process, emission->timeline, emission->arena);
	struct remarks remarks = remarks_of_run(emission, forecasts);
	put_head(emission, output);
	put_remarks(emission, output, &remarks, 0);
	if (remarks.count > 0)
		output_string(output, "\n");
	put_table(emission, output, forecasts);
	for (size_t i = 0; i < emission->process->step_count; i++)
		if (is_told(emission, &forecasts[i], i))
			put_step(emission, output, &forecasts[i], i);
	put_reasons(emission, output, forecasts);
}
