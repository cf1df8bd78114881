#include "emit/sheet/ladder.h"

#include <inttypes.h>

#include "compute/development.h"
#include "compute/reading.h"
#include "emit/sheet/words.h"

/* Lengths in px, for figures of 12 pt. */
#define FIGURES_LEFT 30	 /* of the scale, before the first rung begins */
#define HEAD 19		 /* room above the highest rung for a working point's figure */
#define FOOT 21		 /* room below the lowest one for the steps' numbers */
#define LEAST_RUNG 17	 /* between two rungs */
#define WIDEST_PLACE 38	 /* of one step */
#define PLACES_WIDTH 272 /* of all steps, where they are many */
#define LEAST_PLACE 21
#define PLACE_WITH_FIGURE 34
#define FIGURE_WIDTH 34
#define FIGURE_HEIGHT 13
#define LEAST_FRAME 4 /* a window that would be lower is a bar alone */
#define BAR 4	      /* how thick a working point is */
#define HATCH 6	      /* between two lines of hatching */

#define KELVIN 9000

struct ladder {
	const struct sheet *sheet;
	int64_t low, high, rung; /* of the scale, in 1/9000 K */
	int place;		 /* width of one step */
	int top, bottom, right;	 /* of the rungs */
	struct output *output;
};

static bool has_window(const struct sheet *sheet, size_t step)
{
	return span_is_set(development_pour_window(&sheet->process->steps[step])->span);
}

static size_t window_count(const struct sheet *sheet)
{
	size_t count = 0;
	for (size_t i = 0; i < sheet->process->step_count; i++)
		count += has_window(sheet, i);
	return count;
}

static struct temperature_window window_of(const struct sheet *sheet, size_t step)
{
	return reading_window(sheet->process->thermometer, development_pour_window(&sheet->process->steps[step]));
}

void ladder_add(struct sheet *sheet, cmark_node *banner)
{
	if (window_count(sheet) < 2)
		return;
	cmark_node *block = document_add(sheet->document, banner, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_ladder));
	cmark_node *caption = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_caption));
	sheet_strong(sheet, caption, MARK_label, TEXT("Temperatures"));
	document_string(sheet->document, caption, " by step, °C");
	cmark_node *list = document_add_list(sheet->document, block, sheet_mark(MARK_windows));
	for (size_t i = 0; i < sheet->process->step_count; i++) {
		if (!has_window(sheet, i))
			continue;
		struct text name = words_step(sheet, &sheet->process->steps[i]);
		struct text window = words_window(sheet, development_pour_window(&sheet->process->steps[i]));
		document_format(sheet->document, document_add_item(sheet->document, list, NULL), "%zu %.*s: %.*s",
				i + 1, TEXT_ARGUMENT(name), TEXT_ARGUMENT(window));
	}
}

static int place_width(const struct sheet *sheet)
{
	int count = (int)window_count(sheet);
	int place = count * WIDEST_PLACE > PLACES_WIDTH ? PLACES_WIDTH / count : WIDEST_PLACE;
	return place < LEAST_PLACE ? LEAST_PLACE : place;
}

int ladder_width(const struct sheet *sheet)
{
	int count = (int)window_count(sheet);
	return count < 2 ? 0 : FIGURES_LEFT + count * place_width(sheet) + 2;
}

/* ---- the scale ---- */

static int64_t round_down(int64_t value, int64_t unit)
{
	int64_t rest = value % unit;
	return value - (rest < 0 ? rest + unit : rest);
}

/* The scale goes from the lowest limit to the highest; its rungs are as close as their figures allow. */
static void choose_scale(struct ladder *ladder)
{
	static const int kelvins[] = { 1, 2, 5, 10, 20, 50 };
	const struct sheet *sheet = ladder->sheet;
	int64_t low = INT64_MAX, high = INT64_MIN;
	for (size_t i = 0; i < sheet->process->step_count; i++) {
		if (!has_window(sheet, i))
			continue;
		struct temperature_window window = window_of(sheet, i);
		low = window.low < low ? window.low : low;
		high = window.high > high ? window.high : high;
	}
	ladder->low = round_down(low, KELVIN / 2);
	ladder->high = round_down(high + KELVIN / 2 - 1, KELVIN / 2);
	if (ladder->high - ladder->low < KELVIN) {
		ladder->low -= KELVIN;
		ladder->high += KELVIN;
	}
	for (size_t i = 0; i < sizeof kelvins / sizeof kelvins[0]; i++) {
		ladder->rung = (int64_t)kelvins[i] * KELVIN;
		if ((ladder->high - ladder->low) * LEAST_RUNG <= (ladder->bottom - ladder->top) * ladder->rung)
			return;
	}
}

static int y_of(const struct ladder *ladder, int64_t temperature)
{
	int64_t height = ladder->bottom - ladder->top;
	int64_t span = ladder->high - ladder->low;
	return ladder->bottom - (int)(((temperature - ladder->low) * height + span / 2) / span);
}

/* ---- marks ---- */

static void draw_line(const struct ladder *ladder, const char *class_name, int x1, int y1, int x2, int y2)
{
	output_format(ladder->output, "<line class=\"%s\" x1=\"%d\" y1=\"%d\" x2=\"%d\" y2=\"%d\"/>", class_name, x1,
		      y1, x2, y2);
}

static void draw_text(const struct ladder *ladder, const char *class_name, int x, int y, struct text figure)
{
	output_format(ladder->output, "<text class=\"%s\" x=\"%d\" y=\"%d\">%.*s</text>", class_name, x, y,
		      TEXT_ARGUMENT(figure));
}

static void draw_rungs(const struct ladder *ladder)
{
	for (int64_t at = -round_down(-ladder->low, ladder->rung); at <= ladder->high; at += ladder->rung) {
		int y = y_of(ladder, at);
		draw_line(ladder, "rung", FIGURES_LEFT, y, ladder->right, y);
		draw_text(ladder, "degrees", FIGURES_LEFT - 5, y + 5,
			  text_format(ladder->sheet->arena, "%" PRId64, at / KELVIN));
	}
}

/* Lines that rise from left to right, cut off at the frame. */
static void draw_hatching(const struct ladder *ladder, int left, int right, int top, int bottom)
{
	int width = right - left, height = bottom - top;
	for (int from = HATCH - height; from < width; from += HATCH) {
		int x1 = from < 0 ? 0 : from;
		int x2 = from + height < width ? from + height : width;
		draw_line(ladder, "hatch", left + x1, bottom - (x1 - from), left + x2, bottom - (x2 - from));
	}
}

/* What the bath may have: a hatched frame. Returns its top. */
static int draw_frame(const struct ladder *ladder, const struct temperature_window *window, int middle)
{
	int half = ladder->place * 3 / 10;
	int top = y_of(ladder, window->high), bottom = y_of(ladder, window->low);
	if (bottom - top < LEAST_FRAME && window->form == WINDOW_RANGE)
		bottom = top + LEAST_FRAME;
	if (bottom - top < LEAST_FRAME)
		return top;
	output_format(ladder->output, "<rect class=\"frame\" x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\"/>",
		      middle - half, top, 2 * half, bottom - top);
	draw_hatching(ladder, middle - half, middle + half, top, bottom);
	return top;
}

/* On a blank ground, so that no rung runs through it. */
static void draw_figure(const struct ladder *ladder, int middle, int y, struct text figure)
{
	int half = FIGURE_WIDTH / 2;
	output_format(ladder->output, "<rect class=\"blank\" x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\"/>",
		      middle - half, y - FIGURE_HEIGHT, FIGURE_WIDTH, FIGURE_HEIGHT + 1);
	draw_text(ladder, "point-figure", middle, y, figure);
}

/* One step's window at its place. A figure that stands at the step before it already is not said again. */
static void draw_window(const struct ladder *ladder, size_t step, int left, struct text *last_figure)
{
	struct temperature_window window = window_of(ladder->sheet, step);
	int middle = left + ladder->place / 2;
	int top = draw_frame(ladder, &window, middle);
	struct text number = text_format(ladder->sheet->arena, "%zu", step + 1);
	struct text figure = TEXT("");
	draw_text(ladder, "step-number", middle, ladder->bottom + FOOT - 5, number);
	if (window.form != WINDOW_RANGE) {
		int y = y_of(ladder, window.nominal), half = ladder->place * 2 / 5;
		output_format(ladder->output, "<rect class=\"point\" x=\"%d\" y=\"%d\" width=\"%d\" height=\"%d\"/>",
			      middle - half, y - BAR / 2, 2 * half, BAR);
		figure = words_figure(quantity_print_temperature(ladder->sheet->arena, window.nominal));
		top = top < y - BAR / 2 ? top : y - BAR / 2;
		if (ladder->place >= PLACE_WITH_FIGURE && !text_equal(figure, *last_figure))
			draw_figure(ladder, middle, top - 4, figure);
	}
	*last_figure = figure;
}

void ladder_draw(const struct sheet *sheet, int height, struct output *output)
{
	int width = ladder_width(sheet);
	if (width == 0)
		return;
	struct ladder ladder = {
		.sheet = sheet,
		.place = place_width(sheet),
		.top = HEAD,
		.bottom = height - FOOT,
		.right = width - 2,
		.output = output,
	};
	choose_scale(&ladder);
	output_format(output, "<svg class=\"rungs\" width=\"%d\" height=\"%d\" role=\"img\"", width, height);
	output_string(output, " aria-label=\"Temperature windows of the steps on one scale, listed below\">");
	draw_rungs(&ladder);
	struct text last_figure = TEXT("");
	for (size_t i = 0, place = 0; i < sheet->process->step_count; i++)
		if (has_window(sheet, i))
			draw_window(&ladder, i, FIGURES_LEFT + (int)place++ * ladder.place, &last_figure);
	output_string(output, "</svg>\n");
}
