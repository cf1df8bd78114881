/* Who speaks the cues of a sound track: brought along by whoever runs the emitter, since it depends on what is
 * installed. */
#ifndef EMIT_SOUND_SPEAKER_H
#define EMIT_SOUND_SPEAKER_H

#include <stdint.h>

#include "support/text.h"

/** What was said last, at SOUND_RATE_HZ. One buffer serves all that is said, so that memory does not grow with the
 * track. */
struct speech {
	struct arena *arena;
	int16_t *items;
	size_t count;
	size_t capacity;
};

struct speaker {
	void *data;
	/** Fills `speech` anew with a text, which is for people and holds names from the recipe: it must not be taken
	 * for markup. False where it cannot be said. */
	bool (*say)(void *data, struct text text, struct speech *speech);
};

#endif
