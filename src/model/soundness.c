/* Whether a process may be judged. */
#include "model/soundness.h"

#include <string.h>

#include "model/day.h"
#include "model/resolver.h"

/* The first error that does not lie before a place. */
static size_t first_from(const struct error_places *errors, uint32_t begin)
{
	size_t low = 0;
	size_t high = errors->count;

	while (low < high) {
		size_t middle = low + (high - low) / 2;

		if (errors->begins[middle] < begin)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/* Most errors come in the order of the text; those of a parent come again for each variant. */
static void insert(struct error_places *errors, uint32_t begin, struct arena *arena)
{
	size_t index = first_from(errors, begin);

	if (index < errors->count && errors->begins[index] == begin)
		return;
	ARENA_RESERVE(arena, errors->begins, errors->count, errors->capacity);
	memmove(errors->begins + index + 1, errors->begins + index, (errors->count - index) * sizeof *errors->begins);
	errors->begins[index] = begin;
	errors->count++;
}

/* Where the text is wrong, with what the report has got since the last look. */
static const struct error_places *error_places(const struct recipe *recipe)
{
	struct error_places *errors = &recipe->resolver->errors;
	const struct report *report = recipe->report;

	for (; errors->seen < report->count; errors->seen++) {
		const struct diagnostic *finding = &report->items[errors->seen];

		if (finding->severity == SEVERITY_ERROR && check_row(finding->check)->subject == SUBJECT_SOURCE)
			insert(errors, finding->span.begin, recipe->arena);
	}
	return errors;
}

static bool has_error_within(const struct error_places *errors, struct span span)
{
	size_t index = first_from(errors, span.begin);

	return index < errors->count && errors->begins[index] < span.begin + span.length;
}

static bool is_sound(const struct error_places *errors, const struct declared *declared)
{
	return !has_error_within(errors, declared->span);
}

static bool step_is_sound(const struct error_places *errors, const struct step *step)
{
	if (step->bath == BATH_NONE || has_error_within(errors, step->span)) /* its bath was lost to a mistake */
		return false;
	if (step->dryer != NULL && !is_sound(errors, &step->dryer->declared))
		return false;
	for (const struct solution *solution = step->solution; solution != NULL; solution = solution->stock) {
		if (!is_sound(errors, &solution->declared))
			return false;
		if (solution->graduate_name.name != 0 && solution->graduate == NULL)
			return false;
	}
	return true;
}

/* What the process names; a name whose declaration was lost leaves a null behind. */
static bool equipment_is_sound(const struct error_places *errors, const struct process *process)
{
	if (span_is_set(process->tank_span) && (process->tank == NULL || !is_sound(errors, &process->tank->declared)))
		return false;
	if (span_is_set(process->heater_span) &&
	    (process->heater == NULL || !is_sound(errors, &process->heater->declared)))
		return false;
	if (span_is_set(process->thermometer_span) &&
	    (process->thermometer == NULL || !is_sound(errors, &process->thermometer->declared)))
		return false;
	for (size_t i = 0; i < process->graduate_count; i++)
		if (!is_sound(errors, &process->graduates[i]->declared))
			return false;
	for (size_t i = 0; i < process->film_count; i++)
		if (!is_sound(errors, &process->films[i]->declared))
			return false;
	return true;
}

/* The processes that it varies, from the nearest on. */
static bool parents_are_sound(struct recipe *recipe, const struct error_places *errors, uint32_t name)
{
	while (name != 0) {
		const struct symbol *parent = symbol_find(recipe, SYMBOL_PROCESS, name);
		struct reader reader;
		node_index from;

		if (parent == NULL || parent->is_lost)
			return false;
		if (has_error_within(errors, tree_node(parent->tree, parent->node)->span))
			return false;
		from = tree_child(parent->tree, parent->node, NODE_parent);
		reader = symbol_reader(recipe, parent);
		name = from == 0 ? 0 : read_name(&reader, tree_node(parent->tree, from)->first).name;
	}
	return true;
}

bool process_is_sound(struct recipe *recipe, const struct process *process)
{
	const struct error_places *errors;

	if (recipe->report->errors == 0)
		return true;
	errors = error_places(recipe);
	if (!is_sound(errors, &process->declared) || !parents_are_sound(recipe, errors, process->parent) ||
	    !equipment_is_sound(errors, process))
		return false;
	for (size_t i = 0; i < process->step_count; i++)
		if (!step_is_sound(errors, &process->steps[i]))
			return false;
	return true;
}

bool roll_is_sound(struct recipe *recipe, const struct roll *roll)
{
	if (roll->format == FORMAT_COUNT) /* nothing is missed where a clause may have been lost: no error says so */
		return false;
	return recipe->report->errors == 0 || !has_error_within(error_places(recipe), roll->whole);
}

/* The rolls of a day that stand in its block follow each other in the text, as the errors do. */
bool day_is_sound(struct recipe *recipe, const struct day *day)
{
	const struct error_places *errors;
	const struct roll *roll = day->rolls;
	struct span span = day->declared.span;

	if (day->is_incomplete || recipe->report->errors == 0)
		return !day->is_incomplete;
	errors = error_places(recipe);
	for (size_t i = first_from(errors, span.begin);
	     i < errors->count && errors->begins[i] < span.begin + span.length; i++) {
		uint32_t begin = errors->begins[i];

		while (roll != NULL &&
		       (roll->whole.begin < span.begin || roll->whole.begin >= span.begin + span.length ||
			roll->whole.begin + roll->whole.length <= begin))
			roll = roll->next;
		if (roll == NULL || begin < roll->whole.begin)
			return false;
	}
	return true;
}
