/* The words between the signals of a sound track. */
#ifndef EMIT_SOUND_SPOKEN_H
#define EMIT_SOUND_SPOKEN_H

#include "emit/emission.h"
#include "emit/sound/speaker.h"
#include "emit/sound/track.h"

struct spoken {
	const struct emission *emission;
	const struct track *track;
	struct speech speech; /* of the instant that speaks now */
	size_t next;	      /* the instant whose turn is next */
	int64_t from, to;     /* where it sounds */
	int64_t peak;	      /* its loudest sample */
	bool has_failed;
};

/** Starts speaking for a track. */
void spoken_start(struct spoken *spoken, const struct emission *emission, const struct track *track);

/** Adds what is said from sample `from` on to `count` sums; `from` goes on where the last call ended. Speech begins
 * when the signals of its instant have ended and leaves off where the next one, or a count-in, begins. */
void spoken_mix(struct spoken *spoken, int64_t from, int32_t *sums, size_t count);

#endif
