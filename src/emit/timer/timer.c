/* The timer: the plan as shell functions, then the runtime, which stands beside this file as shell text.
 *
 * The plan is data in the shape of calls; what each call means is said in plan.sh. All its figures are whole seconds
 * since the time of the step starts, or hundredths of a degree; all its texts go through emit/escape/shell. */
#include <inttypes.h>
#include <string.h>

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
#include "emit/escape/shell.h"
#include "emit/log_head.h"
#include "emit/plan/plan.h"

/* ---- words ---- */

/* A text of the recipe, as one word behind a space. */
static void put_word(struct arena *arena, struct output *output, struct text text)
{
	output_string(output, " ");
	output_write(output, shell_word(arena, text));
}

static const struct {
	struct text from, to;
} ascii[] = {
	{ { "\xC2\xA0", 2 }, { " ", 1 } },     /* no-break space */
	{ { "\xC2\xB0", 2 }, { "~", 1 } },     /* degree sign, put back where the terminal can show it */
	{ { "\xE2\x88\x92", 3 }, { "-", 1 } }, /* minus */
};

/* Our own words in ASCII: some shells do not even read other bytes unless the locale knows them. */
static struct text ascii_words(struct arena *arena, struct text words)
{
	struct text_builder builder = text_builder_start(arena);
	for (size_t i = 0; i < words.length;) {
		size_t kind = 0, kinds = sizeof(ascii) / sizeof(*ascii);
		while (kind < kinds && (words.length - i < ascii[kind].from.length ||
					memcmp(words.data + i, ascii[kind].from.data, ascii[kind].from.length) != 0))
			kind++;
		text_append(&builder, kind < kinds ? ascii[kind].to : (struct text){ words.data + i, 1 });
		i += kind < kinds ? ascii[kind].from.length : 1;
	}
	return text_builder_text(&builder);
}

/* Our own words, in ASCII but for names. */
static void put_words(struct arena *arena, struct output *output, struct text words)
{
	put_word(arena, output, ascii_words(arena, words));
}

static void put_number(struct output *output, int64_t number)
{
	output_format(output, " %" PRId64, number);
}

static void put_seconds(struct output *output, struct plan_seconds seconds)
{
	if (seconds.is_there)
		put_number(output, seconds.count);
	else
		output_string(output, " -");
}

/* ---- the head of the plan ---- */

static void put_head(struct arena *arena, const struct plan *plan, struct output *output)
{
	output_string(output, "#!/bin/sh\n# Timer: ");
	output_write(output, shell_comment(arena, plan->title));
	output_string(output, " (");
	output_write(output, shell_comment(arena, plan->name));
	output_string(output, ")\n# Fingerprint: ");
	output_write(output, shell_comment(arena, plan->fingerprint));
	output_string(output, "\n#\n"
			      "# Made by wetside. It needs a POSIX shell and the POSIX utilities; run it with --help.\n"
			      "#\n# shellcheck disable=SC2016 # a dollar sign in a text is a dollar sign\n");
}

static void put_plan(struct arena *arena, const struct plan *plan, struct output *output)
{
	output_string(output, "\nplan() {\n\tplan_is");
	put_word(arena, output, plan->name);
	put_word(arena, output, shell_file_name(arena, plan->name));
	put_word(arena, output, plan->title);
	put_word(arena, output, plan->fingerprint);
	output_format(output, " %zu\n", plan->step_count);
	if (plan->this_run.length > 0) {
		output_string(output, "\tplan_run");
		put_words(arena, output, plan->this_run);
		output_string(output, "\n");
	}
	if (plan->light_step > 0)
		output_format(output, "\tplan_light %zu %" PRId64 "\n", plan->light_step, plan->light_s);
	output_string(output, "}\n");
}

struct head_lines {
	struct arena *arena;
	struct output *output;
};

static void put_head_line(void *data, const struct text *fields, size_t count)
{
	const struct head_lines *lines = data;
	output_string(lines->output, "\trecord_fields");
	for (size_t i = 0; i < count; i++)
		put_word(lines->arena, lines->output, fields[i]);
	output_string(lines->output, "\n");
}

/* What the log's head says beyond the plan of the steps. */
static void put_log_head(const struct emission *emission, struct output *output)
{
	struct head_lines lines = { emission->arena, output };
	output_string(output, "\nplan_record() {\n\t:\n");
	log_head(emission, put_head_line, &lines);
	output_string(output, "}\n");
}

static void put_cue_kinds(struct arena *arena, struct output *output)
{
	output_string(output, "\ncue_kind_facts() {\n\tcase ${1} in\n");
	for (int kind = 0; kind < CUE_KIND_COUNT; kind++) {
		const struct cue_row *row = cue_row((enum cue_kind)kind);
		output_string(output, "\t");
		output_write(output, row->word);
		output_string(output, ") kind_title=");
		output_write(output, shell_word(arena, row->title));
		output_format(output, " kind_rings=%d kind_order=%d ;;\n", row->is_signal ? 1 : 0, kind);
	}
	output_string(output, "\t*) kind_title=${1} kind_rings=0 kind_order=0 ;;\n\tesac\n}\n");
}

/* ---- a step ---- */

static void put_bath(struct arena *arena, const struct plan_step *step, struct output *output)
{
	output_format(output, "\t\tstep_bath %s %" PRIu32 " %d %d", step->bath_kind, step->bottle,
		      step->asks_bottle ? 1 : 0, step->develops ? 1 : 0);
	put_word(arena, output, step->bath);
	put_word(arena, output, step->bath_title);
	output_string(output, "\n");
}

static void put_temperatures(struct arena *arena, const struct plan_step *step, struct output *output)
{
	if (step->has_window) {
		output_string(output, "\t\tstep_window");
		put_words(arena, output, step->aim);
		put_words(arena, output, step->limits);
		put_words(arena, output, step->in_tank);
		output_string(output, "\n");
	}
	if (step->measures) {
		output_format(output, "\t\tstep_measure %c", step->unit);
		put_number(output, step->low);
		put_number(output, step->high);
		put_word(arena, output, step->thermometer);
		output_string(output, "\n");
	}
}

static void put_ends(struct arena *arena, const struct plan_step *step, struct output *output)
{
	output_format(output, "\t\tstep_time %s", step->form);
	put_number(output, step->time_s);
	put_words(arena, output, step->time);
	output_string(output, "\n");
	if (step->why.length > 0) {
		output_string(output, "\t\tstep_why");
		put_number(output, step->declared_s);
		put_words(arena, output, step->why);
		output_string(output, "\n");
	}
	output_string(output, "\t\tstep_ends");
	put_number(output, step->pour_s);
	put_seconds(output, step->drain);
	put_number(output, step->end_s);
	put_seconds(output, step->latest);
	output_string(output, "\n");
	if (!step->again.is_there)
		return;
	output_string(output, "\t\tstep_longer");
	put_seconds(output, step->again);
	put_number(output, step->again_every_s);
	put_number(output, step->again_length_s);
	output_string(output, "\n");
}

static void put_rows(struct arena *arena, const struct plan_times *times, struct output *output)
{
	output_string(output, "\t\tstep_times");
	put_number(output, times->rows[0].reading);
	put_number(output, times->rows[times->row_count - 1].reading);
	output_format(output, " %zu", times->to_drain);
	put_words(arena, output, times->declared);
	put_words(arena, output, times->done);
	output_string(output, "\n");
	for (size_t i = 0; i < times->row_count; i++) {
		const struct plan_row *row = &times->rows[i];
		output_string(output, "\t\tstep_row");
		put_number(output, row->reading);
		put_number(output, row->time_s);
		output_format(output, " %zu", row->agitations);
		for (size_t moved = 0; moved < MOVED_COUNT; moved++)
			put_seconds(output, row->moved[moved]);
		put_seconds(output, row->again);
		output_string(output, "\n");
	}
}

static void put_cue(struct arena *arena, const char *function, const struct plan_cue *cue, struct output *output)
{
	output_format(output, "\t\t%s", function);
	put_number(output, cue->run_s);
	put_number(output, cue->since_s);
	output_string(output, " ");
	output_write(output, cue->kind);
	put_number(output, cue->until_s);
	put_number(output, cue->count);
	put_words(arena, output, cue->words);
	output_string(output, "\n");
}

static void put_step(struct arena *arena, const struct plan_step *step, size_t number, struct output *output)
{
	output_format(output, "\t%zu)\n\t\tstep_is", number);
	put_word(arena, output, step->name);
	output_string(output, "\n");
	put_bath(arena, step, output);
	put_temperatures(arena, step, output);
	put_ends(arena, step, output);
	if (step->times)
		put_rows(arena, step->times, output);
	for (size_t i = 0; i < step->note_count; i++) {
		output_string(output, "\t\tstep_note");
		put_word(arena, output, step->notes[i]);
		output_string(output, "\n");
	}
	for (size_t i = 0; i < step->cue_count; i++)
		put_cue(arena, "step_cue", &step->cues[i], output);
	for (size_t i = 0; step->times && i < step->times->more_count; i++)
		put_cue(arena, "step_more", &step->times->more[i], output);
	output_string(output, "\t\t;;\n");
}

static void put_steps(struct arena *arena, const struct plan *plan, struct output *output)
{
	output_string(output, "\nplan_step() {\n\tcase ${1} in\n");
	for (size_t i = 0; i < plan->step_count; i++)
		put_step(arena, &plan->steps[i], i + 1, output);
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
	const struct plan *plan = plan_make(emission);
	put_head(emission->arena, plan, output);
	put_plan(emission->arena, plan, output);
	put_log_head(emission, output);
	put_cue_kinds(emission->arena, output);
	put_steps(emission->arena, plan, output);
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
