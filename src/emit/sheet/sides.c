/* Dealing blocks to sides. The browser breaks no step, but it cannot tell the page how many sides there are; so the room
 * of each block is reckoned beforehand (room.h). */
#include "emit/sheet/room.h"

#define WANTED_SIDES 2

/* How much of the fingerprint is on every side. */
#define SHORT_FINGERPRINT 16

/* The most that blocks are set apart beyond their own gaps, in mm. */
#define LARGEST_SPREAD 6

/* Where sides begin: for each block, whether it is the first of one. */
struct deal {
	int *rooms;
	bool *opens_side;
	size_t side_count;
	bool has_sink_side; /* all steps are on one side, all of the bench on another */
};

static int total_room(const int *rooms, size_t first, size_t past)
{
	int total = 0;
	for (size_t i = first; i < past; i++)
		total += rooms[i];
	return total;
}

/* Fills side after side, each as far as it goes. */
static void deal_in_order(struct deal *deal, size_t count, enum sheet_size size)
{
	int used = room_of_side(size);
	for (size_t i = 0; i < count; i++) {
		if (used + deal->rooms[i] + room_of_identity(size, i + 1 == count) > room_of_side(size)) {
			deal->opens_side[i] = true;
			deal->side_count++;
			used = 0;
		}
		used += deal->rooms[i];
	}
}

static struct deal deal_blocks(struct sheet *sheet, const struct sheet_blocks *blocks)
{
	struct deal deal = {
		.rooms = ARENA_ARRAY(sheet->arena, int, blocks->count),
		.opens_side = ARENA_ARRAY(sheet->arena, bool, blocks->count),
	};
	size_t bench = blocks->count;
	for (size_t i = 0; i < blocks->count; i++) {
		deal.rooms[i] = room_of_block(sheet, blocks->items[i].node, sheet->size);
		if (blocks->items[i].opens_bench)
			bench = i;
	}
	int height = room_of_side(sheet->size);
	int sink = total_room(deal.rooms, 0, bench) + room_of_identity(sheet->size, false);
	int rest = total_room(deal.rooms, bench, blocks->count) + room_of_identity(sheet->size, true);
	deal.has_sink_side = sink <= height && rest <= height;
	if (deal.has_sink_side && sink + rest > height) {
		deal.opens_side[0] = deal.opens_side[bench] = true;
		deal.side_count = 2;
	} else {
		deal_in_order(&deal, blocks->count, sheet->size);
	}
	return deal;
}

/* The largest size with all steps on one side, so that wet hands need not turn the sheet; else the largest on two sides,
 * else the least. */
static struct deal choose_size(struct sheet *sheet, const struct sheet_blocks *blocks)
{
	struct deal deals[SHEET_SIZE_COUNT];
	for (size_t size = 0; size < SHEET_SIZE_COUNT; size++) {
		sheet->size = (enum sheet_size)size;
		deals[size] = deal_blocks(sheet, blocks);
		if (deals[size].has_sink_side)
			return deals[size];
	}
	for (size_t size = 0; size < SHEET_SIZE_COUNT; size++) {
		sheet->size = (enum sheet_size)size;
		if (deals[size].side_count <= WANTED_SIDES)
			return deals[size];
	}
	return deals[SHEET_DENSE];
}

/* What is left of a side is shared out between its blocks, in whole mm. */
static size_t spread_of_side(const struct deal *deal, size_t first, size_t count, enum sheet_size size)
{
	size_t past = first + 1;
	while (past < count && !deal->opens_side[past])
		past++;
	int left = room_of_side(size) - room_of_identity(size, past == count) - total_room(deal->rooms, first, past);
	int each = left / (int)(past - first) / 100;
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
	document_format(sheet->document, line, ", %.*s, fingerprint %.*s", TEXT_ARGUMENT(name), TEXT_ARGUMENT(fingerprint));
}

static cmark_node *add_side(struct sheet *sheet, size_t spread)
{
	cmark_node *root = sheet->document->root;
	if (cmark_node_first_child(root))
		document_add(sheet->document, root, CMARK_NODE_THEMATIC_BREAK, NULL);
	struct sheet_mark *mark = ARENA_NEW(sheet->arena, struct sheet_mark);
	*mark = (struct sheet_mark){ MARK_side, spread };
	return document_add(sheet->document, root, CMARK_NODE_CUSTOM_BLOCK, mark);
}

void sheet_sides(struct sheet *sheet, struct sheet_blocks *blocks)
{
	struct deal deal = choose_size(sheet, blocks);
	cmark_node *side = NULL;
	size_t number = 0;
	for (size_t i = 0; i < blocks->count; i++) {
		if (deal.opens_side[i])
			side = add_side(sheet, spread_of_side(&deal, i, blocks->count, sheet->size));
		number += deal.opens_side[i];
		document_attach(sheet->document, side, blocks->items[i].node);
		if (i + 1 == blocks->count || deal.opens_side[i + 1])
			add_identity(sheet, side, number, deal.side_count);
	}
}
