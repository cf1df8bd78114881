/* Cues as WebVTT captions (W3C): one caption for each instant, shown until the next; all that falls on an instant is in
 * it, a line a cue. */
#include <inttypes.h>

#include "emit/cues/wording.h"
#include "emit/escape/vtt.h"

/* A caption is legible only if it stands for a while. */
#define LEAST_CAPTION_MS 1000

/* How long the last caption stands. */
#define LAST_CAPTION_MS 5000

static void put_head(const struct emission *emission, struct output *output)
{
	struct arena *arena = emission->arena;
	const struct process *process = emission->process;
	const struct timeline *timeline = emission->timeline;
	output_string(output, "WEBVTT\n\nNOTE\n");
	vtt_comment(output, arena, intern_text(emission->recipe->names, process->declared.name));
	if (process->declared.title.text.length > 0) {
		output_string(output, ": ");
		vtt_comment(output, arena, process->declared.title.text);
	}
	output_string(output, "\nbath time ");
	output_write(output, wording_total(arena, timeline->wet_min_ms, timeline->wet_max_ms));
	output_string(output, "\nfingerprint ");
	output_write(output, process->fingerprint);
	output_string(output, "\n" WORDING_ASSUMES_EARLIEST "\n");
}

static void put_timestamp(struct output *output, int64_t time_ms)
{
	int64_t seconds = time_ms / MILLISECONDS_PER_SECOND;
	output_format(output, "%02" PRId64 ":%02" PRId64 ":%02" PRId64 ".%03" PRId64, seconds / 3600, seconds / 60 % 60,
		      seconds % 60, time_ms % MILLISECONDS_PER_SECOND);
}

static void put_timing(struct output *output, size_t number, int64_t at_ms, int64_t until_ms)
{
	output_format(output, "\n%zu\n", number);
	put_timestamp(output, at_ms);
	output_string(output, " --> ");
	put_timestamp(output, until_ms);
	output_string(output, "\n");
}

static void put_line(const struct emission *emission, struct output *output, const struct cue *cue)
{
	vtt_caption(output, emission->arena, wording_step(emission, cue->step));
	output_string(output, ": ");
	vtt_caption(output, emission->arena, wording_cue(emission, cue));
	output_string(output, "\n");
}

void emit_cues_vtt(const struct emission *emission, struct output *output)
{
	const struct timeline *timeline = emission->timeline;
	put_head(emission, output);
	size_t number = 0;
	for (size_t i = 0, next; i < timeline->cue_count; i = next) {
		int64_t at_ms = timeline->cues[i].at_ms;
		for (next = i + 1; next < timeline->cue_count && timeline->cues[next].at_ms == at_ms; next++)
			;
		int64_t until_ms = next < timeline->cue_count ? timeline->cues[next].at_ms : at_ms + LAST_CAPTION_MS;
		if (until_ms - at_ms < LEAST_CAPTION_MS)
			until_ms = at_ms + LEAST_CAPTION_MS;
		put_timing(output, ++number, at_ms, until_ms);
		for (size_t cue = i; cue < next; cue++)
			put_line(emission, output, &timeline->cues[cue]);
	}
}
