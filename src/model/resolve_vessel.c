/* Tanks, graduates, heaters, dryers, thermometers and films: clause by clause from the tree. */
#include "model/resolver.h"

#include <string.h>

#include "support/suggest.h"

static node_index second_of(const struct reader *reader, node_index clause)
{
	node_index first = first_of(reader, clause);

	return first == 0 ? 0 : tree_node(reader->tree, first)->next;
}

static struct text without_spaces(struct arena *arena, struct text text)
{
	struct text_builder builder = text_builder_start(arena);

	for (size_t i = 0; i < text.length; i++)
		if (text.data[i] != ' ' && text.data[i] != '\t')
			text_append_byte(&builder, text.data[i]);
	return text_builder_text(&builder);
}

bool read_format_at(struct recipe *recipe, struct text word, struct span span, enum format_id *format)
{
	size_t index = vocabulary_find(VOCABULARY_FORMATS, word);

	if (index == vocabulary_size(VOCABULARY_FORMATS)) {
		struct text_builder list = text_builder_start(recipe->arena);

		for (size_t i = 0; i < index; i++)
			text_append_format(&list, "%s%.*s", i == 0 ? "" : ", ",
					   TEXT_ARGUMENT(vocabulary_word(VOCABULARY_FORMATS, i)));
		report_help(recipe->report,
			    report_add(recipe->report, CHECK_unknown_name, span, "`%.*s` is not %s",
				       TEXT_ARGUMENT(word), vocabulary_name(VOCABULARY_FORMATS)),
			    "known are %.*s", TEXT_ARGUMENT(text_builder_text(&list)));
		return false;
	}
	*format = (enum format_id)index;
	return true;
}

/* A format is a number, a name, or a sheet's two sides. */
bool read_format(const struct reader *reader, node_index first, enum format_id *format)
{
	struct recipe *recipe = reader->recipe;
	node_index second = tree_node(reader->tree, first)->next;
	struct span span = tree_node(reader->tree, first)->span;

	if (second != 0)
		span = span_join(span, tree_node(reader->tree, second)->span);
	return read_format_at(recipe, without_spaces(recipe->arena, source_text(recipe->sources, span)), span, format);
}

static void read_takes(const struct reader *reader, node_index clause, struct takes **takes)
{
	struct number_map seen = { 0 };

	if (*takes != NULL && read_is_repeated(reader, clause, (*takes)->span))
		return;
	for (node_index node = first_of(reader, clause); node != 0; node = tree_node(reader->tree, node)->next) {
		struct takes *piece = ARENA_NEW(reader->recipe->arena, struct takes);
		node_index number = first_of(reader, node);
		struct quantity count = { 0 };

		piece->span = tree_node(reader->tree, node)->span;
		if (!read_count(reader, clause, number, 1, &count) ||
		    !read_format(reader, tree_node(reader->tree, number)->next, &piece->format))
			continue;
		read_is_listed(reader, &seen, (uint32_t)piece->format + 1, piece->span);
		piece->count = count.value;
		*takes = piece;
		takes = &piece->next;
	}
}

static void read_cools(const struct reader *reader, node_index clause, struct heat_loss_test *test)
{
	node_index from = first_of(reader, clause);
	node_index to = tree_node(reader->tree, from)->next;
	node_index within = tree_node(reader->tree, to)->next;
	node_index surroundings = tree_node(reader->tree, within)->next;
	struct heat_loss_test read = { .span = tree_node(reader->tree, clause)->span };
	struct report *report = reader->recipe->report;

	if (read_is_repeated(reader, clause, test->span))
		return;
	if (!read_quantity(reader, clause, from, QUANTITY_TEMPERATURE, &read.from) ||
	    !read_quantity(reader, clause, to, QUANTITY_TEMPERATURE, &read.to) ||
	    !read_quantity(reader, clause, within, QUANTITY_DURATION, &read.within) ||
	    !read_quantity(reader, clause, surroundings, QUANTITY_TEMPERATURE, &read.surroundings))
		return;
	if (read.within.value <= 0 ||
	    (read.from.value - read.to.value) * (read.to.value - read.surroundings.value) <= 0) {
		report_help(report,
			    report_add(report, CHECK_figure_out_of_range, read.span,
				       "this test cannot have been measured"),
			    "the water goes from the first temperature towards, but not to, that of its surroundings");
		return;
	}
	*test = read;
}

static void read_emptying(const struct reader *reader, node_index clause, struct tank *tank, enum emptying emptying)
{
	if (read_is_repeated(reader, clause, tank->emptying_span))
		return;
	tank->emptying = emptying;
	tank->emptying_span = tree_node(reader->tree, clause)->span;
}

static void read_tank_clause(const struct reader *reader, node_index clause, struct tank *tank)
{
	node_index first = first_of(reader, clause);

	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_holds:
		read_positive(reader, clause, first, QUANTITY_VOLUME, &tank->holds);
		break;
	case NODE_takes:
		read_takes(reader, clause, &tank->takes);
		break;
	case NODE_fill:
		read_quantity(reader, clause, first, QUANTITY_DURATION, &tank->fill);
		break;
	case NODE_drain:
		read_quantity(reader, clause, first, QUANTITY_DURATION, &tank->drain);
		break;
	case NODE_emptied_through_lid:
		read_emptying(reader, clause, tank, EMPTIED_THROUGH_LID);
		break;
	case NODE_emptied_from_bottom:
		read_emptying(reader, clause, tank, EMPTIED_FROM_BOTTOM);
		break;
	case NODE_reels_lowered:
		read_emptying(reader, clause, tank, REELS_LOWERED);
		break;
	case NODE_bath:
		read_window(reader, clause, first, &tank->bath);
		break;
	case NODE_cools:
		read_cools(reader, clause, &tank->cools);
		break;
	case NODE_absorbs:
		read_quantity(reader, clause, first, QUANTITY_VOLUME, &tank->absorbs);
		break;
	default:
		read_quantity(reader, clause, first, QUANTITY_VOLUME, &tank->carries);
		break;
	}
}

static void read_graduate_clause(const struct reader *reader, node_index clause, struct graduate *graduate)
{
	if (tree_node(reader->tree, clause)->kind == NODE_holds)
		read_positive(reader, clause, first_of(reader, clause), QUANTITY_VOLUME, &graduate->holds);
	else
		read_cools(reader, clause, &graduate->cools);
}

static void read_heater_clause(const struct reader *reader, node_index clause, struct heater *heater)
{
	if (tree_node(reader->tree, clause)->kind == NODE_gives)
		read_flow(reader, clause, &heater->gives);
	else
		read_positive(reader, clause, first_of(reader, clause), QUANTITY_VOLUME, &heater->stores);
}

static void read_dryer_clause(const struct reader *reader, node_index clause, struct dryer *dryer)
{
	node_index first = first_of(reader, clause);

	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_takes_rolls:
		read_count(reader, clause, first, 1, &dryer->takes_rolls);
		break;
	case NODE_lasts:
		read_positive(reader, clause, first, QUANTITY_DURATION, &dryer->lasts);
		break;
	case NODE_up_to:
		read_quantity(reader, clause, first, QUANTITY_TEMPERATURE, &dryer->up_to);
		break;
	default:
		read_positive(reader, clause, first, QUANTITY_LENGTH, &dryer->length);
		break;
	}
}

static void read_thermometer_clause(const struct reader *reader, node_index clause, struct thermometer *thermometer)
{
	node_index first = first_of(reader, clause);

	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_reads:
		read_positive(reader, clause, first, QUANTITY_DIFFERENCE, &thermometer->reads);
		if (second_of(reader, clause) != 0)
			read_quantity(reader, clause, second_of(reader, clause), QUANTITY_DIFFERENCE,
				      &thermometer->within);
		break;
	case NODE_correction:
		read_quantity(reader, clause, first, QUANTITY_DIFFERENCE, &thermometer->correction);
		break;
	default:
		if (!read_is_repeated(reader, clause, thermometer->checked))
			thermometer->checked = read_date(reader, first);
		break;
	}
}

/* A word out of a few that are no vocabulary of their own. Returns its index, or `count` after a finding. */
static size_t read_choice(const struct reader *reader, node_index name, const char *const *words, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (text_equal(read_text(reader, name), text_from(words[i])))
			return i;
	complain_choice(reader, name, words, count);
	return count;
}

static void read_film_clause(const struct reader *reader, node_index clause, struct film *film)
{
	static const char *const backings[] = { "none", "rem-jet" };
	static const char *const emulsions[] = { "soft", "hardened", "tabular" };
	node_index first = first_of(reader, clause);
	struct span span = tree_node(reader->tree, clause)->span;
	size_t index;

	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_family:
		if (!read_is_repeated(reader, clause, film->family_span) &&
		    read_word(reader, first, VOCABULARY_FAMILIES, &index)) {
			film->family = (enum family_id)index;
			film->family_span = span;
		}
		break;
	case NODE_backing:
		if (read_is_repeated(reader, clause, film->backing_span))
			break;
		film->backing_span = span;
		film->has_rem_jet = read_choice(reader, first, backings, 2) == 1;
		break;
	case NODE_emulsion:
		if (read_is_repeated(reader, clause, film->emulsion_span))
			break;
		film->emulsion_span = span;
		index = read_choice(reader, first, emulsions, 3);
		film->emulsion = index == 3 ? EMULSION_UNSTATED : (enum emulsion)(EMULSION_SOFT + (int)index);
		break;
	default:
		read_count(reader, clause, first, 1, &film->made);
		break;
	}
}

static struct declared *vessel_new(struct arena *arena, enum node_kind kind)
{
	switch (kind) {
	case NODE_tank:
		return &ARENA_NEW(arena, struct tank)->declared;
	case NODE_graduate:
		return &ARENA_NEW(arena, struct graduate)->declared;
	case NODE_heater:
		return &ARENA_NEW(arena, struct heater)->declared;
	case NODE_dryer:
		return &ARENA_NEW(arena, struct dryer)->declared;
	case NODE_thermometer:
		return &ARENA_NEW(arena, struct thermometer)->declared;
	default:
		return &ARENA_NEW(arena, struct film)->declared;
	}
}

static void vessel_read_clause(const struct reader *reader, enum node_kind kind, node_index clause,
			       struct declared *declared)
{
	switch (kind) { /* `declared` is the first member of each */
	case NODE_tank:
		read_tank_clause(reader, clause, (struct tank *)declared);
		break;
	case NODE_graduate:
		read_graduate_clause(reader, clause, (struct graduate *)declared);
		break;
	case NODE_heater:
		read_heater_clause(reader, clause, (struct heater *)declared);
		break;
	case NODE_dryer:
		read_dryer_clause(reader, clause, (struct dryer *)declared);
		break;
	case NODE_thermometer:
		read_thermometer_clause(reader, clause, (struct thermometer *)declared);
		break;
	default:
		read_film_clause(reader, clause, (struct film *)declared);
		break;
	}
}

static void vessel_check_complete(struct recipe *recipe, enum node_kind kind, const struct declared *declared)
{
	struct span span = declared->name_span;

	if (kind == NODE_tank && !span_is_set(((const struct tank *)declared)->holds.span))
		complain_missing(recipe, span, "a tank without its volume", "add a line such as `holds 2.5 L`");
	if (kind == NODE_graduate && !span_is_set(((const struct graduate *)declared)->holds.span))
		complain_missing(recipe, span, "a graduate without its volume", "add a line such as `holds 2 L`");
	if (kind == NODE_heater && !span_is_set(((const struct heater *)declared)->gives.span))
		complain_missing(recipe, span, "a heater without its flow", "add a line such as `gives 4 L per min`");
	if (kind == NODE_thermometer && !span_is_set(((const struct thermometer *)declared)->reads.span))
		complain_missing(recipe, span, "a thermometer without its divisions",
				 "add a line such as `reads 0.1 C within 0.2 C`");
	if (kind == NODE_film && !span_is_set(((const struct film *)declared)->family_span))
		complain_missing(recipe, span, "a film without its process family", "add a line such as `family C-41`");
}

struct declared *vessel_resolve(struct recipe *recipe, const struct symbol *symbol)
{
	struct reader reader = symbol_reader(recipe, symbol);
	struct declared *declared = vessel_new(recipe->arena, symbol->node_kind);
	size_t errors = recipe->report->errors;

	for (node_index clause = symbol_open(&reader, symbol, declared); clause != 0;
	     clause = tree_node(symbol->tree, clause)->next)
		if (!read_common(&reader, clause, &declared->notes, &declared->allowances))
			vessel_read_clause(&reader, symbol->node_kind, clause, declared);
	if (recipe->report->errors == errors)
		vessel_check_complete(recipe, symbol->node_kind, declared);
	return declared;
}
