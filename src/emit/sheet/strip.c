/* A step as a strip to scale: the level in the tank over time. It rises with the pour, stands, falls with the drain;
 * agitation is solid, filling and draining are hatched, taps are dots above. Across the page in per cent, so that one
 * picture fits every width without its figures being stretched. */
#include <inttypes.h>

#include "emit/sheet/words.h"

/* A step longer than this is told in words only: it would squeeze all others. */
#define LONGEST_DRAWN_MS (20 * 60 * MILLISECONDS_PER_SECOND)

#define MINUTE_MS (60 * (int64_t)MILLISECONDS_PER_SECOND)

/* How much of what follows an open end is drawn. */
#define OPEN_END_MS (15 * (int64_t)MILLISECONDS_PER_SECOND)

/* From this share of the page's width on, in thousandths, words stand below a strip, not beside it. */
#define LONG_STRIP 750

/* Heights in per cent of the picture above the ruler: the tap's dot, the full level, the ground on which the tank stands. */
#define DOT_Y 8
#define TOP_Y 22
#define GROUND_Y 100

/* The same of the ruler: its ticks and figures. */
#define HALF_TICK_Y 14
#define TICK_Y 24
#define FIGURE_Y 98

/* Lines of hatching in a pour or drain. */
#define HATCHES 5

struct canvas {
	const struct sheet *sheet;
	const struct timeline_step *at;
	int64_t span_ms; /* what the whole width of this strip stands for */
	struct output *output;
};

/* ---- scale ---- */

static int64_t drawn_end_ms(const struct timeline_step *at)
{
	return at->latest_end_ms != TIMELINE_NEVER && at->latest_end_ms > at->end_ms ? at->latest_end_ms : at->end_ms;
}

static bool is_drawn(const struct timeline_step *at)
{
	int64_t length_ms = drawn_end_ms(at) - at->pour_ms;
	return at->is_wet && length_ms > 0 && length_ms <= LONGEST_DRAWN_MS;
}

bool strip_is_drawn(const struct sheet *sheet, size_t step)
{
	return is_drawn(&sheet->timeline->steps[step]);
}

/* Behind an open end the strip goes on for a little. */
static int64_t span_ms(const struct sheet *sheet, size_t step)
{
	const struct timeline_step *at = &sheet->timeline->steps[step];
	int64_t length_ms = drawn_end_ms(at) - at->pour_ms;
	bool is_open = sheet->timeline->steps[step].time.form == TIME_AT_LEAST;
	return is_open ? length_ms + OPEN_END_MS : length_ms;
}

int64_t strip_scale(const struct sheet *sheet)
{
	int64_t longest_ms = 1;
	for (size_t i = 0; i < sheet->timeline->step_count; i++)
		if (strip_is_drawn(sheet, i) && span_ms(sheet, i) > longest_ms)
			longest_ms = span_ms(sheet, i);
	return longest_ms;
}

int strip_share(const struct sheet *sheet, size_t step)
{
	return strip_is_drawn(sheet, step) ? (int)(span_ms(sheet, step) * 1000 / sheet->scale_ms) : 0;
}

/* ---- marks on the canvas; times since the run's start ---- */

static void write_percent(const struct canvas *canvas, const char *name, int64_t length_ms)
{
	int64_t thousandths = length_ms * 100000 / canvas->span_ms;
	if (thousandths < 0)
		thousandths = 0;
	output_format(canvas->output, " %s=\"%" PRId64 ".%03" PRId64 "%%\"", name, thousandths / 1000, thousandths % 1000);
}

static void write_x(const struct canvas *canvas, const char *name, int64_t time_ms)
{
	write_percent(canvas, name, time_ms - canvas->at->pour_ms);
}

static void draw_line(const struct canvas *canvas, const char *class_name, int64_t from_ms, int from_y, int64_t to_ms, int to_y)
{
	output_format(canvas->output, "<line class=\"%s\"", class_name);
	write_x(canvas, "x1", from_ms);
	write_x(canvas, "x2", to_ms);
	output_format(canvas->output, " y1=\"%d%%\" y2=\"%d%%\"/>", from_y, to_y);
}

static void draw_figure(const struct canvas *canvas, const char *class_name, int64_t time_ms, struct text figure)
{
	output_format(canvas->output, "<text class=\"%s\"", class_name);
	write_x(canvas, "x", time_ms);
	output_format(canvas->output, " y=\"%d%%\">%.*s</text>", FIGURE_Y, TEXT_ARGUMENT(figure));
}

/* Lines under a slope that rises or falls between two times. */
static void draw_hatching(const struct canvas *canvas, int64_t low_ms, int64_t high_ms)
{
	for (int i = 1; i <= HATCHES; i++) {
		int64_t at_ms = low_ms + (high_ms - low_ms) * i / (HATCHES + 1);
		int y = GROUND_Y - (GROUND_Y - TOP_Y) * i / (HATCHES + 1);
		draw_line(canvas, "hatch", at_ms, GROUND_Y, at_ms, y);
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
	draw_line(canvas, "level", at->pour_ms, GROUND_Y, full_ms, TOP_Y);
	draw_line(canvas, "level", full_ms, TOP_Y, at->drain_ms, TOP_Y);
	draw_line(canvas, "level", at->drain_ms, TOP_Y, at->end_ms, GROUND_Y);
	draw_line(canvas, "level", at->pour_ms, GROUND_Y, at->end_ms, GROUND_Y);
}

static void draw_agitation(const struct canvas *canvas)
{
	const struct timeline_step *at = canvas->at;
	for (size_t i = 0; i < at->agitation_count; i++) {
		struct interval agitation = at->agitations[i];
		output_string(canvas->output, "<rect class=\"agitation\"");
		write_x(canvas, "x", agitation.start_ms);
		write_percent(canvas, "width", agitation.end_ms - agitation.start_ms);
		output_format(canvas->output, " y=\"%d%%\" height=\"%d%%\"/>", TOP_Y, GROUND_Y - TOP_Y);
		if (!at->taps)
			continue;
		output_string(canvas->output, "<circle class=\"tap\"");
		write_x(canvas, "cx", at->taps[i].start_ms + (at->taps[i].end_ms - at->taps[i].start_ms) / 2);
		output_format(canvas->output, " cy=\"%d%%\" r=\"2.2\"/>", DOT_Y);
	}
}

/* What may come after the earliest end: up to the latest, or on and on. */
static void draw_beyond(const struct canvas *canvas)
{
	const struct timeline_step *at = canvas->at;
	if (at->latest_end_ms != TIMELINE_NEVER && at->latest_end_ms > at->end_ms) {
		draw_line(canvas, "beyond", at->drain_ms, TOP_Y, at->latest_end_ms, TOP_Y);
		draw_line(canvas, "beyond", at->latest_end_ms, TOP_Y, at->latest_end_ms, GROUND_Y);
		draw_line(canvas, "beyond", at->end_ms, GROUND_Y, at->latest_end_ms, GROUND_Y);
	} else if (canvas->at->time.form == TIME_AT_LEAST) {
		int64_t on_ms = at->end_ms + OPEN_END_MS;
		draw_line(canvas, "beyond", at->drain_ms, TOP_Y, on_ms, TOP_Y);
		draw_line(canvas, "beyond", at->end_ms, GROUND_Y, on_ms, GROUND_Y);
	}
}

static void draw_light(const struct canvas *canvas)
{
	int64_t light_ms = canvas->at->light_ms;
	if (light_ms == TIMELINE_NEVER)
		return;
	draw_line(canvas, "light", light_ms, 0, light_ms, GROUND_Y);
	output_string(canvas->output, "<circle class=\"lamp\"");
	write_x(canvas, "cx", light_ms);
	output_format(canvas->output, " cy=\"%d%%\" r=\"4\"/>", DOT_Y);
}

/* ---- the ruler: whole minutes of the step's time ---- */

static int64_t figure_every_ms(int64_t scale_ms)
{
	static const int64_t minutes[] = { 1, 2, 5 };
	for (size_t i = 0; i < sizeof minutes / sizeof minutes[0]; i++)
		if (scale_ms <= minutes[i] * 12 * MINUTE_MS)
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
		draw_line(canvas, "mark", time_ms, 0, time_ms, since_ms % MINUTE_MS == 0 ? TICK_Y : HALF_TICK_Y);
		int64_t off_ms = time_ms - at->drain_ms;
		bool is_hidden = at->is_poured && (off_ms < 0 ? -off_ms : off_ms) < scale_ms / 18;
		if (since_ms % every_ms != 0 || is_hidden)
			continue;
		bool is_odd = since_ms / every_ms % 2 == 1;
		struct text minute = text_format(canvas->sheet->arena, "%" PRId64, since_ms / MINUTE_MS);
		draw_figure(canvas, since_ms == 0 ? "zero" : is_odd ? "minute odd" : "minute", time_ms, minute);
	}
	if (at->is_poured) {
		draw_line(canvas, "now", at->drain_ms, 0, at->drain_ms, TICK_Y);
		struct text drain = quantity_print_duration(canvas->sheet->arena, timeline_seconds(at->drain_ms - at->start_ms) *
											  MILLISECONDS_PER_SECOND);
		/* At the edge of the page the figure would stick out. */
		bool is_last = (at->drain_ms - at->pour_ms) * 100 > scale_ms * 97;
		draw_figure(canvas, is_last ? "drain last" : "drain", at->drain_ms, drain);
	}
}

bool strip_is_long(const struct sheet *sheet, size_t step)
{
	return strip_share(sheet, step) > LONG_STRIP;
}

void strip_draw(const struct sheet *sheet, size_t step, struct output *output)
{
	if (!strip_is_drawn(sheet, step))
		return;
	const struct canvas canvas = {
		.sheet = sheet,
		.at = &sheet->timeline->steps[step],
		.span_ms = span_ms(sheet, step),
		.output = output,
	};
	int share = strip_share(sheet, step);
	output_format(output, "<svg class=\"strip%s\" width=\"%d.%d%%\" role=\"img\" aria-label=\"Strip of step %zu, to scale\">",
		      strip_is_long(sheet, step) ? " long" : "", share / 10, share % 10, step + 1);
	/* Heights are set by the style sheet; the attributes serve where it cannot. */
	output_string(output, "<svg class=\"tank\" height=\"56%\">");
	draw_agitation(&canvas);
	draw_beyond(&canvas);
	draw_level(&canvas);
	draw_light(&canvas);
	output_string(output, "</svg><svg class=\"ruler\" y=\"56%\" height=\"44%\">");
	draw_ruler(&canvas);
	output_string(output, "</svg></svg>\n");
}
