/* What was decided in the search for the best schedule, and what follows from it. */
#ifndef COMPUTE_SCHEDULE_DECISIONS_H
#define COMPUTE_SCHEDULE_DECISIONS_H

#include "compute/schedule_parts.h"

/* `to` never starts earlier than so long after `from` starts. */
struct arc {
	size_t to;
	int64_t after_s;
	size_t next; /* of the same task; SCHEDULE_NONE */
};

struct change {
	size_t task;
	int64_t at;
};

/* Tasks or claims that cannot all be at once: at least one of the ways to part them holds in every schedule. */
struct way {
	size_t from, to; /* tasks */
	int64_t after_s;
	int64_t end_s;	 /* nothing ends earlier then */
	int64_t delay_s; /* by which `to` would be later */
};

struct decisions {
	struct bounds *bounds;
	const struct flat_problem *flat;
	struct toil *toil;
	struct best *best;
	struct windows windows; /* as far as decided */
	int64_t *at;		/* of the windows */
	size_t *by_start;	/* tasks of jobs that are in */
	size_t task_count;
	bool *is_in, *is_out; /* by job */
	struct arc *arcs;
	size_t arc_count, arc_capacity;
	size_t *first_arc; /* by task */
	struct change *changes;
	size_t change_count, change_capacity;
	size_t *queue; /* tasks whose start has changed, as a ring */
	size_t queue_first, queue_count, queue_room;
	bool *is_queued;
	size_t *hands; /* tasks with hands, of jobs that are in, by start */
	size_t hands_count;
	size_t *claims; /* of jobs that are in, by resource and start */
	size_t claim_count;
	size_t *active; /* claims at one time */
	struct way *ways;
	size_t way_count, way_capacity;
	size_t way_base; /* where those of the conflict at hand begin */
	bool is_free;	 /* there is no conflict */
	bool is_cut;	 /* something was not looked at */
};

/** When a task ends, as far as decided. */
int64_t decided_end(const struct decisions *now, size_t task);

/** Has decisions_settle look at what follows a task. */
void decisions_queue(struct decisions *now, size_t task);

/** Decides that a task starts so long after another or later; false where that is too late for the finish. */
bool decisions_add(struct decisions *now, size_t from, size_t to, int64_t after_s);

/** Raises what follows until nothing does; false where something is too late. In any case nothing is queued then. */
bool decisions_settle(struct decisions *now);

/** Takes back what was decided and raised since there were so many changes. */
void decisions_take_back(struct decisions *now, size_t change_count);

/** Finds what must follow each task. */
void decisions_find_tails(struct decisions *now);

/** The ways to resolve a conflict, behind way_base; or that there is none. */
void decisions_find_ways(struct decisions *now);

#endif
