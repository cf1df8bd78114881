/* What is different in this run. */
#include "emit/this_run.h"

#include "compute/day_plan.h"
#include "compute/development.h"
#include "compute/keeping.h"
#include "compute/mixing.h"
#include "model/date.h"

#define NO_BREAK_SPACE "\xC2\xA0"

struct text this_run_rolls(struct arena *arena, int64_t milli_rolls)
{
	struct text whole = text_format(arena, "%lld", (long long)(milli_rolls / 1000));
	struct text digits = text_format(arena, "%03lld", (long long)(milli_rolls % 1000));

	while (digits.length > 0 && digits.data[digits.length - 1] == '0')
		digits.length--;
	if (digits.length == 0)
		return whole;
	return text_format(arena, "%.*s.%.*s", TEXT_ARGUMENT(whole), TEXT_ARGUMENT(digits));
}

static void add_separator(struct text_builder *line)
{
	if (line->length > 0)
		text_append_string(line, "; ");
}

/* "; 20 rolls left", where the bath has a capacity. */
static void add_rolls_left(const struct emission *emission, struct text_builder *line, const struct solution *solution,
			   const struct used_time *used)
{
	int64_t left;
	struct text rolls;

	if (solution->capacity_volume.value <= 0 || used->bath_volume <= 0)
		return;
	left = mixing_capacity_milli_rolls(solution, used->bath_volume) - used->done_milli_rolls;
	rolls = this_run_rolls(emission->arena, left > 0 ? left : 0);
	text_append_format(line, ", %.*s" NO_BREAK_SPACE "rolls left", TEXT_ARGUMENT(rolls));
}

/* What is known of a bath in hand: "developer has done 4 rolls, 20 rolls left, good until 2026-04-25". */
static void add_bath(const struct emission *emission, struct text_builder *line, const struct solution *solution,
		     const struct used_time *used)
{
	struct text rolls = this_run_rolls(emission->arena, used->done_milli_rolls);
	int64_t last_day;

	add_separator(line);
	text_append_format(line, "%.*s has done %.*s" NO_BREAK_SPACE "rolls",
			   TEXT_ARGUMENT(intern_text(emission->recipe->names, solution->declared.name)),
			   TEXT_ARGUMENT(rolls));
	add_rolls_left(emission, line, solution, used);
	if (solution->on_hand == NULL || !keeping_last_day(solution, solution->on_hand, &last_day))
		return;
	text_append_string(line, ", good until ");
	text_append(line, date_print(emission->arena, last_day));
}

static void add_done(const struct emission *emission, struct text_builder *line)
{
	const struct process *process = emission->process;

	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];
		const struct used_time *used = &emission->used[i];
		bool is_repeated = false;

		for (size_t j = 0; j < i; j++)
			is_repeated = is_repeated || process->steps[j].solution == step->solution;
		if (step->solution != NULL && !is_repeated &&
		    (used->done_milli_rolls > 0 || step->solution->on_hand != NULL))
			add_bath(emission, line, step->solution, used);
	}
}

static void add_figure(struct text_builder *line, bool is_given, const char *name, struct text figure)
{
	if (!is_given)
		return;
	add_separator(line);
	text_append_format(line, "%s %.*s", name, TEXT_ARGUMENT(figure));
}

/* What is given for mixing only. */
static void add_mixing(const struct emission *emission, struct text_builder *line)
{
	const struct conditions *conditions = emission->conditions;
	struct arena *arena = emission->arena;

	add_figure(line, conditions->has_volume, "volume", quantity_print_volume(arena, conditions->volume));
	add_figure(line, conditions->has_hot, "hot tap", quantity_print_temperature(arena, conditions->hot));
	add_figure(line, conditions->has_cold, "cold tap", quantity_print_temperature(arena, conditions->cold));
	add_figure(line, conditions->has_water_bath, "water bath",
		   quantity_print_temperature(arena, conditions->water_bath));
}

/* Which load of which day's plan it is; the day with it. */
static void add_load(const struct emission *emission, struct text_builder *line)
{
	const struct day_plan *plan = emission->plan;

	if (emission->load == NULL)
		return;
	text_append_format(line, "load %zu of %zu, %.*s", emission->load->number, plan->load_count,
			   TEXT_ARGUMENT(date_print_with_weekday(emission->arena, plan->day->date)));
}

struct text this_run_line(const struct emission *emission)
{
	const struct conditions *conditions = emission->conditions;
	struct text_builder line = text_builder_start(emission->arena);

	add_load(emission, &line);

	for (const struct condition *at = conditions->temperatures; at != NULL; at = at->next) {
		struct text temperature = quantity_print_temperature(emission->arena, at->value);

		add_separator(&line);
		text_append_format(&line, "%.*s measured at %.*s", TEXT_ARGUMENT(at->name), TEXT_ARGUMENT(temperature));
	}
	add_done(emission, &line);
	if (conditions->has_room) {
		struct text room = quantity_print_temperature(emission->arena, conditions->room);

		add_separator(&line);
		text_append_format(&line, "room %.*s", TEXT_ARGUMENT(room));
	}
	add_mixing(emission, &line);
	if (conditions->has_date && emission->load == NULL) {
		add_separator(&line);
		text_append(&line, date_print(emission->arena, conditions->date));
	}
	return text_builder_text(&line);
}

struct text this_run_time(const struct emission *emission, size_t index)
{
	return quantity_print_time_window(emission->arena, &emission->timeline->steps[index].time);
}

struct text this_run_declared(const struct emission *emission, size_t index)
{
	const struct step *step = &emission->process->steps[index];
	const struct temperature_window *window = development_window(step);
	struct arena *arena = emission->arena;
	struct text time = quantity_print_time_window(arena, &step->time);
	struct text working;

	if (window == NULL)
		return text_format(arena, "declared %.*s", TEXT_ARGUMENT(time));
	working = quantity_print_temperature(arena, window->nominal);
	return text_format(arena, "declared %.*s at %.*s", TEXT_ARGUMENT(time), TEXT_ARGUMENT(working));
}

struct text this_run_done(const struct emission *emission, size_t index)
{
	const struct used_time *used = &emission->used[index];
	struct arena *arena = emission->arena;
	struct text rolls = this_run_rolls(arena, used->done_milli_rolls);
	struct text volume = quantity_print_volume(arena, used->bath_volume);
	struct text longer = quantity_print_percent(arena, used->lengthened_percent);

	if (!used->is_for_done)
		return TEXT("");
	return text_format(arena, "done %.*s" NO_BREAK_SPACE "rolls in %.*s: %.*s longer", TEXT_ARGUMENT(rolls),
			   TEXT_ARGUMENT(volume), TEXT_ARGUMENT(longer));
}

struct text this_run_reason(const struct emission *emission, size_t index)
{
	const struct used_time *used = &emission->used[index];
	struct text_builder reason = text_builder_start(emission->arena);
	struct text declared;

	if (!used->is_for_temperature && !used->is_for_done)
		return TEXT("");
	if (used->is_for_temperature) {
		text_append(&reason, this_run_declared(emission, index));
		text_append_string(&reason, "; measured ");
		text_append(&reason, quantity_print_temperature(emission->arena, used->reading));
	} else {
		declared = quantity_print_time_window(emission->arena, &emission->process->steps[index].time);
		text_append_format(&reason, "declared %.*s", TEXT_ARGUMENT(declared));
	}
	if (used->is_for_done) {
		text_append_string(&reason, "; ");
		text_append(&reason, this_run_done(emission, index));
	}
	return text_builder_text(&reason);
}
