#include "emit/sheet/room.h"

#include "emit/forecast/curve.h"
#include "emit/sheet/flow.h"
#include "emit/sheet/words.h"

/* Letter is 279.4 mm high, A4 210 mm wide; the page's margins left and right are 10 mm. */
#define PAGE_HEIGHT 27940
#define ROOM_WIDTH (21000 - 2 * 1000)

/* Type and spaces of one size, as in sheet.css: heights and widths in 1/100 mm, type in points. */
struct measures {
	int margin;	  /* of the page, above and below */
	int line;	  /* of 12 pt */
	int bench_points; /* type of the bench part */
	int title_points, time_points, name_points, working_points;
	int strip; /* in px */
	int gap;   /* above and below a step */
	int box;   /* the tick box and the space behind it */
	int side;  /* width of the column with the time */
	enum { FACTS_IN_LINES, FACTS_RUN_ON, STEPS_RUN_ON } setting;
};

static const struct measures measures[SHEET_SIZE_COUNT] = {
	[SHEET_LARGE] = { 700, 530, 14, 30, 40, 20, 18, 53, 300, 1550, 8200, FACTS_IN_LINES },
	[SHEET_MIDDLE] = { 700, 508, 13, 26, 33, 17, 16, 45, 200, 1350, 6900, FACTS_IN_LINES },
	[SHEET_SMALL] = { 700, 492, 12, 24, 29, 15, 14, 39, 140, 1250, 6200, FACTS_RUN_ON },
	[SHEET_TIGHT] = { 700, 467, 12, 22, 25, 14, 13, 33, 70, 1110, 5450, FACTS_RUN_ON },
	[SHEET_CLOSE] = { 700, 467, 12, 22, 25, 14, 12, 33, 80, 1110, 5450, STEPS_RUN_ON },
	[SHEET_DENSE] = { 500, 441, 12, 20, 24, 13, 12, 28, 45, 1010, 5350, STEPS_RUN_ON },
};

#define BODY_POINTS 12
#define COLUMN_GAP 300
#define STRIP_MARGIN 600
#define BOTTLE_FRAME 700
#define RULE 50
#define ITEM_MARGIN 150
#define FACT_MARGIN 250
#define TIME_MARGIN 140

static struct text plain(struct sheet *sheet, cmark_node *node)
{
	return document_plain(sheet->document, node, sheet->arena);
}

static bool is_bold(cmark_node *node)
{
	return cmark_node_get_type(node) == CMARK_NODE_STRONG || cmark_node_get_type(node) == CMARK_NODE_HEADING;
}

/* A paragraph or heading, or the one in a list item, with a space behind it. */
static void flow_node(struct sheet *sheet, struct flow *flow, cmark_node *node, int points)
{
	bool is_item = cmark_node_get_type(node) == CMARK_NODE_ITEM;
	cmark_node *child = cmark_node_first_child(is_item ? cmark_node_first_child(node) : node);
	for (; child; child = cmark_node_next(child))
		flow_text(flow, plain(sheet, child), points, is_bold(node) || is_bold(child));
	flow_text(flow, TEXT(" "), points, false);
}

static int lines_of(struct sheet *sheet, cmark_node *node, int points, int width)
{
	struct flow flow = { .width = width };
	flow_node(sheet, &flow, node, points);
	return flow.lines;
}

static int line_height(int points)
{
	return points * 3528 * 115 / 10000;
}

static enum sheet_mark_id mark_of(cmark_node *node)
{
	const struct sheet_mark *mark = document_mark(node);
	return mark ? mark->id : MARK_COUNT;
}

static bool is_list(cmark_node *node)
{
	return cmark_node_get_type(node) == CMARK_NODE_LIST;
}

static int larger(int a, int b)
{
	return a > b ? a : b;
}

/* All the items of a list as one paragraph, set a little apart. */
static void flow_items(struct sheet *sheet, struct flow *flow, cmark_node *list)
{
	for (cmark_node *item = cmark_node_first_child(list); item; item = cmark_node_next(item)) {
		flow_node(sheet, flow, item, BODY_POINTS);
		flow->used += ITEM_MARGIN;
	}
}

/* ---- the banner ---- */

/* The title, then its kind and the facts: each on a line of its own, or run on below the title. */
static int room_of_banner(struct sheet *sheet, cmark_node *block, const struct measures *size)
{
	cmark_node *title = cmark_node_first_child(block);
	struct flow flow = { .width = ROOM_WIDTH };
	flow_node(sheet, &flow, title, size->title_points);
	int height = 420 + flow.lines * size->title_points * 3528 / 100;
	flow = (struct flow){ .width = ROOM_WIDTH };
	for (cmark_node *node = cmark_node_next(title); node; node = cmark_node_next(node)) {
		if (!is_list(node))
			flow_node(sheet, &flow, node, BODY_POINTS);
		for (cmark_node *item = cmark_node_first_child(node); item && is_list(node);
		     item = cmark_node_next(item)) {
			bool is_main = mark_of(item) == MARK_main_fact;
			if (size->setting == FACTS_IN_LINES)
				flow.used = ROOM_WIDTH;
			flow_node(sheet, &flow, item, BODY_POINTS);
			flow.used += is_main ? 2 * FACT_MARGIN : FACT_MARGIN;
		}
	}
	return height + flow.lines * size->line;
}

/* ---- steps ---- */

static struct text trimmed(struct text text)
{
	while (text.length > 0 && text.data[0] == ' ')
		text = (struct text){ text.data + 1, text.length - 1 };
	while (text.length > 0 && text.data[text.length - 1] == ' ')
		text.length--;
	return text;
}

/* The box, then words in 12 pt and figures, a little apart; what does not fit goes to a second line. */
static int room_of_time(struct sheet *sheet, cmark_node *item, const struct measures *size)
{
	struct flow flow = { .width = size->side - size->box };
	cmark_node *node = cmark_node_first_child(cmark_node_first_child(item));
	for (; node; node = cmark_node_next(node)) {
		struct text text = trimmed(plain(sheet, node));
		if (mark_of(node) == MARK_tick || text.length == 0)
			continue;
		bool is_figure = mark_of(node) == MARK_figure;
		flow_text(&flow, text, is_figure ? size->time_points : BODY_POINTS, false);
		flow.used += TIME_MARGIN;
	}
	return larger(size->box - 200, flow.lines * size->time_points * 3528 / 100);
}

static cmark_node *item_of(cmark_node *list, enum sheet_mark_id mark)
{
	cmark_node *item = cmark_node_first_child(list);
	while (item && mark_of(item) != mark)
		item = cmark_node_next(item);
	return item;
}

/* Time on the left; name and bath over window and run clock on the right. */
static int room_of_head(struct sheet *sheet, cmark_node *heading, cmark_node *list, const struct measures *size)
{
	int right = ROOM_WIDTH - size->side - 2 * COLUMN_GAP;
	struct flow name = { .width = right };
	flow_node(sheet, &name, heading, size->name_points);
	int over = name.lines * line_height(size->name_points);
	cmark_node *bath = item_of(list, MARK_bath), *window = item_of(list, MARK_window);
	if (bath) {
		int beside = name.lines > 1 ? right / 2 : right - (int)name.used;
		struct flow flow = { .width = beside, .used = BOTTLE_FRAME, .lines = 1 };
		flow_node(sheet, &flow, bath, BODY_POINTS);
		over = larger(over, flow.lines * size->line + 100);
	}
	int under = line_height(size->working_points);
	if (window)
		under += size->line * (lines_of(sheet, window, BODY_POINTS + 1, right - 4000) - 1);
	return larger(room_of_time(sheet, item_of(list, MARK_time), size), over + under);
}

/* What a cell takes beside its words: padding and frame. */
#define CELL_FRAME 430

/* Cells of two lines beside each other; a row that is full is followed by another. */
static int room_of_times(struct sheet *sheet, cmark_node *paragraph)
{
	cmark_node *node = cmark_node_first_child(paragraph);
	int used = flow_width(plain(sheet, node), BODY_POINTS, true) + ITEM_MARGIN, rows = 1;
	for (node = cmark_node_next(node); node; node = cmark_node_next(node)) {
		if (mark_of(node) != MARK_cell && mark_of(node) != MARK_here)
			continue;
		int width = 0;
		for (cmark_node *line = cmark_node_first_child(node); line; line = cmark_node_next(line))
			width = larger(width, flow_width(plain(sheet, line), BODY_POINTS, mark_of(line) == MARK_lasts));
		used += width + CELL_FRAME;
		if (used > ROOM_WIDTH) {
			used = width + CELL_FRAME;
			rows++;
		}
	}
	return 110 + rows * (2 * line_height(BODY_POINTS) + 80);
}

static int strip_height(const struct measures *size)
{
	return size->strip * 2646 / 100;
}

static int room_of_words(struct sheet *sheet, cmark_node *words, const struct measures *size)
{
	struct flow flow = { .width = ROOM_WIDTH, .line = size->line };
	const struct sheet_mark *strip = document_mark(cmark_node_first_child(words));
	int above = 0, below = 0, least = 0;
	if (strip_is_long(sheet, strip->number)) {
		above = strip_height(size) + 60;
	} else if (strip_is_drawn(sheet, strip->number)) {
		least = strip_height(size);
		flow.beside[0].until = strip_height(size);
		flow.beside[0].taken = ROOM_WIDTH * strip_percent(sheet, strip->number) / 100 + STRIP_MARGIN;
	}
	for (cmark_node *node = cmark_node_first_child(words); node; node = cmark_node_next(node)) {
		if (mark_of(node) == MARK_times) {
			below = room_of_times(sheet, node);
			continue;
		}
		if (size->setting == FACTS_IN_LINES && flow.lines > 0)
			flow_new_line(&flow, 0);
		flow_node(sheet, &flow, node, BODY_POINTS);
	}
	return above + larger(least, flow.lines * size->line) + below;
}

/* A step as one paragraph past its time and its strip; a long strip parts it in two. */
static int room_of_paragraph(struct sheet *sheet, cmark_node *heading, const struct measures *size)
{
	cmark_node *list = cmark_node_next(heading), *words = cmark_node_next(list);
	const struct sheet_mark *strip = document_mark(cmark_node_first_child(words));
	int time = larger(2 * size->line, room_of_time(sheet, item_of(list, MARK_time), size));
	struct flow flow = { .width = ROOM_WIDTH, .line = size->line };
	flow.beside[0] = (struct beside){ time, size->side };
	int least = time, above = 0;
	if (strip_is_drawn(sheet, strip->number) && !strip_is_long(sheet, strip->number)) {
		least += strip_height(size);
		flow.beside[1] =
			(struct beside){ least, ROOM_WIDTH * strip_percent(sheet, strip->number) / 100 + STRIP_MARGIN };
	}
	flow_node(sheet, &flow, heading, size->name_points);
	for (cmark_node *item = cmark_node_first_child(list); item; item = cmark_node_next(item)) {
		if (mark_of(item) == MARK_time)
			continue;
		flow_node(sheet, &flow, item, BODY_POINTS);
		flow.used += ITEM_MARGIN + (mark_of(item) == MARK_bath ? BOTTLE_FRAME : 0);
	}
	if (strip_is_long(sheet, strip->number)) {
		above = larger(time, flow.lines * size->line + 60) + strip_height(size);
		flow = (struct flow){ .width = ROOM_WIDTH, .line = size->line };
		least = 0;
	}
	for (cmark_node *node = cmark_node_first_child(words); node; node = cmark_node_next(node))
		flow_node(sheet, &flow, node, BODY_POINTS);
	return above + larger(least, flow.lines * size->line);
}

static int room_of_step(struct sheet *sheet, cmark_node *block, const struct measures *size)
{
	cmark_node *heading = cmark_node_first_child(block);
	cmark_node *list = cmark_node_next(heading);
	int frame = RULE + 2 * size->gap;
	if (size->setting == STEPS_RUN_ON)
		return frame + room_of_paragraph(sheet, heading, size);
	return frame + room_of_head(sheet, heading, list, size) + 80 +
	       room_of_words(sheet, cmark_node_next(list), size);
}

/* ---- bench ---- */

/* A bath, cautions, waste …: heading and list run on, or each item has a line of its own. */
static int room_of_bench(struct sheet *sheet, cmark_node *block, const struct measures *size, bool is_bath)
{
	cmark_node *heading = cmark_node_first_child(block), *list = cmark_node_next(heading);
	struct flow flow = { .width = ROOM_WIDTH };
	flow_node(sheet, &flow, heading, size->bench_points + 1);
	flow.used += is_bath ? BOTTLE_FRAME : 0;
	int frame = RULE + 140;
	int line = size->line * size->bench_points / BODY_POINTS;
	if (size->setting != FACTS_IN_LINES) {
		flow_items(sheet, &flow, list);
		return frame + flow.lines * line;
	}
	int lines = 0;
	for (cmark_node *item = cmark_node_first_child(list); item; item = cmark_node_next(item))
		lines += lines_of(sheet, item, size->bench_points, ROOM_WIDTH);
	return frame + flow.lines * (line + 80) + lines * line;
}

/* Heading and lines, then the picture. */
static int room_of_forecast(struct sheet *sheet, cmark_node *block, const struct measures *size)
{
	bool has_picture = mark_of(cmark_node_last_child(block)) == MARK_curve;
	int picture = has_picture ? 100 + curve_height(sheet->emission, sheet->forecasts, ROOM_WIDTH) : 0;
	return room_of_bench(sheet, block, size, false) + picture;
}

int room_of_block(struct sheet *sheet, cmark_node *block, enum sheet_size size)
{
	switch (mark_of(block)) {
	case MARK_banner:
		return room_of_banner(sheet, block, &measures[size]);
	case MARK_step:
		return room_of_step(sheet, block, &measures[size]);
	case MARK_mix:
		return room_of_bench(sheet, block, &measures[size], true);
	case MARK_forecast:
		return room_of_forecast(sheet, block, &measures[size]);
	default:
		return room_of_bench(sheet, block, &measures[size], false);
	}
}

int room_of_strip(enum sheet_size size)
{
	return measures[size].strip;
}

int room_of_identity(enum sheet_size size, bool is_last)
{
	return RULE + 60 + measures[size].line * (is_last ? 2 : 1);
}

int room_of_side(enum sheet_size size)
{
	return PAGE_HEIGHT - 2 * measures[size].margin;
}
