/* Good schedules, found by placing parts of jobs one after the other, each as early as it fits among those already
 * there. A part is what nothing with hands could come between. The first lists are made by always taking the part that
 * can begin first; better ones by moving an entry and looking what comes of it. */
#include "compute/schedule_parts.h"

#include <string.h>

#define NEW_JOBS_LOOKED_AT 3

struct lists {
	const struct flat_problem *flat;
	struct toil *toil;
	struct board board;
	size_t *best_list, *list; /* jobs, one entry a part */
	size_t count;
	bool *is_used;	 /* by entry */
	bool *is_whole;	 /* by job: it is placed in one piece, in this list */
	bool *is_solid;	 /* by job: so in every list */
	bool *is_left;	 /* by job: it does not fit */
	bool *is_done;	 /* by job */
	size_t *started; /* jobs begun and not ended, in the order in which they began */
	size_t started_count;
	struct worth worth; /* of best_list */
	uint64_t chance;
	bool must_restart;
	bool may_stop; /* there is a schedule already: no need to make another if no work is left */
};

/* The same numbers in every run; the figures of the common 64-bit congruential generator. */
static size_t chance_below(struct lists *lists, size_t below)
{
	lists->chance = lists->chance * UINT64_C(6364136223846793005) + UINT64_C(1442695040888963407);
	return (size_t)((lists->chance >> 33) % below);
}

/* ---- one part ---- */

static bool is_ended(const struct lists *lists, size_t job)
{
	return lists->board.placed[job] == lists->flat->jobs[job].end;
}

static bool is_begun(const struct lists *lists, size_t job)
{
	return lists->board.placed[job] > lists->flat->jobs[job].first;
}

/* Whether what a job comes after is on the board. */
static bool is_ready(const struct lists *lists, size_t job)
{
	const struct schedule_job *said = lists->flat->jobs[job].said;

	if (is_begun(lists, job))
		return true;
	for (size_t a = 0; a < said->after_count; a++) {
		size_t before = said->after[a];

		if (lists->board.placed[before] <= lists->flat->jobs[before].first + said->after_task[a])
			return false;
	}
	return true;
}

static size_t part_end(const struct lists *lists, size_t job)
{
	const struct flat_problem *flat = lists->flat;
	size_t end = lists->board.placed[job] + 1;

	if (lists->is_whole[job])
		return flat->jobs[job].end;
	while (end < flat->jobs[job].end && !flat->tasks[end].may_part)
		end++;
	return end;
}

/* Leaves a job for another day, and what comes after it. */
static void leave(struct lists *lists, size_t job)
{
	const struct flat_job *flat_job = &lists->flat->jobs[job];

	if (lists->is_left[job])
		return;
	lists->is_left[job] = true;
	if (is_begun(lists, job))
		board_take(&lists->board, job);
	for (size_t d = 0; d < flat_job->dependent_count; d++)
		if (lists->flat->jobs[flat_job->dependents[d]].is_possible)
			leave(lists, flat_job->dependents[d]);
}

/* A part came too late after the one before it: the job is placed in one piece instead, at once if nothing on the board
 * comes after it. Else everything is placed anew, and such jobs are never parted again. */
static enum placing join(struct lists *lists, size_t job)
{
	const struct flat_problem *flat = lists->flat;
	const struct flat_job *flat_job = &flat->jobs[job];
	bool is_alone = true;

	for (size_t d = 0; d < flat_job->dependent_count; d++)
		is_alone = is_alone && !is_begun(lists, flat_job->dependents[d]);
	if (is_alone) {
		lists->is_whole[job] = true;
		board_take(&lists->board, job);
		return board_find(&lists->board, job, flat_job->end);
	}
	for (size_t i = 0; i < flat->order_count; i++)
		if (flat->jobs[flat->order[i]].twin_first == flat_job->twin_first)
			lists->is_solid[flat->order[i]] = true;
	lists->must_restart = true;
	return PLACING_HELD;
}

/* Finds a place for a job's next part; PLACING_TOO_LATE leaves it. */
static enum placing find_next(struct lists *lists, size_t job)
{
	enum placing placing = board_find(&lists->board, job, part_end(lists, job));

	if (placing == PLACING_MISSED)
		placing = join(lists, job);
	if (placing == PLACING_TOO_LATE)
		leave(lists, job);
	return placing;
}

static void clear(struct lists *lists)
{
	board_clear(&lists->board);
	lists->started_count = 0;
	lists->must_restart = false;
	for (size_t j = 0; j < lists->flat->job_count; j++)
		lists->is_left[j] = !lists->flat->jobs[j].is_possible;
	memcpy(lists->is_whole, lists->is_solid, lists->flat->job_count * sizeof lists->is_solid[0]);
}

static bool is_stopped(const struct lists *lists)
{
	return lists->may_stop && !toil_is_left(lists->toil);
}

/* What is on the board: jobs that are whole there are done, others are taken off. */
static struct worth finish(struct lists *lists)
{
	const struct flat_problem *flat = lists->flat;

	if (is_stopped(lists))
		return (struct worth){ .value = -1 };
	for (size_t i = flat->order_count; i-- > 0;)
		if (!is_ended(lists, flat->order[i]))
			leave(lists, flat->order[i]);
	for (size_t j = 0; j < flat->job_count; j++)
		lists->is_done[j] = !lists->is_left[j];
	return worth_of(flat, lists->board.at, lists->is_done);
}

/* ---- a list ---- */

/* Places the first entry that can be; whether there was one. */
static bool play_next(struct lists *lists, size_t *from)
{
	if (is_stopped(lists))
		return false;
	while (*from < lists->count && lists->is_used[*from])
		*from += 1;
	for (size_t i = *from; i < lists->count && !lists->must_restart; i++) {
		size_t job = lists->list[i];

		if (lists->is_used[i])
			continue;
		lists->is_used[i] = lists->is_left[job] || is_ended(lists, job);
		if (lists->is_used[i] || !is_ready(lists, job) || find_next(lists, job) != PLACING_DONE)
			continue;
		board_put(&lists->board, job, part_end(lists, job));
		lists->is_used[i] = true;
		return true;
	}
	return false;
}

static struct worth play(struct lists *lists)
{
	do {
		size_t from = 0;

		clear(lists);
		memset(lists->is_used, 0, lists->count * sizeof lists->is_used[0]);
		while (play_next(lists, &from))
			;
	} while (lists->must_restart && !is_stopped(lists));
	return finish(lists);
}

/* ---- the first lists ---- */

/* What a list is made by: how many jobs may be under way when a new one is begun (one: each is placed as if it were
 * alone, between those already there); whether, of parts that can begin at once, those of jobs begun go first; whether
 * what counts is the hands' first task; whether jobs with more work for the hands come first. */
struct rule {
	size_t under_way_most;
	bool begun_first, by_hands, by_length;
};

/* Chosen by trial on days of 8 to 40 loads from all 64 with limits of 1 to 12; the first is the quickest by far. */
static const struct rule rules[] = {
	{ 1, true, true, true },  { 6, false, true, true },  { 6, true, true, true }, { 4, true, true, true },
	{ 8, true, true, false }, { 1, true, false, false }, { 3, true, true, true },
};

#define FIRST_LISTS (sizeof rules / sizeof rules[0])

/* When a part that was found begins, by a rule. */
static int64_t beginning(const struct lists *lists, size_t job, const struct rule *rule)
{
	size_t first = lists->board.placed[job];
	size_t end = part_end(lists, job);

	for (size_t k = first; rule->by_hands && k < end; k++)
		if (lists->flat->tasks[k].needs_hands)
			return lists->board.at[k];
	return lists->board.at[first];
}

struct choice {
	size_t job;
	int64_t start_s;
};

static void consider(struct lists *lists, size_t job, bool is_preferred, const struct rule *rule, struct choice *choice)
{
	if (lists->must_restart || find_next(lists, job) != PLACING_DONE)
		return;
	int64_t start_s = beginning(lists, job, rule);

	if (choice->job != SCHEDULE_NONE &&
	    (start_s > choice->start_s || (start_s == choice->start_s && !is_preferred)))
		return;
	*choice = (struct choice){ job, start_s };
}

/* Of jobs begun and the next new ones, that whose part can begin first. */
static size_t choose(struct lists *lists, const size_t *order, size_t *from, const struct rule *rule)
{
	struct choice choice = { SCHEDULE_NONE, 0 };
	size_t looked_at = 0;
	size_t kept = 0;

	for (size_t i = 0; i < lists->started_count; i++) {
		size_t job = lists->started[i];

		if (lists->is_left[job] || is_ended(lists, job))
			continue;
		lists->started[kept++] = job;
		consider(lists, job, false, rule, &choice);
	}
	lists->started_count = kept;
	while (*from < lists->flat->order_count && (lists->is_left[order[*from]] || is_begun(lists, order[*from])))
		*from += 1;
	if (lists->started_count >= rule->under_way_most)
		return choice.job;
	for (size_t i = *from; i < lists->flat->order_count && looked_at < NEW_JOBS_LOOKED_AT; i++) {
		if (lists->is_left[order[i]] || is_begun(lists, order[i]) || !is_ready(lists, order[i]))
			continue;
		/* of jobs that are alike, one is enough */
		if (i > *from && looked_at > 0 && lists->flat->jobs[order[i]].twin_before == order[i - 1])
			continue;
		looked_at++;
		consider(lists, order[i], !rule->begun_first, rule, &choice);
	}
	return choice.job;
}

static void start_job(struct lists *lists, size_t job)
{
	for (size_t i = 0; i < lists->started_count; i++)
		if (lists->started[i] == job)
			return;
	lists->started[lists->started_count++] = job;
}

/* Makes a list by a rule; the schedule is on the board. Where all that is left waits for each other, the job begun last
 * gives way. */
static struct worth make_list(struct lists *lists, const size_t *order, const struct rule *rule)
{
	do {
		size_t from = 0;

		clear(lists);
		lists->count = 0;
		while (!lists->must_restart && !is_stopped(lists)) {
			size_t job = choose(lists, order, &from, rule);

			if (lists->must_restart || (job == SCHEDULE_NONE && lists->started_count == 0))
				break;
			if (job == SCHEDULE_NONE) {
				leave(lists, lists->started[--lists->started_count]);
				continue;
			}
			/* others were looked at since: what was found is found again */
			if (find_next(lists, job) != PLACING_DONE)
				continue;
			start_job(lists, job);
			board_put(&lists->board, job, part_end(lists, job));
			lists->list[lists->count++] = job;
		}
	} while (lists->must_restart && !is_stopped(lists));
	return finish(lists);
}

/* Gives entries to what a list lacks: jobs left, parts of jobs placed in one piece. */
static void complete_list(struct lists *lists)
{
	const struct flat_problem *flat = lists->flat;
	size_t *missing = ARENA_ARRAY(flat->arena, size_t, flat->job_count + 1);

	for (size_t k = 0; k < flat->task_count; k++)
		missing[flat->tasks[k].job] += flat->tasks[k].may_part;
	for (size_t i = 0; i < lists->count; i++)
		if (missing[lists->list[i]] > 0)
			missing[lists->list[i]]--;
	for (size_t i = 0; i < flat->order_count; i++)
		for (size_t j = flat->order[i]; missing[j] > 0 && lists->count < flat->part_count; missing[j]--)
			lists->list[lists->count++] = j;
}

static void keep_list(struct lists *lists, const struct worth *worth)
{
	lists->worth = *worth;
	memcpy(lists->best_list, lists->list, lists->count * sizeof lists->list[0]);
}

static void keep_schedule(struct lists *lists, struct best *best, const struct worth *worth)
{
	if (!best->exists || compare_worth(worth, &best->worth, false) < 0)
		best_take(best, lists->flat, lists->board.at, lists->is_done);
}

/* The order of jobs with those that have most work for the hands in front, as far as what they come after allows, and
 * none of less urgency. */
static size_t *order_by_length(const struct flat_problem *flat)
{
	size_t *order = ARENA_ARRAY(flat->arena, size_t, flat->order_count + 1);

	for (size_t i = 0; i < flat->order_count; i++) {
		const struct flat_job *job = &flat->jobs[flat->order[i]];
		size_t place = i;

		for (; place > 0; place--) {
			const struct flat_job *other = &flat->jobs[order[place - 1]];

			if (other->hands_s >= job->hands_s || job->said->after_count > 0 ||
			    other->said->is_urgent != job->said->is_urgent)
				break;
			order[place] = order[place - 1];
		}
		order[place] = flat->order[i];
	}
	return order;
}

struct lists *lists_start(const struct flat_problem *flat, struct toil *toil, struct best *best)
{
	struct lists *lists = ARENA_NEW(flat->arena, struct lists);
	size_t *by_length = order_by_length(flat);

	*lists = (struct lists){ .flat = flat, .toil = toil, .chance = 1 };
	board_init(&lists->board, flat, toil);
	lists->best_list = ARENA_ARRAY(flat->arena, size_t, flat->part_count + 1);
	lists->list = ARENA_ARRAY(flat->arena, size_t, flat->part_count + 1);
	lists->is_used = ARENA_ARRAY(flat->arena, bool, flat->part_count + 1);
	lists->is_whole = ARENA_ARRAY(flat->arena, bool, flat->job_count + 1);
	lists->is_solid = ARENA_ARRAY(flat->arena, bool, flat->job_count + 1);
	lists->is_left = ARENA_ARRAY(flat->arena, bool, flat->job_count + 1);
	lists->is_done = ARENA_ARRAY(flat->arena, bool, flat->job_count + 1);
	lists->started = ARENA_ARRAY(flat->arena, size_t, flat->job_count + 1);
	for (size_t i = 0; i < FIRST_LISTS && (i == 0 || toil_is_left(toil)); i++) {
		struct worth worth = make_list(lists, rules[i].by_length ? by_length : flat->order, &rules[i]);

		lists->may_stop = true;
		keep_schedule(lists, best, &worth);
		complete_list(lists);
		if (i == 0 || compare_worth(&worth, &lists->worth, true) < 0)
			keep_list(lists, &worth);
	}
	return lists;
}

/* ---- better lists ---- */

/* Moves one entry to another place, not far most of the time. */
static void move_entry(struct lists *lists)
{
	size_t from = chance_below(lists, lists->count);
	size_t reach = chance_below(lists, 4) == 0 ? lists->count : 6;
	size_t low = from > reach ? from - reach : 0;
	size_t high = from + reach < lists->count ? from + reach : lists->count - 1;
	size_t to = low + chance_below(lists, high - low + 1);
	size_t job = lists->list[from];

	if (to > from)
		memmove(&lists->list[from], &lists->list[from + 1], (to - from) * sizeof lists->list[0]);
	else
		memmove(&lists->list[to + 1], &lists->list[to], (from - to) * sizeof lists->list[0]);
	lists->list[to] = job;
}

/* Gives the places of two jobs to each other. */
static void exchange_jobs(struct lists *lists)
{
	size_t a = lists->list[chance_below(lists, lists->count)];
	size_t b = lists->list[chance_below(lists, lists->count)];

	for (size_t i = 0; i < lists->count; i++) {
		if (lists->list[i] == a)
			lists->list[i] = b;
		else if (lists->list[i] == b)
			lists->list[i] = a;
	}
}

void lists_improve(struct lists *lists, const struct worth *ideal, struct best *best)
{
	if (lists->count < 2)
		return;
	while (toil_is_left(lists->toil) && compare_worth(&best->worth, ideal, false) > 0) {
		memcpy(lists->list, lists->best_list, lists->count * sizeof lists->list[0]);
		for (size_t moves = 1 + chance_below(lists, 3); moves > 0; moves--) {
			if (chance_below(lists, 5) == 0)
				exchange_jobs(lists);
			else
				move_entry(lists);
		}
		struct worth worth = play(lists);

		keep_schedule(lists, best, &worth);
		if (compare_worth(&worth, &lists->worth, true) <= 0)
			keep_list(lists, &worth);
	}
}
