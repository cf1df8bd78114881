/* Cues to read, on a terminal or on paper, within 80 columns. */
#include <inttypes.h>

#include "emit/cues/wording.h"
#include "emit/this_run.h"
#include "emit/escape/terminal.h"

#define COLUMNS 80

/* What is printed while the cues are walked through. */
struct listing {
	const struct emission *emission;
	struct output *output;
	int run_width; /* of the widest time since the run's start */
	int step_width;
	size_t headed; /* steps whose heading is printed */
};

static void put_fact(struct output *output, struct arena *arena, const char *label, struct text fact)
{
	output_format(output, "%-13s", label);
	terminal_wrap(output, terminal_line(arena, fact), 13, COLUMNS);
}

static void put_head(const struct emission *emission, struct output *output)
{
	struct arena *arena = emission->arena;
	const struct process *process = emission->process;
	const struct timeline *timeline = emission->timeline;
	struct text name = intern_text(emission->recipe->names, process->declared.name);
	struct text title = process->declared.title.text;
	terminal_wrap(output, terminal_line(arena, title.length > 0 ? title : name), 0, COLUMNS);
	output_string(output, "\n");
	put_fact(output, arena, "process", name);
	if (span_is_set(process->family_span))
		put_fact(output, arena, "develops", family_row(process->family)->word);
	put_fact(output, arena, "bath time", wording_total(arena, timeline->wet_min_ms, timeline->wet_max_ms));
	if (timeline->total_min_ms != timeline->wet_min_ms || timeline->total_max_ms != timeline->wet_max_ms)
		put_fact(output, arena, "with drying",
			 wording_total(arena, timeline->total_min_ms, timeline->total_max_ms));
	put_fact(output, arena, "fingerprint", process->fingerprint);
	if (this_run_line(emission).length > 0)
		put_fact(output, arena, "this run", this_run_line(emission));
	output_string(output, "\n");
	terminal_wrap(
		output,
		TEXT("Times are h:mm:ss: run, since the first pour; step, since the time of the step started. A cue "
		     "marked * rings."),
		0, COLUMNS);
	if (wording_first_longer(emission) < process->step_count)
		terminal_wrap(output, TEXT(WORDING_ASSUMES_EARLIEST), 0, COLUMNS);
}

static void put_heading(struct listing *listing, size_t index)
{
	const struct emission *emission = listing->emission;
	struct arena *arena = emission->arena;
	const struct step *step = &emission->process->steps[index];
	struct text bath = wording_bottle(emission, index);
	struct text_builder heading = text_builder_start(arena);
	text_append(&heading, wording_step(emission, index));
	if (bath.length > 0) {
		text_append_string(&heading, " in ");
		text_append(&heading, bath);
	}
	if (span_is_set(step->time.span)) {
		text_append_string(&heading, ", ");
		text_append(&heading, this_run_time(emission, index));
		if (this_run_reason(emission, index).length > 0)
			text_append_format(&heading, " (%.*s)", TEXT_ARGUMENT(this_run_reason(emission, index)));
	}
	if (span_is_set(step->at.span)) {
		text_append_string(&heading, ", ");
		text_append(&heading, wording_limits(emission, &step->at));
	}
	int width = 0;
	for (size_t steps = emission->process->step_count; steps > 0; steps /= 10)
		width++;
	output_format(listing->output, "\n%*zu. ", width, index + 1);
	terminal_wrap(listing->output, terminal_line(arena, text_builder_text(&heading)), (size_t)width + 2, COLUMNS);
}

static void put_cue(struct listing *listing, const struct cue *cue)
{
	const struct emission *emission = listing->emission;
	struct arena *arena = emission->arena;
	const struct timeline_step *timed = &emission->timeline->steps[cue->step];
	struct text words = wording_cue(emission, cue);
	if (cue->step + 1 < listing->headed) {
		struct text step = wording_step(emission, cue->step);
		words = text_format(arena, "%.*s of %.*s", TEXT_ARGUMENT(words), TEXT_ARGUMENT(step));
	}
	struct text run = wording_clock(arena, cue->at_ms);
	struct text since = wording_clock(arena, cue->at_ms - timed->start_ms);
	output_format(listing->output, "  %*.*s  %*.*s  %c ", listing->run_width, TEXT_ARGUMENT(run),
		      listing->step_width, TEXT_ARGUMENT(since), cue_row(cue->kind)->is_signal ? '*' : ' ');
	size_t indent = (size_t)(listing->run_width + listing->step_width) + 8;
	terminal_wrap(listing->output, terminal_line(arena, words), indent, COLUMNS);
}

static void measure(struct listing *listing)
{
	const struct timeline *timeline = listing->emission->timeline;
	struct arena *arena = listing->emission->arena;
	for (size_t i = 0; i < timeline->cue_count; i++) {
		const struct cue *cue = &timeline->cues[i];
		int64_t since_ms = cue->at_ms - timeline->steps[cue->step].start_ms;
		int run = (int)wording_clock(arena, cue->at_ms).length;
		int since = (int)wording_clock(arena, since_ms).length;
		listing->run_width = run > listing->run_width ? run : listing->run_width;
		listing->step_width = since > listing->step_width ? since : listing->step_width;
	}
}

void emit_cues_text(const struct emission *emission, struct output *output)
{
	const struct timeline *timeline = emission->timeline;
	struct listing listing = { .emission = emission, .output = output, .run_width = 7, .step_width = 7 };
	measure(&listing);
	put_head(emission, output);
	output_format(output, "\n  %*s  %*s    cue\n", listing.run_width, "run", listing.step_width, "step");
	for (size_t i = 0; i < timeline->cue_count; i++) {
		while (listing.headed <= timeline->cues[i].step)
			put_heading(&listing, listing.headed++);
		put_cue(&listing, &timeline->cues[i]);
	}
}
