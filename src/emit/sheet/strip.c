/* A step as a strip to scale: the level in the tank over time. It rises with the pour, stands, falls with the drain;
 * agitation is solid, filling and draining are hatched, taps are dots above. Across the page in per cent, so that one
 * picture fits every width without its figures being stretched. */
#include <inttypes.h>

#include "emit/sheet/words.h"

/* A step longer than these is told in words only, so that it does not squeeze the others: the longer of the first and
 * so many times the longest step that develops or is agitated, but the second at the most. */
#define ALWAYS_DRAWN_MS (10 * 60 * (int64_t)MILLISECONDS_PER_SECOND)
#define LONGEST_DRAWN_MS (20 * 60 * (int64_t)MILLISECONDS_PER_SECOND)
#define DRAWN_TIMES 2

#define MINUTE_MS (60 * (int64_t)MILLISECONDS_PER_SECOND)

/* How much of what follows an open end is drawn. */
#define OPEN_END_MS (15 * (int64_t)MILLISECONDS_PER_SECOND)

/* Heights in per cent of the picture above the ruler, from its top: the tap's dot and the full level. */
#define DOT_PERCENT 8
#define TOP_PERCENT 22

/* The ruler below it, in px: its height with figures of 12 pt, and the lengths of its ticks. */
#define RULER_HEIGHT 17
#define HALF_TICK 2
#define TICK 4

/* Lines of hatching in a pour or drain. */
#define HATCHES 4

/* The ruler has so many figures at the most, and none nearer to that of the drain than this part of the whole width;
 * nearer to an end than this part of it, that of the drain begins or ends there. */
#define MOST_FIGURES 7
#define NEAREST_FIGURE 5
#define EDGE 13

struct canvas {
	const struct sheet *sheet;
	const struct timeline_step *at;
	int64_t span_ms;		    /* what the whole width of this strip stands for */
	int64_t length_ms;		    /* from the pour to where the strip ends */
	int dot_y, top_y, ground_y, height; /* in px */
	struct output *output;
};

/* ---- scale ---- */

static int64_t drawn_end_ms(const struct timeline_step *at)
{
	return at->latest_end_ms != TIMELINE_NEVER && at->latest_end_ms > at->end_ms ? at->latest_end_ms : at->end_ms;
}

static int64_t drawn_ms(const struct timeline_step *at)
{
	return drawn_end_ms(at) - at->pour_ms;
}

/* Steps in which something happens between pour and drain set the measure for those in which water runs. */
static int64_t longest_drawn_ms(const struct sheet *sheet)
{
	int64_t longest_ms = ALWAYS_DRAWN_MS;
	for (size_t i = 0; i < sheet->timeline->step_count; i++) {
		const struct timeline_step *at = &sheet->timeline->steps[i];
		bool is_worked = at->agitation_count > 0 || role_develops(sheet->process->steps[i].role);
		if (is_worked && drawn_ms(at) * DRAWN_TIMES > longest_ms)
			longest_ms = drawn_ms(at) * DRAWN_TIMES;
	}
	return longest_ms < LONGEST_DRAWN_MS ? longest_ms : LONGEST_DRAWN_MS;
}

bool strip_is_drawn(const struct sheet *sheet, size_t step)
{
	const struct timeline_step *at = &sheet->timeline->steps[step];
	return at->is_wet && drawn_ms(at) > 0 && drawn_ms(at) <= sheet->longest_drawn_ms;
}

/* Behind an open end the strip goes on for a little. */
static int64_t length_ms(const struct sheet *sheet, size_t step)
{
	const struct timeline_step *at = &sheet->timeline->steps[step];
	return at->time.form == TIME_AT_LEAST ? drawn_ms(at) + OPEN_END_MS : drawn_ms(at);
}

void strip_set_scale(struct sheet *sheet)
{
	sheet->longest_drawn_ms = longest_drawn_ms(sheet);
	sheet->scale_ms = 1;
	for (size_t i = 0; i < sheet->timeline->step_count; i++)
		if (strip_is_drawn(sheet, i) && length_ms(sheet, i) > sheet->scale_ms)
			sheet->scale_ms = length_ms(sheet, i);
}

/* How much of the column's width a step's strip takes, in whole per cent, rounded up; 0 where it has none. */
static int strip_percent(const struct sheet *sheet, size_t step)
{
	if (!strip_is_drawn(sheet, step))
		return 0;
	int64_t hundredfold = length_ms(sheet, step) * 100;
	return (int)(hundredfold / sheet->scale_ms + (hundredfold % sheet->scale_ms > 0));
}

/* ---- marks on the canvas; times since the run's start ---- */

/* Of the whole width, in 1/1000 of a per cent. */
static int64_t thousandths_of(const struct canvas *canvas, int64_t span_ms)
{
	int64_t thousandths = span_ms * 100000 / canvas->span_ms;
	return thousandths < 0 ? 0 : thousandths;
}

static void write_percent(const struct canvas *canvas, const char *name, int64_t span_ms)
{
	int64_t thousandths = thousandths_of(canvas, span_ms);
	output_format(canvas->output, " %s=\"%" PRId64 ".%03" PRId64 "%%\"", name, thousandths / 1000,
		      thousandths % 1000);
}

static void write_x(const struct canvas *canvas, const char *name, int64_t time_ms)
{
	write_percent(canvas, name, time_ms - canvas->at->pour_ms);
}

static void draw_line(const struct canvas *canvas, const char *class_name, int64_t from_ms, int from_y, int64_t to_ms,
		      int to_y)
{
	int64_t x1 = thousandths_of(canvas, from_ms - canvas->at->pour_ms);
	int64_t x2 = to_ms == from_ms ? x1 : thousandths_of(canvas, to_ms - canvas->at->pour_ms);
	output_format(canvas->output,
		      "<line class=\"%s\" x1=\"%" PRId64 ".%03" PRId64 "%%\" x2=\"%" PRId64 ".%03" PRId64
		      "%%\" y1=\"%d\" y2=\"%d\"/>",
		      class_name, x1 / 1000, x1 % 1000, x2 / 1000, x2 % 1000, from_y, to_y);
}

static void draw_figure(const struct canvas *canvas, const char *class_name, int64_t time_ms, struct text figure)
{
	output_format(canvas->output, "<text class=\"%s\"", class_name);
	write_x(canvas, "x", time_ms);
	output_format(canvas->output, " y=\"%d\">%.*s</text>", canvas->height - 1, TEXT_ARGUMENT(figure));
}

/* Lines under a slope that rises or falls between two times. */
static void draw_hatching(const struct canvas *canvas, int64_t low_ms, int64_t high_ms)
{
	for (int i = 1; i <= HATCHES; i++) {
		int64_t at_ms = low_ms + (high_ms - low_ms) * i / (HATCHES + 1);
		int y = canvas->ground_y - (canvas->ground_y - canvas->top_y) * i / (HATCHES + 1);
		draw_line(canvas, "hatch", at_ms, canvas->ground_y, at_ms, y);
	}
}

static void draw_level(const struct canvas *canvas)
{
	const struct timeline_step *at = canvas->at;
	int64_t full_ms = at->full_ms < at->drain_ms ? at->full_ms : at->drain_ms;
	if (full_ms > at->pour_ms)
		draw_hatching(canvas, at->pour_ms, full_ms);
	if (at->end_ms > at->drain_ms)
		draw_hatching(canvas, at->end_ms, at->drain_ms);
	draw_line(canvas, "level", at->pour_ms, canvas->ground_y, full_ms, canvas->top_y);
	draw_line(canvas, "level", full_ms, canvas->top_y, at->drain_ms, canvas->top_y);
	draw_line(canvas, "level", at->drain_ms, canvas->top_y, at->end_ms, canvas->ground_y);
	draw_line(canvas, "level", at->pour_ms, canvas->ground_y, at->end_ms, canvas->ground_y);
}

/* The level in the tank, in px from the top. */
static int level_y(const struct canvas *canvas, int64_t time_ms)
{
	const struct timeline_step *at = canvas->at;
	int64_t depth = canvas->ground_y - canvas->top_y;
	if (time_ms < at->full_ms && at->full_ms > at->pour_ms)
		return canvas->ground_y - (int)(depth * (time_ms - at->pour_ms) / (at->full_ms - at->pour_ms));
	if (time_ms > at->drain_ms && at->end_ms > at->drain_ms)
		return canvas->top_y + (int)(depth * (time_ms - at->drain_ms) / (at->end_ms - at->drain_ms));
	return canvas->top_y;
}

static void draw_block(const struct canvas *canvas, int64_t from_ms, int64_t to_ms, int top_y)
{
	output_string(canvas->output, "<rect class=\"agitation\"");
	write_x(canvas, "x", from_ms);
	write_percent(canvas, "width", to_ms - from_ms);
	output_format(canvas->output, " y=\"%d\" height=\"%d\"/>", top_y, canvas->ground_y - top_y);
}

/* Solid as high as the tank is full: in steps of a second while it fills or drains. What is past the end of the step
 * has no bath to move in; there may be years of it. */
static void draw_agitation(const struct canvas *canvas, struct interval agitation)
{
	int64_t from_ms = agitation.start_ms;
	int64_t past_ms = agitation.end_ms < canvas->at->end_ms ? agitation.end_ms : canvas->at->end_ms;
	while (from_ms < past_ms) {
		int64_t to_ms = from_ms + MILLISECONDS_PER_SECOND;
		int top_y = level_y(canvas, from_ms + MILLISECONDS_PER_SECOND / 2);
		if (from_ms >= canvas->at->full_ms && from_ms < canvas->at->drain_ms) {
			to_ms = canvas->at->drain_ms;
			top_y = canvas->top_y;
		}
		if (to_ms > past_ms)
			to_ms = past_ms;
		draw_block(canvas, from_ms, to_ms, top_y);
		from_ms = to_ms;
	}
}

static void draw_agitations(const struct canvas *canvas)
{
	const struct timeline_step *at = canvas->at;
	for (size_t i = 0; i < at->agitation_count; i++) {
		draw_agitation(canvas, at->agitations[i]);
		if (!at->taps)
			continue;
		output_string(canvas->output, "<circle class=\"tap\"");
		write_x(canvas, "cx", at->taps[i].start_ms + (at->taps[i].end_ms - at->taps[i].start_ms) / 2);
		output_format(canvas->output, " cy=\"%d\" r=\"2.2\"/>", canvas->dot_y);
	}
}

/* What may come after the earliest end: up to the latest, or on and on. */
static void draw_beyond(const struct canvas *canvas)
{
	const struct timeline_step *at = canvas->at;
	if (at->latest_end_ms != TIMELINE_NEVER && at->latest_end_ms > at->end_ms) {
		draw_line(canvas, "beyond", at->drain_ms, canvas->top_y, at->latest_end_ms, canvas->top_y);
		draw_line(canvas, "beyond", at->latest_end_ms, canvas->top_y, at->latest_end_ms, canvas->ground_y);
		draw_line(canvas, "beyond", at->end_ms, canvas->ground_y, at->latest_end_ms, canvas->ground_y);
	} else if (canvas->at->time.form == TIME_AT_LEAST) {
		int64_t on_ms = at->end_ms + OPEN_END_MS;
		draw_line(canvas, "beyond", at->drain_ms, canvas->top_y, on_ms, canvas->top_y);
		draw_line(canvas, "beyond", at->end_ms, canvas->ground_y, on_ms, canvas->ground_y);
	}
}

/* Where a step may last longer, light may wait for a moment that is behind the drawn part; words tell it. */
static void draw_light(const struct canvas *canvas)
{
	int64_t light_ms = canvas->at->light_ms;
	if (light_ms == TIMELINE_NEVER || light_ms - canvas->at->pour_ms > canvas->length_ms)
		return;
	draw_line(canvas, "light", light_ms, 0, light_ms, canvas->ground_y);
	output_string(canvas->output, "<circle class=\"lamp\"");
	write_x(canvas, "cx", light_ms);
	output_format(canvas->output, " cy=\"%d\" r=\"4\"/>", canvas->dot_y);
}

/* ---- the ruler: whole minutes of the step's time ---- */

static int64_t figure_every_ms(int64_t scale_ms)
{
	static const int64_t minutes[] = { 1, 2, 5 };
	for (size_t i = 0; i < sizeof minutes / sizeof minutes[0]; i++)
		if (scale_ms <= minutes[i] * MOST_FIGURES * MINUTE_MS)
			return minutes[i] * MINUTE_MS;
	return 10 * MINUTE_MS;
}

static void draw_ruler(const struct canvas *canvas)
{
	const struct timeline_step *at = canvas->at;
	int64_t scale_ms = canvas->sheet->scale_ms;
	int64_t every_ms = figure_every_ms(scale_ms);
	int64_t end_ms = drawn_end_ms(at);
	int64_t tick_ms = scale_ms <= 12 * MINUTE_MS ? MINUTE_MS / 2 : MINUTE_MS;
	for (int64_t time_ms = at->start_ms; time_ms <= end_ms; time_ms += tick_ms) {
		int64_t since_ms = time_ms - at->start_ms;
		int tick = since_ms % MINUTE_MS == 0 ? TICK : HALF_TICK;
		draw_line(canvas, "mark", time_ms, canvas->ground_y, time_ms, canvas->ground_y + tick);
		int64_t off_ms = time_ms - at->drain_ms;
		bool is_hidden = at->is_poured && (off_ms < 0 ? -off_ms : off_ms) < scale_ms / NEAREST_FIGURE;
		if (since_ms % every_ms != 0 || is_hidden)
			continue;
		bool is_odd = since_ms / every_ms % 2 == 1;
		struct text minute = text_format(canvas->sheet->arena, "%" PRId64, since_ms / MINUTE_MS);
		draw_figure(canvas, since_ms == 0 ? "zero" : is_odd ? "minute odd" : "minute", time_ms, minute);
	}
	if (at->is_poured) {
		draw_line(canvas, "now", at->drain_ms, canvas->ground_y, at->drain_ms, canvas->ground_y + TICK);
		struct text drain =
			quantity_print_duration(canvas->sheet->arena, timeline_seconds(at->drain_ms - at->start_ms) *
									      MILLISECONDS_PER_SECOND);
		/* At the edges of the column the figure would stick out. */
		bool is_first = at->drain_ms - at->pour_ms < scale_ms / EDGE;
		bool is_last = scale_ms - (at->drain_ms - at->pour_ms) < scale_ms / EDGE;
		draw_figure(canvas, is_first ? "drain first" : is_last ? "drain last" : "drain", at->drain_ms, drain);
	}
}

void strip_draw(const struct sheet *sheet, size_t step, int height, struct output *output)
{
	int percent = strip_percent(sheet, step);
	if (percent == 0)
		return;
	int ground_y = height - RULER_HEIGHT;
	const struct canvas canvas = {
		.sheet = sheet,
		.at = &sheet->timeline->steps[step],
		.span_ms = sheet->scale_ms * percent / 100,
		.length_ms = length_ms(sheet, step),
		.dot_y = ground_y * DOT_PERCENT / 100,
		.top_y = ground_y * TOP_PERCENT / 100,
		.ground_y = ground_y,
		.height = height,
		.output = output,
	};
	output_format(output, "<svg class=\"strip\" width=\"%d%%\" height=\"%d\"", percent, height);
	output_format(output, " role=\"img\" aria-label=\"Strip of step %zu, to scale\">", step + 1);
	draw_agitations(&canvas);
	draw_beyond(&canvas);
	draw_level(&canvas);
	draw_light(&canvas);
	draw_ruler(&canvas);
	output_string(output, "</svg>\n");
}
