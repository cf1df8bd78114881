/* What the files of the schedule share: the problem laid out flat and checked, the board on which jobs are placed, the
 * best found so far, and the work done. See schedule.h for what is wanted.
 *
 * Whatever is in here lives in the arena of schedule_solve. Tasks and claims of all jobs lie in one array each; "at"
 * arrays hold the start of each task by its index there. */
#ifndef COMPUTE_SCHEDULE_PARTS_H
#define COMPUTE_SCHEDULE_PARTS_H

#include "compute/schedule.h"

#define SCHEDULE_NONE SIZE_MAX
#define SCHEDULE_STEPS_PER_NODE 64 /* of the innermost loops: what one unit of work is made of */

/* ---- the problem, laid out flat ---- */

struct flat_task {
	int64_t duration_s, wait_least_s, wait_most_s; /* at most SCHEDULE_LATEST, or SCHEDULE_NEVER */
	bool needs_hands;
	bool shuns_breaks; /* with hands or not */
	bool may_part;	   /* others may come between this task and the one before it */
	size_t job;
	int64_t head_s;	      /* it never starts earlier */
	int64_t tail_s;	      /* from its end to the job's last end, at least */
	int64_t latest_end_s; /* for the finish */
};

struct flat_claim {
	size_t resource;
	int64_t amount;
	size_t from, to; /* indices of tasks in the flat array */
	int64_t after_s;
	int64_t least_s; /* it lasts at least so long */
};

struct flat_job {
	const struct schedule_job *said;
	size_t first, end;	       /* tasks */
	size_t first_claim, end_claim; /* claims, by `from` */
	size_t done;		       /* the task that ends it */
	size_t *dependents;	       /* jobs that come after it */
	size_t dependent_count;
	size_t twin_first;  /* the first job that is alike: itself, where none is */
	size_t twin_before; /* the last job before it that is alike; SCHEDULE_NONE */
	size_t twin_rank;   /* how many before it are alike */
	int64_t hands_s;    /* work with hands */
	bool is_possible;   /* alone, it can be done before the finish */
};

struct busy {
	int64_t start_s, end_s;
};

struct flat_problem {
	const struct schedule_problem *said;
	struct flat_task *tasks;
	size_t task_count;
	struct flat_claim *claims;
	size_t claim_count;
	struct flat_job *jobs;
	size_t job_count;
	size_t *order; /* the possible jobs, each behind those it comes after, else by urgency and place */
	size_t order_count;
	struct busy *breaks; /* in order, apart from each other, none empty */
	size_t break_count;
	int64_t finish_s; /* at most SCHEDULE_LATEST */
	int64_t longest_hands_s;
	size_t part_count; /* of all jobs that are possible */
	struct arena *arena;
};

/** Checks the problem and lays it out: what can never be done is marked so. */
void flatten(struct flat_problem *flat, const struct schedule_problem *problem, struct arena *arena);

/** Finds which jobs are alike, so that it does not matter which of them is done first. */
void find_twins(struct flat_problem *flat);

/* ---- sums that stay within bounds ---- */

/** a + b of two that are not negative; SCHEDULE_NEVER where it would be more. */
int64_t add_up(int64_t a, int64_t b);

/* ---- work ---- */

struct toil {
	int64_t steps, steps_most;
};

/** Counts steps of work. */
void toil_count(struct toil *toil, size_t steps);

/** Whether there is any left to do. */
bool toil_is_left(const struct toil *toil);

/* ---- what is best ---- */

struct worth {
	int64_t value;
	int64_t urgent_left; /* urgent jobs that are not done */
	int64_t urgent_s;    /* sum of the ends of those that are */
	int64_t end_s;
	int64_t ends_s; /* sum of all ends: to tell apart what is else as good */
};

/** Below 0 where a is better than b, by value, urgent jobs and end; `with_ends` also by the sum of all ends. */
int compare_worth(const struct worth *a, const struct worth *b, bool with_ends);

/** The best schedule yet. */
struct best {
	bool exists;
	struct worth worth;
	int64_t *at;
	bool *is_done; /* by job */
};

/** What a schedule is worth. */
struct worth worth_of(const struct flat_problem *flat, const int64_t *at, const bool *is_done);

/** Takes over a schedule. */
void best_take(struct best *best, const struct flat_problem *flat, const int64_t *at, const bool *is_done);

/* ---- the board ---- */

struct level {
	int64_t from_s;
	int64_t used;
};

/** How much of a resource is used, from each time on. */
struct usage {
	struct level *levels;
	size_t count, capacity;
	int64_t amount; /* there is of it */
};

struct board {
	const struct flat_problem *flat;
	struct busy *hands; /* breaks too; in order */
	size_t hands_count, hands_capacity;
	struct usage *usages;
	int64_t *at;	/* start of each task that is placed */
	size_t *placed; /* by job: tasks below this index are placed */
	struct toil *toil;
};

enum placing {
	PLACING_DONE,
	PLACING_TOO_LATE, /* for the finish, or for the day's start */
	PLACING_MISSED,	  /* too long after the part of the job that is placed */
	PLACING_HELD	  /* something is held by jobs whose rest is not placed yet */
};

void board_init(struct board *board, const struct flat_problem *flat, struct toil *toil);

/** Takes everything off. */
void board_clear(struct board *board);

/** Finds the earliest starts of a job's next tasks, up to (not with) `end`, among what is placed; into board->at.
 * There is one solution in which every task is as early as in any: two solutions' earlier starts, task by task, are
 * a solution too, for waits, hands, breaks and claims alike. */
enum placing board_find(struct board *board, size_t job, size_t end);

/** Places the tasks found. */
void board_put(struct board *board, size_t job, size_t end);

/** Takes a job off. */
void board_take(struct board *board, size_t job);

/** The earliest time, from a given one, at which so long is free of what is busy. Adds to *steps. */
int64_t free_from(const struct busy *busy, size_t count, int64_t time_s, int64_t duration_s, size_t *steps);

/* ---- ways to find a schedule ---- */

struct lists;
struct bounds;

/** Good schedules, by placing parts of jobs one after the other. Always finds one, whatever the work allowed. */
struct lists *lists_start(const struct flat_problem *flat, struct toil *toil, struct best *best);

/** Better ones, by varying the order; until the work is done or the best is as good as `ideal`. */
void lists_improve(struct lists *lists, const struct worth *ideal, struct best *best);

/** The best schedule, by resolving each conflict in every way there is; whether all were tried within the work
 * allowed. */
bool conflicts_resolve(struct bounds *bounds, struct toil *toil, struct best *best);

/* ---- bounds ---- */

/** Jobs by what they take of something there is so much of. */
struct shares {
	size_t *jobs;
	int64_t *takes; /* by job */
	size_t count;
	int64_t room;
};

/** When each task can be, at the earliest and latest. */
struct windows {
	int64_t *at;	     /* it does not start earlier */
	int64_t *tail_s;     /* from its end to the end of all, at least */
	int64_t *latest_end; /* for the finish */
};

struct windows windows_new(const struct flat_problem *flat);

/** Room for what follows. */
struct bounds {
	const struct flat_problem *flat;
	size_t *tasks; /* with hands, by start */
	size_t *heap, *spare;
	int64_t *left_s;      /* of each task */
	struct windows heads; /* each job alone */
	bool *forced;	      /* by job */
	struct shares shares;
	int64_t *latest_ends;
	size_t latest_end_count;
};

void bounds_init(struct bounds *bounds, const struct flat_problem *flat);

/** Sorts tasks by their starts; equal ones stay as they are. */
void sort_tasks(struct bounds *bounds, size_t *tasks, size_t count, const int64_t *at);

/** Whether the hands are late for the finish even if they could leave a task for another and come back to it; else no
 * schedule ends before *end_s. The jobs are those of `is_in`. */
bool hands_are_late(struct bounds *bounds, const struct windows *windows, const bool *is_in, int64_t *end_s);

/** No schedule is worth more in which the jobs of `is_out` (may be null) are not done. */
int64_t value_bound(struct bounds *bounds, const bool *is_out);

/** No schedule that is worth `value` ends earlier. */
int64_t end_bound(struct bounds *bounds, int64_t value);

#endif
