#include "emit/forecast/curve.h"

#include <inttypes.h>
#include <math.h>

#include "compute/development.h"
#include "emit/cues/wording.h"
#include "emit/escape/html.h"
#include "emit/escape/terminal.h"
#include "emit/forecast/canvas.h"
#include "emit/forecast/remarks.h"
#include "support/utf8.h"

#define ROW_HEIGHT 19
#define KEY_Y (CANVAS_BOTTOM + 62)
#define TABLE_Y (KEY_Y + 34)

/* Numbers of steps stand in so many rows, so that those of short ones do not touch. */
#define NUMBER_ROWS 3
#define NUMBER_WIDTH 20

/* Columns of a step's name in the table. */
#define NAME_COLUMNS 26
#define TITLE_COLUMNS 90

static bool is_shown(const struct canvas *canvas, size_t step)
{
	return canvas->forecasts[step].state != FORECAST_no_bath;
}

/* The text in at most so many columns. */
static struct text cut(struct arena *arena, struct text text, size_t most)
{
	struct text line = terminal_line(arena, text);
	size_t columns = 0;
	if (utf8_columns(line) <= most)
		return line;
	for (size_t place = 0; place < line.length;) {
		int32_t character;
		int length = utf8_decode((struct text){ line.data + place, line.length - place }, &character);
		columns += length > 0 ? (size_t)utf8_width(character) : 1;
		if (columns + 1 > most)
			return text_format(arena, "%.*s…", (int)place, line.data);
		place += length > 0 ? (size_t)length : 1;
	}
	return line;
}

/* ---- the plane ---- */

static double start_x(const struct canvas *canvas, size_t step)
{
	return canvas_x(canvas, (double)canvas->emission->timeline->steps[step].start_ms);
}

static double end_x(const struct canvas *canvas, size_t step)
{
	return canvas_x(canvas, (double)canvas->emission->timeline->steps[step].time_end_ms);
}

static double clamp_c(const struct canvas *canvas, double temp_c)
{
	return fmin(fmax(temp_c, canvas->low_c), canvas->high_c);
}

static void draw_limit(const struct canvas *canvas, size_t step, double temp_c, bool is_of_mean)
{
	double y = canvas_y(canvas, temp_c);
	if (canvas_holds(canvas, temp_c))
		canvas_line(canvas, start_x(canvas, step), y, end_x(canvas, step), y,
			    is_of_mean ? " stroke-width=\"0.8\" stroke-dasharray=\"2 2\"" : " stroke-width=\"0.8\"");
}

/* The window that counts: none where the time was worked out for another temperature. */
static const struct temperature_window *window_of(const struct canvas *canvas, size_t step)
{
	const struct forecast *forecast = &canvas->forecasts[step];
	bool is_compensated = forecast->state == FORECAST_made && forecast->fit == FORECAST_FIT_compensated;
	return is_compensated ? NULL : development_window(&canvas->emission->process->steps[step]);
}

static void draw_window(const struct canvas *canvas, size_t index)
{
	const struct step *step = &canvas->emission->process->steps[index];
	const struct temperature_window *window = window_of(canvas, index);
	if (!window)
		return;
	double working_c = quantity_celsius(window->nominal);
	double top = canvas_y(canvas, clamp_c(canvas, quantity_celsius(window->high)));
	double bottom = canvas_y(canvas, clamp_c(canvas, quantity_celsius(window->low)));
	double x = start_x(canvas, index), width = end_x(canvas, index) - x;
	if (bottom > top && width > 0)
		output_format(
			canvas->output,
			"<rect x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"%.2f\" fill=\"url(#forecast-hatch)\"/>\n",
			x, top, width, bottom - top);
	if (window->form != WINDOW_POINT) {
		draw_limit(canvas, index, quantity_celsius(window->low), window == &step->mean);
		draw_limit(canvas, index, quantity_celsius(window->high), window == &step->mean);
	}
	if (canvas_holds(canvas, working_c))
		canvas_line(canvas, x, canvas_y(canvas, working_c), x + width, canvas_y(canvas, working_c),
			    " stroke-dasharray=\"7 4\"");
}

/* A stretch of a step's curve. */
static void draw_stretch(const struct canvas *canvas, size_t step, double from_s, double to_s, const char *width)
{
	const struct forecast *forecast = &canvas->forecasts[step];
	double start_ms = (double)canvas->emission->timeline->steps[step].start_ms;
	double across =
		canvas_x(canvas, to_s * MILLISECONDS_PER_SECOND) - canvas_x(canvas, from_s * MILLISECONDS_PER_SECOND);
	int points = (int)fmin(fmax(across / 6, 2), 60);
	output_string(canvas->output, "<polyline points=\"");
	for (int i = 0; i <= points; i++) {
		double time_s = from_s + (to_s - from_s) * i / points;
		output_format(canvas->output, "%s%.2f,%.2f", i > 0 ? " " : "",
			      canvas_x(canvas, start_ms + time_s * MILLISECONDS_PER_SECOND),
			      canvas_y(canvas, forecast_temp_c(forecast, time_s)));
	}
	output_format(canvas->output,
		      "\" fill=\"none\" stroke=\"black\" stroke-width=\"%s\" stroke-linecap=\"butt\"/>\n", width);
}

static void draw_dot(const struct canvas *canvas, double x, double y, const char *fill)
{
	output_format(canvas->output,
		      "<circle cx=\"%.2f\" cy=\"%.2f\" r=\"3.2\" fill=\"%s\" stroke=\"black\" stroke-width=\"1.2\"/>\n",
		      x, y, fill);
}

static void draw_course(const struct canvas *canvas, size_t step)
{
	const struct forecast *forecast = &canvas->forecasts[step];
	double x = start_x(canvas, step);
	if (forecast->state != FORECAST_made)
		return;
	draw_stretch(canvas, step, 0, forecast->course.time_s, "2");
	for (size_t i = 0; i < forecast->outside_count; i++)
		draw_stretch(canvas, step, forecast->outside[i].from_s, forecast->outside[i].to_s, "5.5");
	if (forecast_temperature(forecast->pour_c) != forecast_temperature(forecast->start_c)) {
		canvas_line(canvas, x, canvas_y(canvas, forecast->pour_c), x, canvas_y(canvas, forecast->start_c), "");
		draw_dot(canvas, x, canvas_y(canvas, forecast->pour_c), "white");
	}
	draw_dot(canvas, x, canvas_y(canvas, forecast->start_c), "black");
}

/* The number of each step above its part of the axis, a row lower where the one before is too near. */
static void draw_numbers(const struct canvas *canvas)
{
	const struct emission *emission = canvas->emission;
	double free_from[NUMBER_ROWS] = { 0 };
	for (size_t i = 0; i < emission->process->step_count; i++) {
		const struct timeline_step *timed = &emission->timeline->steps[i];
		double left = canvas_x(canvas, (double)timed->pour_ms);
		double middle = (left + canvas_x(canvas, (double)timed->end_ms)) / 2;
		int row = 0;
		if (!is_shown(canvas, i))
			continue;
		canvas_line(canvas, left, CANVAS_TOP, left, CANVAS_BOTTOM, " stroke-width=\"0.6\"");
		while (row + 1 < NUMBER_ROWS && free_from[row] > middle - NUMBER_WIDTH / 2.0)
			row++;
		free_from[row] = middle + NUMBER_WIDTH / 2.0;
		canvas_text(canvas, middle, CANVAS_TOP - 5 - 12 * row, " text-anchor=\"middle\" font-weight=\"bold\"",
			    text_format(emission->arena, "%zu", i + 1));
	}
}

/* An empty plane says why it is empty. */
static void draw_reason(const struct canvas *canvas)
{
	const double middle = (CANVAS_LEFT + CANVAS_RIGHT) / 2.0, y = (CANVAS_TOP + CANVAS_BOTTOM) / 2.0;
	struct text reason = TEXT("");
	for (size_t i = 0; i < canvas->emission->process->step_count; i++) {
		if (canvas->forecasts[i].state == FORECAST_made)
			return;
		if (canvas->forecasts[i].state == FORECAST_no_heat_loss_test || reason.length == 0)
			reason = forecast_state_row(canvas->forecasts[i].state)->summary;
	}
	output_format(canvas->output,
		      "<rect x=\"%.2f\" y=\"%.2f\" width=\"460\" height=\"34\" fill=\"white\" stroke=\"black\"/>\n",
		      middle - 230, y - 44);
	canvas_text(canvas, middle, y - 22, " text-anchor=\"middle\"",
		    text_format(canvas->emission->arena, "Nothing is forecast: %.*s.", TEXT_ARGUMENT(reason)));
}

/* ---- the key and the table under the plane ---- */

static void draw_key(const struct canvas *canvas)
{
	const double y = KEY_Y;
	output_format(
		canvas->output,
		"<rect x=\"%d\" y=\"%.2f\" width=\"26\" height=\"14\" fill=\"url(#forecast-hatch)\" stroke=\"black\" "
		"stroke-width=\"0.8\"/>\n",
		CANVAS_LEFT, y - 11);
	canvas_text(canvas, CANVAS_LEFT + 33, y, "", TEXT("window (of the mean: dotted)"));
	canvas_line(canvas, 290, y - 4, 320, y - 4, " stroke-dasharray=\"7 4\"");
	canvas_text(canvas, 327, y, "", TEXT("working point"));
	canvas_line(canvas, 427, y - 4, 457, y - 4, " stroke-width=\"2\"");
	canvas_text(canvas, 464, y, "", TEXT("in the tank"));
	canvas_line(canvas, 547, y - 4, 577, y - 4, " stroke-width=\"5.5\"");
	canvas_text(canvas, 584, y, "", TEXT("outside its window"));
	draw_dot(canvas, 720, y - 4, "white");
	canvas_text(canvas, 730, y, "", TEXT("as poured"));
	draw_dot(canvas, 810, y - 4, "black");
	canvas_text(canvas, 820, y, "", TEXT("as mixed in the tank"));
}

enum column {
	COLUMN_TIME,
	COLUMN_POURED,
	COLUMN_MIXED,
	COLUMN_END,
	COLUMN_MEAN,
	COLUMN_WINDOW,
	COLUMN_DEVELOPED,
	COLUMN_EXACT,
	COLUMN_COUNT
};

/* Where each column ends. */
static const int column_x[COLUMN_COUNT] = { 350, 420, 486, 552, 618, 750, 836, 946 };

static void put_cell(const struct canvas *canvas, enum column column, double y, struct text text)
{
	if (text.length > 0)
		canvas_text(canvas, column_x[column], y, " text-anchor=\"end\"", text);
}

static void draw_made_row(const struct canvas *canvas, const struct forecast *forecast, double y)
{
	struct arena *arena = canvas->emission->arena;
	put_cell(canvas, COLUMN_MIXED, y, remarks_number(arena, forecast->start_c));
	put_cell(canvas, COLUMN_END, y, remarks_number(arena, forecast->end_c));
	put_cell(canvas, COLUMN_MEAN, y, remarks_number(arena, forecast->mean_c));
	if (forecast->has_effective)
		put_cell(canvas, COLUMN_DEVELOPED, y, remarks_percent(arena, forecast));
	if (!remarks_tell_exact(forecast))
		return;
	if (forecast->exact.pour != FORECAST_POUR_none)
		put_cell(canvas, COLUMN_EXACT, y, remarks_number(arena, forecast->exact.pour_c));
	else
		put_cell(canvas, COLUMN_EXACT, y, TEXT("none"));
}

static void draw_row(const struct canvas *canvas, size_t index, double y)
{
	const struct emission *emission = canvas->emission;
	const struct forecast *forecast = &canvas->forecasts[index];
	const struct time_window *time = &emission->timeline->steps[index].time;
	struct arena *arena = emission->arena;
	canvas_text(canvas, CANVAS_LEFT - 8, y, " text-anchor=\"end\" font-weight=\"bold\"",
		    text_format(arena, "%zu", index + 1));
	canvas_text(canvas, CANVAS_LEFT, y, "", cut(arena, wording_step(emission, index), NAME_COLUMNS));
	if (span_is_set(time->span))
		put_cell(canvas, COLUMN_TIME, y, quantity_print_duration(arena, time->low_ms));
	if (forecast->has_pour)
		put_cell(canvas, COLUMN_POURED, y, remarks_number(arena, forecast->pour_c));
	put_cell(canvas, COLUMN_WINDOW, y, remarks_window(arena, window_of(canvas, index)));
	if (forecast->state == FORECAST_made)
		draw_made_row(canvas, forecast, y);
}

static void draw_table(const struct canvas *canvas)
{
	static const char *const names[COLUMN_COUNT] = { "time", "poured", "mixed",    "end",
							 "mean", "window", "develops", "exact pour" };
	double y = TABLE_Y;
	for (int i = 0; i < COLUMN_COUNT; i++)
		put_cell(canvas, (enum column)i, y, text_from(names[i]));
	canvas_line(canvas, CANVAS_LEFT - 24, y + 5, CANVAS_RIGHT, y + 5, " stroke-width=\"0.8\"");
	for (size_t i = 0; i < canvas->emission->process->step_count; i++)
		if (is_shown(canvas, i))
			draw_row(canvas, i, y += ROW_HEIGHT);
}

/* ---- name and description ---- */

static struct text title_of(const struct emission *emission)
{
	const struct declared *declared = &emission->process->declared;
	struct text name = intern_text(emission->recipe->names, declared->name);
	struct text title = declared->title.text.length > 0 ? declared->title.text : name;
	struct text where = emission->process->tank ? remarks_surroundings(emission) : TEXT("");
	return text_format(emission->arena, "%.*s: temperature in the tank%s%.*s", TEXT_ARGUMENT(title),
			   where.length > 0 ? ", " : "", TEXT_ARGUMENT(where));
}

static void describe(const struct canvas *canvas)
{
	const struct emission *emission = canvas->emission;
	struct remarks remarks = remarks_of_run(emission, canvas->forecasts);
	output_string(canvas->output, "<desc id=\"forecast-desc\">");
	for (size_t i = 0; i < remarks.count; i++) {
		html_text(canvas->output, terminal_line(emission->arena, remarks.items[i]));
		output_string(canvas->output, " ");
	}
	for (size_t i = 0; i < emission->process->step_count; i++) {
		if (!is_shown(canvas, i))
			continue;
		output_format(canvas->output, "\nStep %zu, ", i + 1);
		html_text(canvas->output, terminal_line(emission->arena, wording_step(emission, i)));
		output_string(canvas->output, ":");
		if (canvas->forecasts[i].state != FORECAST_made)
			output_format(canvas->output, " not forecast: %s.",
				      forecast_state_row(canvas->forecasts[i].state)->summary.data);
		remarks = remarks_of_step(emission, &canvas->forecasts[i], i);
		for (size_t j = 0; j < remarks.count; j++) {
			output_string(canvas->output, " ");
			html_text(canvas->output, terminal_line(emission->arena, remarks.items[j]));
		}
	}
	output_string(canvas->output, "</desc>\n");
}

int curve_height(const struct emission *emission, const struct forecast *forecasts, int width)
{
	int height = TABLE_Y + 16;
	for (size_t i = 0; i < emission->process->step_count; i++)
		height += forecasts[i].state != FORECAST_no_bath ? ROW_HEIGHT : 0;
	return (int)((int64_t)width * height / CANVAS_WIDTH);
}

static void open_picture(const struct canvas *canvas)
{
	int height = curve_height(canvas->emission, canvas->forecasts, CANVAS_WIDTH);
	output_format(
		canvas->output,
		"<svg xmlns=\"http://www.w3.org/2000/svg\" class=\"forecast-curve\" viewBox=\"0 0 %d %d\" "
		"width=\"%d\" "
		"height=\"%d\" role=\"img\" aria-labelledby=\"forecast-title\" aria-describedby=\"forecast-desc\" "
		"font-family=\"sans-serif\" font-size=\"13\">\n<title id=\"forecast-title\">",
		CANVAS_WIDTH, height, CANVAS_WIDTH, height);
	html_text(canvas->output, terminal_line(canvas->emission->arena, title_of(canvas->emission)));
	output_string(canvas->output, "</title>\n");
	describe(canvas);
	output_format(canvas->output,
		      "<defs><pattern id=\"forecast-hatch\" width=\"8\" height=\"8\" patternUnits=\"userSpaceOnUse\" "
		      "patternTransform=\"rotate(45)\"><line x1=\"0\" y1=\"0\" x2=\"0\" y2=\"8\" stroke=\"black\" "
		      "stroke-width=\"0.5\"/></pattern></defs>\n<rect width=\"%d\" height=\"%d\" fill=\"white\"/>\n",
		      CANVAS_WIDTH, height);
}

void curve_draw(const struct emission *emission, const struct forecast *forecasts, struct output *output)
{
	struct canvas canvas = canvas_open(emission, forecasts, output);
	open_picture(&canvas);
	canvas_text(&canvas, CANVAS_LEFT - 24, 20, " font-size=\"15\" font-weight=\"bold\"",
		    cut(emission->arena, title_of(emission), TITLE_COLUMNS));
	for (size_t i = 0; i < emission->process->step_count; i++)
		if (is_shown(&canvas, i))
			draw_window(&canvas, i);
	draw_numbers(&canvas);
	canvas_axes(&canvas);
	for (size_t i = 0; i < emission->process->step_count; i++)
		if (is_shown(&canvas, i))
			draw_course(&canvas, i);
	draw_reason(&canvas);
	draw_key(&canvas);
	draw_table(&canvas);
	output_string(output, "</svg>\n");
}
