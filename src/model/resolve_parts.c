/* How a solution is mixed: the parts of `mix` and `formula`. */
#include "model/resolve_parts.h"

#include <string.h>

#include "support/suggest.h"
#include "syntax/units.h"

static bool has_word(const char *words, struct text word)
{
	for (const char *at = words; *at != '\0';) {
		size_t length = strcspn(at, " ");

		if (length == word.length && memcmp(at, word.data, length) == 0)
			return true;
		at += length + (at[length] == ' ');
	}
	return false;
}

static void read_hydrate(const struct reader *reader, node_index node, struct part *part)
{
	struct report *report = reader->recipe->report;
	const struct chemical_row *row = chemical_row(part->chemical);
	node_index name = tree_node(reader->tree, node)->first;

	part->hydrate = read_text(reader, name);
	if (has_word(row->hydrates, part->hydrate))
		return;
	if (unit_find(part->hydrate) != UNIT_none) { /* `add metol g`: no form of it was meant */
		part->hydrate = (struct text){ "", 0 };
		return;
	}
	report_help(report,
		    report_add(report, CHECK_unknown_name, tree_node(reader->tree, name)->span,
			       "`%.*s` is no form of %.*s", TEXT_ARGUMENT(part->hydrate), TEXT_ARGUMENT(row->title)),
		    row->hydrates[0] == '\0' ? "it comes in one form only%s" : "its forms are: %s", row->hydrates);
	part->hydrate = (struct text){ "", 0 };
}

static void read_amount(const struct reader *reader, node_index clause, node_index value, struct part *part)
{
	const struct tree_node *node = tree_node(reader->tree, value);
	bool is_volume =
		node->kind == NODE_quantity && unit_row((enum unit_id)node->detail)->quantity == QUANTITY_VOLUME;

	if (!read_quantity(reader, clause, value, is_volume ? QUANTITY_VOLUME : QUANTITY_MASS, &part->amount))
		part->amount.span = node->span; /* it was said, though not well */
	part->is_volume = is_volume;
}

static void complain_amount(const struct reader *reader, node_index clause)
{
	struct report *report = reader->recipe->report;

	if (reader->recipe->has_parse_errors)
		return;
	report_help(report,
		    report_add(report, CHECK_missing_clause, tree_node(reader->tree, clause)->span,
			       "an addition without its amount"),
		    "a formula says how much, as in `add metol 2 g`");
}

static void read_add(const struct reader *reader, node_index clause, bool is_formula, struct part *part)
{
	node_index node = tree_node(reader->tree, clause)->first;
	size_t index;

	part->chemical = CHEMICAL_free_text;
	if (tree_node(reader->tree, node)->kind == NODE_string)
		part->label = read_prose(reader, node);
	else if (read_word(reader, node, VOCABULARY_CHEMICALS, &index))
		part->chemical = (enum chemical_id)index;
	else
		part->label = (struct prose){ read_text(reader, node), tree_node(reader->tree, node)->span };
	for (node = next_of(reader, node); node != 0; node = next_of(reader, node)) {
		node_index inner = tree_node(reader->tree, node)->first;

		switch (tree_node(reader->tree, node)->kind) {
		case NODE_hydrate:
			if (part->chemical != CHEMICAL_free_text)
				read_hydrate(reader, node, part);
			break;
		case NODE_stirring:
			read_quantity(reader, clause, inner, QUANTITY_DURATION, &part->stirring);
			break;
		case NODE_drops:
			read_quantity(reader, clause, inner, QUANTITY_DIFFERENCE, &part->drops);
			break;
		default:
			read_amount(reader, clause, node, part);
			break;
		}
	}
	if (is_formula && !span_is_set(part->amount.span))
		complain_amount(reader, clause);
}

static void read_part(const struct reader *reader, node_index clause, bool is_formula, struct part *part)
{
	const struct tree_node *node = tree_node(reader->tree, clause);

	part->span = node->span;
	switch (node->kind) {
	case NODE_water:
		part->kind = PART_WATER;
		part->is_volume = true;
		read_quantity(reader, clause, node->first, QUANTITY_VOLUME, &part->amount);
		if (next_of(reader, node->first) != 0)
			read_window(reader, clause, tree_node(reader->tree, next_of(reader, node->first))->first,
				    &part->at);
		break;
	case NODE_add:
		part->kind = PART_ADD;
		read_add(reader, clause, is_formula, part);
		break;
	case NODE_stir:
	case NODE_stand:
		part->kind = node->kind == NODE_stir ? PART_STIR : PART_STAND;
		read_quantity(reader, clause, node->first, QUANTITY_DURATION, &part->stirring);
		break;
	default:
		part->kind = PART_TOP_UP;
		part->is_volume = true;
		if (node->first != 0)
			read_quantity(reader, clause, node->first, QUANTITY_VOLUME, &part->amount);
		break;
	}
}

struct part *parts_read(const struct reader *reader, node_index node, bool is_formula, struct note **notes)
{
	struct allowance *none = NULL;
	struct part *first = NULL;
	struct part **last = &first;

	for (; node != 0; node = next_of(reader, node)) {
		struct part *part;

		if (read_common(reader, node, notes, &none))
			continue;
		part = ARENA_NEW(reader->recipe->arena, struct part);
		part->chemical = CHEMICAL_free_text;
		read_part(reader, node, is_formula, part);
		*last = part;
		last = &part->next;
	}
	return first;
}
