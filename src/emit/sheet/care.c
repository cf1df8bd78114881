/* Cautions, waste, departures from good practice. */
#include <inttypes.h>

#include "emit/sheet/ladder.h"
#include "emit/departure.h"
#include "emit/sheet/words.h"
#include "model/hazards.h"

/* Printed on every sheet. */
static const char *const cautions[] = {
#define CAUTION(words) words,
#include "emit/cautions.def"
#undef CAUTION
};

static void add_sentence(struct sheet *sheet, cmark_node *list, const char *words)
{
	document_string(sheet->document, document_add_item(sheet->document, list, NULL), words);
}

static cmark_node *add_block(struct sheet *sheet, enum sheet_mark_id mark, const char *heading)
{
	cmark_node *block = document_add(sheet->document, NULL, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(mark));
	document_string(sheet->document, document_add_heading(sheet->document, block, 2, NULL), heading);
	return block;
}

/* ---- cautions ---- */

typedef void visit_solution(struct sheet *sheet, const struct solution *solution, void *context);

/* The solutions of the steps and the stocks behind them, each as often as it is used. */
static void each_solution(struct sheet *sheet, visit_solution *visit, void *context)
{
	for (size_t i = 0; i < sheet->process->step_count; i++) {
		const struct solution *solution = sheet->process->steps[i].solution;
		if (sheet->process->steps[i].bath != BATH_SOLUTION || !solution)
			continue;
		visit(sheet, solution, context);
		if (solution->stock)
			visit(sheet, solution->stock, context);
	}
}

/* The distinct codes of a sheet, in their order. */
struct codes {
	struct text *items;
	size_t count;
	size_t capacity;
};

static void collect_codes(struct sheet *sheet, const struct solution *solution, void *context)
{
	struct codes *codes = context;
	for (const struct hazard *hazard = solution->hazards; hazard; hazard = hazard->next) {
		size_t place = 0;
		while (place < codes->count && text_compare(codes->items[place], hazard->code) < 0)
			place++;
		if (place < codes->count && text_equal(codes->items[place], hazard->code))
			continue;
		ARENA_RESERVE(sheet->arena, codes->items, codes->count, codes->capacity);
		for (size_t i = codes->count++; i > place; i--)
			codes->items[i] = codes->items[i - 1];
		codes->items[place] = hazard->code;
	}
}

static void add_codes(struct sheet *sheet, cmark_node *list)
{
	struct codes codes = { 0 };
	each_solution(sheet, collect_codes, &codes);
	if (codes.count == 0)
		return;
	cmark_node *item = document_add_item(sheet->document, list, sheet_mark(MARK_codes));
	for (size_t i = 0; i < codes.count; i++) {
		struct text words = hazard_text(codes.items[i]);
		if (words.length == 0)
			words = TEXT("see the safety data sheet");
		document_strong(sheet->document, item, codes.items[i]);
		document_format(sheet->document, item, " %.*s%s", TEXT_ARGUMENT(words),
				i + 1 < codes.count ? ". " : ".");
	}
}

static void add_cautions(struct sheet *sheet, struct sheet_blocks *blocks)
{
	cmark_node *block = add_block(sheet, MARK_care, "Cautions");
	cmark_node *list = document_add_list(sheet->document, block, NULL);
	for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++)
		add_sentence(sheet, list, cautions[i]);
	add_codes(sheet, list);
	sheet_block(sheet, blocks, SHEET_CARE, block);
}

/* ---- waste ---- */

static bool is_seen_before(const struct process *process, size_t past, uint32_t bottle)
{
	for (size_t i = 0; i < past; i++)
		if (process->steps[i].bottle == bottle)
			return true;
	return false;
}

static bool takes_stream(const struct step *step, enum stream_id stream)
{
	return step->bottle > 0 && step->solution && step->solution->waste == stream;
}

static struct text stream_words(struct sheet *sheet, enum stream_id stream)
{
	switch (stream) {
	case STREAM_unstated:
		return TEXT("Not said, ask the waste handler:");
	case STREAM_none:
		return TEXT("No container declared as needed:");
	default:
		return text_format(sheet->arena, "Container “%.*s”:", TEXT_ARGUMENT(stream_row(stream)->word));
	}
}

static void add_stream(struct sheet *sheet, cmark_node *list, enum stream_id stream)
{
	const struct process *process = sheet->process;
	struct text_builder bottles = text_builder_start(sheet->arena);
	size_t count = 0;
	for (size_t i = 0; i < process->step_count; i++) {
		uint32_t bottle = process->steps[i].bottle;
		if (takes_stream(&process->steps[i], stream) && !is_seen_before(process, i, bottle))
			text_append_format(&bottles, "%s%" PRIu32, count++ > 0 ? ", " : NBSP, bottle);
	}
	if (count == 0)
		return;
	cmark_node *item = document_add_item(sheet->document, list, NULL);
	document_strong(sheet->document, item, stream_words(sheet, stream));
	document_format(sheet->document, item, " %s%.*s.", count == 1 ? "bottle" : "bottles",
			TEXT_ARGUMENT(text_builder_text(&bottles)));
}

static void add_waste(struct sheet *sheet, struct sheet_blocks *blocks)
{
	bool has_bottles = false;
	for (size_t i = 0; i < sheet->process->step_count; i++)
		has_bottles = has_bottles || sheet->process->steps[i].bottle > 0;
	if (!has_bottles)
		return;
	cmark_node *block = add_block(sheet, MARK_care, "Waste");
	cmark_node *list = document_add_list(sheet->document, block, NULL);
	for (size_t stream = 0; stream < STREAM_COUNT; stream++)
		add_stream(sheet, list, (enum stream_id)stream);
	add_stream(sheet, list, STREAM_unstated);
	sheet_block(sheet, blocks, SHEET_CARE, block);
}

/* ---- departures ---- */

static void add_departures(struct sheet *sheet, struct sheet_blocks *blocks)
{
	const struct report *report = sheet->emission->report;
	cmark_node *list = NULL;
	for (size_t i = 0; report && i < report->count; i++) {
		const struct diagnostic *finding = &report->items[i];
		if (!finding->allowed.data)
			continue;
		if (!list) {
			cmark_node *block = add_block(sheet, MARK_care, "Departures, each with its reason");
			list = document_add_list(sheet->document, block, NULL);
			sheet_block(sheet, blocks, SHEET_CARE, block);
		}
		departure_add(sheet->document, document_add_item(sheet->document, list, NULL), finding);
	}
}

/* ---- how to read the sheet ---- */

static void add_legend(struct sheet *sheet, struct sheet_blocks *blocks)
{
	cmark_node *block = add_block(sheet, MARK_legend, "Pictures");
	cmark_node *list = document_add_list(sheet->document, block, NULL);
	add_sentence(sheet, list, "Strips: the level in the tank, all to one scale, minutes below.");
	add_sentence(sheet, list,
		     "Black: agitate. Dot: tap. Hatched: fill and drain. Dashed: it may go on. Circle: light allowed.");
	if (ladder_width(sheet) > 0)
		add_sentence(sheet, list, "Ladder: bar, working point; frame, what the bath may have.");
	sheet_block(sheet, blocks, SHEET_LEGEND, block);
}

void sheet_care(struct sheet *sheet, struct sheet_blocks *blocks)
{
	add_cautions(sheet, blocks);
	add_waste(sheet, blocks);
	add_departures(sheet, blocks);
	add_legend(sheet, blocks);
}
