/* What someone at the sink needs to know of a run, step by step, made once and written down by the timer as shell words
 * and by the live page as JSON.
 *
 * Times are whole seconds since the step's time starts, temperatures hundredths of a degree as the thermometer shows
 * them. Texts hold names and prose as the recipe has them (prose without its markup): whoever writes them escapes them.
 * Everything lives in the emission's arena. */
#ifndef EMIT_PLAN_PLAN_H
#define EMIT_PLAN_PLAN_H

#include "emit/emission.h"

/** Seconds, where there are any. */
struct plan_seconds {
	bool is_there;
	int64_t count;
};

struct plan_cue {
	int64_t run_s; /* since the run's start */
	int64_t since_s;
	struct text kind; /* in data: "agitation-start" */
	int64_t until_s;
	int64_t count;
	struct text words; /* ours, with the names of baths */
};

/* What may be moved with the end of a step's time, in this order. */
enum plan_moved { MOVED_DRAIN_SOON, MOVED_DRAIN, MOVED_END, MOVED_LATEST_END, MOVED_LIGHT, MOVED_COUNT };

/** The time of a step where the thermometer reads so in its bath. */
struct plan_row {
	int64_t reading;
	int64_t time_s;
	size_t agitations;
	struct plan_seconds moved[MOVED_COUNT];
	struct plan_seconds again; /* agitation past the earliest end */
};

/** The times of a step by what is measured only at the sink. */
struct plan_times {
	struct plan_row *rows; /* coldest first */
	size_t row_count;
	size_t to_drain;       /* the number of the agitation that goes on until the tank drains; 0: none */
	struct text declared;  /* "declared 8:00 at 20.0 °C" */
	struct text done;      /* "done 4 rolls in 1 L: 20 % longer", or empty */
	struct plan_cue *more; /* the cues that only longer times have */
	size_t more_count;
};

struct plan_step {
	struct text name;
	const char *bath_kind; /* solution, water, running, light, air, dryer, none */
	uint32_t bottle;       /* 0: none */
	bool asks_bottle;      /* a wrong bottle would lose the film */
	bool develops;
	struct text bath, bath_title;
	bool has_window;
	struct text aim, limits, in_tank; /* limits and in_tank empty where aim says it all */
	bool measures;
	char unit; /* C or F */
	int64_t low, high;
	struct text thermometer;
	const char *form; /* exact, least, range or none */
	int64_t time_s;
	struct text time; /* "at least 5:00" */
	int64_t declared_s;
	struct text why; /* the time is not the declared one; else empty */
	int64_t pour_s, end_s;
	struct plan_seconds drain, latest;
	struct plan_seconds again; /* agitation past the earliest end, then every so often, so long */
	int64_t again_every_s, again_length_s;
	const struct plan_times *times; /* null: the time does not depend on what is measured */
	struct text *notes;
	size_t note_count;
	struct plan_cue *cues;
	size_t cue_count;
};

struct plan {
	struct text name, title, this_run; /* this_run is ours */
	struct text fingerprint;
	size_t light_step; /* the number of the step in which light may come on; 0: none */
	int64_t light_s;
	struct plan_step *steps;
	size_t step_count;
};

/** The plan of the process that is emitted. */
const struct plan *plan_make(const struct emission *emission);

#endif
