#include "emit/sheet/room.h"

#include "emit/forecast/curve.h"
#include "emit/sheet/flow.h"
#include "emit/sheet/ladder.h"
#include "emit/sheet/words.h"

/* The page's margins, as in sheet.css, in 1/100 mm: room for tape. */
#define MARGIN_ABOVE 900
#define MARGIN_BESIDE 1000

/* Type and spaces of one size, as in sheet.css: heights and widths in 1/100 mm, type in points. */
struct measures {
	int line, points; /* of what is not set otherwise */
	int title_points, time_points, name_points, working_points;
	int strip, ladder; /* in px */
	int gap;	   /* above and below a step, and half of what large type adds to its lines */
	int box;	   /* the tick box */
	int side;	   /* width of the column with the time */
	enum { IN_LINES, IN_PARAGRAPH, FLOWING } setting;
	bool is_roomy; /* facts and the items of the bench have lines of their own */
};

static const struct measures measures[SHEET_SIZE_COUNT] = {
	[SHEET_LARGE] = { 618, 14, 30, 44, 21, 18, 60, 210, 370, 1600, 8600, IN_LINES, true },
	[SHEET_MIDDLE] = { 550, 13, 27, 38, 19, 16, 46, 180, 235, 1300, 7600, IN_LINES, true },
	[SHEET_SMALL] = { 492, 12, 24, 32, 17, 15, 42, 170, 150, 1200, 6600, IN_LINES, false },
	[SHEET_TIGHT] = { 476, 12, 22, 28, 15, 13, 37, 164, 100, 1050, 5900, IN_LINES, false },
	[SHEET_CLOSE] = { 460, 12, 20, 25, 13, 12, 31, 158, 70, 900, 5400, IN_PARAGRAPH, false },
	[SHEET_DENSE] = { 445, 12, 18, 24, 13, 12, 28, 150, 45, 820, 5400, FLOWING, false },
};

#define LEAST_POINTS 12 /* of tables, and of words beside a time */
#define LARGE_LINES 2	/* of a step: those with its name and its working point */
#define COLUMN_GAP 400
#define BOTTLE_FRAME 900
#define RULE 50
#define ITEM_MARGIN 200
#define FULL_STOP 250 /* behind a step's number */
#define FACT_MARGIN 250
#define TIME_MARGIN 140
#define BOX_MARGIN 200
#define STRIP_ABOVE 80
#define CAPTION_ABOVE 40

/* What a page offers to its blocks. */
static int page_width(const struct sheet *sheet)
{
	return paper_row(sheet->emission->form.paper)->width - 2 * MARGIN_BESIDE;
}

int room_of_side(const struct sheet *sheet)
{
	return paper_row(sheet->emission->form.paper)->height - 2 * MARGIN_ABOVE;
}

static int from_px(int px)
{
	return px * 2646 / 100;
}

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
	struct flow flow = { .advances = &sheet->advances, .width = width };
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
		flow_node(sheet, flow, item, LEAST_POINTS);
		flow->used += ITEM_MARGIN;
	}
}

/* ---- the banner ---- */

/* The title over all; then its kind and the facts on the left, the ladder on the right. */
static int room_of_banner(struct sheet *sheet, cmark_node *block, const struct measures *size)
{
	cmark_node *title = cmark_node_first_child(block);
	int ladder = from_px(ladder_width(sheet));
	struct flow flow = { .advances = &sheet->advances, .width = page_width(sheet) };
	flow_node(sheet, &flow, title, size->title_points);
	int height = 360 + flow.lines * size->title_points * 3528 / 100;
	flow = (struct flow){ .advances = &sheet->advances,
			      .width = page_width(sheet) - (ladder > 0 ? ladder + COLUMN_GAP : 0) };
	for (cmark_node *node = cmark_node_next(title); node; node = cmark_node_next(node)) {
		if (mark_of(node) == MARK_kind) {
			flow_node(sheet, &flow, node, size->points);
			flow.used = flow.width;
		}
		for (cmark_node *item = cmark_node_first_child(node); item && is_list(node);
		     item = cmark_node_next(item)) {
			bool is_main = mark_of(item) == MARK_main_fact;
			if (size->is_roomy)
				flow.used = flow.width;
			flow_node(sheet, &flow, item, is_main && size->is_roomy ? size->points + 1 : size->points);
			flow.used += FACT_MARGIN;
		}
	}
	int beside = ladder > 0 ? from_px(size->ladder) + CAPTION_ABOVE + size->line : 0;
	return height + larger(flow.lines * size->line, beside);
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

/* The box, then words in 12 pt and figures, a little apart, in as many lines as they need; the strip below. */
static int room_of_time(struct sheet *sheet, cmark_node *item, const struct measures *size)
{
	const struct sheet_mark *mark = document_mark(item);
	struct flow flow = {
		.advances = &sheet->advances, .width = size->side, .lines = 1, .used = size->box + BOX_MARGIN
	};
	cmark_node *node = cmark_node_first_child(cmark_node_first_child(item));
	for (; node; node = cmark_node_next(node)) {
		struct text text = trimmed(plain(sheet, node));
		if (mark_of(node) == MARK_tick || text.length == 0)
			continue;
		bool is_figure = mark_of(node) == MARK_figure;
		flow_text(&flow, text, is_figure ? size->time_points : LEAST_POINTS, false);
		flow.used += TIME_MARGIN;
	}
	int strip = strip_is_drawn(sheet, mark->number) ? STRIP_ABOVE + from_px(size->strip) : 0;
	int line = size->time_points * 3528 * 105 / 10000;
	return larger(size->box, line) + (flow.lines - 1) * line + strip;
}

static cmark_node *item_of(cmark_node *list, enum sheet_mark_id mark)
{
	cmark_node *item = cmark_node_first_child(list);
	while (item && mark_of(item) != mark)
		item = cmark_node_next(item);
	return item;
}

/* What a cell takes beside its words: padding and frame. */
#define CELL_FRAME 430

/* Cells of two lines beside each other; a row that is full is followed by another. */
static int room_of_times(struct sheet *sheet, cmark_node *paragraph)
{
	cmark_node *node = cmark_node_first_child(paragraph);
	int used = flow_width(&sheet->advances, plain(sheet, node), LEAST_POINTS, true) + ITEM_MARGIN, rows = 1;
	for (node = cmark_node_next(node); node; node = cmark_node_next(node)) {
		if (mark_of(node) != MARK_cell && mark_of(node) != MARK_here)
			continue;
		int width = 0;
		for (cmark_node *line = cmark_node_first_child(node); line; line = cmark_node_next(line))
			width = larger(width, flow_width(&sheet->advances, plain(sheet, line), LEAST_POINTS,
							 mark_of(line) == MARK_lasts));
		used += width + CELL_FRAME;
		if (used > page_width(sheet)) {
			used = width + CELL_FRAME;
			rows++;
		}
	}
	return 180 + rows * (2 * line_height(LEAST_POINTS) + 80);
}

/* The parts of a step, by what they are. */
struct step_parts {
	cmark_node *heading, *head, *words, *wrong, *times;
};

static struct step_parts parts_of(cmark_node *block)
{
	struct step_parts parts = { .heading = cmark_node_first_child(block) };
	parts.head = cmark_node_next(parts.heading);
	parts.words = cmark_node_next(parts.head);
	parts.wrong = cmark_node_next(parts.words);
	parts.times = cmark_node_next(parts.wrong);
	return parts;
}

/* Bath, window and run clock behind the name; where the clock, which stands at the right edge, has no room beside the
 * window, it takes a line of its own. */
static void flow_head(struct sheet *sheet, struct flow *flow, cmark_node *head, const struct measures *size)
{
	for (cmark_node *item = cmark_node_first_child(head); item; item = cmark_node_next(item)) {
		if (mark_of(item) == MARK_time)
			continue;
		bool is_run = mark_of(item) == MARK_run && size->setting == IN_LINES;
		int64_t room = flow->width - flow->beside[0].taken - flow->used;
		if ((mark_of(item) == MARK_window && size->setting != FLOWING) ||
		    (is_run &&
		     flow_width(&sheet->advances, plain(sheet, item), size->points, false) + ITEM_MARGIN > room))
			flow_new_line(flow, 0);
		if (mark_of(item) == MARK_window) {
			cmark_node *working = cmark_node_first_child(cmark_node_first_child(item));
			flow->used += flow_width(&sheet->advances, plain(sheet, working), size->working_points, true) -
				      flow_width(&sheet->advances, plain(sheet, working), size->points, true);
		}
		flow->used += ITEM_MARGIN + (mark_of(item) == MARK_bath ? BOTTLE_FRAME : 0);
		flow_node(sheet, flow, item, size->points);
	}
	if (size->setting == IN_LINES)
		flow_new_line(flow, 0);
}

/* A step's words beside its time and strip: name and bath, window and run clock, what is done, remedy on lines of their
 * or running on behind the first, or flowing on below the strip too. */
static int room_of_words(struct sheet *sheet, const struct step_parts *parts, const struct measures *size)
{
	int time = room_of_time(sheet, item_of(parts->head, MARK_time), size);
	bool is_flowing = size->setting == FLOWING;
	struct flow flow = { .advances = &sheet->advances, .width = page_width(sheet), .line = size->line };
	flow.beside[0] = (struct beside){ is_flowing ? time : 100000, size->side + COLUMN_GAP };
	flow_node(sheet, &flow, parts->heading, size->name_points);
	flow.used += FULL_STOP;
	flow_head(sheet, &flow, parts->head, size);
	for (cmark_node *node = cmark_node_first_child(parts->words); node; node = cmark_node_next(node))
		flow_node(sheet, &flow, node, size->points);
	bool is_in_lines = size->setting == IN_LINES;
	if (is_in_lines && trimmed(plain(sheet, parts->words)).length > 0)
		flow_new_line(&flow, 0);
	flow_node(sheet, &flow, parts->wrong, size->points);
	bool has_table = parts->times && is_in_lines;
	if (parts->times && !has_table)
		flow_node(sheet, &flow, parts->times, size->points);
	int large = is_in_lines ? LARGE_LINES * larger(0, size->working_points * 3528 / 100 + 35 - size->line) : 0;
	return larger(time, flow.lines * size->line + large) + (has_table ? room_of_times(sheet, parts->times) : 0);
}

static int room_of_step(struct sheet *sheet, cmark_node *block, const struct measures *size)
{
	const struct step_parts parts = parts_of(block);
	int frame = RULE + 2 * size->gap;
	return frame + room_of_words(sheet, &parts, size);
}

/* ---- bench ---- */

/* A bath, cautions, waste …: heading and list run on, or each item has a line of its own. */
static int room_of_bench(struct sheet *sheet, cmark_node *block, const struct measures *size, bool is_bath)
{
	cmark_node *heading = cmark_node_first_child(block), *list = cmark_node_next(heading);
	struct flow flow = { .advances = &sheet->advances, .width = page_width(sheet) };
	flow_node(sheet, &flow, heading, size->points + 1);
	flow.used += is_bath ? BOTTLE_FRAME : 0;
	int frame = RULE + 140;
	int line = size->line;
	if (!size->is_roomy) {
		flow_items(sheet, &flow, list);
		return frame + flow.lines * line;
	}
	int lines = 0;
	for (cmark_node *item = cmark_node_first_child(list); item; item = cmark_node_next(item))
		lines += lines_of(sheet, item, size->points, page_width(sheet));
	return frame + flow.lines * (line + 80) + lines * line;
}

/* Heading and lines, then the picture. */
static int room_of_forecast(struct sheet *sheet, cmark_node *block, const struct measures *size)
{
	bool has_picture = mark_of(cmark_node_last_child(block)) == MARK_curve;
	int picture = has_picture ? 100 + curve_height(sheet->emission, sheet->forecasts, page_width(sheet)) : 0;
	return room_of_bench(sheet, block, size, false) + picture;
}

static int reckon(struct sheet *sheet, cmark_node *block, enum sheet_size size)
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

int room_of_block(struct sheet *sheet, const struct sheet_block *block, enum sheet_size size)
{
	int *room = &block->rooms[size];
	if (*room == 0)
		*room = reckon(sheet, block->node, size);
	return *room;
}

int room_of_strip(enum sheet_size size)
{
	return measures[size].strip;
}

int room_of_ladder(enum sheet_size size)
{
	return measures[size].ladder;
}

int room_of_identity(enum sheet_size size, bool is_last)
{
	return RULE + 60 + measures[size].line * (is_last ? 2 : 1);
}
