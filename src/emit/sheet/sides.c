/* Dealing blocks to sides. The browser breaks no step, but it cannot tell the page how many sides there are; so the
 * room of each block is reckoned beforehand (room.h). */
#include "emit/sheet/room.h"

/* How much of the fingerprint is on every side; all of it is on the last of several. */
#define SHORT_FINGERPRINT 16

/* The most that blocks are set apart beyond their own gaps, in mm. */
#define LARGEST_SPREAD 8

/* A laminated sheet has two sides. */
#define SIDES_OF_A_SHEET 2

/* The smallest size of a sheet that is set large; of a large one that gets by with one side; of a side that takes what
 * the sheet may do without. */
#define LEAST_LARGE SHEET_TIGHT
#define LEAST_LARGE_OF_ONE_SIDE SHEET_MIDDLE
#define LEAST_WITH_EXTRA SHEET_SMALL

/* Which blocks stand on which side, and how large they are set. */
struct deal {
	struct side {
		size_t first;
		size_t past;
		enum sheet_size size;
	} * sides;
	size_t count;
	size_t capacity;
};

static void deal_side(struct sheet *sheet, struct deal *deal, size_t first, size_t past, enum sheet_size size)
{
	ARENA_RESERVE(sheet->arena, deal->sides, deal->count, deal->capacity);
	deal->sides[deal->count++] = (struct side){ first, past, size };
}

static int total_room(struct sheet *sheet, const struct sheet_blocks *blocks, size_t first, size_t past,
		      enum sheet_size size)
{
	int total = room_of_identity(size, first > 0 && past == blocks->count);
	for (size_t i = first; i < past; i++)
		total += room_of_block(sheet, &blocks->items[i], size);
	return total;
}

/* Nothing is reckoned once the side is full. */
static bool fits(struct sheet *sheet, const struct sheet_blocks *blocks, size_t first, size_t past,
		 enum sheet_size size)
{
	int left = room_of_side(sheet) - room_of_identity(size, first > 0 && past == blocks->count);
	for (size_t i = first; i < past && left >= 0; i++)
		left -= room_of_block(sheet, &blocks->items[i], size);
	return left >= 0;
}

/* The largest size in which some blocks fit on one side; the one behind `least` where none does. */
static enum sheet_size size_for_side(struct sheet *sheet, const struct sheet_blocks *blocks, size_t first, size_t past,
				     enum sheet_size least)
{
	enum sheet_size size = SHEET_LARGE;
	while (size <= least && !fits(sheet, blocks, first, past, size))
		size++;
	return size;
}

/* Fills side after side, each as far as it goes. */
static struct deal deal_in_order(struct sheet *sheet, const struct sheet_blocks *blocks, enum sheet_size size)
{
	struct deal deal = { 0 };
	for (size_t first = 0, past = 0; first < blocks->count; first = past) {
		do
			past++;
		while (past < blocks->count && fits(sheet, blocks, first, past + 1, size));
		deal_side(sheet, &deal, first, past, size);
	}
	return deal;
}

/* Wet hands should not have to turn the sheet: all steps are on one side and the rest on the other if there is a size
 * that allows it, each side in the largest that does. Else as few sides as can be, in the largest size that needs no
 * more. One side takes it all where it can be set so large as `least_of_one`. */
static struct deal deal_blocks(struct sheet *sheet, const struct sheet_blocks *blocks, enum sheet_size least_of_one,
			       enum sheet_size least)
{
	struct deal deal = { 0 };
	size_t bench = 0;
	while (bench < blocks->count && blocks->items[bench].part == SHEET_SINK)
		bench++;
	enum sheet_size one = size_for_side(sheet, blocks, 0, blocks->count, least_of_one);
	enum sheet_size sink = size_for_side(sheet, blocks, 0, bench, least);
	enum sheet_size rest = size_for_side(sheet, blocks, bench, blocks->count, least);
	if (one <= least_of_one) {
		deal_side(sheet, &deal, 0, blocks->count, one);
		return deal;
	}
	if (sink <= least && rest <= least) {
		deal_side(sheet, &deal, 0, bench, sink);
		deal_side(sheet, &deal, bench, blocks->count, rest);
		return deal;
	}
	size_t fewest = deal_in_order(sheet, blocks, least).count;
	enum sheet_size size = SHEET_LARGE;
	while ((deal = deal_in_order(sheet, blocks, size)).count > fewest)
		size++;
	return deal;
}

/* ---- what a sheet may do without ---- */

static struct sheet_blocks without(struct sheet *sheet, const struct sheet_blocks *blocks, enum sheet_part part)
{
	struct sheet_blocks rest = { 0 };
	for (size_t i = 0; i < blocks->count; i++) {
		if (blocks->items[i].part == part)
			continue;
		ARENA_RESERVE(sheet->arena, rest.items, rest.count, rest.capacity);
		rest.items[rest.count++] = blocks->items[i];
	}
	return rest;
}

/* True where a deal of more has no more sides than one of less, and none that is set small for it. */
static bool is_free(const struct deal *more, const struct deal *less)
{
	if (more->count > less->count)
		return false;
	for (size_t i = 0; i < more->count; i++)
		if (more->sides[i].size > LEAST_WITH_EXTRA && more->sides[i].size > less->sides[i].size)
			return false;
	return true;
}

static struct deal deal_large(struct sheet *sheet, struct sheet_blocks *blocks)
{
	struct sheet_blocks bare = without(sheet, blocks, SHEET_LEGEND);
	struct deal less = deal_blocks(sheet, &bare, LEAST_LARGE_OF_ONE_SIDE, LEAST_LARGE);
	struct deal more = deal_blocks(sheet, blocks, LEAST_LARGE_OF_ONE_SIDE, LEAST_LARGE);
	if (is_free(&more, &less))
		return more;
	*blocks = bare;
	return less;
}

static struct deal deal_compact(struct sheet *sheet, struct sheet_blocks *blocks)
{
	struct sheet_blocks unmixed = without(sheet, blocks, SHEET_MIXING);
	struct sheet_blocks bare = without(sheet, &unmixed, SHEET_LEGEND);
	struct sheet_blocks mixed = without(sheet, blocks, SHEET_LEGEND);
	const struct sheet_blocks tried[] = { *blocks, mixed, unmixed };
	const enum sheet_size least = SHEET_DENSE;
	struct deal fewest = deal_blocks(sheet, &bare, least, least);
	for (size_t i = 0; i < sizeof tried / sizeof tried[0]; i++) {
		struct deal deal = deal_blocks(sheet, &tried[i], least, least);
		if (!is_free(&deal, &fewest))
			continue;
		*blocks = tried[i];
		return deal;
	}
	*blocks = bare;
	return fewest;
}

/* What was not asked for is large where that is one sheet of paper, else compact. */
static struct deal deal_as_asked(struct sheet *sheet, struct sheet_blocks *blocks)
{
	enum page_size size = sheet->emission->form.size;
	if (size == PAGE_SIZE_COMPACT)
		return deal_compact(sheet, blocks);
	struct sheet_blocks large = *blocks;
	struct deal deal = deal_large(sheet, &large);
	if (size != PAGE_SIZE_LARGE && deal.count > SIDES_OF_A_SHEET)
		return deal_compact(sheet, blocks);
	*blocks = large;
	return deal;
}

/* A side takes the rest of the blocks too where they can be read on it. */
static bool takes_rest(struct sheet *sheet, const struct sheet_blocks *blocks, struct side *side)
{
	enum sheet_size joined = size_for_side(sheet, blocks, side->first, blocks->count, LEAST_WITH_EXTRA);
	if (joined > LEAST_WITH_EXTRA)
		return false;
	*side = (struct side){ side->first, blocks->count, joined };
	return true;
}

/* The last block of all joins the bench where it can be read there, else it gets a side of its own. */
static void deal_extra(struct sheet *sheet, const struct sheet_blocks *blocks, struct deal *deal)
{
	size_t extra = blocks->count - 1;
	if (deal->count > 1 && takes_rest(sheet, blocks, &deal->sides[deal->count - 1]))
		return;
	enum sheet_size alone = size_for_side(sheet, blocks, extra, blocks->count, LEAST_LARGE);
	deal_side(sheet, deal, extra, blocks->count, alone <= LEAST_LARGE ? alone : LEAST_WITH_EXTRA);
}

/* What is left of a side is shared out between its blocks, in whole mm. */
static size_t spread_of(struct sheet *sheet, const struct sheet_blocks *blocks, const struct side *side)
{
	int left = room_of_side(sheet) - total_room(sheet, blocks, side->first, side->past, side->size);
	int each = left / (int)(side->past - side->first) / 100;
	return (size_t)(each < 0 ? 0 : each > LARGEST_SPREAD ? LARGEST_SPREAD : each);
}

static void add_identity(struct sheet *sheet, cmark_node *side, size_t number, size_t count)
{
	struct text fingerprint = sheet->process->fingerprint;
	if ((number < count || count == 1) && fingerprint.length > SHORT_FINGERPRINT)
		fingerprint.length = SHORT_FINGERPRINT;
	struct text name = intern_text(sheet->emission->recipe->names, sheet->process->declared.name);
	cmark_node *line = document_add(sheet->document, side, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_identity));
	document_strong(sheet->document, line, text_format(sheet->arena, "Side %zu of %zu", number, count));
	document_format(sheet->document, line, ", %.*s, fingerprint %.*s", TEXT_ARGUMENT(name),
			TEXT_ARGUMENT(fingerprint));
}

static cmark_node *add_side(struct sheet *sheet, enum sheet_size size, size_t spread)
{
	cmark_node *root = sheet->document->root;
	if (cmark_node_first_child(root))
		document_add(sheet->document, root, CMARK_NODE_THEMATIC_BREAK, NULL);
	struct sheet_mark *mark = ARENA_NEW(sheet->arena, struct sheet_mark);
	*mark = (struct sheet_mark){ .id = MARK_side, .number = spread, .size = size };
	return document_add(sheet->document, root, CMARK_NODE_CUSTOM_BLOCK, mark);
}

void sheet_sides(struct sheet *sheet, struct sheet_blocks *blocks, cmark_node *extra)
{
	struct deal deal = deal_as_asked(sheet, blocks);
	if (extra) {
		sheet_block(sheet, blocks, SHEET_CARE, extra);
		deal_extra(sheet, blocks, &deal);
	}
	for (size_t i = 0; i < deal.count; i++) {
		const struct side *dealt = &deal.sides[i];
		cmark_node *side = add_side(sheet, dealt->size, spread_of(sheet, blocks, dealt));
		for (size_t j = dealt->first; j < dealt->past; j++)
			document_attach(sheet->document, side, blocks->items[j].node);
		add_identity(sheet, side, i + 1, deal.count);
	}
}
