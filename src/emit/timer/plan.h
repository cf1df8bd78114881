/* One step on its way into the script, and how texts and times are written there. Private to the timer. */
#ifndef EMIT_TIMER_PLAN_H
#define EMIT_TIMER_PLAN_H

#include "emit/emission.h"

struct placed_step {
	const struct emission *emission;
	struct output *output;
	size_t index;
	const struct step *step;
	const struct timeline_step *timed;
};

/** A text of the recipe, as one word behind a space. */
void plan_word(const struct emission *emission, struct output *output, struct text text);

/** Our own words, in ASCII but for names; the degree sign stands as ~. */
void plan_words(const struct emission *emission, struct output *output, struct text words);

/** Whole seconds behind a space; - where there are none. */
void plan_seconds(struct output *output, bool is_there, int64_t time_ms);

/** A reading of the thermometer in hundredths of a degree of its scale, behind a space. */
void plan_reading(const struct placed_step *placed, int64_t reading);

/** A cue of the step as a call of `function`, with the agitations, taps and ends of `timeline`. */
void plan_cue(const struct placed_step *placed, const char *function, const struct timeline *timeline,
	      const struct cue *cue);

/** The window of what is poured; its span is not set where none is declared. */
const struct temperature_window *plan_pour_window(const struct step *step);

/** How agitation goes on past the earliest end, at `first_ms` and then in its interval; false where it does not. */
bool plan_goes_on(const struct step *step, const struct timeline_step *timed, int64_t *first_ms);

#endif
