/* The signals of a sound track as samples. Everything is reckoned in whole numbers, so that the same bytes come out on
 * every machine; the pulses are rows of signals.def. */
#ifndef EMIT_SOUND_SIGNAL_H
#define EMIT_SOUND_SIGNAL_H

#include "compute/timeline.h"

/** Samples a second: what libespeak-ng speaks at, so that nothing is converted; half the rate of a compact disc, which
 * every player knows; more than three times the highest partial of a signal. */
#define SOUND_RATE_HZ 22050

/** The most a sample may be, either way. */
#define SOUND_FULL_SCALE 32767

/** Signals are numbered by kind of cue; the count-in, which is none, comes behind. */
#define COUNT_IN CUE_KIND_COUNT
#define SIGNAL_COUNT (CUE_KIND_COUNT + 1)

/** Sound, one channel. */
struct samples {
	int16_t *items;
	size_t count;
};

/** The sample at a time, rounded half up. */
int64_t sound_sample(int64_t time_ms);

/** Renders a signal into `arena`. Its first sample is its onset, and no sample exceeds its level. */
struct samples signal_render(int signal, struct arena *arena);

/** The sine of a 2³²nd part of a turn, 2³⁰ being one; off by less than 4 millionths. */
int64_t signal_sine(uint32_t phase);

#endif
