/* One bath of the card: what to make, how, and what comes after. */
#include "emit/mix/card.h"
#include "emit/sheet/words.h"

#include <inttypes.h>

static void add_heading(struct mix_card *card, cmark_node *block, const struct preparation_bath *bath, size_t index)
{
	struct sheet *sheet = card->sheet;
	cmark_node *heading = document_add_heading(sheet->document, block, 2, NULL);
	struct text turn = text_format(sheet->arena, "No." NBSP "%zu:", index + 1);
	document_span(sheet->document, heading, mix_mark(MIX_MARK_turn), turn);
	document_string(sheet->document, heading, " ");
	struct text label =
		bath->bottle > 0 ? text_format(sheet->arena, "Bottle" NBSP "%" PRIu32, bath->bottle) : TEXT("Stock");
	document_span(sheet->document, heading, mix_mark(bath->bottle > 0 ? MIX_MARK_bottle : MIX_MARK_stock), label);
	document_string(sheet->document, heading, " ");
	words_add_title(sheet, heading, &bath->solution->declared);
}

static void add_kits(struct mix_card *card, cmark_node *line, const struct preparation_bath *bath)
{
	struct sheet *sheet = card->sheet;
	const struct solution *solution = bath->solution;
	int64_t kits = bath->stages[0].plan.kits;
	const char *form = solution->kit_form == KIT_POWDER ? "powder" : "liquid";
	struct text each = words_volume(sheet, solution->kit_makes.value);
	document_format(sheet->document, line, "%s%" PRId64 NBSP "%s %s of %.*s",
			bath->concentrate_over > 0 ? "by measure from " : "", kits, form, kits == 1 ? "kit" : "kits",
			TEXT_ARGUMENT(each));
}

static void append_dilution(struct mix_card *card, cmark_node *line, const struct solution *solution)
{
	for (size_t i = 0; i < solution->dilution_count; i++)
		document_format(card->sheet->document, line, "%s%.*s", i > 0 ? "+" : "",
				TEXT_ARGUMENT(words_thousandths(card->sheet, solution->dilution[i])));
}

static void add_dilution(struct mix_card *card, cmark_node *line, const struct solution *solution)
{
	append_dilution(card, line, solution);
	if (!solution->stock)
		return;
	document_string(card->sheet->document, line, " from ");
	words_add_title(card->sheet, line, &solution->stock->declared);
}

static void add_why(struct mix_card *card, cmark_node *block, const struct preparation_bath *bath)
{
	struct document *document = card->sheet->document;
	cmark_node *line = document_add(document, block, CMARK_NODE_PARAGRAPH, mix_mark(MIX_MARK_why));
	document_format(document, line, "Why now: %.*s.", TEXT_ARGUMENT(mix_reason(bath)));
}

/* "Make 3 L: 3 powder kits of 1 L; 2.5 L are wanted", and in which vessel, where there is one mix. */
static void add_make(struct mix_card *card, cmark_node *block, const struct preparation_bath *bath)
{
	struct sheet *sheet = card->sheet;
	const struct solution *solution = bath->solution;
	cmark_node *line = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, mix_mark(MIX_MARK_make));
	document_string(sheet->document, line, "Make ");
	mix_strong(card, line, MIX_MARK_amount, words_volume(sheet, bath->makes));
	if (bath->stage_count == 0) {
		document_string(sheet->document, line, ", as its label says");
	} else if (span_is_set(solution->kit_makes.span)) {
		document_string(sheet->document, line, ": ");
		add_kits(card, line, bath);
	} else if (bath->stages[0].is_dilution) {
		document_string(sheet->document, line, ", diluted ");
		add_dilution(card, line, solution);
	} else if (mixing_is_as_written(solution)) {
		document_string(sheet->document, line, ", as written");
	} else {
		document_string(sheet->document, line, " by formula");
	}
	if (bath->stage_count > 1)
		document_string(sheet->document, line, " as a stock");
	if (bath->over > 0)
		document_format(sheet->document, line, "; %.*s are wanted",
				TEXT_ARGUMENT(words_volume(sheet, bath->stages[0].plan.needed)));
	if (bath->stage_count > 0 && bath->stages[0].plan.mix_count == 1) {
		document_string(sheet->document, line, ", ");
		mix_add_vessel(card, line, &bath->stages[0], &bath->stages[0].mixes[0]);
	}
	document_string(sheet->document, line, ".");
}

/* A kit that is diluted: the second half. */
static void add_second_stage(struct mix_card *card, cmark_node *work, const struct preparation_bath *bath)
{
	struct sheet *sheet = card->sheet;
	cmark_node *line = document_add(sheet->document, work, CMARK_NODE_PARAGRAPH, NULL);
	document_string(sheet->document, line, "Then dilute the stock ");
	append_dilution(card, line, bath->solution);
	document_string(sheet->document, line, " to ");
	mix_strong(card, line, MIX_MARK_amount, words_volume(sheet, bath->stages[1].plan.makes));
	if (bath->stages[1].plan.mix_count == 1) {
		document_string(sheet->document, line, ", ");
		mix_add_vessel(card, line, &bath->stages[1], &bath->stages[1].mixes[0]);
	}
	document_string(sheet->document, line, ":");
	mix_acts(card, work, bath, &bath->stages[1]);
}

static void add_notes(struct mix_card *card, cmark_node *work, const struct solution *solution)
{
	for (const struct note *note = solution->declared.notes; note; note = note->next) {
		cmark_node *line = document_add(card->sheet->document, work, CMARK_NODE_PARAGRAPH, NULL);
		document_prose(card->sheet->document, line, note->prose.text);
	}
}

void mix_bath(struct mix_card *card, size_t index)
{
	struct document *document = card->sheet->document;
	const struct preparation_bath *bath = &card->preparation->baths[index];
	cmark_node *block = document_add(document, document->root, CMARK_NODE_CUSTOM_BLOCK, mix_mark(MIX_MARK_bath));
	cmark_node *head = document_add(document, block, CMARK_NODE_CUSTOM_BLOCK, mix_mark(MIX_MARK_head));
	add_heading(card, head, bath, index);
	add_why(card, head, bath);
	cmark_node *work = document_add(document, block, CMARK_NODE_CUSTOM_BLOCK, mix_mark(MIX_MARK_work));
	add_make(card, work, bath);
	if (bath->stage_count > 0)
		mix_after(card, work, bath, mix_acts(card, work, bath, &bath->stages[0]));
	if (bath->stage_count > 1)
		add_second_stage(card, work, bath);
	add_notes(card, work, bath->solution);
	cmark_node *side = document_add(document, block, CMARK_NODE_CUSTOM_BLOCK, mix_mark(MIX_MARK_side));
	mix_label(card, document_add(document, side, CMARK_NODE_CUSTOM_BLOCK, mix_mark(MIX_MARK_bottle_side)), bath);
	mix_care(card, side, bath);
}
