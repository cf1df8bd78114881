/* A day at the sink: the rolls that came in, what is at hand, and the hours. Part of the model (model/recipe.h);
 * everything lives in the recipe's arena. A value that was not declared has an unset span. */
#ifndef MODEL_DAY_H
#define MODEL_DAY_H

#include "model/recipe.h"

/** A column of a rolls file that the program has no meaning for, or a field of one: kept, passed through. */
struct roll_field {
	struct text name;
	struct text value;
	struct roll_field *next;
};

#define ROLL_NO_RUN SIZE_MAX

struct roll {
	struct text label; /* NFC */
	struct span span;  /* of the label: in a recipe or in a rolls file */
	struct span whole; /* of the declaration or the row */
	struct prose title;
	enum format_id format;
	struct span format_span;
	struct quantity exposures; /* a count; unset: the format's usual */
	struct quantity length;	   /* of film that comes in lengths */
	int64_t area_milli_rolls;
	enum family_id needs;	   /* as said, or else that of its stock; FAMILY_COUNT: unknown */
	struct span needs_span;	   /* unset: its stock says */
	enum family_id develop_as; /* `needs C-22 develop as …`; FAMILY_COUNT: as it needs */
	struct prose develop_reason;
	struct span develop_span;
	struct text decided_by; /* initials; empty: not said */
	struct span decided_span;
	struct name_reference film_name;
	const struct film *film; /* the stock; null: not said */
	struct text origin;	 /* empty: not said */
	struct span origin_span;
	struct text together; /* name of the group that is to be in one load; empty: none */
	struct span together_span;
	bool is_urgent, is_precious;
	struct span urgent_span, precious_span;
	struct quantity push;	  /* stops, in thousandths, as a count; negative for a pull; unset: none */
	condition_set conditions; /* as intake found it */
	struct span conditions_span;
	struct quantity made; /* the year, a count */
	struct text mark;     /* nick code or twin-check number; empty: the day gives one by place on the column */
	struct span mark_span;
	struct name_reference run_name; /* `process NAME` where several of the day would do */
	struct prose set_aside;		/* `set aside "why"`: not to be developed; span unset: it is */
	struct note *notes;
	struct allowance *allowances;
	struct roll_field *fields; /* unknown columns, in the order of the file */
	size_t run;		   /* index into day->runs of the process that develops it; ROLL_NO_RUN: none */
	struct roll *next;
};

struct day_run {
	struct name_reference name;
	size_t process; /* for process_resolve; it may be beyond recipe_process_count, where it is from a used file */
	enum family_id family;
	int64_t push; /* in thousandths */
};

struct day_tank {
	struct name_reference name;
	const struct tank *tank;
};

struct day_reels {
	struct span span;
	int64_t count;
	enum format_id format;
};

struct day_break {
	struct span span;
	int64_t start_s; /* since midnight of the day */
	int64_t lasts_s;
};

/** How long the hands, or the reels, are busy; unset: as model/day_times.def says (common practice, no source). */
enum day_time {
#define DAY_TIME(id, word, usual_s, summary) DAY_TIME_##id,
#include "model/day_times.def"
#undef DAY_TIME
	DAY_TIME_COUNT
};

/** A bath in the cupboard on that day. */
struct day_on_hand {
	struct on_hand on_hand;
	bool is_tested;
	struct day_on_hand *next;
};

struct day {
	struct declared declared; /* its name is the date as written; `title` the name of the day */
	int64_t date;		  /* in days since 1970-01-01 */
	struct span start_span, finish_span;
	int64_t start_s;	  /* since midnight; 9:00 where not said */
	int64_t finish_s;	  /* since midnight, beyond 24 h where it is the next day; -1: none */
	struct day_break *breaks; /* in order of time */
	size_t break_count;
	struct quantity room; /* temperature */
	struct span runs_span, tanks_span, reels_span;
	struct day_run *runs;
	size_t run_count;
	struct day_tank *tanks;
	size_t tank_count; /* 0: one of the tank of each process */
	struct day_reels *reels;
	size_t reels_count; /* 0: as many as the tanks take */
	struct name_reference dryer_name;
	const struct dryer *dryer; /* null: none declared; film hangs in the open */
	struct quantity times[DAY_TIME_COUNT];
	struct day_on_hand *on_hand;
	struct span clock_span;		  /* `clock changes 02:00 to 03:00` */
	int64_t clock_from_s, clock_to_s; /* since midnight, on the old and on the new clock; equal: no change */
	struct span utc_span;		  /* `clock 1 h ahead of utc`: the offset at the day's start */
	int64_t utc_offset_s;
	struct roll *rolls; /* in order: of the day's files, then of its own declarations and those at the top level */
	size_t roll_count;
	bool is_incomplete; /* something that it names was lost to a mistake, which was reported */
};

/** The family in whose process a roll is to be developed; FAMILY_COUNT where nobody knows. */
enum family_id roll_family(const struct roll *roll);

/** True where something that was said of a roll was not understood: it is not to be judged. */
bool roll_is_sound(struct recipe *recipe, const struct roll *roll);

/** True where everything that a day itself says was understood; its rolls are judged one by one. */
bool day_is_sound(struct recipe *recipe, const struct day *day);

/** How long one of the day's times is, declared or usual. */
int64_t day_time_s(const struct day *day, enum day_time time);

struct day_time_row {
	struct text word;
	int64_t usual_s;
	struct text summary;
};

/** The row of one of the day's times. */
const struct day_time_row *day_time_row(enum day_time time);

/** The offset to add to a time since the day's midnight, as it runs on, to get what the clock on the wall shows. */
int64_t day_clock_shift_s(const struct day *day, int64_t since_midnight_s);

#endif
