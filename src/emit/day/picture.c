#include "emit/day/picture.h"

#include <inttypes.h>
#include <math.h>

#include "emit/day/wall.h"
#include "emit/escape/html.h"
#include "emit/escape/terminal.h"
#include "model/date.h"
#include "support/utf8.h"

/* The drawing, in its own units. */
#define WIDTH 960
#define LEFT 122
#define RIGHT 952
#define ROW_HEIGHT 34
#define DRYER_HEIGHT 56
#define AXIS_HEIGHT 30
#define HOURS_ABOVE 6
#define HOUR_HALF_WIDTH 28 /* of the first hour's figures, and a gap */
#define BAND_GAP 16
#define KEY_HEIGHT 58

/* So many hours at the most stand in one band. */
#define BAND_MOST_S (5 * 60 * 60)

/* Five days; what is longer has as many bands, which are longer, and lines further apart. */
#define BANDS_MOST 24

#define LINE_S (30 * 60)

#define NAME_COLUMNS 14

struct picture {
	const struct emission *emission;
	const struct day_plan *plan;
	struct output *output;
	const struct parts_stay *dryer; /* when the rolls of each load are in it; likewise: */
	const struct parts_stay *tank;
	int64_t band_s;	      /* how long a band is */
	int64_t from_s, to_s; /* of the band that is drawn */
	double top;
};

/* How a kind of task of the hands is filled. */
static const char *fill_of(enum plan_task_kind kind)
{
	switch (kind) {
	case PLAN_TASK_mix:
	case PLAN_TASK_test:
		return "url(#day-dots)";
	case PLAN_TASK_load:
		return "black";
	case PLAN_TASK_run:
		return "white";
	case PLAN_TASK_hang:
	case PLAN_TASK_take_down:
		return "url(#day-hatch)";
	default:
		return "url(#day-lines)";
	}
}

/* ---- marks ---- */

static double x_of(const struct picture *picture, int64_t at_s)
{
	return LEFT + (RIGHT - LEFT) * (double)(at_s - picture->from_s) / (double)picture->band_s;
}

static void put_text(const struct picture *picture, double x, double y, const char *attributes, struct text text)
{
	output_format(picture->output, "<text x=\"%.2f\" y=\"%.2f\"%s>", x, y, attributes);
	html_text(picture->output, terminal_line(picture->emission->arena, text));
	output_string(picture->output, "</text>\n");
}

static void put_line(const struct picture *picture, double x1, double y1, double x2, double y2, const char *attributes)
{
	output_format(picture->output, "<line x1=\"%.2f\" y1=\"%.2f\" x2=\"%.2f\" y2=\"%.2f\" stroke=\"black\"%s/>\n",
		      x1, y1, x2, y2, attributes);
}

/* The part of a stretch of time that lies in the band; false where none does. */
static bool cut_to_band(const struct picture *picture, int64_t *from_s, int64_t *to_s)
{
	*from_s = *from_s > picture->from_s ? *from_s : picture->from_s;
	*to_s = *to_s < picture->to_s ? *to_s : picture->to_s;
	return *from_s < *to_s;
}

/* A box over a stretch of time. */
static void put_box(const struct picture *picture, int64_t from_s, int64_t to_s, double y, double height,
		    const char *attributes)
{
	if (!cut_to_band(picture, &from_s, &to_s))
		return;
	double x = x_of(picture, from_s);
	output_format(picture->output,
		      "<rect x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"%.2f\" stroke=\"black\" %s/>\n", x, y,
		      x_of(picture, to_s) - x, height, attributes);
}

/* Words in the middle of a stretch of time, on white, where there is room for them. */
static void put_words(const struct picture *picture, int64_t from_s, int64_t to_s, double y, struct text words)
{
	double width = 9.5 * (double)utf8_columns(words) + 5;
	if (words.length == 0 || !cut_to_band(picture, &from_s, &to_s))
		return;
	double left = x_of(picture, from_s), room = x_of(picture, to_s) - left;
	if (room < width + 3)
		return;
	output_format(picture->output,
		      "<rect x=\"%.2f\" y=\"%.2f\" width=\"%.2f\" height=\"18\" fill=\"white\" rx=\"3\"/>\n",
		      left + (room - width) / 2, y - 14, width);
	put_text(picture, left + room / 2, y, " text-anchor=\"middle\"", words);
}

/* The name of a row, cut to the room there is. */
static void put_name(const struct picture *picture, double y, struct text name)
{
	struct text line = terminal_line(picture->emission->arena, name);
	size_t columns = 0, length = 0;
	while (length < line.length && columns < NAME_COLUMNS) {
		int32_t character;
		int taken = utf8_decode((struct text){ line.data + length, line.length - length }, &character);
		columns += taken > 0 ? (size_t)utf8_width(character) : 1;
		length += taken > 0 ? (size_t)taken : 1;
	}
	put_text(picture, LEFT - 8, y, " text-anchor=\"end\"",
		 text_format(picture->emission->arena, "%.*s%s", (int)length, line.data,
			     length < line.length ? "…" : ""));
}

/* ---- rows ---- */

static struct text load_number(const struct picture *picture, size_t load)
{
	if (load >= picture->plan->load_count)
		return TEXT("");
	return text_format(picture->emission->arena, "%zu", picture->plan->loads[load].number);
}

static void draw_hands(const struct picture *picture, double y)
{
	const struct day_plan *plan = picture->plan;
	put_name(picture, y + 22, TEXT("Hands"));
	for (size_t i = 0; i < plan->task_count; i++) {
		const struct plan_task *task = &plan->tasks[i];
		if (task->kind == PLAN_TASK_rest) {
			put_box(picture, task->start_s, task->end_s, y + 3, ROW_HEIGHT - 6,
				"fill=\"none\" stroke-dasharray=\"4 3\"");
			put_words(picture, task->start_s, task->end_s, y + 22, TEXT("break"));
		}
		if (!task->needs_hands)
			continue;
		put_box(picture, task->start_s, task->end_s, y + 3, ROW_HEIGHT - 6,
			text_format(picture->emission->arena, "fill=\"%s\"", fill_of(task->kind)).data);
		put_words(picture, task->start_s, task->end_s, y + 22, load_number(picture, task->load));
	}
}

static void draw_tank(const struct picture *picture, size_t tank, double y)
{
	const struct day_plan *plan = picture->plan;
	put_name(picture, y + 22, text_format(picture->emission->arena, "Tank %zu", tank + 1));
	for (size_t i = 0; i < plan->load_count; i++) {
		const struct plan_load *load = &plan->loads[i];
		struct parts_stay stay = picture->tank[i];
		if (!load->is_today || parts_tank_of(plan, load) != tank || !stay.is_there)
			continue;
		put_box(picture, stay.from_s, stay.to_s, y + 3, ROW_HEIGHT - 6, "fill=\"none\"");
		put_box(picture, load->pour_s, load->out_s, y + 3, ROW_HEIGHT - 6, "fill=\"url(#day-water)\"");
		put_words(picture, stay.from_s, stay.to_s, y + 22,
			  text_format(picture->emission->arena, "load %zu", load->number));
	}
}

typedef struct parts_stay stay_of_load(const struct day_plan *plan, const struct plan_load *load);

/* Of each load, asked once: every band needs them all. */
static const struct parts_stay *all_stays(const struct emission *emission, stay_of_load *stay_of)
{
	const struct day_plan *plan = emission->plan;
	struct parts_stay *stays = ARENA_ARRAY(emission->arena, struct parts_stay, plan->load_count);
	for (size_t i = 0; i < plan->load_count; i++)
		stays[i] = stay_of(plan, &plan->loads[i]);
	return stays;
}

static size_t rolls_in_dryer(const struct picture *picture, int64_t at_s)
{
	size_t count = 0;
	for (size_t i = 0; i < picture->plan->load_count; i++) {
		const struct parts_stay *stay = &picture->dryer[i];
		if (stay->is_there && stay->from_s <= at_s && at_s < stay->to_s)
			count += picture->plan->loads[i].place_count;
	}
	return count;
}

/* The next moment after `at_s` at which what hangs in the dryer may change; the band's end where there is none. */
static int64_t next_change(const struct picture *picture, int64_t at_s)
{
	int64_t next_s = picture->to_s;
	for (size_t i = 0; i < picture->plan->load_count; i++) {
		const struct parts_stay *stay = &picture->dryer[i];
		if (stay->is_there && stay->from_s > at_s && stay->from_s < next_s)
			next_s = stay->from_s;
		if (stay->is_there && stay->to_s > at_s && stay->to_s < next_s)
			next_s = stay->to_s;
	}
	return next_s;
}

/* How many rolls hang there, as a staircase; the dashed line above is how many there is room for. */
static void draw_dryer(const struct picture *picture, double y)
{
	const struct dryer *dryer = picture->plan->day->dryer;
	double places = fmax((double)dryer->takes_rolls.value, 1);
	double scale = (DRYER_HEIGHT - 8) / fmax(places, (double)picture->plan->dryer_most);
	double bottom = y + DRYER_HEIGHT;
	put_name(picture, y + 26, parts_title(picture->emission, &dryer->declared));
	put_name(picture, y + 44, text_format(picture->emission->arena, "%.0f places", places));
	put_line(picture, LEFT, bottom - places * scale, RIGHT, bottom - places * scale, " stroke-dasharray=\"6 4\"");
	for (int64_t at_s = picture->from_s; at_s < picture->to_s;) {
		int64_t until_s = next_change(picture, at_s);
		size_t rolls = rolls_in_dryer(picture, at_s);
		if (rolls > 0) {
			put_box(picture, at_s, until_s, bottom - (double)rolls * scale, (double)rolls * scale,
				"fill=\"url(#day-hatch)\"");
			put_words(picture, at_s, until_s, bottom - 6,
				  text_format(picture->emission->arena, "%zu", rolls));
		}
		at_s = until_s;
	}
}

/* ---- bands ---- */

/* Left of the hours, the date on which a band begins, where it is another than the day's. */
static void draw_date(const struct picture *picture, double y)
{
	int64_t date = wall_at(picture->plan->day, picture->from_s).date;
	if (date != picture->plan->day->date)
		put_text(picture, LEFT - HOUR_HALF_WIDTH, y, " text-anchor=\"end\" font-weight=\"bold\"",
			 wall_short_date(picture->emission->arena, picture->plan, date));
}

/* "13:00"; at midnight, within a band, the day that begins. */
static struct text hour_words(const struct picture *picture, int64_t at_s)
{
	struct wall at = wall_at(picture->plan->day, at_s);
	if (at.second == 0 && at_s > picture->from_s)
		return text_from(date_weekday(at.date));
	return wall_hour(picture->emission->arena, picture->plan->day, at_s);
}

static void draw_hours(const struct picture *picture, double top, double bottom)
{
	const struct day *day = picture->plan->day;
	int64_t line_s = LINE_S * (1 + (picture->band_s - 1) / (2 * BAND_MOST_S));
	int64_t first_s = picture->from_s - (picture->from_s + day->start_s) % line_s;
	for (int64_t at_s = first_s; at_s <= picture->to_s; at_s += line_s) {
		if (at_s < picture->from_s)
			continue;
		bool is_hour = (at_s + day->start_s) % (2 * line_s) == 0;
		double x = x_of(picture, at_s);
		put_line(picture, x, top, x, bottom,
			 is_hour ? " stroke-width=\"0.7\"" : " stroke-width=\"0.5\" stroke-dasharray=\"1 4\"");
		if (is_hour && x > LEFT - 1 && x < RIGHT - 10)
			put_text(picture, x, top - HOURS_ABOVE, " text-anchor=\"middle\" font-weight=\"bold\"",
				 hour_words(picture, at_s));
	}
}

static double band_height(const struct day_plan *plan)
{
	return AXIS_HEIGHT + ROW_HEIGHT * (1 + (double)parts_tank_count(plan)) +
	       (plan->day->dryer ? DRYER_HEIGHT + 6 : 0) + BAND_GAP;
}

static void draw_band(struct picture *picture)
{
	double y = picture->top + AXIS_HEIGHT;
	double bottom = picture->top + band_height(picture->plan) - BAND_GAP;
	draw_date(picture, y - HOURS_ABOVE);
	draw_hours(picture, y, bottom);
	draw_hands(picture, y);
	for (size_t i = 0; i < parts_tank_count(picture->plan); i++)
		draw_tank(picture, i, y += ROW_HEIGHT);
	if (picture->plan->day->dryer)
		draw_dryer(picture, y + ROW_HEIGHT + 6);
	put_line(picture, LEFT, bottom, RIGHT, bottom, "");
}

static void draw_key(const struct picture *picture, double y)
{
	static const struct {
		const char *fill, *words;
	} rows[] = { { "url(#day-dots)", "mix, test" },
		     { "black", "load in the dark" },
		     { "white", "run" },
		     { "url(#day-hatch)", "hang, take down; in the dryer" },
		     { "url(#day-lines)", "set out, rinse" },
		     { "url(#day-water)", "film in the baths" } };
	double x = LEFT;
	for (size_t i = 0; i < sizeof rows / sizeof rows[0]; i++) {
		struct text words = text_from(rows[i].words);
		double width = 38 + 8.4 * (double)words.length;
		if (x + width > RIGHT) {
			x = LEFT;
			y += 24;
		}
		output_format(picture->output,
			      "<rect x=\"%.2f\" y=\"%.2f\" width=\"24\" height=\"15\" fill=\"%s\" stroke=\"black\"/>\n",
			      x, y, rows[i].fill);
		put_text(picture, x + 30, y + 13, "", words);
		x += width + 8;
	}
}

static void open_picture(const struct picture *picture, double height)
{
	struct output *output = picture->output;
	struct arena *arena = picture->emission->arena;
	output_format(output,
		      "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 %d %.0f\" role=\"img\" "
		      "aria-labelledby=\"day-title day-desc\" font-family=\"Liberation Sans, DejaVu Sans, sans-serif\" "
		      "font-size=\"16\">\n<title id=\"day-title\">",
		      WIDTH, height);
	html_text(output, text_format(arena, "%.*s over the hours", TEXT_ARGUMENT(parts_day(picture->emission))));
	output_string(output, "</title>\n<desc id=\"day-desc\">");
	html_text(
		output,
		text_format(arena,
			    "Hands, %zu %s%s over the hours, to scale. The table below has the same times in figures.",
			    parts_tank_count(picture->plan), parts_tank_count(picture->plan) == 1 ? "tank" : "tanks",
			    picture->plan->day->dryer ? " and the dryer" : ""));
	output_string(
		output,
		"</desc>\n<defs>\n"
		"<pattern id=\"day-hatch\" width=\"6\" height=\"6\" patternUnits=\"userSpaceOnUse\" "
		"patternTransform=\"rotate(45)\"><rect width=\"6\" height=\"6\" fill=\"white\"/><line x1=\"0\" "
		"y1=\"0\" "
		"x2=\"0\" y2=\"6\" stroke=\"black\" stroke-width=\"1.6\"/></pattern>\n"
		"<pattern id=\"day-dots\" width=\"7\" height=\"7\" patternUnits=\"userSpaceOnUse\"><rect width=\"7\" "
		"height=\"7\" fill=\"white\"/><circle cx=\"3.5\" cy=\"3.5\" r=\"1.4\" fill=\"black\"/></pattern>\n"
		"<pattern id=\"day-lines\" width=\"4\" height=\"4\" patternUnits=\"userSpaceOnUse\"><rect width=\"4\" "
		"height=\"4\" fill=\"white\"/><line x1=\"0\" y1=\"2\" x2=\"4\" y2=\"2\" stroke=\"black\" "
		"stroke-width=\"0.9\"/></pattern>\n"
		"<pattern id=\"day-water\" width=\"12\" height=\"6\" patternUnits=\"userSpaceOnUse\"><rect "
		"width=\"12\" "
		"height=\"6\" fill=\"white\"/><path d=\"M0 3 Q3 0 6 3 T12 3\" fill=\"none\" stroke=\"black\" "
		"stroke-width=\"0.8\"/></pattern>\n</defs>\n");
}

static int64_t last_end(const struct day_plan *plan)
{
	int64_t end_s = plan->end_s > 60 * 60 ? plan->end_s : 60 * 60;
	for (size_t i = 0; i < plan->task_count; i++)
		if (plan->tasks[i].end_s > end_s)
			end_s = plan->tasks[i].end_s;
	return end_s;
}

void picture_draw(const struct emission *emission, struct output *output)
{
	struct picture picture = { .emission = emission, .plan = emission->plan, .output = output };
	int64_t end_s = last_end(picture.plan);
	int64_t bands = (end_s + BAND_MOST_S - 1) / BAND_MOST_S;
	bands = bands < BANDS_MOST ? bands : BANDS_MOST;
	picture.dryer = all_stays(emission, parts_in_dryer);
	picture.tank = all_stays(emission, parts_in_tank);
	/* Bands of one length, in whole half hours. */
	picture.band_s = (end_s / bands / LINE_S + 1) * LINE_S;
	open_picture(&picture, band_height(picture.plan) * (double)bands + KEY_HEIGHT);
	for (int64_t i = 0; i < bands; i++) {
		picture.from_s = i * picture.band_s;
		picture.to_s = picture.from_s + picture.band_s;
		draw_band(&picture);
		picture.top += band_height(picture.plan);
	}
	draw_key(&picture, picture.top + 6);
	output_string(output, "</svg>\n");
}
