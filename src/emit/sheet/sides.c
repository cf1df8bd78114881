/* Dealing blocks to sides. The browser breaks no step, but it cannot tell the page how many sides there are; so the room
 * of each block is reckoned here, in 1/100 mm and on the generous side, for a page as narrow as A4 and as short as Letter.
 * The figures are those of sheet.css; tests/sheet/ holds both against what a browser measures. */
#include "emit/sheet/words.h"
#include "support/utf8.h"

/* Letter is 279.4 mm high, A4 is 210 mm wide; the margins are 10 and 12 mm. */
#define SIDE_HEIGHT (27940 - 2 * 1000)
#define SIDE_WIDTH (21000 - 2 * 1200)

#define WANTED_SIDES 2

/* What is the same in all sizes: a line of 12 pt, its leading included, and things made of such lines. */
#define LINE 508
#define FACT_LINE 558
#define MAIN_FACT_LINE 650
#define KIND 650
#define BANNER_FRAME 560
#define HEADING 770
#define CARE_HEADING 1000
#define MIX_FRAME 290
#define MIX_NAME_LINE 570
#define IDENTITY_FRAME 300

/* Widths of columns. */
#define FACT_WIDTH (SIDE_WIDTH - 3200)
#define CARE_WIDTH (SIDE_WIDTH - 400)
#define TIME_WIDTH 5800
#define WINDOW_WIDTH 6300
#define NAME_WIDTH (SIDE_WIDTH - TIME_WIDTH - WINDOW_WIDTH - 600)

struct measures {
	int frame; /* above and below a step's text, with its rule */
	int time_line, name_line, strip, title_line;
	int time_points, name_points, title_points;
	int tick; /* the box and the space behind it */
};

static const struct measures measures[SHEET_SIZE_COUNT] = {
	[SHEET_LARGE] = { 740, 1300, 700, 1530, 1130, 36, 18, 30, 1450 },
	[SHEET_MIDDLE] = { 540, 1090, 625, 1280, 920, 30, 16, 24, 1150 },
	[SHEET_SMALL] = { 380, 950, 550, 1090, 920, 25, 14, 24, 1150 },
};

/* ---- text ---- */

/* Width of a character in 1/1000 of the type's size: common sans-serifs, rounded up. */
static int character_width(int32_t character)
{
	static const struct {
		const char *characters;
		int width;
	} classes[] = {
		{ "iljI.,:;'!|", 285 },
		{ "ft()[]/ -r", 345 },
		{ "mwMW%@", 900 },
		{ "ABCDEFGHKLNOPQRSTUVXYZ", 720 },
	};
	for (size_t i = 0; i < sizeof classes / sizeof classes[0]; i++)
		for (const char *c = classes[i].characters; *c; c++)
			if (character == *c)
				return classes[i].width;
	return character == 0xA0 ? 285 : utf8_width(character) == 2 ? 1000 : 565;
}

/* How many lines a text takes, broken where there are spaces. */
static int text_lines(struct text text, int points, int width)
{
	int64_t room = (int64_t)width * 100000 / (points * 3528); /* in 1/1000 of the size */
	int64_t line = 0, word = 0;
	int lines = 1;
	for (size_t place = 0; place < text.length;) {
		int32_t character;
		int taken = utf8_decode((struct text){ text.data + place, text.length - place }, &character);
		place += taken > 0 ? (size_t)taken : 1;
		int64_t advance = character_width(character);
		line += advance;
		word = character == ' ' ? 0 : word + advance;
		if (line <= room)
			continue;
		lines++;
		line = word < room ? word : advance;
	}
	return lines;
}

static int node_lines(struct sheet *sheet, cmark_node *node, int points, int width)
{
	return text_lines(document_plain(sheet->document, node, sheet->arena), points, width);
}

static enum sheet_mark_id mark_of(cmark_node *node)
{
	const struct sheet_mark *mark = document_mark(node);
	return mark ? mark->id : MARK_COUNT;
}

/* ---- blocks ---- */

static int banner_height(struct sheet *sheet, cmark_node *block, const struct measures *size)
{
	int height = BANNER_FRAME;
	for (cmark_node *node = cmark_node_first_child(block); node; node = cmark_node_next(node)) {
		if (cmark_node_get_type(node) == CMARK_NODE_HEADING)
			height += size->title_line * node_lines(sheet, node, size->title_points, SIDE_WIDTH);
		else if (cmark_node_get_type(node) == CMARK_NODE_PARAGRAPH)
			height += KIND;
		for (cmark_node *item = cmark_node_first_child(node); item; item = cmark_node_next(item))
			if (mark_of(item) == MARK_main_fact)
				height += MAIN_FACT_LINE * node_lines(sheet, item, 13, FACT_WIDTH);
			else if (cmark_node_get_type(item) == CMARK_NODE_ITEM)
				height += FACT_LINE * node_lines(sheet, item, 12, FACT_WIDTH);
	}
	return height;
}

static int larger(int a, int b)
{
	return a > b ? a : b;
}

/* The head of a step: time, name over bath, and window stand side by side; the rest below. */
static int step_height(struct sheet *sheet, cmark_node *block, const struct measures *size)
{
	cmark_node *heading = cmark_node_first_child(block);
	int name = size->name_line * node_lines(sheet, heading, size->name_points, NAME_WIDTH);
	int time = 0, window = 0, below = 0;
	for (cmark_node *item = cmark_node_first_child(cmark_node_next(heading)); item; item = cmark_node_next(item)) {
		const struct sheet_mark *mark = document_mark(item);
		switch (mark_of(item)) {
		case MARK_time:
			/* Half of a range's or of an open time is words in 12 pt. */
			time = size->time_line * node_lines(sheet, item, size->time_points * 7 / 8, TIME_WIDTH - size->tick / 2);
			break;
		case MARK_bath:
			name += (LINE + 110) * node_lines(sheet, item, 12, NAME_WIDTH - 500);
			break;
		case MARK_window:
			window = 640 + LINE * (node_lines(sheet, item, 13, WINDOW_WIDTH) - 1);
			break;
		case MARK_strip:
			below += strip_is_drawn(sheet, mark->step) ? size->strip : 0;
			below += LINE * node_lines(sheet, item, 12, SIDE_WIDTH);
			break;
		default:
			below += LINE * node_lines(sheet, item, 12, SIDE_WIDTH - 300);
			break;
		}
	}
	return size->frame + larger(larger(name, time), window) + below;
}

/* A block of one heading and lists. */
static int list_height(struct sheet *sheet, cmark_node *block, int frame, int heading_line, int width)
{
	int height = frame;
	for (cmark_node *node = cmark_node_first_child(block); node; node = cmark_node_next(node)) {
		if (cmark_node_get_type(node) == CMARK_NODE_HEADING)
			height += heading_line * node_lines(sheet, node, 14, SIDE_WIDTH - 500);
		for (cmark_node *item = cmark_node_first_child(node); item; item = cmark_node_next(item))
			if (cmark_node_get_type(item) == CMARK_NODE_ITEM)
				height += LINE * node_lines(sheet, item, 12, width);
	}
	return height;
}

static int block_height(struct sheet *sheet, const struct sheet_block *block, const struct measures *size)
{
	switch (mark_of(block->node)) {
	case MARK_banner:
		return banner_height(sheet, block->node, size);
	case MARK_step:
		return step_height(sheet, block->node, size);
	case MARK_mix:
		return list_height(sheet, block->node, MIX_FRAME, MIX_NAME_LINE, SIDE_WIDTH);
	case MARK_care:
		return list_height(sheet, block->node, 100, CARE_HEADING, CARE_WIDTH);
	default:
		return HEADING;
	}
}

/* ---- sides ---- */

/* Where sides begin: for each block, whether it is the first of one. */
struct deal {
	bool *opens_side;
	size_t side_count;
};

static int identity_height(bool is_last)
{
	return IDENTITY_FRAME + LINE * (is_last ? 2 : 1);
}

static int total_height(const int *heights, size_t first, size_t past)
{
	int total = 0;
	for (size_t i = first; i < past; i++)
		total += heights[i];
	return total;
}

/* Fills side after side from block `first` on, each as far as it goes; a heading moves with what follows it. */
static void deal_greedily(const struct sheet_blocks *blocks, const int *heights, size_t first, struct deal *deal)
{
	int used = SIDE_HEIGHT; /* so that the first block opens a side */
	for (size_t i = first; i < blocks->count; i++) {
		int wanted = heights[i];
		for (size_t j = i; blocks->items[j].keeps_next && j + 1 < blocks->count; j++)
			wanted += heights[j + 1];
		if (used + wanted + identity_height(true) > SIDE_HEIGHT && (i == first || !blocks->items[i - 1].keeps_next)) {
			deal->opens_side[i] = true;
			deal->side_count++;
			used = 0;
		}
		used += heights[i];
	}
}

static struct deal deal_blocks(struct sheet *sheet, const struct sheet_blocks *blocks, const struct measures *size)
{
	int *heights = ARENA_ARRAY(sheet->arena, int, blocks->count);
	size_t bench = blocks->count;
	for (size_t i = 0; i < blocks->count; i++) {
		heights[i] = block_height(sheet, &blocks->items[i], size);
		if (blocks->items[i].opens_bench)
			bench = i;
	}
	struct deal deal = { ARENA_ARRAY(sheet->arena, bool, blocks->count), 0 };
	int front = total_height(heights, 0, bench) + identity_height(false);
	int back = total_height(heights, bench, blocks->count) + identity_height(true);
	if (front <= SIDE_HEIGHT && back <= SIDE_HEIGHT && bench < blocks->count && front + back > SIDE_HEIGHT) {
		deal.opens_side[0] = deal.opens_side[bench] = true; /* one side for the sink, one for the bench */
		deal.side_count = 2;
	} else {
		deal_greedily(blocks, heights, 0, &deal);
	}
	return deal;
}

static void add_identity(struct sheet *sheet, cmark_node *side, size_t number, size_t count)
{
	struct text fingerprint = sheet->process->fingerprint;
	struct text name = intern_text(sheet->emission->recipe->names, sheet->process->declared.name);
	cmark_node *line = document_add(sheet->document, side, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_identity));
	document_strong(sheet->document, line, text_format(sheet->arena, "Side" NBSP "%zu of" NBSP "%zu", number, count));
	document_format(sheet->document, line, ", %.*s. Fingerprint %.*s", TEXT_ARGUMENT(name),
			number == count ? (int)fingerprint.length : fingerprint.length < 16 ? (int)fingerprint.length : 16,
			fingerprint.data);
}

void sheet_sides(struct sheet *sheet, struct sheet_blocks *blocks)
{
	struct deal deal = { 0 };
	for (size_t size = 0; size < SHEET_SIZE_COUNT; size++) {
		sheet->size = (enum sheet_size)size;
		deal = deal_blocks(sheet, blocks, &measures[size]);
		if (deal.side_count <= WANTED_SIDES)
			break;
	}
	cmark_node *side = NULL;
	size_t number = 0;
	for (size_t i = 0; i < blocks->count; i++) {
		if (deal.opens_side[i]) {
			if (side)
				add_identity(sheet, side, number, deal.side_count);
			if (side)
				document_add(sheet->document, sheet->document->root, CMARK_NODE_THEMATIC_BREAK, NULL);
			side = document_add(sheet->document, sheet->document->root, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_side));
			number++;
		}
		document_attach(sheet->document, side, blocks->items[i].node);
	}
	if (side)
		add_identity(sheet, side, number, deal.side_count);
}
