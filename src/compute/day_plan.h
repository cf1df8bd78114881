/* The plan of a day: which rolls are in which load, in what order, when everything is done, what it takes. Every
 * output of a day (timetable, lists, labels, run sheets) is made from this one value.
 *
 * Times are whole seconds since the day's start (day->start_s), running on; day_clock_shift_s tells the wall clock. */
#ifndef COMPUTE_DAY_PLAN_H
#define COMPUTE_DAY_PLAN_H

#include "compute/packing.h"
#include "compute/schedule.h"
#include "compute/timeline.h"
#include "model/conditions.h"
#include "model/day.h"

/** A roll's place in its load. */
struct plan_place {
	const struct roll *roll;
	size_t reel;	  /* from 1, in the order of loading: 1 is at the bottom, hangs last */
	struct text mark; /* "three nicks in the tail", or the roll's own mark */
};

/** A process of the day, resolved with its plain timeline; the recipe's findings about it are in the report. */
struct plan_kind {
	size_t run; /* index into day->runs */
	const struct process *process;
	const struct roll *const *rolls; /* that it is to develop, in order of declaration */
	size_t roll_count;
	const struct packing *packing;
	const struct packing_problem *problem;
	const struct solution *leading; /* the bath that packing counts the fills of; null: none */
};

/** What a bath has done before and after a load. */
struct plan_account {
	const struct solution *solution;
	size_t fill;		       /* which mix of it, from 0 in the order of use over the day */
	const struct on_hand *on_hand; /* the fill stood in the cupboard; null: it was mixed on the day */
	int64_t volume;		       /* of the fill */
	int64_t done_milli_rolls;      /* before this load, tests included */
	int64_t load_milli_rolls;
	int64_t capacity_milli_rolls; /* of the fill; 0: not declared */
	int64_t lengthened_percent;   /* 1e-6 %; 0: as declared */
	struct plan_account *next;
};

struct plan_load {
	size_t number;		   /* from 1, in the order of the day, those left over after those that are done */
	size_t kind;		   /* index into plan->kinds */
	size_t tank;		   /* index into day->tanks, or 0 */
	struct plan_place *places; /* in the order of loading */
	size_t place_count;
	int64_t area_milli_rolls;
	bool is_today;
	/* Set where it is today: */
	const struct conditions *conditions; /* what the baths have done, for its run sheet, cues and timer */
	const struct used_time *used;
	const struct timeline *timeline; /* with the lengthened times */
	struct plan_account *accounts;
	bool tempers_again;			       /* a break lies between tempering and the pour */
	bool hangs_in_the_open;			       /* there is no dryer, or it has no place for the load */
	int64_t start_s, pour_s, out_s, hung_s, dry_s; /* first task, first pour, off the last bath, hung, dry */
};

enum plan_task_kind {
#define PLAN_TASK(id, word, title, needs_hands) PLAN_TASK_##id,
#include "compute/plan_tasks.def"
#undef PLAN_TASK
	PLAN_TASK_COUNT
};

struct plan_task_row {
	struct text word;  /* in data: "load" */
	struct text title; /* for people: "load in the dark" */
	bool needs_hands;
};

/** The row of a kind of task. */
const struct plan_task_row *plan_task_row(enum plan_task_kind kind);

/** One thing done, or that goes on by itself, in the order of its start. */
struct plan_task {
	enum plan_task_kind kind;
	int64_t start_s, end_s;
	bool needs_hands;
	size_t load;			 /* index into plan->loads; SIZE_MAX: of none (a mix, a break) */
	const struct solution *solution; /* of mixing, cooling, testing; else null */
	size_t fill;			 /* of that solution */
	int64_t volume;			 /* mixed */
	int64_t rolls;			 /* loaded, hung, dried */
};

/** The rolls of one process that are of a group or an origin. Those of one name, of whatever process, follow each
 * other. */
struct plan_party {
	struct text name;
	bool is_together;
	size_t kind;
	size_t roll_count;  /* of this process */
	size_t load_count;  /* that it is in */
	size_t least_loads; /* that it could be in by itself, were it not spread */
};

/** A new mix of a developer that film meets before any test of it. */
struct plan_untested {
	const struct solution *solution;
	size_t fill;
	size_t load; /* the first that it is poured for */
};

/** How much of a bath the day takes. */
struct plan_chemistry {
	const struct solution *solution;
	int64_t on_hand; /* volume used from the cupboard */
	int64_t mixed;	 /* volume mixed today */
	size_t mixes;
	int64_t done_milli_rolls;	 /* by the last fill, at the day's end */
	int64_t left;			 /* of that fill */
	const struct on_hand *past_life; /* stands in the cupboard and is not used; null: nothing does */
};

/** One thing that, changed alone, makes the whole day fit, found by planning again. */
enum plan_remedy_kind {
#define PLAN_REMEDY(id, word, title) PLAN_REMEDY_##id,
#include "compute/plan_remedies.def"
#undef PLAN_REMEDY
	PLAN_REMEDY_COUNT
};

struct plan_remedy {
	enum plan_remedy_kind kind;
	bool fits;	       /* everything is done then */
	size_t more_rolls;     /* done than without it */
	int64_t amount;	       /* reels, tanks, places, seconds, volume: what was added, see the row */
	enum format_id format; /* of reels */
	int64_t end_s;	       /* of the last task then */
};

struct plan_remedy_row {
	struct text word;
	struct text title;
};
const struct plan_remedy_row *plan_remedy_row(enum plan_remedy_kind kind);

/** A roll that is in no load, and why. */
enum plan_left_reason { LEFT_TOMORROW, LEFT_SET_ASIDE, LEFT_NO_PROCESS, LEFT_TOO_LARGE };
struct plan_left {
	const struct roll *roll;
	enum plan_left_reason reason;
	size_t load; /* LEFT_TOMORROW: the load it would be in */
};

struct plan_draft;

struct day_plan {
	struct plan_draft *draft; /* what it was made of, for its remedies; of no use elsewhere */
	const struct recipe *recipe;
	const struct day *day;
	struct plan_kind *kinds;
	size_t kind_count;
	struct plan_load *loads; /* by number */
	size_t load_count;
	size_t today_count; /* of them are done today: the first ones */
	struct plan_task *tasks;
	size_t task_count;
	struct plan_party *parties;
	size_t party_count;
	struct plan_chemistry *chemistry;
	size_t chemistry_count;
	struct plan_untested *untested;
	size_t untested_count;
	struct plan_left *left; /* with the rolls of the loads above, every roll of the day once */
	size_t left_count;
	struct plan_remedy *remedies; /* where something is left for tomorrow */
	size_t remedy_count;
	size_t dryer_most;  /* rolls in the dryer at once, at the fullest */
	size_t dryer_waits; /* loads that hang in the open for want of places, or wait */
	size_t reels_waits; /* loads that wait for wet reels, with nothing else to do */
	bool is_order_proven;
	int64_t end_s; /* of the last task with hands */
	int64_t end_bound_s;
	int64_t all_dry_s;
	int64_t last_s; /* when the last of all that it tells of has ended */
};

/** True for a bath that film goes through more than once. One that neither says so nor declares a capacity is mixed
 * for each load. */
bool plan_bath_is_reused(const struct solution *solution);

/** Plans a day, but for the remedies: what the checks look at. `arena` holds the plan and the processes resolved for
 * it; findings of processes and of the day's checks go to the recipe's report elsewhere (check/day). `conditions` may
 * be null. */
struct day_plan *day_plan_outline(struct recipe *recipe, const struct day *day, const struct conditions *conditions,
				  struct arena *arena);

/** Adds the remedies to a plan without them. */
void day_plan_find_remedies(struct day_plan *plan);

/** Plans a day, with its remedies. */
struct day_plan *day_plan_build(struct recipe *recipe, const struct day *day, const struct conditions *conditions,
				struct arena *arena);

#endif
