#include "emit/forecast/canvas.h"

#include <inttypes.h>
#include <math.h>

#include "compute/development.h"
#include "emit/escape/html.h"
#include "emit/escape/terminal.h"

/* A window no wider than this is shown whole. */
#define NARROW_K 2.5

/* The least that the temperature axis spans. */
#define LEAST_K 0.8

#define TEMPERATURE_TICKS_MOST 8
#define TIME_TICKS_MOST 14

#define MINUTE_MS (60 * MILLISECONDS_PER_SECOND)

struct extent {
	double low_c;
	double high_c;
};

static void include(struct extent *extent, double temp_c)
{
	extent->low_c = fmin(extent->low_c, temp_c);
	extent->high_c = fmax(extent->high_c, temp_c);
}

static void include_window(struct extent *extent, const struct temperature_window *window)
{
	include(extent, quantity_celsius(window->nominal));
	if (quantity_celsius(window->high - window->low) > NARROW_K)
		return;
	include(extent, quantity_celsius(window->low));
	include(extent, quantity_celsius(window->high));
}

/* Of the steps with a forecast; of all where there is none. */
static struct extent extent_of(const struct emission *emission, const struct forecast *forecasts, bool is_made)
{
	struct extent extent = { INFINITY, -INFINITY };
	for (size_t i = 0; i < emission->process->step_count; i++) {
		const struct forecast *forecast = &forecasts[i];
		const struct temperature_window *window = development_window(&emission->process->steps[i]);
		if (forecast->state == FORECAST_no_bath || (is_made && forecast->state != FORECAST_made))
			continue;
		if (window)
			include_window(&extent, window);
		if (forecast->state != FORECAST_made)
			continue;
		include(&extent, forecast->pour_c);
		include(&extent, forecast->start_c);
		include(&extent, forecast->end_c);
	}
	return extent;
}

/* The smallest of 1, 2 and 5 times a power of ten that cuts `span` into at most `most`. */
static double round_tick(double span, double most)
{
	double power = pow(10, floor(log10(span / most)));
	double share = span / most / power;
	return power * (share <= 1 ? 1 : share <= 2 ? 2 : share <= 5 ? 5 : 10);
}

static int64_t last_wet_ms(const struct timeline *timeline)
{
	int64_t end_ms = 0;
	for (size_t i = 0; i < timeline->step_count; i++)
		if (timeline->steps[i].is_wet && timeline->steps[i].end_ms > end_ms)
			end_ms = timeline->steps[i].end_ms;
	return end_ms;
}

struct canvas canvas_open(const struct emission *emission, const struct forecast *forecasts, struct output *output)
{
	struct canvas canvas = { .emission = emission, .forecasts = forecasts, .output = output };
	struct extent extent = extent_of(emission, forecasts, true);
	if (!isfinite(extent.low_c))
		extent = extent_of(emission, forecasts, false);
	if (!isfinite(extent.low_c))
		extent = (struct extent){ 0, 0 };
	double missing_k = fmax(LEAST_K - (extent.high_c - extent.low_c), 0);
	double margin_k = missing_k / 2 + (extent.high_c - extent.low_c + missing_k) * 0.06;
	canvas.tick_c = round_tick(extent.high_c - extent.low_c + 2 * margin_k, TEMPERATURE_TICKS_MOST);
	canvas.low_c = extent.low_c - margin_k;
	canvas.high_c = extent.high_c + margin_k;
	canvas.end_ms = last_wet_ms(emission->timeline);
	if (canvas.end_ms <= 0)
		canvas.end_ms = MINUTE_MS;
	return canvas;
}

double canvas_x(const struct canvas *canvas, double time_ms)
{
	return CANVAS_LEFT + (CANVAS_RIGHT - CANVAS_LEFT) * time_ms / (double)canvas->end_ms;
}

double canvas_y(const struct canvas *canvas, double temp_c)
{
	double share = (temp_c - canvas->low_c) / (canvas->high_c - canvas->low_c);
	return CANVAS_BOTTOM - (CANVAS_BOTTOM - CANVAS_TOP) * share;
}

bool canvas_holds(const struct canvas *canvas, double temp_c)
{
	return temp_c >= canvas->low_c && temp_c <= canvas->high_c;
}

void canvas_line(const struct canvas *canvas, double x1, double y1, double x2, double y2, const char *attributes)
{
	output_format(canvas->output, "<line x1=\"%.2f\" y1=\"%.2f\" x2=\"%.2f\" y2=\"%.2f\" stroke=\"black\"%s/>\n",
		      x1, y1, x2, y2, attributes);
}

void canvas_text(const struct canvas *canvas, double x, double y, const char *attributes, struct text text)
{
	output_format(canvas->output, "<text x=\"%.2f\" y=\"%.2f\"%s>", x, y, attributes);
	html_text(canvas->output, terminal_line(canvas->emission->arena, text));
	output_string(canvas->output, "</text>\n");
}

/* ---- axes ---- */

static void temperature_axis(const struct canvas *canvas)
{
	struct arena *arena = canvas->emission->arena;
	int decimals = canvas->tick_c >= 0.999 ? 0 : canvas->tick_c >= 0.0999 ? 1 : 2;
	int64_t first = (int64_t)ceil(canvas->low_c / canvas->tick_c - 1e-9);
	int64_t last = (int64_t)floor(canvas->high_c / canvas->tick_c + 1e-9);
	for (int64_t tick = first; tick <= last; tick++) {
		double temp_c = (double)tick * canvas->tick_c;
		double y = canvas_y(canvas, temp_c);
		canvas_line(canvas, CANVAS_LEFT - 5, y, CANVAS_LEFT, y, "");
		canvas_line(canvas, CANVAS_LEFT, y, CANVAS_RIGHT, y, " stroke-width=\"0.4\" stroke-dasharray=\"1 5\"");
		canvas_text(canvas, CANVAS_LEFT - 8, y + 4.5, " text-anchor=\"end\"",
			    text_format(arena, "%.*f", decimals, temp_c + 0.0));
	}
	canvas_text(canvas, CANVAS_LEFT - 8, CANVAS_TOP - 12, " text-anchor=\"end\"", TEXT("°C"));
}

static int64_t minutes_between_ticks(int64_t end_ms)
{
	static const int64_t rounds[] = { 1, 2, 5, 10, 15, 30, 60, 120, 240, 480, 720, 1440 };
	int64_t minutes = (end_ms + MINUTE_MS - 1) / MINUTE_MS;
	for (size_t i = 0; i < sizeof(rounds) / sizeof(rounds[0]); i++)
		if (minutes <= rounds[i] * TIME_TICKS_MOST)
			return rounds[i];
	return (minutes + TIME_TICKS_MOST - 1) / TIME_TICKS_MOST;
}

static void time_axis(const struct canvas *canvas)
{
	struct arena *arena = canvas->emission->arena;
	int64_t every = minutes_between_ticks(canvas->end_ms);
	for (int64_t minute = 0; minute * MINUTE_MS <= canvas->end_ms; minute += every) {
		double x = canvas_x(canvas, (double)(minute * MINUTE_MS));
		canvas_line(canvas, x, CANVAS_BOTTOM, x, CANVAS_BOTTOM + 5, "");
		canvas_text(canvas, x, CANVAS_BOTTOM + 19, " text-anchor=\"middle\"",
			    text_format(arena, "%" PRId64, minute));
	}
	canvas_text(canvas, CANVAS_RIGHT, CANVAS_BOTTOM + 35, " text-anchor=\"end\"",
		    TEXT("minutes since the first pour, to the earliest ends"));
}

void canvas_axes(const struct canvas *canvas)
{
	canvas_line(canvas, CANVAS_LEFT, CANVAS_TOP, CANVAS_LEFT, CANVAS_BOTTOM, "");
	canvas_line(canvas, CANVAS_LEFT, CANVAS_BOTTOM, CANVAS_RIGHT, CANVAS_BOTTOM, "");
	temperature_axis(canvas);
	time_axis(canvas);
}
