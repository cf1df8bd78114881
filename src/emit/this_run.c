/* What is different in this run. */
#include "emit/this_run.h"

#include "compute/development.h"
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

static void add_done(const struct emission *emission, struct text_builder *line)
{
	const struct process *process = emission->process;

	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];
		bool is_repeated = false;
		struct text rolls;

		for (size_t j = 0; j < i; j++)
			is_repeated = is_repeated || process->steps[j].solution == step->solution;
		if (step->solution == NULL || is_repeated || emission->used[i].done_milli_rolls == 0)
			continue;
		rolls = this_run_rolls(emission->arena, emission->used[i].done_milli_rolls);
		add_separator(line);
		text_append_format(line, "%.*s has done %.*s" NO_BREAK_SPACE "rolls",
				   TEXT_ARGUMENT(intern_text(emission->recipe->names, step->solution->declared.name)),
				   TEXT_ARGUMENT(rolls));
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

struct text this_run_line(const struct emission *emission)
{
	const struct conditions *conditions = emission->conditions;
	struct text_builder line = text_builder_start(emission->arena);

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
	if (conditions->has_date) {
		add_separator(&line);
		text_append(&line, date_print(emission->arena, conditions->date));
	}
	return text_builder_text(&line);
}

struct text this_run_time(const struct emission *emission, size_t step)
{
	return quantity_print_time_window(emission->arena, &emission->timeline->steps[step].time);
}

struct text this_run_reason(const struct emission *emission, size_t index)
{
	const struct step *step = &emission->process->steps[index];
	const struct used_time *used = &emission->used[index];
	const struct temperature_window *window = development_window(step);
	struct text_builder reason = text_builder_start(emission->arena);
	struct arena *arena = emission->arena;
	struct text printed;

	if (!used->is_for_temperature && !used->is_for_done)
		return TEXT("");
	text_append_string(&reason, "declared ");
	text_append(&reason, quantity_print_time_window(arena, &step->time));
	if (used->is_for_temperature && window != NULL) {
		text_append_string(&reason, " at ");
		text_append(&reason, quantity_print_temperature(arena, window->nominal));
		text_append_string(&reason, "; measured ");
		text_append(&reason, quantity_print_temperature(arena, used->reading));
	}
	if (used->is_for_done) {
		printed = this_run_rolls(arena, used->done_milli_rolls);
		text_append_format(&reason, "; done %.*s" NO_BREAK_SPACE "rolls in ", TEXT_ARGUMENT(printed));
		text_append(&reason, quantity_print_volume(arena, used->bath_volume));
		text_append_string(&reason, ": ");
		text_append(&reason, quantity_print_percent(arena, used->lengthened_percent));
		text_append_string(&reason, " longer");
	}
	return text_builder_text(&reason);
}
