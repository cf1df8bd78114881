/* A day's plan under construction. Private to compute/day_plan.c and compute/plan_*.c, each of which fills in its part:
 *
 *     plan_kinds      the processes of the day, their rolls, what limits a load; packing
 *     plan_precious   which load tries out the baths
 *     plan_order      loads in the order of running, chains of loads that share baths
 *     plan_chemistry  which fill of each bath a load gets, what is mixed and tested for it
 *     plan_life       baths that grow too old within the day
 *     plan_temper     when the baths of a load come to temperature
 *     plan_run        times of a load's run, cut into what takes the hands and what goes on by itself
 *     plan_jobs       mixing, loads and drying as jobs for the schedule
 *     plan_timetable  from the schedule to loads, tasks, dryer
 *     plan_parties, plan_marks, plan_remedies */
#ifndef COMPUTE_PLAN_DRAFT_H
#define COMPUTE_PLAN_DRAFT_H

#include "compute/day_plan.h"

#define PLAN_NONE SIZE_MAX
#define PLAN_MILLI 1000

/** Film of one test: a control strip or leader snip of a tenth of a roll (common practice, no source). */
#define PLAN_TEST_MILLI_ROLLS 100

/** What is different from the day as declared, to see whether it would fit then. */
struct plan_change {
	int64_t reel_sets;	  /* of what the day has; 1: as declared */
	const struct tank *tank;  /* of which there is one more; null: none */
	int64_t dryer_sets;	  /* of its places; 1: as declared */
	bool is_mixed_beforehand; /* all baths stand mixed and tested */
	int64_t finish_later_s;
	int64_t start_earlier_s;
	int64_t work_most; /* of the schedule; 0: its default */
};

/** One mix made for a load. */
struct plan_mix {
	const struct solution *solution;
	size_t fill;
	int64_t volume;
	int64_t hands_s;
	int64_t cool_s; /* by itself afterwards; 0: none, or not known */
	struct plan_mix *next;
};

/** One test of a mix, for a load; or that it is not made. */
struct plan_test {
	const struct solution *solution;
	size_t fill;
	struct plan_test *next;
};

/** A stretch of a run, in whole seconds since its first pour. */
struct plan_piece {
	int64_t start_s, end_s;
	bool is_free;
};

/** A load for which a bath is mixed anew, since its working life is over by then. */
struct plan_renewal {
	size_t load;
	const struct solution *solution;
	struct plan_renewal *next;
};

struct plan_draft_load {
	size_t kind;
	const struct packing_load *packed;
	int64_t urgent_rolls;
	size_t chain;	   /* of loads that run one after the other, since they share baths */
	size_t before;	   /* the load before it in its chain; PLAN_NONE: none */
	size_t two_before; /* and the one before that */
	size_t first;	   /* the kind's first load, where this is its second: it is looked at first; else PLAN_NONE */
	struct plan_mix *mixes; /* in the order of mixing */
	struct plan_test *tests;
	struct plan_test *untested; /* mixes that are new, of which no test is made */
	struct plan_account *accounts;
	const struct conditions *conditions;
	const struct used_time *used;
	const struct timeline *timeline;
	struct plan_piece *pieces;
	size_t piece_count;
	size_t returned_piece; /* after it the baths are back in their bottles, but for the last ones */
	int64_t dry_s;
	/* places in the schedule; PLAN_NONE: it has none */
	size_t mix_job, load_job, dry_job;
	bool is_left;				     /* for another day */
	size_t load_task, first_run_task, hang_task; /* of load_job; it is cleaned after the last of these */
};

/** A bath of the day, poured or behind one that is. */
struct plan_bath {
	const struct solution *solution;
	const struct on_hand *on_hand;	 /* the day's, else the recipe's; null: none, or past its life */
	const struct on_hand *past_life; /* what is left where it stands, and is not used */
	int64_t pour;			 /* the most that one pour of the day takes; 0: it is not poured itself */
	int64_t replenish_to_come;	 /* volume that the loads not yet run take */
	int64_t drawn;			 /* of a stock, by the loads walked */
	int64_t to_draw;		 /* of a stock that lasts, by the loads not yet walked; 0: not known */
	/* the fill in use */
	bool has_fill;
	size_t fill;
	bool is_on_hand;
	int64_t volume;
	int64_t capacity_milli_rolls;
	int64_t film_milli_rolls; /* done, without tests: they are within the capacity's own margin */
	int64_t test_milli_rolls;
	/* mixed, or opened, and not used yet: of a stock, a one-shot bath, a kit that is diluted, a replenisher */
	int64_t left;
	bool left_is_on_hand;
	bool is_untested; /* the mix, kit or bottle behind it is new */
	bool is_opened;	  /* a bottle of concentrate that is not declared */
	/* over the day */
	size_t fill_count;
	size_t mixes;
	int64_t mixed, taken_from_hand;
};

struct plan_draft {
	struct recipe *recipe;
	const struct day *day;
	const struct conditions *conditions; /* never null */
	struct arena *arena;
	struct plan_change change;
	struct report *scratch; /* for findings that are made elsewhere */
	struct plan_kind *kinds;
	size_t kind_count;
	const struct preparation **preparations; /* by kind */
	struct plan_draft_load *loads;		 /* chain by chain, each in the order of running */
	size_t load_count;
	size_t chain_count;
	struct plan_bath *baths;
	size_t bath_count;
	size_t bath_capacity;
	bool makes_tests;
	struct plan_renewal *renewals;
	struct schedule_problem problem;
	bool pours_soon;		    /* no long break lies between loading and the pour */
	bool is_soon_tried;		    /* it was tried to do so */
	size_t reel_resource[FORMAT_COUNT]; /* PLAN_NONE: no reels, or without end */
	size_t *tank_resource;		    /* by kind */
	size_t *chain_resource;		    /* by chain: its baths */
	size_t dryer_resource;		    /* PLAN_NONE: no dryer */
	struct schedule *schedule;
	struct day_plan *plan;
	size_t party_capacity; /* of its parties */
};

/** Resolves the processes of the day that have rolls, in the draft's arena. */
void plan_kinds_find(struct plan_draft *draft);

/** Packs the rolls of every kind. */
void plan_kinds_pack(struct plan_draft *draft);

/** Lets another load of a kind run first, where that spares precious rolls and changes nothing else. */
void plan_precious_spare(struct plan_draft *draft, struct plan_kind *kind);

/** How many reels of a format the day has, with the change; -1: nothing limits them but the tanks. */
int64_t plan_reels(const struct plan_draft *draft, enum format_id format);

/** False for sheets, which hang in frames. */
bool plan_format_has_reels(enum format_id format);

/** How many tanks of a declaration the day has, with the change. */
int64_t plan_tanks(const struct plan_draft *draft, const struct tank *tank);

/** Lists the loads of all kinds in the order of running. */
void plan_order_loads(struct plan_draft *draft);

/** Finds the baths of the day and what of them stands in the cupboard. */
void plan_chemistry_open(struct plan_draft *draft);

/** The bath of a solution, or null. */
struct plan_bath *plan_bath(const struct plan_draft *draft, const struct solution *solution);

/** Film that the fill of a bath in the cupboard still does; 0: none, or it fills no tank. */
int64_t plan_bath_first_fill(const struct plan_bath *bath);

/** Volume of a fresh fill of a bath. */
int64_t plan_bath_fill_volume(const struct plan_draft *draft, const struct plan_bath *bath);

/** Walks the loads that are not left, in order: which fill each gets, what is mixed and tested for it. */
void plan_chemistry_walk(struct plan_draft *draft);

/** Whether a bath is too old for a load, as far as that is known. */
bool plan_life_is_over(const struct plan_draft *draft, size_t load, const struct solution *solution);

/** Finds the first bath in the schedule that is too old for its load, and notes it; false where there is none. A bath
 * that would be too old though it was mixed for the load is let be. */
bool plan_life_renew(struct plan_draft *draft);

/** Works out the times of a load's run. */
void plan_run_times(struct plan_draft *draft, struct plan_draft_load *load);

/** How long film may wait in its tank for the pour, so that no long break lies between; SCHEDULE_NEVER: for ever. */
int64_t plan_temper_wait_most_s(const struct plan_draft *draft);

/** Whether the schedule has the baths of a load come to temperature before a long break, and the pour behind it. */
bool plan_temper_is_before_break(const struct plan_draft *draft, const struct plan_draft_load *load);

/** How much later the day may end so that there is no such load: as loading and tempering behind the break take. */
int64_t plan_temper_later_most_s(const struct plan_draft *draft);

/** Lets the baths of each load come to temperature as late as the hands can see to it. */
void plan_temper_place(struct day_plan *plan);

/** Makes the schedule's problem. */
void plan_jobs_build(struct plan_draft *draft);

/** Everything about when: loads, tasks, chemistry, what is left, from the schedule. */
void plan_timetable_build(struct plan_draft *draft);

/** The order of the rolls in a load, with their marks. */
void plan_marks_give(struct plan_draft *draft, struct plan_load *load, const struct packing_load *packed);

/** How origins and groups lie in the loads. */
void plan_parties_find(struct plan_draft *draft);

/** Plans again with one thing changed, where something is left for tomorrow. */
void plan_remedies_find(struct plan_draft *draft);

/** A plan of the day with a change, without remedies; kinds are taken from `base` where it is not null. */
struct plan_draft *plan_draft_make(const struct plan_draft *base, const struct plan_change *change);

#endif
