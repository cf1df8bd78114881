/* Baths in the cupboard: `on hand` lines. */
#include "model/date.h"
#include "model/resolver.h"

struct on_hand *on_hand_of(const struct reader *reader, node_index node)
{
	struct on_hand *on_hand = ARENA_NEW(reader->recipe->arena, struct on_hand);
	node_index name = tree_node(reader->tree, node)->first;
	node_index child = tree_node(reader->tree, name)->next;

	on_hand->span = tree_node(reader->tree, node)->span;
	on_hand->name = read_name(reader, name);
	read_quantity(reader, node, child, QUANTITY_VOLUME, &on_hand->volume);
	while ((child = tree_node(reader->tree, child)->next) != 0) {
		node_index value = tree_node(reader->tree, child)->first;

		if (tree_node(reader->tree, child)->kind == NODE_done) {
			read_thousandths(reader, child, value, &on_hand->done);
		} else if (tree_node(reader->tree, child)->kind == NODE_mixed) {
			on_hand->mixed = read_date(reader, value);
			if (span_is_set(on_hand->mixed))
				on_hand->mixed_on = date_days(read_text(reader, value));
		}
	}
	return on_hand;
}

void on_hand_read(const struct reader *reader, node_index node)
{
	struct recipe *recipe = reader->recipe;
	struct on_hand *on_hand = on_hand_of(reader, node);

	if (recipe->on_hand == NULL)
		recipe->on_hand = on_hand;
	else
		recipe->resolver->last_on_hand->next = on_hand;
	recipe->resolver->last_on_hand = on_hand;
}

struct solution *on_hand_solution(struct recipe *recipe, const struct on_hand *on_hand)
{
	struct symbol *symbol = symbol_refer(recipe, SYMBOL_BATH, on_hand->name);

	if (symbol == NULL)
		return NULL;
	if (symbol->node_kind == NODE_solution)
		return (struct solution *)symbol->declared;
	report_add(recipe->report, CHECK_out_of_place, on_hand->name.span, "a dryer is no bath that is mixed");
	return NULL;
}

void on_hand_refer(struct recipe *recipe)
{
	for (struct on_hand *on_hand = recipe->on_hand; on_hand != NULL; on_hand = on_hand->next) {
		struct solution *solution = on_hand_solution(recipe, on_hand);

		if (solution == NULL)
			continue;
		if (solution->on_hand == NULL)
			solution->on_hand = on_hand;
		else
			report_note(recipe->report,
				    report_add(recipe->report, CHECK_defined_twice, on_hand->name.span,
					       "this bath is on hand twice"),
				    solution->on_hand->span, "it was said here before");
		on_hand->solution = solution;
	}
}
