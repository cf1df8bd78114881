/* Dealing blocks to sides. The browser breaks no step, but it cannot tell the page how many sides there are; so the
 * room of each block is reckoned beforehand (room.h). */
#include "emit/sheet/room.h"

#define WANTED_SIDES 2

/* How much of the fingerprint is on every side. */
#define SHORT_FINGERPRINT 16

/* The most that blocks are set apart beyond their own gaps, in mm. */
#define LARGEST_SPREAD 8

/* The size of a sheet that needs more sides than a laminated card has, and the least for one that gets by with one. */
#define SIZE_OF_MANY_SIDES SHEET_SMALL
#define LEAST_SIZE_OF_ONE_SIDE SHEET_MIDDLE

/* The least size of a bench side that takes what was asked for beyond the sheet. */
#define LEAST_SIZE_WITH_EXTRA SHEET_SMALL

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
	int total = room_of_identity(size, past == blocks->count);
	for (size_t i = first; i < past; i++)
		total += room_of_block(sheet, blocks->items[i].node, size);
	return total;
}

/* The largest size in which some blocks fit on one side; SHEET_SIZE_COUNT where none does. */
static enum sheet_size size_for_side(struct sheet *sheet, const struct sheet_blocks *blocks, size_t first, size_t past)
{
	enum sheet_size size = SHEET_LARGE;
	while (size < SHEET_SIZE_COUNT && total_room(sheet, blocks, first, past, size) > room_of_side(size))
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
		while (past < blocks->count && total_room(sheet, blocks, first, past + 1, size) <= room_of_side(size));
		deal_side(sheet, &deal, first, past, size);
	}
	return deal;
}

/* Wet hands should not have to turn the sheet: all steps are on one side and the bench on the other if there is a size
 * that allows it, each side in the largest that does. Else two sides in the largest size, else as many as it takes. */
static struct deal deal_blocks(struct sheet *sheet, const struct sheet_blocks *blocks)
{
	size_t bench = 0;
	while (bench < blocks->count && !blocks->items[bench].opens_bench)
		bench++;
	enum sheet_size one = size_for_side(sheet, blocks, 0, blocks->count);
	enum sheet_size sink = size_for_side(sheet, blocks, 0, bench);
	enum sheet_size rest = size_for_side(sheet, blocks, bench, blocks->count);
	struct deal deal = { 0 };
	if (one <= LEAST_SIZE_OF_ONE_SIDE) {
		deal_side(sheet, &deal, 0, blocks->count, one);
		return deal;
	}
	if (sink < SHEET_SIZE_COUNT && rest < SHEET_SIZE_COUNT) {
		deal_side(sheet, &deal, 0, bench, sink);
		deal_side(sheet, &deal, bench, blocks->count, rest);
		return deal;
	}
	for (enum sheet_size size = SHEET_LARGE; size < SHEET_SIZE_COUNT; size++) {
		deal = deal_in_order(sheet, blocks, size);
		if (deal.count <= WANTED_SIDES)
			return deal;
	}
	return deal_in_order(sheet, blocks, SIZE_OF_MANY_SIDES);
}

/* What is left of a side is shared out between its blocks, in whole mm. */
static size_t spread_of(struct sheet *sheet, const struct sheet_blocks *blocks, const struct side *side)
{
	int left = room_of_side(side->size) - total_room(sheet, blocks, side->first, side->past, side->size);
	int each = left / (int)(side->past - side->first) / 100;
	return (size_t)(each < 0 ? 0 : each > LARGEST_SPREAD ? LARGEST_SPREAD : each);
}

static void add_identity(struct sheet *sheet, cmark_node *side, size_t number, size_t count)
{
	struct text fingerprint = sheet->process->fingerprint;
	if (number < count && fingerprint.length > SHORT_FINGERPRINT)
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

/* The last block of all joins the bench where it can be read there, else it gets a side of its own. */
static void deal_extra(struct sheet *sheet, const struct sheet_blocks *blocks, struct deal *deal)
{
	size_t extra = blocks->count - 1;
	struct side *last = &deal->sides[deal->count - 1];
	enum sheet_size joined = size_for_side(sheet, blocks, last->first, blocks->count);
	if (deal->count == WANTED_SIDES && joined <= LEAST_SIZE_WITH_EXTRA) {
		*last = (struct side){ last->first, blocks->count, joined };
		return;
	}
	enum sheet_size alone = size_for_side(sheet, blocks, extra, blocks->count);
	deal_side(sheet, deal, extra, blocks->count, alone < SHEET_SIZE_COUNT ? alone : SIZE_OF_MANY_SIDES);
}

void sheet_sides(struct sheet *sheet, struct sheet_blocks *blocks, cmark_node *extra)
{
	struct deal deal = deal_blocks(sheet, blocks);
	while (deal.count > WANTED_SIDES && blocks->items[blocks->count - 1].may_be_left_out) {
		blocks->count--;
		deal = deal_blocks(sheet, blocks);
	}
	if (extra) {
		sheet_block(sheet, blocks, extra);
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
