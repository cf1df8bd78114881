/* Beside the acts: what to write on the bottle, cautions and hazards. */
#include "emit/mix/card.h"
#include "emit/sheet/words.h"

#include <inttypes.h>

#include "model/date.h"
#include "model/hazards.h"

/* ---- the bottle's label ---- */

static cmark_node *add_line(struct mix_card *card, cmark_node *list, const char *label)
{
	cmark_node *item = document_add_item(card->sheet->document, list, NULL);
	document_format(card->sheet->document, item, "%s ", label);
	return item;
}

static void add_blank(struct mix_card *card, cmark_node *item)
{
	document_span(card->sheet->document, item, mix_mark(MIX_MARK_fill_in), TEXT("…………"));
}

static void add_date(struct mix_card *card, cmark_node *item, bool is_known, int64_t day)
{
	if (is_known)
		document_span(card->sheet->document, item, mix_mark(MIX_MARK_date),
			      date_print(card->sheet->arena, day));
	else
		add_blank(card, item);
}

static void add_life(struct mix_card *card, cmark_node *list, const struct quantity *life, const char *where)
{
	struct sheet *sheet = card->sheet;
	int64_t day = 0;
	if (!span_is_set(life->span))
		return;
	struct text keeps = words_bound(sheet, quantity_print_keeping(sheet->arena, life->value));
	cmark_node *item = document_add_item(sheet->document, list, NULL);
	document_format(sheet->document, item, "%s, %.*s: to ", where, TEXT_ARGUMENT(keeps));
	bool is_known = mix_keeps_until(card, life, &day);
	add_date(card, item, is_known, day);
}

static void add_label_name(struct mix_card *card, cmark_node *list, const struct preparation_bath *bath)
{
	struct sheet *sheet = card->sheet;
	cmark_node *item = document_add_item(sheet->document, list, NULL);
	cmark_node *name = document_add(sheet->document, item, CMARK_NODE_CUSTOM_INLINE, mix_mark(MIX_MARK_label_name));
	if (bath->bottle > 0)
		document_format(sheet->document, name, "%" PRIu32 " ", bath->bottle);
	words_add_title(sheet, name, &bath->solution->declared);
}

static void add_hazard_codes(struct mix_card *card, cmark_node *list, const struct solution *solution)
{
	struct document *document = card->sheet->document;
	cmark_node *item = document_add_item(document, list, NULL);
	if (!solution->hazards) {
		document_string(document, item,
				solution->hazards_none ? "no hazard code" : "read the safety data sheet");
		return;
	}
	for (const struct hazard *hazard = solution->hazards; hazard; hazard = hazard->next)
		document_format(document, item, "%.*s%s", TEXT_ARGUMENT(hazard->code), hazard->next ? ", " : "");
}

void mix_label(struct mix_card *card, cmark_node *parent, const struct preparation_bath *bath)
{
	struct document *document = card->sheet->document;
	const struct solution *solution = bath->solution;
	const struct conditions *conditions = card->emission->conditions;
	cmark_node *head = document_add_heading(document, parent, 3, NULL);
	document_string(document, head, "On the bottle");
	cmark_node *list = document_add_list(document, parent, mix_mark(MIX_MARK_label));
	add_label_name(card, list, bath);
	cmark_node *item = add_line(card, list, "mixed");
	add_date(card, item, conditions->has_date, conditions->date);
	document_string(document, item, " by ");
	add_blank(card, item);
	add_life(card, list, &solution->keeps_full, "full");
	add_life(card, list, &solution->keeps_part_full, "part full");
	if (solution->use == USE_ONE_SHOT)
		document_string(document, add_line(card, list, "one-shot:"), "used once");
	else
		add_blank(card, add_line(card, list, "rolls done"));
	add_hazard_codes(card, list, solution);
}

/* ---- cautions and hazards ---- */

static class_set classes_added(const struct solution *solution, bool only_volumes)
{
	class_set classes = 0;
	for (const struct part *part = solution->parts; part; part = part->next) {
		if (part->kind == PART_ADD && part->chemical != CHEMICAL_free_text &&
		    (part->is_volume || !only_volumes))
			classes |= chemical_row(part->chemical)->classes;
	}
	return classes;
}

static bool adds_acid(const struct solution *solution)
{
	class_set liquid = classes_added(solution, true) & (CLASS_BIT(strong_acid) | CLASS_BIT(weak_acid));
	return liquid != 0 || (solution->contains & CLASS_BIT(strong_acid)) != 0;
}

static bool adds_hydroxide(const struct solution *solution)
{
	return (solution->contains & CLASS_BIT(strong_alkali)) != 0;
}

static bool is_bleach_fix(const struct solution *solution)
{
	return role_row(solution->role)->action == ACTION_BLEACHES_AND_FIXES;
}

static bool adds_oxidiser(const struct solution *solution)
{
	return (classes_added(solution, false) &
		(CLASS_BIT(permanganate) | CLASS_BIT(dichromate) | CLASS_BIT(persulfate))) != 0;
}

static bool gives_fumes(const struct solution *solution)
{
	bool has_ammonia = false;
	for (const struct part *part = solution->parts; part; part = part->next)
		has_ammonia = has_ammonia || (part->kind == PART_ADD && part->chemical == CHEMICAL_ammonia_solution);
	return has_ammonia || (solution->contains & CLASS_BIT(formaldehyde)) != 0;
}

static bool adds_powder(const struct solution *solution)
{
	bool is_powder_kit = span_is_set(solution->kit_makes.span) && solution->kit_form == KIT_POWDER;
	return is_powder_kit ||
	       (solution->parts && !span_is_set(solution->kit_makes.span) && mixing_batch(solution).first_dry != NULL);
}

static const struct {
	bool (*holds)(const struct solution *solution);
	struct text words;
} cautions[] = {
#define MIX_CAUTION(holds, words) { holds, { words, sizeof(words) - 1 } },
#include "emit/mix/cautions.def"
#undef MIX_CAUTION
};

struct text mix_caution(const struct preparation_bath *bath, size_t index)
{
	for (size_t i = 0; i < sizeof(cautions) / sizeof(cautions[0]); i++) {
		if (cautions[i].holds(bath->solution) && index-- == 0)
			return cautions[i].words;
	}
	return TEXT("");
}

static void add_data_sheet(struct mix_card *card, cmark_node *item, const struct solution *solution)
{
	struct document *document = card->sheet->document;
	if (span_is_set(solution->hazards_sheet_dated)) {
		struct text date = source_text(card->emission->recipe->sources, solution->hazards_sheet_dated);
		document_format(document, item, "The safety data sheet of %.*s comes first.", TEXT_ARGUMENT(date));
	} else {
		document_string(document, item, "Read the safety data sheet first.");
	}
}

void mix_care(struct mix_card *card, cmark_node *parent, const struct preparation_bath *bath)
{
	struct document *document = card->sheet->document;
	const struct solution *solution = bath->solution;
	document_string(document, document_add_heading(document, parent, 3, NULL), "Take care");
	cmark_node *list = document_add_list(document, parent, mix_mark(MIX_MARK_hazards));
	for (size_t i = 0; mix_caution(bath, i).length > 0; i++)
		document_text(document, document_add_item(document, list, NULL), mix_caution(bath, i));
	add_data_sheet(card, document_add_item(document, list, NULL), solution);
	for (const struct hazard *hazard = solution->hazards; hazard; hazard = hazard->next) {
		struct text words = hazard_text(hazard->code);
		cmark_node *item = document_add_item(document, list, NULL);
		mix_strong(card, item, MIX_MARK_code, hazard->code);
		document_format(document, item, " %.*s.", TEXT_ARGUMENT(words));
	}
}
