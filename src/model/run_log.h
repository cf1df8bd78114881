/* A run's log, as the timer and the live page write it (docs/outputs.md), read back. It is read as far as it goes: a
 * line that cannot be understood is counted and left out, and so is a last line that was cut off.
 *
 * Times of a step are hundredths of a second since its time started; temperatures are 1/1000 °C. Everything lives in
 * the arena given; texts are slices of the log. */
#ifndef MODEL_RUN_LOG_H
#define MODEL_RUN_LOG_H

#include <stdbool.h>
#include <stdint.h>

#include "model/roll_words.h"
#include "support/text.h"

/** No such figure stands in the log. */
#define RUN_LOG_NONE INT64_MIN

enum run_log_form { RUN_LOG_EXACT, RUN_LOG_LEAST, RUN_LOG_RANGE, RUN_LOG_OPEN };

/** How fast a step develops at a temperature, 1 at its working point. */
struct run_log_rate {
	int64_t temp_milli_c;
	int64_t rate_millionths;
	struct run_log_rate *next; /* of rising temperature, as written */
};

/** What the head says of a step that develops. */
struct run_log_development {
	bool is_told;	   /* the step is one that develops */
	bool is_there;	   /* and the head says how fast */
	int64_t time_ms;   /* of the plan */
	int64_t wanted_ms; /* at the working point */
	int64_t working_milli_c;
	int64_t cooling_nanos; /* Newton's rate constant, 1e-9 a second; RUN_LOG_NONE: not known */
	int64_t surroundings_milli_c;
	int64_t met_milli_c;	       /* what the bath meets in the tank; RUN_LOG_NONE: not known */
	int64_t met_weight_millionths; /* how far the bath goes there from its pour */
	struct run_log_rate *rates;
};

/** Planned figures of a step, or those that took their place at the sink. */
struct run_log_plan {
	enum run_log_form form;
	int64_t pour_cs, drain_cs, end_cs, latest_cs; /* RUN_LOG_NONE: none */
	size_t agitations;
};

struct run_log_remark {
	struct text stamp;
	struct text word; /* the event: "departure", "wrong-bottle" … */
	struct text remark;
	struct run_log_remark *next;
};

struct run_log_step {
	size_t number; /* from 1 */
	struct text name, bath;
	int64_t bottle; /* 0: none */
	struct run_log_plan plan;
	bool has_used;		  /* the plan above is that of the temperature measured at the sink */
	int64_t planned_drain_cs; /* before that */
	int64_t planned_end_cs;
	struct text why;				/* why the time is not the declared one; empty: it is */
	int64_t aim_milli_c, low_milli_c, high_milli_c; /* of the pour, true; RUN_LOG_NONE: no window */
	int64_t correction_milli_k;
	struct run_log_development development;
	/* what was done */
	bool is_begun, is_over;
	size_t begun_times; /* counted again so often, less 1 */
	struct text begun_stamp;
	int64_t begun_epoch;
	int64_t drained_cs, over_cs; /* RUN_LOG_NONE: not in the log */
	struct text reading;	     /* the last one typed: "38.1 C"; empty: none */
	int64_t measured_milli_c;    /* the true temperature behind it; RUN_LOG_NONE */
	size_t agitations_done;
	int64_t latest_cue_cs; /* how much the latest cue came late */
	struct run_log_remark *remarks, *last_remark;
};

struct run_log_roll {
	int64_t reel;
	struct text label, format, origin, together, mark; /* empty: not said */
	int64_t area_milli_rolls;
	struct text conditions;	 /* as intake found it, with blanks between; empty in a log of an early version too */
	struct roll_words words; /* the same */
	struct run_log_roll *next;
};

struct run_log_bath {
	struct text name;
	int64_t fill; /* of the day, from 1; 0: not of a day */
	int64_t volume_tenth_ml;
	struct text mixed; /* a date; empty: not said */
	int64_t done_milli_rolls, load_milli_rolls;
	struct run_log_bath *next;
};

enum run_log_end { RUN_LOG_CUT_OFF, RUN_LOG_FINISHED, RUN_LOG_STOPPED };

struct run_log {
	struct text name; /* of the file */
	struct text process, title, fingerprint, this_run;
	int64_t speed;			 /* above 1: a rehearsal */
	int64_t load_number, load_count; /* 0: no load of a day */
	struct text day, day_title;
	struct run_log_roll *rolls;
	size_t roll_count;
	struct run_log_bath *baths;
	struct run_log_step *steps;
	size_t step_count;
	struct text started_stamp, last_stamp;
	int64_t started_epoch; /* RUN_LOG_NONE: nothing was begun */
	size_t resumed_times;
	enum run_log_end end;
	size_t unread_count;  /* lines that could not be understood */
	size_t unread_first;  /* number of the first of them */
	bool is_last_cut_off; /* the last line has no end, and is left out */
};

/** Reads the bytes of a log. Null where it does not begin as one does: then nothing can be said about it. */
struct run_log *run_log_read(struct text name, struct text bytes, struct arena *arena);

#endif
