/* What a run's log says beside what was planned: the time of each step, the temperature it was poured at, what that
 * developed, and what the baths have done by now. */
#ifndef COMPUTE_REVIEW_H
#define COMPUTE_REVIEW_H

#include "model/quantity.h"
#include "model/run_log.h"

enum review_verdict {
#define REVIEW_VERDICT(id, word, title, departs) REVIEW_##id,
#include "compute/review_verdicts.def"
#undef REVIEW_VERDICT
	REVIEW_VERDICT_COUNT
};

struct review_verdict_row {
	struct text word, title;
	bool departs;
};

/** The row of a verdict. */
const struct review_verdict_row *review_verdict_row(enum review_verdict verdict);

/** A step's end may be off by this without a word: what it takes to see a cue and tip a tank. Common practice, no
 * source. */
#define REVIEW_OFF_LEAST_CS 300

/** … or by this share of its time: what effective development may stray by (compute/drift.h). */
#define REVIEW_OFF_PERCENT 2

/** A cue that comes later than this is told. Common practice, no source. */
#define REVIEW_LATE_CS 500

struct review_step {
	const struct run_log_step *run;
	enum review_verdict verdict;
	bool has_off;
	int64_t off_cs;	      /* its drain, or else its end, was so much later than planned; below 0: earlier */
	bool is_outside;      /* measured below or above its window */
	bool has_effective;   /* the log says how fast it develops, and it was run to its end */
	bool is_measured;     /* else it was taken to be poured at the temperature to aim at */
	int64_t effective_ms; /* at the working point, to 1 s */
	int64_t wanted_ms;
	int64_t stray_percent; /* of what was wanted, in millionths of a per cent, to 0.1 % */
	bool strays;	       /* by more than DRIFT_BEARABLE_PERCENT */
	bool is_spoilt;	       /* by more than DRIFT_SPOILT_PERCENT */
	size_t missed_agitations;
	bool has_departure; /* any of these, or an event that is one */
};

struct review {
	const struct run_log *log;
	struct review_step *steps;    /* one for each of the log */
	size_t departures;	      /* steps with one */
	const struct review *copy_of; /* another log of this run that has got as far or further; null: there is none */
};

/** A bath as it stands after all the runs. */
struct review_bath {
	struct text name, mixed;
	struct text day; /* of the last run that used it: its fills are numbered anew each day */
	int64_t fill;
	int64_t volume_tenth_ml;
	int64_t done_milli_rolls;
	bool is_replaced; /* a later run used another mix of it */
	struct review_bath *next;
};

struct reviews {
	struct review *items; /* in the order of the runs' starts */
	size_t count;
	struct review_bath *baths; /* in the order of their first run */
};

/** Reviews logs together, in `arena`. A bath that one log says has done so much before its load, and an earlier log
 * counts further, has done the greater. Of several mixes of a bath the one that the last run uses is on hand. A load
 * counts for the baths that were poured, and once where several logs are copies of one. */
struct reviews *reviews_build(struct run_log *const *logs, size_t count, struct arena *arena);

#endif
