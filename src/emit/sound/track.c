/* What sounds when: notes from a timeline. */
#include "emit/sound/track.h"

#include <stdlib.h>

/* Between two signals of one instant, and around a count-in. */
#define PAUSE_MS 90

/* A signal that is cut off goes out over this long. */
#define FADE_MS 5

#define COUNT_IN_BEATS 3
#define COUNT_IN_EVERY_MS 1000

/* The order of the signals in an instant: what must be done to the second first, then as the timeline has them. */
static const enum cue_kind order[CUE_KIND_COUNT] = {
	CUE_drain, CUE_pour,	   CUE_expose,	CUE_agitation_start, CUE_agitation_end,
	CUE_taps,  CUE_drain_soon, CUE_light,	CUE_latest_end,	     CUE_end,
	CUE_full,  CUE_start,	   CUE_measure,
};

#define IS(kind) (1u << CUE_##kind)

/* Cues that another one of the same instant tells: the next pour that a step is over, the drain or the next
 * agitation that agitation is. */
static const unsigned told_by[CUE_KIND_COUNT] = {
	[CUE_end] = IS(pour) | IS(drain) | IS(expose),
	[CUE_agitation_end] = IS(drain) | IS(agitation_start),
};

static const unsigned sounds_whole = IS(pour) | IS(drain);
static const unsigned is_counted_in = IS(pour) | IS(drain) | IS(expose);

struct layout {
	const struct timeline *timeline;
	struct track *track;
	struct arena *arena;
	size_t capacity; /* of the notes */
};

static void add_note(struct layout *layout, int signal, int64_t from, int64_t to)
{
	struct track *track = layout->track;

	ARENA_RESERVE(layout->arena, track->notes, track->note_count, layout->capacity);
	track->notes[track->note_count++] = (struct tone){ from, to, signal, 1 };
}

/* The kinds of cue of an instant, as bits. */
static unsigned kinds_of(const struct timeline *timeline, const struct instant *instant)
{
	unsigned kinds = 0;

	for (size_t i = 0; i < instant->cue_count; i++)
		kinds |= 1u << timeline->cues[instant->first_cue + i].kind;
	return kinds;
}

enum cue_kind track_ranked(size_t rank)
{
	return order[rank];
}

bool track_is_told(const struct timeline *timeline, const struct instant *instant, enum cue_kind kind)
{
	return (kinds_of(timeline, instant) & told_by[kind]) != 0;
}

/* How many cues are on the track: up to the last one of the last bath, and what falls on the same instant. */
static size_t count_cues(const struct timeline *timeline)
{
	size_t count = 0;

	for (size_t i = 0; i < timeline->cue_count; i++) {
		const struct cue *cue = &timeline->cues[i];

		if (timeline->steps[cue->step].is_wet || (count > 0 && timeline->cues[count - 1].at_ms == cue->at_ms))
			count = i + 1;
	}
	return count;
}

static void list_instants(struct layout *layout)
{
	struct track *track = layout->track;
	const struct cue *cues = layout->timeline->cues;

	track->instants = ARENA_ARRAY(layout->arena, struct instant, track->cue_count);
	for (size_t i = 0, next; i < track->cue_count; i = next) {
		for (next = i + 1; next < track->cue_count && cues[next].at_ms == cues[i].at_ms; next++)
			;
		track->instants[track->instant_count++] = (struct instant){
			.first_cue = i, .cue_count = next - i, .from = track->zero + sound_sample(cues[i].at_ms)
		};
	}
}

/* Adds the signals of an instant one behind the other. Those that do not sound whole leave off at `limit`. Returns
 * where the last one ends. */
static int64_t add_instant(struct layout *layout, const struct instant *instant, int64_t limit)
{
	const struct samples *signals = layout->track->signals;
	unsigned kinds = kinds_of(layout->timeline, instant);
	int64_t from = instant->from;
	int64_t end = from;

	for (size_t i = 0; i < CUE_KIND_COUNT; i++) {
		enum cue_kind kind = track_ranked(i);
		int64_t to = from + (int64_t)signals[kind].count;
		bool is_whole = (sounds_whole >> kind & 1) != 0;

		if ((kinds >> kind & 1) == 0 || (kinds & told_by[kind]) != 0 || (!is_whole && from >= limit))
			continue;
		end = is_whole || to < limit ? to : limit;
		add_note(layout, (int)kind, from, end);
		from = to + sound_sample(PAUSE_MS);
	}
	return end;
}

static void add_instants(struct layout *layout)
{
	struct track *track = layout->track;
	int64_t silent_from = 0;

	for (size_t i = 0; i < track->instant_count; i++) {
		struct instant *instant = &track->instants[i];
		int64_t limit = i + 1 < track->instant_count ? instant[1].from : track->sample_count;
		int64_t end = add_instant(layout, instant, limit);

		silent_from = end > silent_from ? end : silent_from;
		instant->silent_from = silent_from;
		instant->silent_to = limit;
	}
}

/* A beat of the count-in of an instant, where nothing else sounds. The speech of the instant before makes room. */
static void add_beat(struct layout *layout, size_t index, int64_t from)
{
	struct track *track = layout->track;
	int64_t pause = sound_sample(PAUSE_MS);
	int64_t to = from + (int64_t)track->signals[COUNT_IN].count;
	struct instant *before = NULL;

	for (size_t i = index; i > 0 && before == NULL; i--)
		if (track->instants[i - 1].from < to + pause)
			before = &track->instants[i - 1];
	if (from < 0 || (before != NULL && before->silent_from + pause > from))
		return;
	if (before != NULL && before->silent_to > from - pause)
		before->silent_to = from - pause;
	add_note(layout, COUNT_IN, from, to);
}

static void add_count_ins(struct layout *layout)
{
	struct track *track = layout->track;
	int64_t counted = 0; /* what was counted in last */

	for (size_t i = 0; i < track->instant_count; i++) {
		int64_t at_ms = layout->timeline->cues[track->instants[i].first_cue].at_ms;

		if ((kinds_of(layout->timeline, &track->instants[i]) & is_counted_in) == 0)
			continue;
		for (int64_t beat = COUNT_IN_BEATS; beat > 0; beat--) {
			int64_t from = track->zero + sound_sample(at_ms - beat * COUNT_IN_EVERY_MS);

			if (from >= counted)
				add_beat(layout, i, from);
		}
		counted = track->instants[i].from;
	}
}

static int compare_notes(const void *left, const void *right)
{
	const struct tone *a = left;
	const struct tone *b = right;

	if (a->from != b->from)
		return a->from < b->from ? -1 : 1;
	return a->signal < b->signal ? -1 : a->signal > b->signal;
}

/* In each heap of notes that overlap, all are made softer by the most that sound at once. */
static void share_level(struct track *track)
{
	for (size_t first = 0, next; first < track->note_count; first = next) {
		int64_t end = track->notes[first].to;
		int most = 1;

		for (next = first + 1; next < track->note_count && track->notes[next].from < end; next++) {
			int sounding = 1;

			for (size_t i = first; i < next; i++)
				sounding += track->notes[i].to > track->notes[next].from;
			most = sounding > most ? sounding : most;
			end = track->notes[next].to > end ? track->notes[next].to : end;
		}
		for (size_t i = first; i < next; i++)
			track->notes[i].divisor = most;
	}
}

struct track *track_build(const struct timeline *timeline, int64_t lead_in_ms, int64_t tail_ms, struct arena *arena)
{
	struct track *track = ARENA_NEW(arena, struct track);
	struct layout layout = { .timeline = timeline, .track = track, .arena = arena };
	int64_t last_ms;

	for (int i = 0; i < SIGNAL_COUNT; i++)
		track->signals[i] = signal_render(i, arena);
	track->cue_count = count_cues(timeline);
	last_ms = track->cue_count > 0 ? timeline->cues[track->cue_count - 1].at_ms : 0;
	track->zero = sound_sample(lead_in_ms);
	track->sample_count = track->zero + sound_sample(last_ms) + sound_sample(tail_ms);
	list_instants(&layout);
	add_instants(&layout);
	add_count_ins(&layout);
	if (track->note_count > 0)
		qsort(track->notes, track->note_count, sizeof *track->notes, compare_notes);
	share_level(track);
	return track;
}

/* A sample of a note that is cut off before its signal ends goes down to nothing at its end. */
static int32_t note_sample(const struct track *track, const struct tone *note, int64_t at)
{
	const struct samples *signal = &track->signals[note->signal];
	int64_t fade = sound_sample(FADE_MS);
	int64_t left = note->to - at;
	int64_t sample = signal->items[at - note->from];

	if (note->to - note->from < (int64_t)signal->count && left < fade)
		sample = sample * left / fade;
	return (int32_t)(sample / note->divisor);
}

void track_mix(const struct track *track, int64_t from, int32_t *sums, size_t count, size_t *next)
{
	int64_t to = from + (int64_t)count;

	while (*next < track->note_count && track->notes[*next].to <= from)
		(*next)++;
	for (size_t i = *next; i < track->note_count && track->notes[i].from < to; i++) {
		const struct tone *note = &track->notes[i];
		int64_t at = note->from > from ? note->from : from;

		for (; at < note->to && at < to; at++)
			sums[at - from] += note_sample(track, note, at);
	}
}
