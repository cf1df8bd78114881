/* Solutions as facts: what they are, how they are mixed, how far they go. */
#include "model/outline_build.h"

#define THOUSANDTH_PARTS 1000

static void add_kit(const struct outliner *outliner, struct outline *object, const struct solution *solution)
{
	struct outline *fact = outline_add(outliner, object, "kit", "kit", OUTLINE_RUN);
	const char *form = solution->kit_form == KIT_POWDER ? "powder" : "liquid";
	struct text makes;

	if (!span_is_set(solution->kit_makes.span))
		return;
	makes = outline_print(outliner, solution->kit_makes.value, OUTLINE_VOLUME);
	outline_become(outliner, fact, OUTLINE_OBJECT,
		       text_format(outliner->arena, "%.*s, %s", TEXT_ARGUMENT(makes), form));
	outline_put_quantity(outliner, fact, "makes_ml", &solution->kit_makes, OUTLINE_VOLUME);
	outline_put_text(outliner, fact, "form", text_from(form));
}

static void add_dilution(const struct outliner *outliner, struct outline *object, const struct solution *solution)
{
	struct outline *fact = outline_add(outliner, object, "dilution", "dilution", OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (size_t i = 0; i < solution->dilution_count; i++) {
		outline_put_figure(outliner, fact, NULL, solution->dilution[i], THOUSANDTH_PARTS);
		outline_join(&words, "+");
		text_append(&words, outline_print(outliner, solution->dilution[i], OUTLINE_PARTS));
	}
	fact->words = text_builder_text(&words);
	outline_add_name(outliner, object, "dilution_of", "dilution of", solution->dilution_of.name);
}

static struct text part_name(const struct outliner *outliner, const struct part *part)
{
	static const char *const words[] = { [PART_WATER] = "water",
					     [PART_ADD] = "",
					     [PART_STIR] = "stir",
					     [PART_STAND] = "stand",
					     [PART_TOP_UP] = "top up" };

	if (part->kind != PART_ADD)
		return text_from(words[part->kind]);
	if (part->chemical != CHEMICAL_free_text)
		return chemical_row(part->chemical)->word;
	return text_format(outliner->arena, "“%.*s”", TEXT_ARGUMENT(part->label.text));
}

static struct outline *part_outline(const struct outliner *outliner, const struct part *part)
{
	static const char *const acts[] = { [PART_WATER] = "water",
					    [PART_ADD] = "add",
					    [PART_STIR] = "stir",
					    [PART_STAND] = "stand",
					    [PART_TOP_UP] = "top-up" };
	struct outline *object = outline_unnamed(outliner, "part", part_name(outliner, part));
	bool is_chemical = part->kind == PART_ADD && part->chemical != CHEMICAL_free_text;

	outline_add_text(outliner, object, "act", "act", OUTLINE_RUN, text_from(acts[part->kind]));
	outline_add_text(outliner, object, "chemical", "chemical", OUTLINE_RUN,
			 is_chemical ? chemical_row(part->chemical)->word : TEXT(""));
	outline_add_text(outliner, object, "label", "label", OUTLINE_RUN,
			 part->kind == PART_ADD && !is_chemical ? part->label.text : TEXT(""));
	outline_add_text(outliner, object, "hydrate", "hydrate", OUTLINE_RUN, part->hydrate);
	outline_add_quantity(outliner, object, "amount", "amount", &part->amount,
			     part->is_volume ? OUTLINE_VOLUME : OUTLINE_MASS);
	outline_add_window(outliner, object, "at", "at", &part->at);
	outline_add_quantity(outliner, object, "stirring", "for", &part->stirring, OUTLINE_DURATION);
	outline_add_quantity(outliner, object, "drops", "cools the bath by", &part->drops, OUTLINE_DIFFERENCE);
	return object;
}

static void add_mixing(const struct outliner *outliner, struct outline *object, const struct solution *solution)
{
	static const char *const uses[] = {
		[USE_UNSTATED] = "", [USE_ONE_SHOT] = "one-shot", [USE_REUSE] = "reuse", [USE_REPLENISH] = "replenish"
	};
	struct outline *list;

	add_kit(outliner, object, solution);
	outline_add_flag(outliner, object, "pooled", "kept as one stock", solution->is_pooled);
	outline_add_flag(outliner, object, "blended", "mixes blended", solution->is_blended);
	outline_add_text(outliner, object, "use", "use", OUTLINE_RUN, text_from(uses[solution->use]));
	outline_add_quantity(outliner, object, "replenish", "replenished per roll", &solution->replenish,
			     OUTLINE_VOLUME);
	add_dilution(outliner, object, solution);
	outline_add_quantity(outliner, object, "formula_makes", "formula makes", &solution->formula_makes,
			     OUTLINE_VOLUME);
	list = outline_add_list(outliner, object, "parts");
	for (const struct part *part = solution->parts; part != NULL; part = part->next)
		outline_attach(list, part_outline(outliner, part));
	outline_add_name(outliner, object, "graduate", "mixed in",
			 solution->graduate == NULL ? 0 : solution->graduate->declared.name);
}

static void add_capacity(const struct outliner *outliner, struct outline *object, const struct solution *solution)
{
	struct outline *fact = outline_add(outliner, object, "capacity", "capacity", OUTLINE_RUN);
	struct text rolls, volume;

	if (!span_is_set(solution->capacity_rolls.span))
		return;
	rolls = outline_print(outliner, solution->capacity_rolls.value, OUTLINE_PIECES);
	volume = outline_print(outliner, solution->capacity_volume.value, OUTLINE_VOLUME);
	outline_become(outliner, fact, OUTLINE_OBJECT,
		       span_is_set(solution->capacity_volume.span)
			       ? text_format(outliner->arena, "%.*s in %.*s", TEXT_ARGUMENT(rolls),
					     TEXT_ARGUMENT(volume))
			       : rolls);
	outline_put_quantity(outliner, fact, "rolls", &solution->capacity_rolls, OUTLINE_PIECES);
	outline_put_quantity(outliner, fact, "volume_ml", &solution->capacity_volume, OUTLINE_VOLUME);
}

static void add_lengthening(const struct outliner *outliner, struct outline *object, const struct solution *solution)
{
	struct outline *fact = outline_add(outliner, object, "lengthen", "lengthens", OUTLINE_RUN);
	struct text percent, volume;

	if (!span_is_set(solution->lengthen_percent.span))
		return;
	percent = outline_print(outliner, solution->lengthen_percent.value, OUTLINE_PERCENT);
	volume = outline_print(outliner, solution->lengthen_volume.value, OUTLINE_VOLUME);
	outline_become(outliner, fact, OUTLINE_OBJECT,
		       text_format(outliner->arena, "%.*s per roll in %.*s%s", TEXT_ARGUMENT(percent),
				   TEXT_ARGUMENT(volume), solution->lengthen_compounds ? ", compounding" : ""));
	outline_put_quantity(outliner, fact, "percent", &solution->lengthen_percent, OUTLINE_PERCENT);
	outline_put_quantity(outliner, fact, "volume_ml", &solution->lengthen_volume, OUTLINE_VOLUME);
	outline_put_flag(outliner, fact, "compounds", solution->lengthen_compounds);
}

static void add_hazards(const struct outliner *outliner, struct outline *object, const struct solution *solution)
{
	struct outline *fact = outline_add(outliner, object, "hazards", "hazards", OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (const struct hazard *hazard = solution->hazards; hazard != NULL; hazard = hazard->next) {
		outline_put_text(outliner, fact, NULL, hazard->code);
		outline_join(&words, ", ");
		text_append(&words, hazard->code);
	}
	fact->words = text_builder_text(&words);
	outline_add_flag(outliner, object, "hazards_none", "stated to have no hazards", solution->hazards_none);
	object->last->matter = OUTLINE_RECORD;
	outline_add_text(outliner, object, "sheet_dated", "data sheet of", OUTLINE_RECORD,
			 span_is_set(solution->hazards_sheet_dated)
				 ? source_text(outliner->recipe->sources, solution->hazards_sheet_dated)
				 : TEXT(""));
}

static void add_contents(const struct outliner *outliner, struct outline *object, const struct solution *solution)
{
	struct outline *fact = outline_add(outliner, object, "contains", "contains", OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (int i = 0; i < CLASS_COUNT; i++) {
		if ((solution->contains & ((class_set)1 << i)) == 0)
			continue;
		outline_put_text(outliner, fact, NULL, class_row((enum class_id)i)->word);
		outline_join(&words, ", ");
		text_append(&words, class_row((enum class_id)i)->word);
	}
	fact->words = text_builder_text(&words);
	outline_add_quantity(outliner, object, "ph", "pH", &solution->ph, OUTLINE_PH);
}

struct outline *outline_solution(const struct outliner *outliner, const struct solution *solution)
{
	struct outline *object =
		outline_named(outliner, "bath", intern_text(outliner->recipe->names, solution->declared.name));

	outline_add_title(outliner, object, &solution->declared);
	outline_add_text(outliner, object, "role", "role", OUTLINE_RUN, role_row(solution->role)->word);
	add_mixing(outliner, object, solution);
	outline_add_window(outliner, object, "usable", "usable at", &solution->usable);
	add_capacity(outliner, object, solution);
	add_lengthening(outliner, object, solution);
	outline_add_quantity(outliner, object, "least_per_roll", "stock a roll needs", &solution->least_per_roll,
			     OUTLINE_VOLUME);
	outline_add_quantity(outliner, object, "keeps_full", "keeps, full,", &solution->keeps_full, OUTLINE_KEEPING);
	outline_add_quantity(outliner, object, "keeps_part_full", "keeps, part full,", &solution->keeps_part_full,
			     OUTLINE_KEEPING);
	outline_add_quantity(outliner, object, "keeps_in_tank", "keeps, in the tank,", &solution->keeps_in_tank,
			     OUTLINE_KEEPING);
	add_hazards(outliner, object, solution);
	outline_add_text(outliner, object, "waste", "waste", OUTLINE_RUN,
			 solution->waste == STREAM_unstated ? TEXT("") : stream_row(solution->waste)->word);
	add_contents(outliner, object, solution);
	outline_add_quantity(outliner, object, "clears_fresh", "clears, fresh, in", &solution->clears_fresh,
			     OUTLINE_DURATION);
	outline_add_quantity(outliner, object, "clears_now", "clears, now, in", &solution->clears_now,
			     OUTLINE_DURATION);
	outline_add_prose(outliner, object, solution->declared.notes, solution->declared.allowances);
	return object;
}
