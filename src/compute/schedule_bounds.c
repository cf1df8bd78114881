/* What no schedule can do better than, from what is left when most of what binds it is dropped: the hands' work,
 * what is in use and for how long, each job by itself. */
#include "compute/schedule_parts.h"

#include <string.h>

/* ---- the hands, if they could leave a task for another ---- */

/* Which of two tasks goes first: the one with the longest tail for an early end, the one that must end first for the
 * finish. */
static bool goes_before(const struct windows *windows, size_t a, size_t b, bool for_finish)
{
	if (for_finish && windows->latest_end[a] != windows->latest_end[b])
		return windows->latest_end[a] < windows->latest_end[b];
	if (!for_finish && windows->tail_s[a] != windows->tail_s[b])
		return windows->tail_s[a] > windows->tail_s[b];
	return a < b;
}

static void heap_push(const struct windows *windows, size_t *heap, size_t *count, size_t task, bool for_finish)
{
	size_t i = (*count)++;

	for (; i > 0 && goes_before(windows, task, heap[(i - 1) / 2], for_finish); i = (i - 1) / 2)
		heap[i] = heap[(i - 1) / 2];
	heap[i] = task;
}

static void heap_pop(const struct windows *windows, size_t *heap, size_t *count, bool for_finish)
{
	size_t task = heap[--*count];
	size_t i = 0;

	for (;;) {
		size_t child = 2 * i + 1;

		if (child >= *count)
			break;
		if (child + 1 < *count && goes_before(windows, heap[child + 1], heap[child], for_finish))
			child++;
		if (!goes_before(windows, heap[child], task, for_finish))
			break;
		heap[i] = heap[child];
		i = child;
	}
	heap[i] = task;
}

/* Does the tasks in the best order there is, if each may be interrupted. For the finish: whether one is late. Else the
 * earliest end of all. The order is known to be best without breaks; with them, work goes on behind them. */
static bool run_relaxed(struct bounds *bounds, size_t count, const struct windows *windows, bool for_finish,
			int64_t *end_s)
{
	const struct flat_problem *flat = bounds->flat;
	size_t next = 0;
	size_t waiting = 0;
	size_t pause = 0;
	int64_t now_s = 0;

	while (next < count || waiting > 0) {
		if (waiting == 0 && windows->at[bounds->tasks[next]] > now_s)
			now_s = windows->at[bounds->tasks[next]];
		for (; pause < flat->break_count && flat->breaks[pause].start_s <= now_s; pause++)
			if (flat->breaks[pause].end_s > now_s)
				now_s = flat->breaks[pause].end_s;
		for (; next < count && windows->at[bounds->tasks[next]] <= now_s; next++)
			heap_push(windows, bounds->heap, &waiting, bounds->tasks[next], for_finish);

		size_t task = bounds->heap[0];
		int64_t until_s = now_s + bounds->left_s[task];

		if (next < count && windows->at[bounds->tasks[next]] < until_s)
			until_s = windows->at[bounds->tasks[next]];
		if (pause < flat->break_count && flat->breaks[pause].start_s < until_s)
			until_s = flat->breaks[pause].start_s;
		bounds->left_s[task] -= until_s - now_s;
		now_s = until_s;
		if (bounds->left_s[task] > 0)
			continue;
		if (for_finish && now_s > windows->latest_end[task])
			return true;
		if (!for_finish && add_up(now_s, windows->tail_s[task]) > *end_s)
			*end_s = add_up(now_s, windows->tail_s[task]);
		heap_pop(windows, bounds->heap, &waiting, for_finish);
	}
	return false;
}

/* Collects the tasks with hands of some jobs, by their starts. */
static size_t collect(struct bounds *bounds, const struct windows *windows, const bool *is_in, int64_t *end_s)
{
	const struct flat_problem *flat = bounds->flat;
	size_t count = 0;

	for (size_t i = 0; i < flat->order_count; i++) {
		const struct flat_job *job = &flat->jobs[flat->order[i]];

		if (!is_in[flat->order[i]])
			continue;
		for (size_t k = job->first; k < job->end; k++) {
			int64_t job_end_s = add_up(windows->at[k] + flat->tasks[k].duration_s, windows->tail_s[k]);

			if (job_end_s > *end_s)
				*end_s = job_end_s;
			if (flat->tasks[k].needs_hands)
				bounds->tasks[count++] = k;
		}
	}
	return count;
}

void sort_tasks(struct bounds *bounds, size_t *tasks, size_t count, const int64_t *at)
{
	size_t *from = tasks;
	size_t *into = bounds->spare;

	for (size_t width = 1; width < count; width *= 2) {
		for (size_t low = 0; low < count; low += 2 * width) {
			size_t middle = low + width < count ? low + width : count;
			size_t high = middle + width < count ? middle + width : count;
			size_t left = low;
			size_t right = middle;

			for (size_t i = low; i < high; i++)
				into[i] = right == high || (left < middle && at[from[left]] <= at[from[right]])
						  ? from[left++]
						  : from[right++];
		}
		size_t *swap = from;

		from = into;
		into = swap;
	}
	if (from != tasks)
		memcpy(tasks, from, count * sizeof tasks[0]);
}

bool hands_are_late(struct bounds *bounds, const struct windows *windows, const bool *is_in, int64_t *end_s)
{
	const struct flat_problem *flat = bounds->flat;
	size_t count;

	*end_s = 0;
	count = collect(bounds, windows, is_in, end_s);
	sort_tasks(bounds, bounds->tasks, count, windows->at);
	for (size_t turn = 0; turn < 2; turn++) {
		for (size_t i = 0; i < count; i++)
			bounds->left_s[bounds->tasks[i]] = flat->tasks[bounds->tasks[i]].duration_s;
		if (run_relaxed(bounds, count, windows, turn == 0, end_s))
			return true;
	}
	return false;
}

/* ---- how much can be done ---- */

/* a * b of two that are not negative; SCHEDULE_NEVER where it would be more. */
static int64_t multiply(int64_t a, int64_t b)
{
	return b != 0 && a > SCHEDULE_NEVER / b ? SCHEDULE_NEVER : a * b;
}

/* Whether one job is worth more for what it takes than another. */
static bool is_denser(const struct flat_problem *flat, const struct shares *shares, size_t a, size_t b)
{
	return multiply(flat->jobs[a].said->value, shares->takes[b]) >
	       multiply(flat->jobs[b].said->value, shares->takes[a]);
}

/* Collects the jobs that are not out, the densest first. False where figures are so large that products of them are
 * not exact: then nothing is said. */
static bool sort_shares(const struct flat_problem *flat, struct shares *shares, const bool *is_out)
{
	int64_t most_value = 0;
	int64_t most_takes = 1;

	shares->count = 0;
	for (size_t i = 0; i < flat->order_count; i++) {
		size_t job = flat->order[i];
		size_t place = shares->count;

		if (is_out != NULL && is_out[job])
			continue;
		if (flat->jobs[job].said->value > most_value)
			most_value = flat->jobs[job].said->value;
		if (shares->takes[job] > most_takes)
			most_takes = shares->takes[job];
		for (; place > 0 && is_denser(flat, shares, job, shares->jobs[place - 1]); place--)
			shares->jobs[place] = shares->jobs[place - 1];
		shares->jobs[place] = job;
		shares->count++;
	}
	return multiply(most_value, most_takes) < SCHEDULE_NEVER;
}

/* The most value there is room for, if parts of jobs counted too. */
static int64_t value_in_room(const struct flat_problem *flat, struct shares *shares, const bool *is_out)
{
	int64_t value = 0;
	int64_t room = shares->room < 0 ? 0 : shares->room;

	if (!sort_shares(flat, shares, is_out))
		return SCHEDULE_NEVER;
	for (size_t i = 0; i < shares->count; i++) {
		int64_t takes = shares->takes[shares->jobs[i]];
		int64_t worth = flat->jobs[shares->jobs[i]].said->value;

		if (takes > room)
			return add_up(value, worth * room / takes);
		room -= takes;
		value = add_up(value, worth);
	}
	return value;
}

/* Whether so much value cannot be had without a job. */
static bool is_forced(const struct flat_problem *flat, size_t job, int64_t value)
{
	int64_t others = 0;

	for (size_t i = 0; i < flat->order_count; i++)
		if (flat->order[i] != job)
			others = add_up(others, flat->jobs[flat->order[i]].said->value);
	return others < value;
}

/* The least that must be taken for so much value, if parts counted too of jobs that it can do without. */
static int64_t least_taken(const struct flat_problem *flat, struct shares *shares, const bool *forced, int64_t value)
{
	int64_t taken = 0;

	if (!sort_shares(flat, shares, NULL))
		return 0;
	for (size_t i = 0; i < shares->count; i++) {
		size_t job = shares->jobs[i];

		if (!forced[job])
			continue;
		taken = add_up(taken, shares->takes[job]);
		value -= flat->jobs[job].said->value < value ? flat->jobs[job].said->value : value;
	}
	for (size_t i = 0; i < shares->count && value > 0; i++) {
		size_t job = shares->jobs[i];
		int64_t worth = flat->jobs[job].said->value;

		if (forced[job])
			continue;
		if (worth > value)
			return add_up(taken, shares->takes[job] * value / worth);
		taken = add_up(taken, shares->takes[job]);
		value -= worth;
	}
	return taken;
}

/* ---- time with hands ---- */

/* How long the hands are not in a break, between two times. */
static int64_t hands_between(const struct flat_problem *flat, int64_t from_s, int64_t to_s)
{
	int64_t free_s = to_s > from_s ? to_s - from_s : 0;

	for (size_t i = 0; i < flat->break_count; i++) {
		int64_t start_s = flat->breaks[i].start_s > from_s ? flat->breaks[i].start_s : from_s;
		int64_t end_s = flat->breaks[i].end_s < to_s ? flat->breaks[i].end_s : to_s;

		if (end_s > start_s)
			free_s -= end_s - start_s;
	}
	return free_s;
}

/* When so much work is done that begins at a time. */
static int64_t worked_until(const struct flat_problem *flat, int64_t from_s, int64_t work_s)
{
	for (size_t i = 0; i < flat->break_count; i++) {
		const struct busy *pause = &flat->breaks[i];

		if (pause->end_s <= from_s)
			continue;
		if (pause->start_s > from_s) {
			if (work_s <= pause->start_s - from_s)
				break;
			work_s -= pause->start_s - from_s;
		}
		from_s = pause->end_s;
	}
	return add_up(from_s, work_s);
}

/* What jobs take of the hands in tasks that must have ended by a time; returns when the first of these can begin. */
static int64_t share_hands(const struct flat_problem *flat, struct shares *shares, const bool *is_out, int64_t latest_s)
{
	int64_t from_s = SCHEDULE_NEVER;

	for (size_t i = 0; i < flat->order_count; i++) {
		size_t j = flat->order[i];

		shares->takes[j] = 0;
		for (size_t k = flat->jobs[j].first; k < flat->jobs[j].end; k++) {
			const struct flat_task *task = &flat->tasks[k];

			if (!task->needs_hands || task->latest_end_s > latest_s)
				continue;
			shares->takes[j] = add_up(shares->takes[j], task->duration_s);
			if (task->head_s < from_s && (is_out == NULL || !is_out[j]))
				from_s = task->head_s;
		}
	}
	return from_s;
}

/* What jobs take of a thing, as amount times time; the most that is there between the first claim and the end of the
 * last that begins in time. */
static void share_resource(const struct flat_problem *flat, struct shares *shares, const bool *is_out, size_t resource)
{
	int64_t from_s = SCHEDULE_NEVER;
	int64_t to_s = 0;

	for (size_t i = 0; i < flat->order_count; i++) {
		size_t j = flat->order[i];

		shares->takes[j] = 0;
		for (size_t c = flat->jobs[j].first_claim; c < flat->jobs[j].end_claim; c++) {
			const struct flat_claim *claim = &flat->claims[c];
			const struct flat_task *task = &flat->tasks[claim->from];
			int64_t latest_s = add_up(task->latest_end_s - task->duration_s, claim->least_s);

			if (claim->resource != resource)
				continue;
			shares->takes[j] = add_up(shares->takes[j], multiply(claim->amount, claim->least_s));
			if (is_out != NULL && is_out[j])
				continue;
			if (task->head_s < from_s)
				from_s = task->head_s;
			if (latest_s > to_s)
				to_s = latest_s;
		}
	}
	shares->room = to_s <= from_s ? 0 : multiply(flat->said->resources[resource].amount, to_s - from_s);
}

/* ---- value ---- */

#define LATEST_ENDS_MOST 16

/* The times by which some task with hands must have ended, different ones, of the jobs first in order. */
static size_t collect_latest_ends(const struct flat_problem *flat, int64_t *ends)
{
	size_t count = 0;

	for (size_t i = 0; i < flat->order_count; i++) {
		const struct flat_job *job = &flat->jobs[flat->order[i]];

		for (size_t k = job->first; job->twin_rank == 0 && k < job->end; k++) {
			size_t known = 0;

			while (known < count && ends[known] != flat->tasks[k].latest_end_s)
				known++;
			if (!flat->tasks[k].needs_hands || known < count)
				continue;
			ends[count++] = flat->tasks[k].latest_end_s;
			if (count == LATEST_ENDS_MOST)
				return count;
		}
	}
	return count;
}

int64_t value_bound(struct bounds *bounds, const bool *is_out)
{
	const struct flat_problem *flat = bounds->flat;
	struct shares *shares = &bounds->shares;
	int64_t value = 0;

	for (size_t i = 0; i < flat->order_count; i++)
		if (is_out == NULL || !is_out[flat->order[i]])
			value = add_up(value, flat->jobs[flat->order[i]].said->value);
	if (flat->said->finish_s >= SCHEDULE_LATEST)
		return value;
	for (size_t i = 0; i < bounds->latest_end_count; i++) {
		int64_t from_s = share_hands(flat, shares, is_out, bounds->latest_ends[i]);

		shares->room = hands_between(flat, from_s, bounds->latest_ends[i]);
		int64_t most = value_in_room(flat, shares, is_out);

		if (most < value)
			value = most;
	}
	for (size_t r = 0; r < flat->said->resource_count; r++) {
		share_resource(flat, shares, is_out, r);
		int64_t most = shares->room == SCHEDULE_NEVER ? value : value_in_room(flat, shares, is_out);

		if (most < value)
			value = most;
	}
	return value;
}

/* ---- end ---- */

/* Of so much work with hands, from when the first can begin to what comes behind the last. */
static int64_t end_by_hands(struct bounds *bounds, const bool *forced, int64_t value)
{
	const struct flat_problem *flat = bounds->flat;
	int64_t tail_s = SCHEDULE_NEVER;
	int64_t from_s = share_hands(flat, &bounds->shares, NULL, SCHEDULE_LATEST);
	int64_t work_s = least_taken(flat, &bounds->shares, forced, value);

	for (size_t k = 0; k < flat->task_count; k++)
		if (flat->tasks[k].needs_hands && flat->jobs[flat->tasks[k].job].is_possible &&
		    flat->tasks[k].tail_s < tail_s)
			tail_s = flat->tasks[k].tail_s;
	return work_s == 0 ? 0 : add_up(worked_until(flat, from_s, work_s), tail_s);
}

/* What claims of one thing have in common. */
struct claims_of_thing {
	int64_t head_s, tail_s, least_s, after_s, amount; /* the least of each, but the most of after_s */
};

static struct claims_of_thing look_at_claims(const struct flat_problem *flat, size_t resource)
{
	struct claims_of_thing all = { SCHEDULE_NEVER, SCHEDULE_NEVER, SCHEDULE_NEVER, 0, SCHEDULE_NEVER };

	for (size_t c = 0; c < flat->claim_count; c++) {
		const struct flat_claim *claim = &flat->claims[c];

		if (claim->resource != resource || !flat->jobs[flat->tasks[claim->from].job].is_possible)
			continue;
		if (flat->tasks[claim->from].head_s < all.head_s)
			all.head_s = flat->tasks[claim->from].head_s;
		if (flat->tasks[claim->to].tail_s < all.tail_s)
			all.tail_s = flat->tasks[claim->to].tail_s;
		if (claim->least_s < all.least_s)
			all.least_s = claim->least_s;
		if (claim->after_s > all.after_s)
			all.after_s = claim->after_s;
		if (claim->amount < all.amount)
			all.amount = claim->amount;
	}
	return all;
}

/* Of so much taken of a thing: as amount times time, and as claims of which only so many are there at once. */
static int64_t end_by_resource(struct bounds *bounds, const bool *forced, int64_t value, size_t resource)
{
	const struct flat_problem *flat = bounds->flat;
	struct claims_of_thing all = look_at_claims(flat, resource);
	int64_t amount = flat->said->resources[resource].amount;

	if (all.amount == SCHEDULE_NEVER)
		return 0;
	share_resource(flat, &bounds->shares, NULL, resource);
	int64_t taken = least_taken(flat, &bounds->shares, forced, value);
	int64_t lasts_s = taken == SCHEDULE_NEVER ? 0 : taken / amount + (taken % amount != 0);

	for (size_t j = 0; j < flat->job_count; j++) {
		bounds->shares.takes[j] = 0;
		for (size_t c = flat->jobs[j].first_claim; c < flat->jobs[j].end_claim; c++)
			bounds->shares.takes[j] += flat->claims[c].resource == resource;
	}
	taken = least_taken(flat, &bounds->shares, forced, value);
	int64_t at_once = amount / all.amount;
	int64_t rounds_s = multiply(taken / at_once + (taken % at_once != 0), all.least_s);

	if (rounds_s > lasts_s && rounds_s < SCHEDULE_LATEST)
		lasts_s = rounds_s;
	lasts_s = all.head_s + lasts_s - all.after_s + all.tail_s;
	return taken == 0 || lasts_s < 0 ? 0 : lasts_s;
}

int64_t end_bound(struct bounds *bounds, int64_t value)
{
	const struct flat_problem *flat = bounds->flat;
	bool *forced = bounds->forced;
	int64_t end_s = 0;
	int64_t other_s;

	if (value <= 0)
		return 0;
	for (size_t i = 0; i < flat->order_count; i++)
		forced[flat->order[i]] = is_forced(flat, flat->order[i], value);
	/* what is late for the finish is said by the value; here only the end counts */
	(void)hands_are_late(bounds, &bounds->heads, forced, &end_s);
	other_s = end_by_hands(bounds, forced, value);
	if (other_s > end_s)
		end_s = other_s;
	for (size_t r = 0; r < flat->said->resource_count; r++) {
		other_s = end_by_resource(bounds, forced, value, r);
		if (other_s > end_s)
			end_s = other_s;
	}
	return end_s;
}

struct windows windows_new(const struct flat_problem *flat)
{
	return (struct windows){ .at = ARENA_ARRAY(flat->arena, int64_t, flat->task_count + 1),
				 .tail_s = ARENA_ARRAY(flat->arena, int64_t, flat->task_count + 1),
				 .latest_end = ARENA_ARRAY(flat->arena, int64_t, flat->task_count + 1) };
}

void bounds_init(struct bounds *bounds, const struct flat_problem *flat)
{
	*bounds = (struct bounds){ .flat = flat };
	bounds->tasks = ARENA_ARRAY(flat->arena, size_t, flat->task_count + 1);
	bounds->spare = ARENA_ARRAY(flat->arena, size_t, flat->task_count + 1);
	bounds->heap = ARENA_ARRAY(flat->arena, size_t, flat->task_count + 1);
	bounds->left_s = ARENA_ARRAY(flat->arena, int64_t, flat->task_count + 1);
	bounds->heads = windows_new(flat);
	bounds->forced = ARENA_ARRAY(flat->arena, bool, flat->job_count + 1);
	bounds->latest_ends = ARENA_ARRAY(flat->arena, int64_t, LATEST_ENDS_MOST);
	bounds->shares.jobs = ARENA_ARRAY(flat->arena, size_t, flat->job_count + 1);
	bounds->shares.takes = ARENA_ARRAY(flat->arena, int64_t, flat->job_count + 1);
	bounds->latest_end_count = collect_latest_ends(flat, bounds->latest_ends);
	for (size_t k = 0; k < flat->task_count; k++) {
		bounds->heads.at[k] = flat->tasks[k].head_s;
		bounds->heads.tail_s[k] = flat->tasks[k].tail_s;
		bounds->heads.latest_end[k] = flat->tasks[k].latest_end_s;
	}
}
