#include "emit/timer/plan.h"

#include <inttypes.h>
#include <string.h>

#include "compute/reading.h"
#include "emit/cues/wording.h"
#include "emit/escape/shell.h"

/* ---- texts ---- */

void plan_word(const struct emission *emission, struct output *output, struct text text)
{
	output_string(output, " ");
	output_write(output, shell_word(emission->arena, text));
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

void plan_words(const struct emission *emission, struct output *output, struct text words)
{
	plan_word(emission, output, ascii_words(emission->arena, words));
}

/* ---- times ---- */

void plan_seconds(struct output *output, bool is_there, int64_t time_ms)
{
	if (is_there)
		output_format(output, " %" PRId64, timeline_seconds(time_ms));
	else
		output_string(output, " -");
}

void plan_reading(const struct placed_step *placed, int64_t reading)
{
	const struct process *process = placed->emission->process;
	const struct unit_row *scale = unit_row(reading_unit(process->thermometer, plan_pour_window(placed->step)));
	int64_t value = reading - scale->offset, hundredth = scale->factor / 100;
	int64_t half = value < 0 ? -hundredth / 2 : hundredth / 2;
	output_format(placed->output, " %" PRId64, (value + half) / hundredth);
}

void plan_cue(const struct placed_step *placed, const char *function, const struct timeline *timeline,
	      const struct cue *cue)
{
	int64_t start_ms = timeline->steps[placed->index].start_ms;
	output_format(placed->output, "\t\t%s", function);
	plan_seconds(placed->output, true, cue->at_ms);
	plan_seconds(placed->output, true, cue->at_ms - start_ms);
	output_string(placed->output, " ");
	output_write(placed->output, cue_row(cue->kind)->word);
	plan_seconds(placed->output, true, cue->until_ms - start_ms);
	output_format(placed->output, " %" PRId64, cue->count);
	plan_words(placed->emission, placed->output, wording_cue(placed->emission, cue));
	output_string(placed->output, "\n");
}

const struct temperature_window *plan_pour_window(const struct step *step)
{
	return span_is_set(step->pour_at.span) ? &step->pour_at : &step->at;
}

/* At S + n·every, S the end of the phases before the last. */
bool plan_goes_on(const struct step *step, const struct timeline_step *timed, int64_t *first_ms)
{
	const struct agitation_phase *phase = step->agitation;
	int64_t phase_ms = 0;
	bool is_exact = step->time.form != TIME_AT_LEAST && step->time.high_ms == step->time.low_ms;
	if (!phase || (span_is_set(step->time.span) && is_exact))
		return false;
	for (; phase->next; phase = phase->next)
		phase_ms += phase->length.value;
	int64_t every_ms = phase->every.value;
	if (phase->is_continuous || every_ms < MILLISECONDS_PER_SECOND || span_is_set(phase->length.span))
		return false;
	int64_t left_ms = timed->drain_ms - timed->start_ms - phase_ms;
	int64_t number = left_ms <= every_ms ? 1 : (left_ms + every_ms - 1) / every_ms;
	*first_ms = phase_ms + number * every_ms;
	return true;
}
