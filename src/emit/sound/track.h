/* What sounds when in a sound track.
 *
 * An instant is all cues that fall on one millisecond. Its signals follow one another from its sample on, pour and
 * drain first; a cue that another one of its instant tells anyhow has none. An instant's lesser signals end where the
 * next one begins, pours and drains sound whole; where signals overlap in spite of that, each is made softer so that
 * their sum stays in range. A count-in gives way to everything. */
#ifndef EMIT_SOUND_TRACK_H
#define EMIT_SOUND_TRACK_H

#include "emit/sound/signal.h"

/** A signal on the track. */
struct tone {
	int64_t from; /* sample of its onset */
	int64_t to;   /* the sample behind its last one: before the signal's own end where it is cut off */
	int signal;
	int divisor; /* softer by this */
};

/** The cues of one instant, for speech. */
struct instant {
	size_t first_cue; /* in the timeline */
	size_t cue_count;
	int64_t from;	     /* its sample */
	int64_t silent_from; /* its signals, and all before, have ended */
	int64_t silent_to;   /* the next signal or count-in begins */
};

struct track {
	struct samples signals[SIGNAL_COUNT];
	struct tone *notes; /* by onset */
	size_t note_count;
	struct instant *instants;
	size_t instant_count;
	size_t cue_count; /* the first cues of the timeline: those that are on the track */
	int64_t zero;	  /* the sample of the run's start */
	int64_t sample_count;
};

/** Lays out the track of a run in `arena`, from `lead_in_ms` before the first pour to `tail_ms` behind the last cue of
 * the last bath; drying is not on it. */
struct track *track_build(const struct timeline *timeline, int64_t lead_in_ms, int64_t tail_ms, struct arena *arena);

/** The kind of cue whose signal comes first in an instant, second, and so on. */
enum cue_kind track_ranked(size_t rank);

/** True where another cue of an instant tells what one of this kind would: a pour, that the step before is over. */
bool track_is_told(const struct timeline *timeline, const struct instant *instant, enum cue_kind kind);

/** Adds the track's signals from sample `from` on to `count` sums. `next` is the note to begin with: 0 at first, and
 * then as it was left; `from` never falls. */
void track_mix(const struct track *track, int64_t from, int32_t *sums, size_t count, size_t *next);

#endif
