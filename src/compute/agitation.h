/* When a step is agitated. Private to compute/. */
#ifndef COMPUTE_AGITATION_H
#define COMPUTE_AGITATION_H

#include "compute/timeline.h"

/** Fills the agitations and taps of a placed step into `arena`, no more than `most`.
 *
 * Phases follow each other from the step's start. A continuous phase is one agitation. A repeating phase that begins
 * at S agitates at S + n·every, n = 1, 2 …, up to and with its own end. Intervals are half-open and begin before the
 * step's time ends; one that would run past that is kept whole, for a check to report. */
void agitation_build(const struct step *step, struct timeline_step *place, size_t most, struct arena *arena);

#endif
