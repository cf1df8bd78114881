#include "emit/sound/spoken.h"

#include "emit/cues/wording.h"
#include "emit/escape/terminal.h"
#include "emit/sound/speaker.h"

/* Between a signal and the words that belong to it. */
#define PAUSE_MS 120

/* Words that are cut off go out over this long. */
#define FADE_MS 40

/* As loud as the signals. */
#define LEVEL_PERCENT 90

void spoken_start(struct spoken *spoken, const struct emission *emission, const struct track *track)
{
	*spoken = (struct spoken){ .emission = emission, .track = track };
	spoken->speech.arena = emission->arena;
}

/* While one bath drains, the next one is named, so that its bottle is at hand. */
static void append_next_pour(struct text_builder *words, const struct emission *emission, size_t step)
{
	struct cue pour = { .step = step + 1, .kind = CUE_pour };

	if (step + 1 >= emission->timeline->step_count || !emission->timeline->steps[step + 1].is_poured)
		return;
	text_append_string(words, "Next: ");
	text_append(words, wording_cue_plain(emission, &pour));
	text_append_string(words, ". ");
}

static void append_cue(struct text_builder *words, const struct emission *emission, const struct cue *cue)
{
	if (cue->kind == CUE_end || cue->kind == CUE_latest_end) { /* of which step may not be plain by then */
		text_append(words, wording_step(emission, cue->step));
		text_append_string(words, ": ");
	}
	text_append(words, wording_cue_plain(emission, cue));
	text_append_string(words, ". ");
	if (cue->kind == CUE_drain)
		append_next_pour(words, emission, cue->step);
}

/* What is said of an instant: its cues in the order of their signals, but for those that another one tells. */
static struct text words_of(const struct spoken *spoken, const struct instant *instant)
{
	const struct emission *emission = spoken->emission;
	struct text_builder words = text_builder_start(emission->arena);

	for (size_t rank = 0; rank < CUE_KIND_COUNT; rank++)
		for (size_t i = 0; i < instant->cue_count; i++) {
			const struct cue *cue = &emission->timeline->cues[instant->first_cue + i];

			if (cue->kind == track_ranked(rank) && !track_is_told(emission->timeline, instant, cue->kind))
				append_cue(&words, emission, cue);
		}
	return terminal_line(emission->arena, text_builder_text(&words));
}

static void speak(struct spoken *spoken, const struct instant *instant)
{
	const struct speaker *speaker = spoken->emission->speaker;
	struct speech *speech = &spoken->speech;

	spoken->from = instant->silent_from + sound_sample(PAUSE_MS);
	spoken->to = instant->silent_to;
	speech->count = 0;
	if (spoken->has_failed || spoken->from >= spoken->to)
		return;
	spoken->has_failed = !speaker->say(speaker->data, words_of(spoken, instant), speech);
	if (spoken->to > spoken->from + (int64_t)speech->count)
		spoken->to = spoken->from + (int64_t)speech->count;
	spoken->peak = 1;
	for (size_t i = 0; i < speech->count; i++)
		if (speech->items[i] > spoken->peak || -speech->items[i] > spoken->peak)
			spoken->peak = speech->items[i] < 0 ? -speech->items[i] : speech->items[i];
}

/* What falls into the stretch of what is said now. */
static void mix_speech(const struct spoken *spoken, int64_t from, int32_t *sums, int64_t to)
{
	int64_t fade = sound_sample(FADE_MS);
	int64_t level = (int64_t)SOUND_FULL_SCALE * LEVEL_PERCENT / 100;

	for (int64_t at = spoken->from > from ? spoken->from : from; at < to && at < spoken->to; at++) {
		int64_t sample = spoken->speech.items[at - spoken->from] * level / spoken->peak;
		int64_t left = spoken->to - at;

		sums[at - from] += (int32_t)(left < fade ? sample * left / fade : sample);
	}
}

void spoken_mix(struct spoken *spoken, int64_t from, int32_t *sums, size_t count)
{
	const struct track *track = spoken->track;
	int64_t to = from + (int64_t)count;

	mix_speech(spoken, from, sums, to);
	while (spoken->next < track->instant_count && track->instants[spoken->next].from < to) {
		const struct instant *instant = &track->instants[spoken->next];

		if (instant->silent_from + sound_sample(PAUSE_MS) >= to) /* its turn comes in a later stretch */
			return;
		spoken->next++;
		speak(spoken, instant);
		mix_speech(spoken, from, sums, to);
	}
}
