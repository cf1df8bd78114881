/* The bottles: what stands ready, how it is made up, what it may do to the person. */
#include <inttypes.h>

#include "compute/mixing.h"
#include "emit/sheet/mixing.h"
#include "emit/sheet/words.h"

static const char *use_words(enum stock_use use)
{
	switch (use) {
	case USE_ONE_SHOT:
		return "One-shot";
	case USE_REUSE:
		return "Reuse";
	case USE_REPLENISH:
		return "Replenish";
	default:
		return NULL;
	}
}

static struct text life(struct sheet *sheet, const struct solution *solution)
{
	struct text_builder words = text_builder_start(sheet->arena);
	const char *use = use_words(solution->use);
	if (use)
		text_append_string(&words, use);
	if (solution->use == USE_REPLENISH) {
		struct text each = words_volume(sheet, solution->replenish.value);
		text_append_format(&words, " %.*s a" NBSP "roll", TEXT_ARGUMENT(each));
	}
	if (span_is_set(solution->capacity_rolls.span)) {
		struct text per = words_volume(sheet, solution->capacity_volume.value);
		text_append_format(&words, "%s%" PRId64 NBSP "%s per" NBSP "%.*s", words.length > 0 ? ", " : "",
				   solution->capacity_rolls.value,
				   solution->capacity_rolls.value == 1 ? "roll" : "rolls", TEXT_ARGUMENT(per));
	}
	return text_builder_text(&words);
}

/* "Hazards: H302, H317." A solution stated to have none is not the same as one about which nothing is said. */
static struct text hazards(struct sheet *sheet, const struct solution *solution)
{
	if (!solution->hazards)
		return solution->hazards_none ? TEXT("No hazard code.") : TEXT("Hazards: read the safety data sheet.");
	struct text_builder words = text_builder_start(sheet->arena);
	text_append_string(&words, "Hazards: ");
	for (const struct hazard *hazard = solution->hazards; hazard; hazard = hazard->next)
		text_append_format(&words, "%.*s%s", TEXT_ARGUMENT(hazard->code), hazard->next ? ", " : ".");
	return text_builder_text(&words);
}

static cmark_node *build_bath(struct sheet *sheet, const struct solution *solution, uint32_t bottle)
{
	cmark_node *block = document_add(sheet->document, NULL, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_mix));
	cmark_node *heading = document_add_heading(sheet->document, block, 2, NULL);
	struct text label = bottle > 0 ? text_format(sheet->arena, "Bottle" NBSP "%" PRIu32, bottle) : TEXT("Stock");
	document_span(sheet->document, heading, sheet_mark(bottle > 0 ? MARK_bottle : MARK_stock), label);
	document_string(sheet->document, heading, " ");
	words_add_title(sheet, heading, &solution->declared);
	cmark_node *list = document_add_list(sheet->document, block, NULL);
	mixing_add(sheet, document_add_item(sheet->document, list, NULL), solution);
	if (span_is_set(solution->usable.span)) {
		struct text usable = words_range(sheet, &solution->usable);
		document_format(sheet->document, document_add_item(sheet->document, list, NULL), "Usable %.*s.",
				TEXT_ARGUMENT(usable));
	}
	struct text lasts = life(sheet, solution);
	if (lasts.length > 0)
		document_format(sheet->document, document_add_item(sheet->document, list, NULL), "%.*s.",
				TEXT_ARGUMENT(lasts));
	document_text(sheet->document, document_add_item(sheet->document, list, NULL), hazards(sheet, solution));
	for (const struct note *note = solution->declared.notes; note; note = note->next)
		document_prose(sheet->document, document_add_item(sheet->document, list, NULL), note->prose.text);
	return block;
}

/* The solutions shown, each once. */
struct shown {
	const struct solution **items;
	size_t count;
	size_t capacity;
};

static bool is_new(struct sheet *sheet, struct shown *shown, const struct solution *solution)
{
	for (size_t i = 0; i < shown->count; i++)
		if (shown->items[i] == solution)
			return false;
	ARENA_RESERVE(sheet->arena, shown->items, shown->count, shown->capacity);
	shown->items[shown->count++] = solution;
	return true;
}

void sheet_baths(struct sheet *sheet, struct sheet_blocks *blocks)
{
	const struct process *process = sheet->process;
	struct shown shown = { 0 };
	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];
		if (step->bottle == 0 || !is_new(sheet, &shown, step->solution))
			continue;
		sheet_block(sheet, blocks, SHEET_MIXING, build_bath(sheet, step->solution, step->bottle));
		/* What it is diluted from; one that is also poured itself has a bottle of its own. */
		for (const struct solution *stock = step->solution->stock; stock; stock = stock->stock) {
			if (mixing_is_poured(process, stock) || !is_new(sheet, &shown, stock))
				break;
			sheet_block(sheet, blocks, SHEET_MIXING, build_bath(sheet, stock, 0));
		}
	}
}
