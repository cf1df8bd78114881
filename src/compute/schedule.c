/* Plans: what is checked and laid out is first placed by simple rules, then searched, and measured against bounds. */
#include "compute/schedule_parts.h"

#include <string.h>

/* In units of SCHEDULE_STEPS_PER_NODE steps of the innermost loops: so work means time, whatever the size. */
#define WORK_MOST 200000
#define SMALL_DAY 12 /* jobs that may be settled by a search in every way */

/* ---- what a schedule is worth ---- */

struct worth worth_of(const struct flat_problem *flat, const int64_t *at, const bool *is_done)
{
	struct worth worth = { 0, 0, 0, 0, 0 };

	for (size_t j = 0; j < flat->job_count; j++) {
		const struct flat_job *job = &flat->jobs[j];

		if (!is_done[j]) {
			worth.urgent_left += job->said->is_urgent;
			continue;
		}
		int64_t done_s = at[job->done] + flat->tasks[job->done].duration_s;
		int64_t end_s = at[job->end - 1] + flat->tasks[job->end - 1].duration_s;

		worth.value = add_up(worth.value, job->said->value);
		worth.ends_s = add_up(worth.ends_s, end_s);
		if (job->said->is_urgent)
			worth.urgent_s = add_up(worth.urgent_s, done_s);
		if (end_s > worth.end_s)
			worth.end_s = end_s;
	}
	return worth;
}

static int compare(int64_t a, int64_t b)
{
	return a < b ? -1 : a > b;
}

int compare_worth(const struct worth *a, const struct worth *b, bool with_ends)
{
	int order = compare(b->value, a->value);

	if (order == 0)
		order = compare(a->urgent_left, b->urgent_left);
	if (order == 0)
		order = compare(a->urgent_s, b->urgent_s);
	if (order == 0)
		order = compare(a->end_s, b->end_s);
	if (order == 0 && with_ends)
		order = compare(a->ends_s, b->ends_s);
	return order;
}

void best_take(struct best *best, const struct flat_problem *flat, const int64_t *at, const bool *is_done)
{
	best->exists = true;
	best->worth = worth_of(flat, at, is_done);
	memcpy(best->at, at, flat->task_count * sizeof at[0]);
	memcpy(best->is_done, is_done, flat->job_count * sizeof is_done[0]);
}

/* ---- the search ---- */

/* What no schedule is better than. */
static struct worth ideal_of(struct bounds *bounds)
{
	const struct flat_problem *flat = bounds->flat;
	struct worth ideal = { .value = value_bound(bounds, NULL) };

	ideal.end_s = end_bound(bounds, ideal.value);
	for (size_t j = 0; j < flat->job_count; j++) {
		const struct flat_job *job = &flat->jobs[j];

		if (!job->said->is_urgent)
			continue;
		if (!job->is_possible)
			ideal.urgent_left++;
		else
			ideal.urgent_s = add_up(ideal.urgent_s,
						flat->tasks[job->done].head_s + flat->tasks[job->done].duration_s);
	}
	return ideal;
}

/* Lets the next part of the search have so much of the work that is allowed. */
static void allow(struct toil *toil, int64_t steps_most, int64_t percent)
{
	toil->steps_most = steps_most / 100 * percent;
}

/* Simple rules first; then a search in every way, which settles small days; what is left goes to better lists and a
 * longer search from there. Whether the best is proven. */
static bool search(struct bounds *bounds, const struct worth *ideal, int64_t steps_most, struct toil *toil,
		   struct best *best)
{
	const struct flat_problem *flat = bounds->flat;
	bool is_small = flat->order_count <= SMALL_DAY;

	allow(toil, steps_most, 20);
	struct lists *lists = lists_start(flat, toil, best);

	if (compare_worth(&best->worth, ideal, false) <= 0)
		return true;
	allow(toil, steps_most, is_small ? 45 : 23);
	if (conflicts_resolve(bounds, toil, best))
		return true;
	allow(toil, steps_most, is_small ? 70 : 95);
	lists_improve(lists, ideal, best);
	if (compare_worth(&best->worth, ideal, false) <= 0)
		return true;
	allow(toil, steps_most, 100);
	return conflicts_resolve(bounds, toil, best);
}

/* ---- what comes of it ---- */

static void order_by_start(struct schedule *schedule, const struct flat_problem *flat, const struct best *best)
{
	for (size_t j = 0; j < flat->job_count; j++) {
		size_t place = schedule->done_count;

		if (!best->is_done[j])
			continue;
		for (; place > 0; place--) {
			size_t other = schedule->order[place - 1];

			if (best->at[flat->jobs[other].first] <= best->at[flat->jobs[j].first])
				break;
			schedule->order[place] = other;
		}
		schedule->order[place] = j;
		schedule->done_count++;
	}
}

static struct schedule *schedule_of(const struct flat_problem *flat, const struct best *best)
{
	struct schedule *schedule = ARENA_NEW(flat->arena, struct schedule);

	schedule->jobs = ARENA_ARRAY(flat->arena, struct schedule_placement, flat->job_count + 1);
	schedule->order = ARENA_ARRAY(flat->arena, size_t, flat->job_count + 1);
	for (size_t j = 0; j < flat->job_count; j++) {
		const struct flat_job *job = &flat->jobs[j];

		if (!best->is_done[j])
			continue;
		schedule->jobs[j] = (struct schedule_placement){
			.is_done = true,
			.starts_s = best->at + job->first,
			.end_s = best->at[job->done] + flat->tasks[job->done].duration_s,
		};
	}
	order_by_start(schedule, flat, best);
	schedule->end_s = best->worth.end_s;
	schedule->value = best->worth.value;
	return schedule;
}

struct schedule *schedule_solve(const struct schedule_problem *problem, struct arena *arena)
{
	struct flat_problem flat;
	struct bounds bounds;
	struct best best = { .exists = false };
	struct toil toil = { 0, SCHEDULE_NEVER };
	int64_t work_most = problem->work_most > 0 ? problem->work_most : WORK_MOST;

	flatten(&flat, problem, arena);
	best.at = ARENA_ARRAY(arena, int64_t, flat.task_count + 1);
	best.is_done = ARENA_ARRAY(arena, bool, flat.job_count + 1);
	bounds_init(&bounds, &flat);

	struct worth ideal = ideal_of(&bounds);
	int64_t steps_most = work_most > SCHEDULE_NEVER / SCHEDULE_STEPS_PER_NODE ? SCHEDULE_NEVER
										  : work_most * SCHEDULE_STEPS_PER_NODE;
	bool is_proven = search(&bounds, &ideal, steps_most, &toil, &best);
	struct schedule *schedule = schedule_of(&flat, &best);

	schedule->is_proven = is_proven;
	schedule->value_bound = is_proven ? schedule->value : ideal.value;
	schedule->end_bound_s = is_proven ? schedule->end_s : end_bound(&bounds, schedule->value);
	schedule->work = toil.steps / SCHEDULE_STEPS_PER_NODE;
	return schedule;
}
