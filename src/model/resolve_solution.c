/* Solutions: clause by clause from the tree. How they are mixed is read in resolve_parts.c. */
#include "model/resolver.h"

#include <string.h>

#include "model/hazards.h"
#include "model/resolve_parts.h"

static bool is_word(const struct reader *reader, node_index name, const char *word)
{
	return text_equal(read_text(reader, name), text_from(word));
}

static void read_role(const struct reader *reader, node_index clause, struct solution *solution)
{
	size_t index;

	if (read_is_repeated(reader, clause, solution->role_span) ||
	    !read_word(reader, first_of(reader, clause), VOCABULARY_ROLES, &index))
		return;
	solution->role = (enum role_id)index;
	solution->role_span = span_of(reader, clause);
}

static void read_kit(const struct reader *reader, node_index clause, struct solution *solution)
{
	node_index volume = first_of(reader, clause);
	node_index form = next_of(reader, volume);

	read_positive(reader, clause, volume, QUANTITY_VOLUME, &solution->kit_makes);
	if (form == 0 || is_word(reader, form, "powder"))
		solution->kit_form = KIT_POWDER;
	else if (is_word(reader, form, "liquid"))
		solution->kit_form = KIT_LIQUID;
	else
		complain_choice(reader, form, (const char *const[]){ "powder", "liquid" }, 2);
}

static void read_stock(const struct reader *reader, node_index clause, struct solution *solution)
{
	node_index word = first_of(reader, clause);

	if (read_is_repeated(reader, clause, solution->stock_span))
		return;
	solution->stock_span = span_of(reader, clause);
	solution->is_pooled = is_word(reader, word, "pooled");
	if (!solution->is_pooled && !is_word(reader, word, "separate"))
		complain_choice(reader, word, (const char *const[]){ "pooled", "separate" }, 2);
}

static void read_use(const struct reader *reader, node_index clause, enum stock_use use, struct solution *solution)
{
	if (span_is_set(solution->use_span)) {
		struct report *report = reader->recipe->report;

		report_note(report,
			    report_add(report, CHECK_defined_twice, span_of(reader, clause),
				       "a bath is one of one-shot, reused or replenished"),
			    solution->use_span, "it was said here before");
		return;
	}
	solution->use = use;
	solution->use_span = span_of(reader, clause);
	if (use == USE_REPLENISH)
		read_positive(reader, clause, first_of(reader, clause), QUANTITY_VOLUME, &solution->replenish);
}

/* A dilution's parts, in thousandths: 1+9, 1+1+98, 1.5+10. */
static void read_dilution(const struct reader *reader, node_index clause, struct solution *solution)
{
	node_index node = first_of(reader, clause);
	struct text text = read_text(reader, node);
	size_t start = 0;

	if (read_is_repeated(reader, clause, solution->dilution_span))
		return;
	solution->dilution_span = span_of(reader, node);
	solution->dilution = ARENA_ARRAY(reader->recipe->arena, int64_t, text.length);
	for (size_t i = 0; i <= text.length; i++) {
		struct text part = { text.data + start, i - start };
		const char *problem;

		if (i < text.length && text.data[i] != '+')
			continue;
		while (part.length > 0 && (part.data[0] == ' ' || part.data[0] == '\t'))
			part = (struct text){ part.data + 1, part.length - 1 };
		while (part.length > 0 && (part.data[part.length - 1] == ' ' || part.data[part.length - 1] == '\t'))
			part.length--;
		problem = quantity_read(part, UNIT_none, false, &solution->dilution[solution->dilution_count]);
		if (problem == NULL && solution->dilution[solution->dilution_count] == 0)
			problem = "is no part of a dilution";
		if (problem != NULL) {
			report_add(reader->recipe->report, CHECK_figure_out_of_range, solution->dilution_span,
				   "`%.*s` %s", TEXT_ARGUMENT(part), problem);
			solution->dilution = NULL;
			solution->dilution_count = 0;
			return;
		}
		solution->dilution_count++;
		start = i + 1;
	}
	if (next_of(reader, node) != 0)
		solution->dilution_of = read_name(reader, next_of(reader, node));
}

static void read_formula(const struct reader *reader, node_index clause, struct solution *solution)
{
	bool is_formula = tree_node(reader->tree, clause)->kind == NODE_formula;
	node_index part = first_of(reader, clause);

	if (span_is_set(solution->parts_span)) {
		struct report *report = reader->recipe->report;

		report_note(report,
			    report_add(report, CHECK_defined_twice, span_of(reader, clause),
				       "the mixing is said twice"),
			    solution->parts_span, "it was said here before");
		return;
	}
	solution->parts_span = span_of(reader, clause);
	if (is_formula) {
		read_positive(reader, clause, part, QUANTITY_VOLUME, &solution->formula_makes);
		part = next_of(reader, part);
	}
	solution->parts = parts_read(reader, part, is_formula, &solution->declared.notes);
}

static void read_keeps(const struct reader *reader, node_index clause, struct solution *solution)
{
	for (node_index node = first_of(reader, clause); node != 0; node = next_of(reader, node)) {
		uint16_t kind = tree_node(reader->tree, node)->kind;

		read_quantity(reader, node, first_of(reader, node), QUANTITY_DURATION,
			      kind == NODE_keeps_full	     ? &solution->keeps_full
			      : kind == NODE_keeps_part_full ? &solution->keeps_part_full
							     : &solution->keeps_in_tank);
	}
}

/* Lists a statement code; one such as H301+H311, which says both, as both. */
static struct hazard **list_hazard(const struct reader *reader, struct span span, struct number_map *seen,
				   struct hazard **last)
{
	struct recipe *recipe = reader->recipe;
	struct text text = source_text(recipe->sources, span);

	for (size_t begin = 0, end; begin < text.length; begin = end + 1) {
		const char *plus = memchr(text.data + begin, '+', text.length - begin);
		struct hazard *hazard = ARENA_NEW(recipe->arena, struct hazard);

		end = plus == NULL ? text.length : (size_t)(plus - text.data);
		hazard->code = (struct text){ text.data + begin, end - begin };
		hazard->span = (struct span){ span.begin + (uint32_t)begin, (uint32_t)(end - begin) };
		hazard->is_known = hazard_text(hazard->code).length > 0;
		if (read_is_listed(reader, seen, intern_name(recipe->names, hazard->code), hazard->span))
			continue;
		*last = hazard;
		last = &hazard->next;
	}
	return last;
}

static void read_hazards(const struct reader *reader, node_index clause, struct solution *solution)
{
	struct hazard **last = &solution->hazards;
	struct number_map seen = { 0 };

	if (read_is_repeated(reader, clause, solution->hazards_span))
		return;
	solution->hazards_span = span_of(reader, clause);
	for (node_index node = first_of(reader, clause); node != 0; node = next_of(reader, node)) {
		if (is_word(reader, node, "none"))
			solution->hazards_none = true;
		else
			last = list_hazard(reader, span_of(reader, node), &seen, last);
	}
	if (solution->hazards_none && solution->hazards != NULL)
		report_add(reader->recipe->report, CHECK_out_of_place, solution->hazards_span,
			   "hazards are listed and stated to be none");
}

static void read_waste(const struct reader *reader, node_index clause, struct solution *solution)
{
	size_t index;

	if (read_is_repeated(reader, clause, solution->waste_span) ||
	    !read_word(reader, first_of(reader, clause), VOCABULARY_STREAMS, &index))
		return;
	solution->waste = (enum stream_id)index;
	solution->waste_span = span_of(reader, clause);
}

static void read_contains(const struct reader *reader, node_index clause, struct solution *solution)
{
	struct number_map seen = { 0 };

	if (read_is_repeated(reader, clause, solution->contains_span))
		return;
	solution->contains_span = span_of(reader, clause);
	for (node_index node = first_of(reader, clause); node != 0; node = next_of(reader, node)) {
		size_t index;

		if (read_word(reader, node, VOCABULARY_CLASSES, &index) &&
		    !read_is_listed(reader, &seen, (uint32_t)index + 1, span_of(reader, node)))
			solution->contains |= (class_set)1 << index;
	}
}

static void read_blend(const struct reader *reader, node_index clause, struct solution *solution)
{
	if (read_is_repeated(reader, clause, solution->blend_span))
		return;
	solution->is_blended = true;
	solution->blend_span = span_of(reader, clause);
}

static void read_graduate(const struct reader *reader, node_index clause, struct solution *solution)
{
	if (!read_is_repeated(reader, clause, solution->graduate_name.span))
		solution->graduate_name = read_name(reader, first_of(reader, clause));
}

static void read_ph(const struct reader *reader, node_index clause, node_index number, struct solution *solution)
{
	if (!read_thousandths(reader, clause, number, &solution->ph) || solution->ph.value <= 14000)
		return;
	report_add(reader->recipe->report, CHECK_figure_out_of_range, solution->ph.span, "a pH lies between 0 and 14");
	solution->ph.span = (struct span){ 0, 0 };
}

/* Clauses that are one or two figures. */
static void read_figures(const struct reader *reader, node_index clause, struct solution *solution)
{
	node_index first = first_of(reader, clause);
	node_index second = first == 0 ? 0 : next_of(reader, first);

	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_usable:
		read_window(reader, clause, first, &solution->usable);
		break;
	case NODE_capacity:
		if (read_count(reader, clause, first, 1, &solution->capacity_rolls))
			read_positive(reader, clause, second, QUANTITY_VOLUME, &solution->capacity_volume);
		break;
	case NODE_lengthen:
	case NODE_lengthen_compounded:
		solution->lengthen_compounds = tree_node(reader->tree, clause)->kind == NODE_lengthen_compounded;
		if (read_quantity(reader, clause, first, QUANTITY_PERCENT, &solution->lengthen_percent))
			read_positive(reader, clause, second, QUANTITY_VOLUME, &solution->lengthen_volume);
		break;
	case NODE_least_per_roll:
		read_positive(reader, clause, first, QUANTITY_VOLUME, &solution->least_per_roll);
		break;
	case NODE_ph:
		read_ph(reader, clause, first, solution);
		break;
	case NODE_clears:
		if (read_positive(reader, clause, first, QUANTITY_DURATION, &solution->clears_fresh) && second != 0)
			read_positive(reader, clause, second, QUANTITY_DURATION, &solution->clears_now);
		break;
	default:
		if (!read_is_repeated(reader, clause, solution->hazards_sheet_dated))
			solution->hazards_sheet_dated = read_date(reader, first);
		break;
	}
}

static void read_clause(const struct reader *reader, node_index clause, struct solution *solution)
{
	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_role:
		read_role(reader, clause, solution);
		break;
	case NODE_kit:
		read_kit(reader, clause, solution);
		break;
	case NODE_stock:
		read_stock(reader, clause, solution);
		break;
	case NODE_one_shot:
		read_use(reader, clause, USE_ONE_SHOT, solution);
		break;
	case NODE_reuse:
		read_use(reader, clause, USE_REUSE, solution);
		break;
	case NODE_replenish:
		read_use(reader, clause, USE_REPLENISH, solution);
		break;
	case NODE_dilute:
		read_dilution(reader, clause, solution);
		break;
	case NODE_mix:
	case NODE_formula:
		read_formula(reader, clause, solution);
		break;
	case NODE_use_graduates:
		read_graduate(reader, clause, solution);
		break;
	case NODE_blend:
		read_blend(reader, clause, solution);
		break;
	case NODE_keeps:
		read_keeps(reader, clause, solution);
		break;
	case NODE_hazards:
		read_hazards(reader, clause, solution);
		break;
	case NODE_waste:
		read_waste(reader, clause, solution);
		break;
	case NODE_contains:
		read_contains(reader, clause, solution);
		break;
	default:
		read_figures(reader, clause, solution);
		break;
	}
}

/* What a formula's chemicals bring with them counts as contained. */
static void contain_parts(struct solution *solution)
{
	for (const struct part *part = solution->parts; part != NULL; part = part->next)
		if (part->kind == PART_ADD && part->chemical != CHEMICAL_free_text)
			solution->contains |= chemical_row(part->chemical)->classes;
}

struct solution *solution_resolve(struct recipe *recipe, const struct symbol *symbol)
{
	struct reader reader = symbol_reader(recipe, symbol);
	struct solution *solution = ARENA_NEW(recipe->arena, struct solution);
	struct declared *declared = &solution->declared;
	size_t errors = recipe->report->errors;

	solution->waste = STREAM_unstated;
	for (node_index clause = symbol_open(&reader, symbol, declared); clause != 0; clause = next_of(&reader, clause))
		if (!read_common(&reader, clause, &declared->notes, &declared->allowances))
			read_clause(&reader, clause, solution);
	contain_parts(solution);
	if (!span_is_set(solution->role_span) && recipe->report->errors == errors)
		complain_missing(recipe, symbol->name_span, "a solution without its role",
				 "add a line such as `role developer`; `wetside explain --list` shows all roles");
	return solution;
}

void solution_refer(struct recipe *recipe, const struct symbol *symbol)
{
	struct solution *solution = (struct solution *)symbol->declared;
	struct symbol *found;

	if (solution->graduate_name.name != 0) {
		found = symbol_refer(recipe, SYMBOL_GRADUATE, solution->graduate_name);
		solution->graduate = found == NULL ? NULL : (struct graduate *)found->declared;
	}
	if (solution->dilution_of.name == 0)
		return;
	found = symbol_refer(recipe, SYMBOL_BATH, solution->dilution_of);
	if (found == NULL)
		return;
	if (found->node_kind != NODE_solution || found == symbol) {
		report_add(recipe->report, CHECK_out_of_place, solution->dilution_of.span,
			   found == symbol ? "a solution cannot be diluted from itself"
					   : "a dryer is no stock solution");
		return;
	}
	solution->stock = (const struct solution *)found->declared;
}
