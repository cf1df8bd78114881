/* Steps: the sentence and its clauses. */
#include "model/resolve_process.h"

#include <string.h>

#include "support/suggest.h"
#include "syntax/units.h"

struct step *draft_step(const struct process_draft *draft, uint32_t name)
{
	return number_map_find(&draft->steps_by_name, name);
}

static size_t place_of(const struct process_draft *draft, const struct step *step)
{
	size_t place = 0;

	while (draft->steps[place] != step)
		place++;
	return place;
}

void draft_take_out(struct process_draft *draft, const struct step *step)
{
	size_t place = place_of(draft, step);

	draft->step_count--;
	memmove(draft->steps + place, draft->steps + place + 1, (draft->step_count - place) * sizeof(struct step *));
	number_map_put(&draft->steps_by_name, draft->arena, step->name, NULL);
}

void complain_step(const struct reader *reader, const struct process_draft *draft, struct name_reference name,
		   const char *help)
{
	struct recipe *recipe = reader->recipe;
	struct text wrong = intern_text(recipe->names, name.name);
	struct suggestion_list list;
	struct diagnostic *finding;

	if (recipe->has_parse_errors) /* it may stand in a clause that was not understood */
		return;
	finding = report_add(recipe->report, CHECK_unknown_name, name.span, "no step is called `%.*s`",
			     TEXT_ARGUMENT(wrong));
	suggest_start(&list, wrong);
	bool may_suggest = symbols_may_suggest(recipe, draft->step_count);
	for (size_t i = 0; may_suggest && i < draft->step_count; i++)
		suggest_offer(&list, intern_text(recipe->names, draft->steps[i]->name));
	if (!report_suggest(recipe->report, finding, name.span, &list, SUGGESTION_OF_RECIPE))
		report_help(recipe->report, finding, "%s", help);
}

static void read_bath(const struct reader *reader, node_index clause, struct step *step)
{
	struct recipe *recipe = reader->recipe;
	struct name_reference name;
	struct text word;
	struct symbol *symbol;

	if (read_is_repeated(reader, clause, step->bath_span))
		return;
	step->bath_span = span_of(reader, clause);
	step->solution = NULL;
	step->dryer = NULL;
	step->bath = BATH_NONE;
	if (tree_node(reader->tree, clause)->kind == NODE_in_running_water) {
		step->bath = BATH_RUNNING_WATER;
		return;
	}
	name = read_name(reader, first_of(reader, clause));
	word = intern_text(recipe->names, name.name);
	step->bath_span = name.span;
	if (text_equal(word, TEXT("water"))) {
		step->bath = BATH_WATER;
	} else if (text_equal(word, TEXT("light"))) {
		step->bath = BATH_LIGHT;
	} else if (text_equal(word, TEXT("air"))) {
		step->bath = BATH_AIR;
	} else if ((symbol = symbol_refer(recipe, SYMBOL_BATH, name)) != NULL) {
		step->bath = symbol->node_kind == NODE_dryer ? BATH_DRYER : BATH_SOLUTION;
		if (step->bath == BATH_DRYER)
			step->dryer = (struct dryer *)symbol->declared;
		else
			step->solution = (struct solution *)symbol->declared;
	}
}

static void read_role(const struct reader *reader, node_index clause, struct step *step)
{
	size_t index;

	if (read_is_repeated(reader, clause, step->role_span) ||
	    !read_word(reader, first_of(reader, clause), VOCABULARY_ROLES, &index))
		return;
	step->role = (enum role_id)index;
	step->role_span = span_of(reader, clause);
}

/* Reads a time of agitation; one of 0 seconds is reported. */
static void read_phase_time(const struct reader *reader, node_index clause, node_index value, const char *problem,
			    struct quantity *quantity)
{
	if (!read_quantity(reader, clause, value, QUANTITY_DURATION, quantity))
		quantity->span = span_of(reader, value); /* it was said, though not well */
	else if (quantity->value == 0)
		report_add(reader->recipe->report, CHECK_figure_out_of_range, quantity->span, "%s", problem);
}

static void read_phase(const struct reader *reader, node_index node, struct agitation_phase *phase)
{
	static const char no_phase[] = "a phase of 0 seconds is none";
	node_index first = first_of(reader, node);
	node_index second = first == 0 ? 0 : next_of(reader, first);

	phase->span = span_of(reader, node);
	if (tree_node(reader->tree, node)->kind != NODE_phase_every) {
		phase->is_continuous = true;
		if (first != 0)
			read_phase_time(reader, node, first, no_phase, &phase->length);
		return;
	}
	read_phase_time(reader, node, first, "an agitation of 0 seconds is none", &phase->burst);
	read_phase_time(reader, node, second, "agitations cannot come every 0 seconds", &phase->every);
	if (phase->every.value == 0)
		phase->every.span = (struct span){ 0, 0 };
	if (next_of(reader, second) != 0)
		read_phase_time(reader, node, next_of(reader, second), no_phase, &phase->length);
}

/* `first` opens; a phase without a length goes on to the end, so none may follow. */
static void check_phases(const struct reader *reader, const struct agitation_phase *phase, node_index node)
{
	struct report *report = reader->recipe->report;

	for (bool is_first = true; phase != NULL; phase = phase->next, node = next_of(reader, node), is_first = false) {
		if (!is_first && tree_node(reader->tree, node)->kind == NODE_phase_first)
			report_add(report, CHECK_out_of_place, phase->span, "`first` opens the agitation");
		if (phase->next != NULL && !span_is_set(phase->length.span))
			report_help(report,
				    report_add(report, CHECK_out_of_place, phase->next->span,
					       "the phase before this one goes on to the end of the step"),
				    "say how long it lasts, as in `10 s every 60 s for 5:00`");
	}
}

static void read_agitate(const struct reader *reader, node_index clause, struct arena *arena, struct step *step)
{
	struct agitation_phase **last = &step->agitation;

	if (read_is_repeated(reader, clause, step->agitation_span))
		return;
	step->agitation_span = span_of(reader, clause);
	step->agitates_never = tree_node(reader->tree, clause)->kind == NODE_agitate_none;
	step->agitation = NULL;
	for (node_index node = first_of(reader, clause); node != 0; node = next_of(reader, node)) {
		*last = ARENA_NEW(arena, struct agitation_phase);
		read_phase(reader, node, *last);
		last = &(*last)->next;
	}
	check_phases(reader, step->agitation, first_of(reader, clause));
}

static void read_tap(const struct reader *reader, node_index clause, struct step *step)
{
	node_index number = first_of(reader, clause);
	struct quantity count = { 0, step->taps_span, UNIT_none };
	struct quantity length = { 0 };

	if (!read_count(reader, clause, number, 1, &count))
		return;
	if (next_of(reader, number) != 0)
		read_quantity(reader, clause, next_of(reader, number), QUANTITY_DURATION, &length);
	step->taps_span = span_of(reader, clause);
	step->taps = count.value;
	step->taps_last = length;
}

static void read_times(const struct reader *reader, node_index clause, struct arena *arena, struct step *step)
{
	struct report *report = reader->recipe->report;
	struct time_row **last = &step->times;
	const struct time_row *before = NULL;

	if (read_is_repeated(reader, clause, step->times_span))
		return;
	step->times_span = span_of(reader, clause);
	step->times_are_makers = tree_node(reader->tree, clause)->kind == NODE_times_by_maker;
	step->times = NULL;
	for (node_index node = first_of(reader, clause); node != 0; node = next_of(reader, node)) {
		struct time_row *row = ARENA_NEW(arena, struct time_row);
		node_index temperature = first_of(reader, node);

		if (!read_quantity(reader, node, temperature, QUANTITY_TEMPERATURE, &row->temperature) ||
		    !read_quantity(reader, node, next_of(reader, temperature), QUANTITY_DURATION, &row->time))
			continue;
		if (before != NULL && row->temperature.value <= before->temperature.value) {
			report_help(report,
				    report_add(report, CHECK_out_of_place, span_of(reader, node),
					       "this row is not warmer than the one before"),
				    "list the times from cold to warm");
			continue;
		}
		if (before != NULL && row->time.value > before->time.value)
			report_help(report,
				    report_add(report, CHECK_out_of_place, row->time.span,
					       "this row is warmer than the one before, and yet longer"),
				    "a warmer bath never needs longer: look both figures up again");
		if (row->time.value <= 0)
			report_add(report, CHECK_figure_out_of_range, row->time.span, "nothing develops in no time");
		*last = row;
		last = &row->next;
		before = row;
	}
}

static void read_coefficient(const struct reader *reader, node_index clause, struct step *step)
{
	node_index value = first_of(reader, clause);
	node_index per = next_of(reader, value);

	if (!read_quantity(reader, clause, value, QUANTITY_PERCENT, &step->coefficient))
		return;
	if (unit_find(read_text(reader, per)) != UNIT_kelvin && unit_find(read_text(reader, per)) != UNIT_celsius) {
		struct report *report = reader->recipe->report;
		struct diagnostic *finding = report_add(report, CHECK_wrong_unit, span_of(reader, per),
							"a coefficient is so much per kelvin");

		report_help(report, finding, "write `per K`");
		report_fix(report, finding, FIX_ASKS, span_of(reader, per), TEXT("K"));
	}
}

static void read_round(const struct reader *reader, node_index clause, struct step *step)
{
	if (!read_quantity(reader, clause, first_of(reader, clause), QUANTITY_DURATION, &step->round_to) ||
	    step->round_to.value > 0)
		return;
	report_add(reader->recipe->report, CHECK_figure_out_of_range, step->round_to.span,
		   "nothing can be rounded to 0 seconds");
	step->round_to.span = (struct span){ 0, 0 };
}

static void read_lights(const struct reader *reader, node_index clause, struct step *step)
{
	if (read_is_repeated(reader, clause, step->lights_span))
		return;
	step->lights_after = (struct quantity){ 0 };
	if (first_of(reader, clause) != 0)
		read_quantity(reader, clause, first_of(reader, clause), QUANTITY_DURATION, &step->lights_after);
	step->lights_span = span_of(reader, clause);
}

static void read_figures(const struct reader *reader, node_index clause, struct step *step)
{
	node_index first = first_of(reader, clause);

	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_at:
		read_window(reader, clause, first, &step->at);
		break;
	case NODE_pour_at:
		read_window(reader, clause, first, &step->pour_at);
		break;
	case NODE_mean:
		read_window(reader, clause, first, &step->mean);
		break;
	case NODE_for:
		read_time(reader, clause, first, &step->time);
		break;
	case NODE_flow:
		read_flow(reader, clause, &step->flow);
		break;
	case NODE_changes:
		read_count(reader, clause, first, 1, &step->changes);
		break;
	case NODE_expose:
		read_positive(reader, clause, first, QUANTITY_DURATION, &step->expose);
		break;
	case NODE_round_to:
		read_round(reader, clause, step);
		break;
	case NODE_energy:
		read_positive(reader, clause, first, QUANTITY_ENERGY, &step->activation_energy);
		break;
	default:
		read_coefficient(reader, clause, step);
		break;
	}
}

static void read_clause(const struct reader *reader, node_index clause, struct arena *arena, struct step *step)
{
	switch (tree_node(reader->tree, clause)->kind) {
	case NODE_after: /* were used to place the step */
	case NODE_before:
		break;
	case NODE_as:
		read_role(reader, clause, step);
		break;
	case NODE_in:
	case NODE_in_running_water:
		read_bath(reader, clause, step);
		break;
	case NODE_agitate:
	case NODE_agitate_none:
		read_agitate(reader, clause, arena, step);
		break;
	case NODE_tap:
		read_tap(reader, clause, step);
		break;
	case NODE_measure:
		if (!read_is_repeated(reader, clause, step->measure_span))
			step->measure_span = span_of(reader, clause);
		step->measures = true;
		break;
	case NODE_lights_on:
		read_lights(reader, clause, step);
		break;
	case NODE_times:
	case NODE_times_by_maker:
		read_times(reader, clause, arena, step);
		break;
	case NODE_starts_at_pour:
	case NODE_starts_when_full:
	case NODE_draining_included:
	case NODE_draining_excluded:
		read_timing(reader, clause, &step->starts, &step->starts_span, &step->includes_draining,
			    &step->draining_span);
		break;
	default:
		read_figures(reader, clause, step);
		break;
	}
}

/* The `after` or `before` of a step, 0 where it has neither. */
static node_index place_clause(const struct reader *reader, node_index clause)
{
	node_index after = tree_child(reader->tree, clause, NODE_after);

	return after != 0 ? after : tree_child(reader->tree, clause, NODE_before);
}

/* Opens a place for a new step: beside the one named by `after` or `before`, else at the end. */
static struct step *draft_insert(const struct reader *reader, node_index clause, struct name_reference name,
				 struct process_draft *draft)
{
	node_index beside = place_clause(reader, clause);
	size_t place = draft->step_count;

	if (beside == 0 && draft->is_variant_layer) {
		complain_step(reader, draft, name,
			      "to add a step to the process it varies, say where: `step NAME after STEP …`");
		return NULL;
	}
	if (beside != 0) {
		struct name_reference other = read_name(reader, first_of(reader, beside));
		const struct step *step = draft_step(draft, other.name);

		if (step == NULL) {
			complain_step(reader, draft, other, "the step named here stands further up");
			return NULL;
		}
		place = place_of(draft, step) + (tree_node(reader->tree, beside)->kind == NODE_after);
	}
	ARENA_RESERVE(draft->arena, draft->steps, draft->step_count, draft->step_capacity);
	memmove(draft->steps + place + 1, draft->steps + place, (draft->step_count - place) * sizeof(struct step *));
	draft->step_count++;
	draft->steps[place] = ARENA_NEW(draft->arena, struct step);
	*draft->steps[place] = (struct step){ .name = name.name, .name_span = name.span };
	number_map_put(&draft->steps_by_name, draft->arena, name.name, draft->steps[place]);
	return draft->steps[place];
}

void step_read(const struct reader *outer, node_index clause, struct process_draft *draft)
{
	struct reader reader = { outer->recipe, outer->tree, clause };
	struct name_reference name = read_name(&reader, first_of(&reader, clause));
	struct step *step = draft_step(draft, name.name);
	struct report *report = reader.recipe->report;

	if (step != NULL && !step->is_from_parent) {
		report_note(report,
			    report_add(report, CHECK_defined_twice, name.span, "the step `%.*s` is there twice",
				       TEXT_ARGUMENT(intern_text(reader.recipe->names, name.name))),
			    step->name_span, "it stands here before");
		return;
	}
	if (step == NULL)
		step = draft_insert(&reader, clause, name, draft);
	else if (place_clause(&reader, clause) != 0)
		report_add(report, CHECK_out_of_place, name.span, "a step of the process it varies cannot be moved");
	if (step == NULL)
		return;
	step->is_from_parent = false;
	step->span = span_of(&reader, clause);
	for (node_index node = next_of(&reader, first_of(&reader, clause)); node != 0; node = next_of(&reader, node))
		if (!read_common(&reader, node, &step->notes, &step->allowances))
			read_clause(&reader, node, draft->arena, step);
}
