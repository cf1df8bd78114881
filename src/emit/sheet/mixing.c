#include "emit/sheet/mixing.h"

#include <inttypes.h>

#include "compute/mixing.h"
#include "emit/sheet/words.h"

static struct text amount(struct sheet *sheet, const struct quantity *quantity)
{
	if (unit_row(quantity->unit)->quantity == QUANTITY_MASS)
		return words_bound(sheet, quantity_print_mass(sheet->arena, quantity->value));
	return words_volume(sheet, quantity->value);
}

static void add_water(struct sheet *sheet, cmark_node *paragraph, const struct part *part)
{
	if (span_is_set(part->amount.span))
		document_format(sheet->document, paragraph, "%.*s ", TEXT_ARGUMENT(amount(sheet, &part->amount)));
	document_string(sheet->document, paragraph, "water");
	if (!span_is_set(part->at.span))
		return;
	document_format(sheet->document, paragraph, " at %.*s", TEXT_ARGUMENT(words_range(sheet, &part->at)));
}

static void add_chemical(struct sheet *sheet, cmark_node *paragraph, const struct part *part)
{
	if (span_is_set(part->amount.span))
		document_format(sheet->document, paragraph, "%.*s ", TEXT_ARGUMENT(amount(sheet, &part->amount)));
	if (part->chemical == CHEMICAL_free_text)
		document_prose(sheet->document, paragraph, part->label.text);
	else
		document_text(sheet->document, paragraph, chemical_row(part->chemical)->title);
	if (part->hydrate.length > 0)
		document_format(sheet->document, paragraph, " %.*s", TEXT_ARGUMENT(part->hydrate));
	if (span_is_set(part->stirring.span)) {
		struct text stirring = words_duration(sheet, part->stirring.value);
		document_format(sheet->document, paragraph, ", stir %.*s", TEXT_ARGUMENT(stirring));
	}
}

static void add_part(struct sheet *sheet, cmark_node *paragraph, const struct part *part, int64_t mark_volume)
{
	struct text lasts = words_duration(sheet, part->stirring.value);
	switch (part->kind) {
	case PART_WATER:
		add_water(sheet, paragraph, part);
		break;
	case PART_ADD:
		add_chemical(sheet, paragraph, part);
		break;
	case PART_STIR:
		document_format(sheet->document, paragraph, "stir %.*s", TEXT_ARGUMENT(lasts));
		break;
	case PART_STAND:
		document_format(sheet->document, paragraph, "let stand %.*s", TEXT_ARGUMENT(lasts));
		break;
	case PART_TOP_UP:
		document_string(sheet->document, paragraph, "top up");
		int64_t to = span_is_set(part->amount.span) ? part->amount.value : mark_volume;
		if (to > 0)
			document_format(sheet->document, paragraph, " to %.*s", TEXT_ARGUMENT(words_volume(sheet, to)));
		break;
	}
}

static void add_parts(struct sheet *sheet, cmark_node *paragraph, const struct solution *solution, int64_t mark_volume)
{
	for (const struct part *part = solution->parts; part; part = part->next) {
		add_part(sheet, paragraph, part, mark_volume);
		document_string(sheet->document, paragraph, part->next ? "; " : ".");
	}
}

/* A space before a sentence that is not the first. */
static void start_sentence(struct sheet *sheet, cmark_node *paragraph, size_t before)
{
	if (before > 0)
		document_string(sheet->document, paragraph, " ");
}

/* "2 L, then 1 L" where one mix is not enough. */
static void add_mixes(struct sheet *sheet, cmark_node *paragraph, const struct mixing_plan *plan,
		      const struct graduate *vessel)
{
	if (plan->mix_count < 2 || !vessel)
		return;
	int64_t first = plan->mixes[0].makes, last = plan->mixes[plan->mix_count - 1].makes;
	document_format(sheet->document, paragraph, ", in %zu" NBSP "mixes in ", plan->mix_count);
	words_add_title(sheet, paragraph, &vessel->declared);
	document_format(sheet->document, paragraph, ": %.*s", TEXT_ARGUMENT(words_volume(sheet, first)));
	if (plan->mix_count > 2 || last == first)
		document_string(sheet->document, paragraph, " each");
	if (last != first)
		document_format(sheet->document, paragraph, "%s %.*s", plan->mix_count > 2 ? ", the last" : ", then",
				TEXT_ARGUMENT(words_volume(sheet, last)));
}

/* Powder is never split; of a liquid kit the part needed is measured. */
static void add_kits(struct sheet *sheet, cmark_node *paragraph, const struct solution *solution,
		     const struct mixing_plan *plan, const struct graduate *vessel)
{
	struct text one = words_volume(sheet, solution->kit_makes.value);
	bool is_powder = solution->kit_form == KIT_POWDER;
	if (plan->kits == 0) {
		document_format(sheet->document, paragraph, "A %s kit makes %.*s.", is_powder ? "powder" : "liquid",
				TEXT_ARGUMENT(one));
		return;
	}
	struct text makes = words_volume(sheet, plan->makes);
	document_format(sheet->document, paragraph, "%" PRId64 NBSP "%s %s of %.*s", plan->kits,
			is_powder ? "powder" : "liquid", plan->kits == 1 ? "kit" : "kits", TEXT_ARGUMENT(one));
	if (plan->makes != solution->kit_makes.value)
		document_format(sheet->document, paragraph, is_powder ? " make %.*s" : ", by measure for %.*s",
				TEXT_ARGUMENT(makes));
	add_mixes(sheet, paragraph, plan, vessel);
	if (solution->is_blended && plan->mix_count > 1)
		document_string(sheet->document, paragraph, "; blend before use");
	document_string(sheet->document, paragraph, solution->parts && plan->kits == 1 ? ":" : ".");
}

/* ": 60 mL stock, 540 mL water", as the mixing card has it; "water to 470 mL" where that is no figure to measure. */
static void add_measured(struct sheet *sheet, cmark_node *paragraph, const struct solution *solution, int64_t total)
{
	if (total <= 0)
		return;
	for (size_t i = 0; i + 1 < solution->dilution_count; i++) {
		struct text volume = words_volume(sheet, mixing_dilution_measured(solution, i, total));
		document_format(sheet->document, paragraph, "%s%.*s stock", i > 0 ? ", " : ": ", TEXT_ARGUMENT(volume));
		if (solution->dilution_count > 2)
			document_format(sheet->document, paragraph, NBSP "%c", (char)('A' + (i < 26 ? i : 25)));
	}
	struct mixing_dilution measured = mixing_dilution(solution, total);
	if (measured.is_topped_up)
		document_format(sheet->document, paragraph, ", water to %.*s",
				TEXT_ARGUMENT(words_volume(sheet, measured.mark)));
	else
		document_format(sheet->document, paragraph, ", %.*s water",
				TEXT_ARGUMENT(words_volume(sheet, measured.water)));
}

/* The last number of a dilution is water, those before are stocks. */
static void add_dilution(struct sheet *sheet, cmark_node *paragraph, const struct solution *solution, int64_t total)
{
	for (size_t i = 0; i < solution->dilution_count; i++)
		document_format(sheet->document, paragraph, "%s%.*s", i > 0 ? "+" : "Dilute ",
				TEXT_ARGUMENT(words_thousandths(sheet, solution->dilution[i])));
	if (solution->stock) {
		document_string(sheet->document, paragraph, " from ");
		words_add_title(sheet, paragraph, &solution->stock->declared);
	}
	add_measured(sheet, paragraph, solution, total);
	document_string(sheet->document, paragraph, ".");
}

static void add_recipe(struct sheet *sheet, cmark_node *paragraph, const struct solution *solution, int64_t needed,
		       int64_t kits)
{
	struct mixing_batch batch = mixing_batch(solution);
	struct text makes = words_volume(sheet, batch.makes);
	if (span_is_set(solution->kit_makes.span))
		document_string(sheet->document, paragraph, kits == 1 ? "" : "Each: ");
	else if (batch.makes > 0 && needed > 0 && batch.makes != needed)
		document_format(sheet->document, paragraph,
				"%.*s needed. For %.*s: ", TEXT_ARGUMENT(words_volume(sheet, needed)),
				TEXT_ARGUMENT(makes));
	else if (batch.makes > 0)
		document_format(sheet->document, paragraph, "For %.*s: ", TEXT_ARGUMENT(makes));
	add_parts(sheet, paragraph, solution, batch.mark);
}

void mixing_add(struct sheet *sheet, cmark_node *paragraph, const struct solution *solution)
{
	int64_t needed = mixing_needed(sheet->process, solution);
	const struct graduate *vessel = mixing_vessel(sheet->process, solution);
	struct mixing_plan plan = mixing_plan(solution, needed, vessel ? vessel->holds.value : 0, sheet->arena);
	size_t sentences = 0;
	if (solution->dilution_count > 0) {
		start_sentence(sheet, paragraph, sentences++);
		add_dilution(sheet, paragraph, solution, needed);
	}
	if (span_is_set(solution->kit_makes.span)) {
		start_sentence(sheet, paragraph, sentences++);
		add_kits(sheet, paragraph, solution, &plan, vessel);
	}
	if (solution->parts) {
		start_sentence(sheet, paragraph, sentences++);
		add_recipe(sheet, paragraph, solution, needed, plan.kits);
	}
	if (sentences == 0)
		document_string(sheet->document, paragraph, "Make up as its label says.");
}
