#include "emit/sheet/sheet.h"

#include "emit/sheet/words.h"

const struct sheet_mark *sheet_mark(enum sheet_mark_id id)
{
	static const struct sheet_mark marks[] = {
#define MARK(id, element, class_name) { MARK_##id, 0, SHEET_LARGE },
#include "emit/sheet/marks.def"
#undef MARK
	};
	return id < MARK_COUNT ? &marks[id] : NULL;
}

void sheet_strong(struct sheet *sheet, cmark_node *parent, enum sheet_mark_id mark, struct text text)
{
	cmark_node *strong = document_add(sheet->document, parent, CMARK_NODE_STRONG, sheet_mark(mark));
	document_text(sheet->document, strong, text);
}

void sheet_block(struct sheet *sheet, struct sheet_blocks *blocks, enum sheet_part part, cmark_node *node)
{
	ARENA_RESERVE(sheet->arena, blocks->items, blocks->count, blocks->capacity);
	blocks->items[blocks->count++] =
		(struct sheet_block){ node, part, ARENA_ARRAY(sheet->arena, int, SHEET_SIZE_COUNT) };
}

struct sheet *sheet_start(const struct emission *emission)
{
	struct sheet *sheet = ARENA_NEW(emission->arena, struct sheet);
	*sheet = (struct sheet){
		.emission = emission,
		.process = emission->process,
		.timeline = emission->timeline,
		.arena = emission->arena,
		.advances = { .arena = emission->arena },
		.document = document_create(emission->arena),
	};
	if (emission->process)
		sheet->title = words_title(sheet, &emission->process->declared);
	return sheet;
}

struct sheet *sheet_build(const struct emission *emission)
{
	struct sheet *sheet = sheet_start(emission);
	strip_set_scale(sheet);
	struct sheet_blocks blocks = { 0 };
	sheet_banner(sheet, &blocks);
	sheet_steps(sheet, &blocks);
	sheet_baths(sheet, &blocks);
	sheet_care(sheet, &blocks);
	sheet_sides(sheet, &blocks, sheet_forecast(sheet));
	return sheet;
}
