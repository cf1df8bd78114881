/* The timer: the plan as shell functions, then the runtime, which stands beside this file as shell text.
 *
 * The plan is data in the shape of calls; what each call means is said in plan.sh. All its figures are whole seconds
 * since the time of the step starts, or hundredths of a degree; all its texts go through emit/escape/shell. */
#include <inttypes.h>
#include <string.h>

#include "compute/reading.h"
#include "embedded/ask_sh.h"
#include "embedded/clock_sh.h"
#include "embedded/cues_sh.h"
#include "embedded/options_sh.h"
#include "embedded/panel_sh.h"
#include "embedded/plan_sh.h"
#include "embedded/record_sh.h"
#include "embedded/terminal_sh.h"
#include "embedded/timer_sh.h"
#include "embedded/times_sh.h"
#include "emit/cues/wording.h"
#include "emit/document.h"
#include "emit/escape/shell.h"
#include "emit/log_head.h"
#include "emit/this_run.h"
#include "emit/timer/measured.h"

/* ---- texts ---- */

/* CommonMark inlines without their markup. */
static struct text plain_prose(struct arena *arena, struct text prose)
{
	struct document *document = document_create(arena);
	cmark_node *paragraph = document_add(document, document->root, CMARK_NODE_PARAGRAPH, NULL);
	document_prose(document, paragraph, prose);
	return document_plain(document, paragraph, arena);
}

/* ---- the head of the plan ---- */

static struct text process_title(const struct emission *emission)
{
	struct text title = plain_prose(emission->arena, emission->process->declared.title.text);
	if (title.length > 0)
		return title;
	return intern_text(emission->recipe->names, emission->process->declared.name);
}

static void put_head(const struct emission *emission, struct output *output)
{
	struct arena *arena = emission->arena;
	struct text name = intern_text(emission->recipe->names, emission->process->declared.name);
	output_string(output, "#!/bin/sh\n# Timer: ");
	output_write(output, shell_comment(arena, process_title(emission)));
	output_string(output, " (");
	output_write(output, shell_comment(arena, name));
	output_string(output, ")\n# Fingerprint: ");
	output_write(output, shell_comment(arena, emission->process->fingerprint));
	output_string(output, "\n#\n"
			      "# Made by wetside. It needs a POSIX shell and the POSIX utilities; run it with --help.\n"
			      "#\n# shellcheck disable=SC2016 # a dollar sign in a text is a dollar sign\n");
}

static void put_light(const struct emission *emission, struct output *output)
{
	const struct timeline *timeline = emission->timeline;
	for (size_t i = 0; i < timeline->step_count; i++) {
		const struct timeline_step *timed = &timeline->steps[i];
		if (timed->light_ms == TIMELINE_NEVER)
			continue;
		output_format(output, "\tplan_light %zu", i + 1);
		plan_seconds(output, true, timed->light_ms - timed->start_ms);
		output_string(output, "\n");
		return;
	}
}

static void put_plan(const struct emission *emission, struct output *output)
{
	struct text name = intern_text(emission->recipe->names, emission->process->declared.name);
	output_string(output, "\nplan() {\n\tplan_is");
	plan_word(emission, output, name);
	plan_word(emission, output, shell_file_name(emission->arena, name));
	plan_word(emission, output, process_title(emission));
	plan_word(emission, output, emission->process->fingerprint);
	output_format(output, " %zu\n", emission->timeline->step_count);
	struct text this_run = this_run_line(emission);
	if (this_run.length > 0) {
		output_string(output, "\tplan_run");
		plan_words(emission, output, this_run);
		output_string(output, "\n");
	}
	put_light(emission, output);
	output_string(output, "}\n");
}

static void put_head_line(void *data, const struct text *fields, size_t count)
{
	const struct placed_step *placed = data;
	output_string(placed->output, "\trecord_fields");
	for (size_t i = 0; i < count; i++)
		plan_word(placed->emission, placed->output, fields[i]);
	output_string(placed->output, "\n");
}

/* What the log's head says beyond the plan of the steps. */
static void put_log_head(const struct emission *emission, struct output *output)
{
	struct placed_step placed = { .emission = emission, .output = output };
	output_string(output, "\nplan_record() {\n\t:\n");
	log_head(emission, put_head_line, &placed);
	output_string(output, "}\n");
}

static void put_cue_kinds(const struct emission *emission, struct output *output)
{
	output_string(output, "\ncue_kind_facts() {\n\tcase ${1} in\n");
	for (int kind = 0; kind < CUE_KIND_COUNT; kind++) {
		const struct cue_row *row = cue_row((enum cue_kind)kind);
		output_string(output, "\t");
		output_write(output, row->word);
		output_string(output, ") kind_title=");
		output_write(output, shell_word(emission->arena, row->title));
		output_format(output, " kind_rings=%d kind_order=%d ;;\n", row->is_signal ? 1 : 0, kind);
	}
	output_string(output, "\t*) kind_title=${1} kind_rings=0 kind_order=0 ;;\n\tesac\n}\n");
}

/* ---- a step ---- */

static const char *const bath_words[] = {
	[BATH_NONE] = "none",	[BATH_SOLUTION] = "solution", [BATH_WATER] = "water", [BATH_RUNNING_WATER] = "running",
	[BATH_LIGHT] = "light", [BATH_AIR] = "air",	      [BATH_DRYER] = "dryer",
};

/* The baths for which a wrong bottle loses the film. */
static bool asks_for_bottle(const struct step *step)
{
	if (step->bottle == 0)
		return false;
	switch (role_row(step->role)->action) {
	case ACTION_DEVELOPS:
	case ACTION_DEVELOPS_AND_FIXES:
	case ACTION_BLEACHES:
	case ACTION_BLEACHES_AND_FIXES:
	case ACTION_FIXES:
		return true;
	default:
		return false;
	}
}

static void put_bath(const struct placed_step *placed)
{
	const struct emission *emission = placed->emission;
	const struct step *step = placed->step;
	struct text title = TEXT("");
	if (step->bath == BATH_SOLUTION)
		title = step->solution->declared.title.text;
	else if (step->bath == BATH_DRYER)
		title = step->dryer->declared.title.text;
	output_format(placed->output, "\t\tstep_bath %s %" PRIu32 " %d %d", bath_words[step->bath], step->bottle,
		      asks_for_bottle(step) ? 1 : 0, role_develops(step->role) ? 1 : 0);
	plan_word(emission, placed->output, wording_bath(emission, placed->index));
	plan_word(emission, placed->output, plain_prose(emission->arena, title));
	output_string(placed->output, "\n");
}

/* What to aim at, the limits where that does not name them already, and the window of the mean where it is another. */
static void put_window(const struct placed_step *placed)
{
	const struct emission *emission = placed->emission;
	const struct step *step = placed->step;
	const struct temperature_window *window = plan_pour_window(step);
	struct text limits = TEXT(""), tank = TEXT("");
	if (!span_is_set(window->span))
		return;
	if (window->form == WINDOW_TOLERANCE)
		limits = quantity_print_window(emission->arena, window);
	if (span_is_set(step->mean.span))
		tank = quantity_print_window(emission->arena, &step->mean);
	else if (span_is_set(step->pour_at.span))
		tank = quantity_print_window(emission->arena, &step->at);
	output_string(placed->output, "\t\tstep_window");
	plan_words(emission, placed->output, wording_pour_temperature(emission, placed->index));
	plan_words(emission, placed->output, limits);
	plan_words(emission, placed->output, tank);
	output_string(placed->output, "\n");
}

/* The limits as the thermometer shows them. */
static void put_measure(const struct placed_step *placed)
{
	const struct temperature_window *window = plan_pour_window(placed->step);
	const struct thermometer *thermometer = placed->emission->process->thermometer;
	if (!placed->step->measures || !span_is_set(window->span))
		return;
	struct text name = TEXT("");
	if (thermometer)
		name = intern_text(placed->emission->recipe->names, thermometer->declared.name);
	output_format(placed->output, "\t\tstep_measure %c",
		      reading_unit(thermometer, window) == UNIT_fahrenheit ? 'F' : 'C');
	plan_reading(placed, reading_of(thermometer, window->low));
	plan_reading(placed, reading_of(thermometer, window->high));
	plan_word(placed->emission, placed->output, name);
	output_string(placed->output, "\n");
}

static const char *time_form(const struct time_window *time)
{
	if (!span_is_set(time->span))
		return "none";
	if (time->form == TIME_AT_LEAST)
		return "least";
	return time->high_ms != time->low_ms ? "range" : "exact";
}

static bool has_cue(const struct placed_step *placed, enum cue_kind kind)
{
	const struct timeline *timeline = placed->emission->timeline;
	for (size_t i = 0; i < timeline->cue_count; i++)
		if (timeline->cues[i].step == placed->index && timeline->cues[i].kind == kind)
			return true;
	return false;
}

static void put_times(const struct placed_step *placed)
{
	const struct emission *emission = placed->emission;
	const struct timeline_step *timed = placed->timed;
	struct output *output = placed->output;
	struct text reason = this_run_reason(emission, placed->index);
	output_format(output, "\t\tstep_time %s", time_form(&placed->step->time));
	plan_seconds(output, true, timed->time.low_ms);
	plan_words(emission, output, this_run_time(emission, placed->index));
	output_string(output, "\n");
	if (reason.length > 0) {
		output_string(output, "\t\tstep_why");
		plan_seconds(output, true, placed->step->time.low_ms);
		plan_words(emission, output, reason);
		output_string(output, "\n");
	}
	output_string(output, "\t\tstep_ends");
	plan_seconds(output, true, timed->pour_ms - timed->start_ms);
	plan_seconds(output, has_cue(placed, CUE_drain), timed->drain_ms - timed->start_ms);
	plan_seconds(output, true, timed->end_ms - timed->start_ms);
	bool has_latest_end = timed->latest_end_ms != TIMELINE_NEVER;
	plan_seconds(output, has_latest_end, has_latest_end ? timed->latest_end_ms - timed->start_ms : 0);
	output_string(output, "\n");
}

static void put_longer(const struct placed_step *placed)
{
	const struct agitation_phase *phase = placed->step->agitation;
	int64_t first_ms;
	if (!plan_goes_on(placed->step, placed->timed, &first_ms))
		return;
	while (phase->next)
		phase = phase->next;
	output_string(placed->output, "\t\tstep_longer");
	plan_seconds(placed->output, true, first_ms);
	plan_seconds(placed->output, true, phase->every.value);
	plan_seconds(placed->output, true, phase->burst.value);
	output_string(placed->output, "\n");
}

static void put_step(const struct placed_step *placed)
{
	const struct timeline *timeline = placed->emission->timeline;
	const struct measured *measured = measured_find(placed);
	output_format(placed->output, "\t%zu)\n\t\tstep_is", placed->index + 1);
	plan_word(placed->emission, placed->output, wording_step(placed->emission, placed->index));
	output_string(placed->output, "\n");
	put_bath(placed);
	put_window(placed);
	put_measure(placed);
	put_times(placed);
	put_longer(placed);
	if (measured)
		measured_put_rows(measured);
	for (const struct note *note = placed->step->notes; note; note = note->next) {
		output_string(placed->output, "\t\tstep_note");
		plan_word(placed->emission, placed->output, plain_prose(placed->emission->arena, note->prose.text));
		output_string(placed->output, "\n");
	}
	for (size_t i = 0; i < timeline->cue_count; i++)
		if (timeline->cues[i].step == placed->index)
			plan_cue(placed, "step_cue", timeline, &timeline->cues[i]);
	if (measured)
		measured_put_more(measured);
	output_string(placed->output, "\t\t;;\n");
}

static void put_steps(const struct emission *emission, struct output *output)
{
	output_string(output, "\nplan_step() {\n\tcase ${1} in\n");
	for (size_t i = 0; i < emission->timeline->step_count; i++) {
		struct placed_step placed = { emission, output, i, &emission->process->steps[i],
					      &emission->timeline->steps[i] };
		put_step(&placed);
	}
	output_string(output, "\t*) return 1 ;;\n\tesac\n}\n");
}

/* ---- the script ---- */

/* A part of the runtime without the lines that are for its linting alone. */
static void put_part(struct output *output, const char *part, size_t length)
{
	const char *line_end = memchr(part, '\n', length);
	size_t skipped = line_end ? (size_t)(line_end - part) + 1 : 0;
	output_string(output, "\n");
	output_write(output, (struct text){ part + skipped, length - skipped });
}

void emit_timer_sh(const struct emission *emission, struct output *output)
{
	put_head(emission, output);
	put_plan(emission, output);
	put_log_head(emission, output);
	put_cue_kinds(emission, output);
	put_steps(emission, output);
	put_part(output, plan_sh, plan_sh_length);
	put_part(output, times_sh, times_sh_length);
	put_part(output, clock_sh, clock_sh_length);
	put_part(output, terminal_sh, terminal_sh_length);
	put_part(output, record_sh, record_sh_length);
	put_part(output, cues_sh, cues_sh_length);
	put_part(output, panel_sh, panel_sh_length);
	put_part(output, ask_sh, ask_sh_length);
	put_part(output, options_sh, options_sh_length);
	put_part(output, timer_sh, timer_sh_length);
	output_string(output, "\n# Last, so that a script that was cut off does nothing.\nmain \"$@\"\n");
}
