/* Processes: the clauses of a process over those of its parents, oldest first. */
#include "model/resolve_process.h"

#include <string.h>

#include "support/limits.h"
#include "support/suggest.h"

/* Finds what a clause names, once in a block. */
static void *refer_once(const struct reader *reader, node_index clause, enum symbol_kind kind, struct span *span,
			void *before)
{
	struct name_reference name = read_name(reader, tree_node(reader->tree, clause)->first);
	struct symbol *symbol;

	if (read_is_repeated(reader, clause, *span))
		return before;
	*span = span_of(reader, clause);
	symbol = symbol_refer(reader->recipe, kind, name);
	return symbol == NULL ? NULL : symbol->declared;
}

static void read_family(const struct reader *reader, node_index clause, struct process *process)
{
	size_t index;

	if (read_is_repeated(reader, clause, process->family_span) ||
	    !read_word(reader, tree_node(reader->tree, clause)->first, VOCABULARY_FAMILIES, &index))
		return;
	process->family = (enum family_id)index;
	process->family_span = span_of(reader, clause);
}

static void read_graduates(const struct reader *reader, node_index clause, struct process_draft *draft)
{
	struct process *process = draft->process;
	node_index node = tree_node(reader->tree, clause)->first;
	struct number_map seen = { 0 };

	if (read_is_repeated(reader, clause, process->graduates_span))
		return;
	process->graduates_span = span_of(reader, clause);
	process->graduates = ARENA_ARRAY(draft->arena, struct graduate *, read_chain_length(reader, node));
	process->graduate_count = 0;
	for (; node != 0; node = next_of(reader, node)) {
		struct name_reference name = read_name(reader, node);
		const struct symbol *symbol = symbol_refer(reader->recipe, SYMBOL_GRADUATE, name);

		if (symbol != NULL && !read_is_listed(reader, &seen, name.name, name.span))
			process->graduates[process->graduate_count++] = (struct graduate *)symbol->declared;
	}
}

static void read_films(const struct reader *reader, node_index clause, struct process_draft *draft)
{
	struct process *process = draft->process;
	node_index node = tree_node(reader->tree, clause)->first;
	struct number_map seen = { 0 };

	if (read_is_repeated(reader, clause, process->films_span))
		return;
	process->films_span = span_of(reader, clause);
	process->films = ARENA_ARRAY(draft->arena, struct film *, read_chain_length(reader, node));
	process->film_count = 0;
	for (; node != 0; node = next_of(reader, node)) {
		struct name_reference name = read_name(reader, node);
		const struct symbol *symbol = symbol_refer(reader->recipe, SYMBOL_FILM, name);

		if (symbol != NULL && !read_is_listed(reader, &seen, name.name, name.span))
			process->films[process->film_count++] = (struct film *)symbol->declared;
	}
}

static void read_push(const struct reader *reader, node_index clause, struct process *process)
{
	bool is_pull = tree_node(reader->tree, clause)->kind == NODE_pull;

	if (read_thousandths(reader, clause, tree_node(reader->tree, clause)->first, &process->push) && is_pull)
		process->push.value = -process->push.value;
}

static void read_mark(const struct reader *reader, node_index clause, struct span *span, bool *mark)
{
	if (read_is_repeated(reader, clause, *span))
		return;
	*span = span_of(reader, clause);
	*mark = true;
}

static void read_without(const struct reader *reader, node_index clause, struct process_draft *draft)
{
	struct name_reference name = read_name(reader, tree_node(reader->tree, clause)->first);
	const struct step *step = draft_step(draft, name.name);

	if (!draft->is_variant_layer) {
		report_help(reader->recipe->report,
			    report_add(reader->recipe->report, CHECK_out_of_place, span_of(reader, clause),
				       "a process that varies no other leaves no step out"),
			    "take the step away, or say `from` which process this one varies");
		return;
	}
	if (step == NULL) {
		complain_step(reader, draft, name, "only a step of the process it varies can be left out");
		return;
	}
	draft_take_out(draft, step);
}

static void read_clause(const struct reader *reader, node_index clause, struct process_draft *draft)
{
	struct process *process = draft->process;
	node_index first = tree_node(reader->tree, clause)->first;

	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_develops:
		read_family(reader, clause, process);
		break;
	case NODE_use_tank:
		process->tank = refer_once(reader, clause, SYMBOL_TANK, &process->tank_span, process->tank);
		break;
	case NODE_use_heater:
		process->heater = refer_once(reader, clause, SYMBOL_HEATER, &process->heater_span, process->heater);
		break;
	case NODE_use_thermometer:
		process->thermometer = refer_once(reader, clause, SYMBOL_THERMOMETER, &process->thermometer_span,
						  process->thermometer);
		break;
	case NODE_use_graduates:
		read_graduates(reader, clause, draft);
		break;
	case NODE_use_films:
		read_films(reader, clause, draft);
		break;
	case NODE_push:
	case NODE_pull:
		read_push(reader, clause, process);
		break;
	case NODE_load:
		load_read(reader, clause, process);
		break;
	case NODE_room:
		read_quantity(reader, clause, first, QUANTITY_TEMPERATURE, &process->room);
		break;
	case NODE_wet_limit:
		read_positive(reader, clause, first, QUANTITY_DURATION, &process->wet_time_limit);
		break;
	case NODE_rescue:
		read_mark(reader, clause, &process->rescue_span, &process->is_rescue);
		break;
	case NODE_washless:
		read_mark(reader, clause, &process->washless_span, &process->is_washless);
		break;
	case NODE_without:
		read_without(reader, clause, draft);
		break;
	case NODE_step:
		step_read(reader, clause, draft);
		break;
	default:
		read_timing(reader, clause, &process->starts, &process->starts_span, &process->includes_draining,
			    &process->draining_span);
		break;
	}
}

static void apply_layer(struct recipe *recipe, const struct symbol *symbol, struct process_draft *draft)
{
	struct reader reader = symbol_reader(recipe, symbol);
	struct declared *declared = &draft->process->declared;
	node_index clause;

	declared->title = (struct prose){ { "", 0 }, { 0, 0 } };
	for (clause = symbol_open(&reader, symbol, declared); clause != 0; clause = next_of(&reader, clause))
		if (tree_node(symbol->tree, clause)->kind != NODE_parent &&
		    !read_common(&reader, clause, &declared->notes, &declared->allowances))
			read_clause(&reader, clause, draft);
}

/* The process named behind `from`, or null; `parent` is its name. */
static struct symbol *parent_of(struct recipe *recipe, struct symbol *symbol, uint32_t *parent)
{
	struct reader reader = symbol_reader(recipe, symbol);
	node_index node = tree_child(symbol->tree, symbol->node, NODE_parent);
	struct name_reference name;
	struct symbol *found;

	*parent = 0;
	if (node == 0)
		return NULL;
	name = read_name(&reader, tree_node(symbol->tree, node)->first);
	found = symbol_refer(recipe, SYMBOL_PROCESS, name);
	if (found != NULL && found->is_being_applied) {
		if (!found->is_in_circle && !symbol->is_in_circle) /* each of them leads here */
			report_add(recipe->report, CHECK_use_cycle, name.span, "processes vary each other in a circle");
		found->is_in_circle = true;
		symbol->is_in_circle = true;
		return NULL;
	}
	*parent = found == NULL ? 0 : name.name;
	return found;
}

/* LIMIT_VARIANTS is deep enough for any library, and shallow enough for the stack. */
static bool apply_with_parents(struct recipe *recipe, struct symbol *symbol, struct process_draft *draft, int depth)
{
	uint32_t parent_name;
	struct symbol *parent;
	bool is_complete = true;

	symbol->is_being_applied = true;
	parent = parent_of(recipe, symbol, &parent_name);
	if (parent != NULL && (size_t)depth == limit_value(LIMIT_VARIANTS)) {
		report_add(recipe->report, CHECK_figure_out_of_range, symbol->name_span,
			   "more than %s processes vary each other in a row", limit_words(LIMIT_VARIANTS));
		is_complete = false;
	} else if (parent != NULL) {
		is_complete = apply_with_parents(recipe, parent, draft, depth + 1);
	} else if (tree_child(symbol->tree, symbol->node, NODE_parent) != 0) {
		is_complete = false;
	}
	for (size_t i = 0; i < draft->step_count; i++)
		draft->steps[i]->is_from_parent = true;
	draft->is_variant_layer = parent != NULL;
	apply_layer(recipe, symbol, draft);
	draft->process->parent = parent_name;
	symbol->is_being_applied = false;
	return is_complete;
}

static void mark_used(struct process *process)
{
	if (process->tank != NULL)
		process->tank->declared.is_used = true;
	if (process->heater != NULL)
		process->heater->declared.is_used = true;
	if (process->thermometer != NULL)
		process->thermometer->declared.is_used = true;
	for (size_t i = 0; i < process->graduate_count; i++)
		process->graduates[i]->declared.is_used = true;
	for (size_t i = 0; i < process->film_count; i++)
		process->films[i]->declared.is_used = true;
	for (size_t i = 0; i < process->step_count; i++) {
		struct step *step = &process->steps[i];

		if (step->dryer != NULL)
			step->dryer->declared.is_used = true;
		for (struct solution *solution = step->solution; solution != NULL;
		     solution = (struct solution *)solution->stock) {
			if (solution->declared.is_used)
				break;
			solution->declared.is_used = true;
			if (solution->graduate != NULL)
				solution->graduate->declared.is_used = true;
		}
	}
}

static void complain_incomplete(struct recipe *recipe, const struct process *process)
{
	if (!span_is_set(process->family_span))
		complain_missing(recipe, process->declared.name_span, "a process without its family",
				 "add a line such as `develops C-41`");
	if (process->step_count == 0)
		complain_missing(recipe, process->declared.name_span, "a process without steps",
				 "add lines such as `step develop in developer at 20 C for 8:00`");
	steps_complain_incomplete(recipe, process);
}

static void lay_steps(struct process_draft *draft)
{
	struct process *process = draft->process;

	process->step_count = draft->step_count;
	process->steps = ARENA_ARRAY(draft->arena, struct step, draft->step_count);
	for (size_t i = 0; i < draft->step_count; i++)
		process->steps[i] = *draft->steps[i];
}

static void finish_process(struct recipe *recipe, struct process *process, bool has_errors, struct arena *arena)
{
	steps_finish(recipe, process, arena);
	if (process->graduates == NULL) {
		process->graduates = recipe->graduates;
		process->graduate_count = recipe->graduate_count;
	}
	if (!has_errors) /* what is missing may be what was wrong */
		complain_incomplete(recipe, process);
	mark_used(process);
}

size_t recipe_process_count(const struct recipe *recipe)
{
	return recipe->resolver->main_process_count;
}

size_t recipe_run_count(const struct recipe *recipe)
{
	return recipe->resolver->process_count;
}

uint32_t recipe_process_name(const struct recipe *recipe, size_t index)
{
	return recipe->resolver->processes[index]->name;
}

struct process *process_resolve(struct recipe *recipe, size_t index, struct arena *arena)
{
	struct symbol *symbol = recipe->resolver->processes[index];
	struct process_draft draft = { .arena = arena, .process = ARENA_NEW(arena, struct process) };
	struct process *process = draft.process;
	size_t errors = recipe->report->errors;

	process->includes_draining = true;
	if (!apply_with_parents(recipe, symbol, &draft, 0))
		return NULL;
	lay_steps(&draft);
	finish_process(recipe, process, recipe->report->errors > errors, arena);
	return process;
}

int64_t process_load_milli_rolls(const struct process *process)
{
	int64_t most = 0;

	if (span_is_set(process->load_span))
		return process->load_milli_rolls;
	if (process->tank == NULL)
		return 0;
	for (const struct takes *takes = process->tank->takes; takes != NULL; takes = takes->next) {
		int64_t rolls =
			takes->count * format_row(takes->format)->area_milli_sq_in * 1000 / ROLL_AREA_MILLI_SQ_IN;

		if (rolls > most)
			most = rolls;
	}
	return most;
}
