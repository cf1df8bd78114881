/* The timeline of one run: every instant of every step. All timed outputs are made from this one value.
 *
 * Semantics (docs/language.md, "Time"): a step is poured at `pour_ms`; its time starts at the first pour or when the
 * tank is full, lasts as declared, and includes the draining or is followed by it. The next step is poured when the
 * one before has drained. A step with a range of times runs for the earliest end; the latest end is a cue of its
 * own. */
#ifndef COMPUTE_TIMELINE_H
#define COMPUTE_TIMELINE_H

#include "compute/used_time.h"
#include "model/recipe.h"

enum cue_kind {
#define CUE(id, word, title, is_signal) CUE_##id,
#include "compute/cues.def"
#undef CUE
	CUE_KIND_COUNT
};

struct cue_row {
	struct text word;  /* in data: "agitation-start" */
	struct text title; /* for people: "agitate" */
	bool is_signal;	   /* it rings */
};

/** The row of a kind of cue. */
const struct cue_row *cue_row(enum cue_kind kind);

/** A half-open stretch of time since the run's start. */
struct interval {
	int64_t start_ms;
	int64_t end_ms;
};

struct cue {
	int64_t at_ms; /* since the run's start */
	size_t step;   /* index */
	enum cue_kind kind;
	int64_t until_ms; /* for an agitation or taps: its end; else at_ms */
	int64_t count;	  /* for taps: how many; for an agitation: its number in the step, from 1; else 0 */
};

#define TIMELINE_NEVER INT64_MIN

struct timeline_step {
	int64_t pour_ms;	 /* first pour, or the start of a step without a pour */
	int64_t full_ms;	 /* tank full; pour_ms where nothing is poured */
	int64_t start_ms;	 /* its time counts from here */
	int64_t drain_ms;	 /* draining begins */
	int64_t end_ms;		 /* drained: the next step is poured */
	struct time_window time; /* as used in this run */
	int64_t time_end_ms;	 /* its declared time is over (before or with end_ms) */
	int64_t latest_end_ms;	 /* of a time range, else TIMELINE_NEVER */
	int64_t bears_light_ms;	 /* film bears light from here, if that falls in this step, else TIMELINE_NEVER */
	int64_t light_ms;	 /* light may come on, if that is counted in this step, else TIMELINE_NEVER; where a
				  * step may last longer, perhaps behind its earliest end */
	bool is_poured;		 /* false for drying and exposing */
	bool is_wet;		 /* counts as bath time */
	struct interval *agitations;
	struct interval *taps; /* one for each agitation where the step has taps, else null */
	size_t agitation_count;
};

struct timeline {
	const struct process *process;
	const struct used_time *used; /* as given to timeline_build */
	struct timeline_step *steps;  /* one for each step of the process */
	size_t step_count;
	struct cue *cues; /* by time, then step, then kind */
	size_t cue_count;
	int64_t wet_min_ms;   /* first pour to last drain, shortest */
	int64_t wet_max_ms;   /* longest; TIME_OPEN where a step is open-ended */
	int64_t total_min_ms; /* with drying */
	int64_t total_max_ms;
};

/** How long before a drain the warning comes; only where at least twice as long has passed since the start. */
#define DRAIN_SOON_MS 10000

/** Builds the timeline of a resolved process into `arena`, with the times that are used in this run; `used` null: the
 * declared ones. Steps without a declared time last 0. */
struct timeline *timeline_build(const struct process *process, const struct used_time *used, struct arena *arena);

/** When a step of the recipe puts light on, since the run's start: as long after the step's time began as the recipe
 * says, or when the step is over, whichever comes first; at its first pour where the recipe says no time.
 * TIMELINE_NEVER where it puts none on. */
int64_t timeline_lights_on(const struct step *step, const struct timeline_step *place);

/** Seconds of a time for print, always to the second, rounded half up: the one place where cue times are rounded. */
int64_t timeline_seconds(int64_t time_ms);

#endif
