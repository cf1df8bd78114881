/* When each load is loaded, run, hung and dry: one pair of hands, several tanks, reels that must dry, a dryer of so
 * many places, breaks and a finish time.
 *
 * A job is one load: a chain of tasks in a fixed order. A task may need the hands; between two tasks there is a
 * least and a most time. Jobs take things from the start of one task to the end of another, and for a while longer.
 * Times are whole seconds since the day's start. Pure: no model, no text. Deterministic. Everything lives in the
 * arena given.
 *
 * The schedule wanted: of the jobs that can be done before the finish, those worth most are done (`value`, e.g.
 * rolls, urgent ones more); among these the fewest urgent jobs are left; then the sum of the ends of urgent jobs (of
 * done_task) is least; then the last end of all.
 *
 * What is proven is proven among all schedules, not only among those that some rule makes: a schedule in which no
 * task can be earlier without a change of order is as good as any other, and of these all are looked at that no bound
 * and no job alike rules out. Days of up to about five loads are usually proven with the default work; of larger
 * ones the best found is given, with bounds.
 *
 * Times are half open. What takes no time takes no hands, is in no break and uses nothing. A job that is not well
 * formed (a negative time, wait_most below wait_least, an index that is none, a claim from behind its end or of more
 * than there is, no value), that comes after itself, or that ends later than SCHEDULE_LATEST is left. A claim of
 * nothing or less is none; breaks may touch or overlap after all. Sums of values stop at INT64_MAX. */
#ifndef COMPUTE_SCHEDULE_H
#define COMPUTE_SCHEDULE_H

#include <stdbool.h>
#include <stddef.h>
#include <stdint.h>

#include "support/arena.h"

#define SCHEDULE_NEVER INT64_MAX
#define SCHEDULE_LATEST (INT64_MAX >> 24) /* 17 thousand years: nothing ends later */

struct schedule_task {
	int64_t duration_s;
	bool needs_hands;
	bool may_be_in_break; /* goes on by itself while the hands rest; ignored where hands are needed */
	int64_t wait_least_s; /* from the end of the task before it in the job (or the day's start) */
	int64_t wait_most_s;  /* SCHEDULE_NEVER: as long as you like; 0: at once */
};

/** So many of a kind of thing are taken from the start of one task to the end of another, and `after_s` longer. */
struct schedule_claim {
	size_t resource;
	int64_t amount;
	size_t from_task;
	size_t to_task;
	int64_t after_s;
};

struct schedule_job {
	const struct schedule_task *tasks;
	size_t task_count;
	const struct schedule_claim *claims;
	size_t claim_count;
	const size_t *after;	  /* jobs of which a task must have ended before this job's first task starts */
	const size_t *after_task; /* of each such job: that task */
	size_t after_count;
	int64_t value; /* above 0: what doing it today is worth */
	bool is_urgent;
	size_t done_task; /* the task whose end counts as the job's end (hung, or dry) */
};

/** A thing there are so many of: tanks of a kind, reels of a format, places in the dryer. */
struct schedule_resource {
	int64_t amount;
};

struct schedule_break {
	int64_t start_s; /* a task that needs the hands never reaches into a break */
	int64_t duration_s;
};

struct schedule_problem {
	const struct schedule_job *jobs;
	size_t job_count;
	const struct schedule_resource *resources;
	size_t resource_count;
	const struct schedule_break *breaks; /* in order, not overlapping */
	size_t break_count;
	int64_t finish_s; /* hands must be free and done_task ended by then; SCHEDULE_NEVER: open */
	/* nodes that may be searched before the best so far is taken; 0: the default, about 0.2 s. A node is one
	 * decision, or as much of other work as takes that long; the first schedule is found whatever the limit. */
	int64_t work_most;
};

struct schedule_placement {
	bool is_done;	   /* else it is left for another day, and nothing below is set */
	int64_t *starts_s; /* of each task */
	int64_t end_s;	   /* of done_task */
};

struct schedule {
	struct schedule_placement *jobs; /* by job */
	size_t *order;			 /* jobs that are done, by the start of their first task */
	size_t done_count;
	int64_t end_s; /* of the last task of all, of hands or not */
	int64_t value;
	int64_t value_bound; /* no schedule is worth more */
	/* none that is worth as much ends earlier; where it is proven, none that is also as good for urgent jobs */
	int64_t end_bound_s;
	bool is_proven; /* value, urgent jobs' ends and end are the best */
	int64_t work;
};

/** Plans. A job that depends on one that is left undone is left undone too. */
struct schedule *schedule_solve(const struct schedule_problem *problem, struct arena *arena);

#endif
