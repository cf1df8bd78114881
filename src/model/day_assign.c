/* Which of a day's processes develops which roll. */
#include "model/resolve_day.h"

/* Longer lines of processes that vary each other are circles, or were reported. */
#define LINE_MOST 200

/* The nearest clause of two kinds, in a process or those that it varies; 0 where none has one. */
static node_index nearest_clause(struct recipe *recipe, const struct symbol *symbol, enum node_kind kind,
				 enum node_kind other, const struct tree **tree)
{
	for (int depth = 0; symbol != NULL && !symbol->is_lost && depth <= LINE_MOST; depth++) {
		node_index parent = tree_child(symbol->tree, symbol->node, NODE_parent);
		node_index found = tree_child(symbol->tree, symbol->node, kind);
		struct reader reader = symbol_reader(recipe, symbol);

		if (found == 0)
			found = tree_child(symbol->tree, symbol->node, other);
		*tree = symbol->tree;
		if (found != 0)
			return found;
		symbol = parent == 0 ? NULL
				     : symbol_find(recipe, SYMBOL_PROCESS,
						   read_name(&reader, tree_node(symbol->tree, parent)->first).name);
	}
	return 0;
}

/* A word that is no family is reported where the process is resolved. */
static enum family_id family_of(struct recipe *recipe, const struct symbol *process)
{
	const struct tree *tree = NULL;
	node_index clause = nearest_clause(recipe, process, NODE_develops, NODE_develops, &tree);
	struct reader reader = { recipe, tree, clause };

	if (clause == 0)
		return FAMILY_COUNT;
	return (enum family_id)vocabulary_find(VOCABULARY_FAMILIES, read_text(&reader, tree_node(tree, clause)->first));
}

static int64_t push_of(struct recipe *recipe, const struct symbol *process)
{
	const struct tree *tree = NULL;
	node_index clause = nearest_clause(recipe, process, NODE_push, NODE_pull, &tree);
	struct reader reader = { recipe, tree, clause };
	int64_t push = 0;

	if (clause == 0 ||
	    quantity_read(read_text(&reader, tree_node(tree, clause)->first), UNIT_none, false, &push) != NULL)
		return 0;
	return tree_node(tree, clause)->kind == NODE_pull ? -push : push;
}

static size_t number_of(struct recipe *recipe, struct symbol *process)
{
	struct resolver *resolver = recipe->resolver;

	for (size_t i = 0; i < resolver->process_count; i++)
		if (resolver->processes[i] == process)
			return i;
	ARENA_RESERVE(recipe->arena, resolver->processes, resolver->process_count, resolver->process_capacity);
	resolver->processes[resolver->process_count] = process;
	return resolver->process_count++;
}

struct day_run day_run_of(struct recipe *recipe, struct symbol *process, struct name_reference name)
{
	return (struct day_run){ .name = name,
				 .process = number_of(recipe, process),
				 .family = family_of(recipe, process),
				 .push = push_of(recipe, process) };
}

static bool suits(const struct day_run *run, const struct roll *roll)
{
	return run->family == roll_family(roll) && run->family != FAMILY_COUNT && run->push == roll->push.value;
}

/* The roll's own word decides; without one there must be one process only that suits it. */
static size_t run_of(const struct day *day, const struct roll *roll)
{
	size_t found = ROLL_NO_RUN;

	for (size_t i = 0; i < day->run_count; i++) {
		if (!suits(&day->runs[i], roll))
			continue;
		if (roll->run_name.name == day->runs[i].name.name)
			return i;
		if (roll->run_name.name != 0)
			continue;
		if (found != ROLL_NO_RUN)
			return ROLL_NO_RUN;
		found = i;
	}
	return found;
}

void day_assign(struct day *day)
{
	for (struct roll *roll = day->rolls; roll != NULL; roll = roll->next) {
		bool is_left = span_is_set(roll->set_aside.span) || roll->format == FORMAT_COUNT;

		roll->run = is_left ? ROLL_NO_RUN : run_of(day, roll);
	}
}
