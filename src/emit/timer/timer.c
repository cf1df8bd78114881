/* The timer: the plan as shell functions, then the runtime, which stands beside this file as shell text.
 *
 * The plan is data in the shape of calls; what each call means is said in plan.sh. All its figures are whole seconds since
 * the time of the step starts, or hundredths of a degree; all its texts go through emit/escape/shell. */
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
#include "emit/cues/wording.h"
#include "emit/document.h"
#include "emit/emission.h"
#include "emit/escape/shell.h"

#define FAHRENHEIT_PER_DEGREE 5000
#define FAHRENHEIT_OFFSET 160000

/* One step on its way into the script. */
struct placed_step {
	const struct emission *emission;
	struct output *output;
	size_t index;
	const struct step *step;
	const struct timeline_step *timed;
};

/* ---- texts ---- */

static void put_word(const struct emission *emission, struct output *output, struct text text)
{
	output_string(output, " ");
	output_write(output, shell_word(emission->arena, text));
}

/* CommonMark inlines without their markup. */
static struct text plain_prose(struct arena *arena, struct text prose)
{
	struct document *document = document_create(arena);
	cmark_node *paragraph = document_add(document, document->root, CMARK_NODE_PARAGRAPH, NULL);
	document_prose(document, paragraph, prose);
	return document_plain(document, paragraph, arena);
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

static void put_words(const struct emission *emission, struct output *output, struct text words)
{
	put_word(emission, output, ascii_words(emission->arena, words));
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
		output_format(output, "\tplan_light %zu %" PRId64 "\n", i + 1,
			      timeline_seconds(timed->light_ms - timed->start_ms));
		return;
	}
}

static void put_plan(const struct emission *emission, struct output *output)
{
	struct text name = intern_text(emission->recipe->names, emission->process->declared.name);
	output_string(output, "\nplan() {\n\tplan_is");
	put_word(emission, output, name);
	put_word(emission, output, shell_file_name(emission->arena, name));
	put_word(emission, output, process_title(emission));
	put_word(emission, output, emission->process->fingerprint);
	output_format(output, " %zu\n", emission->timeline->step_count);
	put_light(emission, output);
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
		output_format(output, " kind_rings=%d ;;\n", row->is_signal ? 1 : 0);
	}
	output_string(output, "\t*) kind_title=${1} kind_rings=0 ;;\n\tesac\n}\n");
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
	put_word(emission, placed->output, wording_bath(emission, placed->index));
	put_word(emission, placed->output, plain_prose(emission->arena, title));
	output_string(placed->output, "\n");
}

static const struct temperature_window *pour_window(const struct step *step)
{
	return span_is_set(step->pour_at.span) ? &step->pour_at : &step->at;
}

/* What to aim at, the limits where that does not name them already, and the window of the mean where it is another. */
static void put_window(const struct placed_step *placed)
{
	const struct emission *emission = placed->emission;
	const struct step *step = placed->step;
	const struct temperature_window *window = pour_window(step);
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
	put_words(emission, placed->output, wording_pour_temperature(emission, placed->index));
	put_words(emission, placed->output, limits);
	put_words(emission, placed->output, tank);
	output_string(placed->output, "\n");
}

static int64_t hundredths(int64_t temperature, bool is_fahrenheit)
{
	int64_t unit = is_fahrenheit ? FAHRENHEIT_PER_DEGREE : TEMPERATURE_PER_KELVIN;
	int64_t value = is_fahrenheit ? temperature + FAHRENHEIT_OFFSET : temperature;
	int64_t half = value < 0 ? -unit / 200 : unit / 200;
	return (value + half) / (unit / 100);
}

/* The limits as the thermometer shows them: its correction is to be added to its reading. */
static void put_measure(const struct placed_step *placed)
{
	const struct temperature_window *window = pour_window(placed->step);
	const struct thermometer *thermometer = placed->emission->process->thermometer;
	if (!placed->step->measures || !span_is_set(window->span))
		return;
	bool is_fahrenheit = (thermometer ? thermometer->reads.unit : window->unit) == UNIT_fahrenheit;
	int64_t correction =
		thermometer && span_is_set(thermometer->correction.span) ? thermometer->correction.value : 0;
	struct text name = TEXT("");
	if (thermometer)
		name = intern_text(placed->emission->recipe->names, thermometer->declared.name);
	output_format(placed->output, "\t\tstep_measure %c %" PRId64 " %" PRId64, is_fahrenheit ? 'F' : 'C',
		      hundredths(window->low - correction, is_fahrenheit),
		      hundredths(window->high - correction, is_fahrenheit));
	put_word(placed->emission, placed->output, name);
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

static int64_t since_start(const struct placed_step *placed, int64_t time_ms)
{
	return timeline_seconds(time_ms - placed->timed->start_ms);
}

static void put_seconds(const struct placed_step *placed, bool is_there, int64_t time_ms)
{
	if (is_there)
		output_format(placed->output, " %" PRId64, since_start(placed, time_ms));
	else
		output_string(placed->output, " -");
}

static void put_times(const struct placed_step *placed)
{
	const struct timeline_step *timed = placed->timed;
	output_format(placed->output, "\t\tstep_time %s", time_form(&placed->step->time));
	put_words(placed->emission, placed->output,
		  quantity_print_time_window(placed->emission->arena, &placed->step->time));
	output_string(placed->output, "\n\t\tstep_ends");
	put_seconds(placed, true, timed->pour_ms);
	put_seconds(placed, has_cue(placed, CUE_drain), timed->drain_ms);
	put_seconds(placed, true, timed->end_ms);
	put_seconds(placed, timed->latest_end_ms != TIMELINE_NEVER, timed->latest_end_ms);
	output_string(placed->output, "\n");
}

/* How agitation goes on past the earliest end: at S + n·every, S the end of the phases before the last. */
static void put_longer(const struct placed_step *placed)
{
	const struct agitation_phase *phase = placed->step->agitation;
	int64_t phase_ms = 0;
	if (!phase || strcmp(time_form(&placed->step->time), "exact") == 0)
		return;
	for (; phase->next; phase = phase->next)
		phase_ms += phase->length.value;
	int64_t every_ms = phase->every.value;
	if (phase->is_continuous || every_ms < MILLISECONDS_PER_SECOND || span_is_set(phase->length.span))
		return;
	int64_t left_ms = placed->timed->drain_ms - placed->timed->start_ms - phase_ms;
	int64_t number = left_ms <= every_ms ? 1 : (left_ms + every_ms - 1) / every_ms;
	output_format(placed->output, "\t\tstep_longer %" PRId64 " %" PRId64 " %" PRId64 "\n",
		      timeline_seconds(phase_ms + number * every_ms), timeline_seconds(every_ms),
		      timeline_seconds(phase->burst.value));
}

static void put_cue(const struct placed_step *placed, const struct cue *cue)
{
	output_format(placed->output, "\t\tstep_cue %" PRId64 " %" PRId64 " ", timeline_seconds(cue->at_ms),
		      since_start(placed, cue->at_ms));
	output_write(placed->output, cue_row(cue->kind)->word);
	output_format(placed->output, " %" PRId64 " %" PRId64, since_start(placed, cue->until_ms), cue->count);
	put_words(placed->emission, placed->output, wording_cue(placed->emission, cue));
	output_string(placed->output, "\n");
}

static void put_step(const struct placed_step *placed)
{
	const struct timeline *timeline = placed->emission->timeline;
	output_format(placed->output, "\t%zu)\n\t\tstep_is", placed->index + 1);
	put_word(placed->emission, placed->output, wording_step(placed->emission, placed->index));
	output_string(placed->output, "\n");
	put_bath(placed);
	put_window(placed);
	put_measure(placed);
	put_times(placed);
	put_longer(placed);
	for (const struct note *note = placed->step->notes; note; note = note->next) {
		output_string(placed->output, "\t\tstep_note");
		put_word(placed->emission, placed->output, plain_prose(placed->emission->arena, note->prose.text));
		output_string(placed->output, "\n");
	}
	for (size_t i = 0; i < timeline->cue_count; i++)
		if (timeline->cues[i].step == placed->index)
			put_cue(placed, &timeline->cues[i]);
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
	put_cue_kinds(emission, output);
	put_steps(emission, output);
	put_part(output, plan_sh, plan_sh_length);
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
