/* The best schedule, searched in every way that matters. First it is decided which jobs are done; then every task is
 * put as early as its waits and what was decided before allow; where two tasks meet for the hands, or claims are
 * more than there is, it is decided which comes first, each way in turn. A schedule without a conflict is the best
 * of all in which what was decided holds, since nothing in it can be earlier. So every schedule is looked at, but
 * for those that bounds rule out and those that differ only in which of several jobs that are alike is which. */
#include "compute/schedule_decisions.h"

#define DEPTH_MOST 4000 /* decisions on top of each other */
#define JOBS_MOST 64	/* of larger days nothing is proven this way, in any time there is */
#define TASKS_MOST 1024

/* ---- what cannot be better ---- */

/* Whether a schedule in which what was decided holds could be better than the best. */
static bool is_promising(struct decisions *now, int64_t value)
{
	const struct flat_problem *flat = now->flat;
	struct worth worth = { .value = value };
	int64_t end_s;

	toil_count(now->toil, flat->order_count + 8 * now->hands_count);
	if (!now->best->exists)
		return true;
	for (size_t j = 0; j < flat->job_count; j++) {
		if (flat->jobs[j].said->is_urgent && now->is_in[j])
			worth.urgent_s = add_up(worth.urgent_s, decided_end(now, flat->jobs[j].done));
		else if (flat->jobs[j].said->is_urgent && (now->is_out[j] || !flat->jobs[j].is_possible))
			worth.urgent_left++;
	}
	if (compare_worth(&worth, &now->best->worth, false) >= 0)
		return false;
	decisions_find_tails(now);
	if (hands_are_late(now->bounds, &now->windows, now->is_in, &end_s))
		return false;
	worth.end_s = end_s;
	return compare_worth(&worth, &now->best->worth, false) < 0;
}

/* ---- the search ---- */

/* All jobs are decided upon: resolves the first conflict in every way. */
static void decide(struct decisions *now, int64_t value, size_t depth)
{
	size_t base = now->way_count;

	toil_count(now->toil, SCHEDULE_STEPS_PER_NODE);
	if (!toil_is_left(now->toil) || depth == DEPTH_MOST) {
		now->is_cut = true;
		return;
	}
	if (!is_promising(now, value))
		return;
	now->way_base = base;
	decisions_find_ways(now);
	if (now->is_free) {
		best_take(now->best, now->flat, now->at, now->is_in);
		return;
	}
	size_t end = now->way_count;

	for (size_t i = base; i < end; i++) {
		struct way way = now->ways[i];
		size_t change_count = now->change_count;

		/* what is queued is taken off in any case */
		bool is_possible = decisions_add(now, way.from, way.to, way.after_s);

		if (decisions_settle(now) && is_possible)
			decide(now, value, depth + 1);
		decisions_take_back(now, change_count);
	}
	now->way_count = base;
}

/* The lists of what can be in conflict, of the jobs that are in. */
static void collect(struct decisions *now)
{
	const struct flat_problem *flat = now->flat;

	now->hands_count = 0;
	now->claim_count = 0;
	for (size_t i = 0; i < flat->order_count; i++) {
		const struct flat_job *job = &flat->jobs[flat->order[i]];

		if (!now->is_in[flat->order[i]])
			continue;
		for (size_t k = job->first; k < job->end; k++)
			if (flat->tasks[k].needs_hands)
				now->hands[now->hands_count++] = k;
		for (size_t c = job->first_claim; c < job->end_claim; c++)
			now->claims[now->claim_count++] = c;
	}
}

/* Of two jobs alike, the first goes first in everything; and of claims of which only so many find room at once, the one
 * that is so many places before has ended. Exchanging the later and the earlier start of each pair of tasks makes any
 * schedule so, and changes neither what is used at any time nor when the last ends. */
static bool follow_twin(struct decisions *now, size_t index)
{
	const struct flat_problem *flat = now->flat;
	const struct flat_job *job = &flat->jobs[index];
	bool is_possible = true;

	if (job->twin_before == SCHEDULE_NONE)
		return true;
	size_t before = flat->jobs[job->twin_before].first;

	for (size_t k = 0; is_possible && k < job->end - job->first; k++)
		is_possible =
			decisions_add(now, before + k, job->first + k,
				      flat->tasks[before + k].needs_hands ? flat->tasks[before + k].duration_s : 0);
	for (size_t c = job->first_claim; is_possible && c < job->end_claim; c++) {
		const struct flat_claim *claim = &flat->claims[c];
		int64_t at_once = flat->said->resources[claim->resource].amount / claim->amount;
		size_t other = index;

		if (claim->least_s == 0 || (uint64_t)at_once > job->twin_rank)
			continue;
		for (; at_once > 0; at_once--)
			other = flat->jobs[other].twin_before;
		is_possible = decisions_add(now, flat->jobs[other].first + claim->to - job->first, claim->from,
					    flat->tasks[claim->to].duration_s + claim->after_s);
	}
	return is_possible;
}

/* Takes a job in: its tasks at their earliest, behind what it comes after. False where that is too late. */
static bool take_in(struct decisions *now, size_t index)
{
	const struct flat_problem *flat = now->flat;
	const struct flat_job *job = &flat->jobs[index];
	bool is_possible = true;

	now->is_in[index] = true;
	for (size_t k = job->first; k < job->end; k++) {
		now->at[k] = flat->tasks[k].head_s;
		decisions_queue(now, k);
	}
	for (size_t a = 0; is_possible && a < job->said->after_count; a++) {
		size_t before = flat->jobs[job->said->after[a]].first + job->said->after_task[a];

		is_possible = decisions_add(now, before, job->first, flat->tasks[before].duration_s);
	}
	is_possible = is_possible && follow_twin(now, index);
	/* what is queued is taken off in any case */
	return decisions_settle(now) && is_possible;
}

static bool can_be_in(const struct decisions *now, size_t index)
{
	const struct flat_job *job = &now->flat->jobs[index];
	bool can_be = job->twin_before == SCHEDULE_NONE || now->is_in[job->twin_before];

	for (size_t a = 0; can_be && a < job->said->after_count; a++)
		can_be = now->is_in[job->said->after[a]];
	return can_be;
}

/* Decides whether the next job is done, both ways. */
static void choose(struct decisions *now, size_t place, int64_t value)
{
	const struct flat_problem *flat = now->flat;

	if (place == flat->order_count) {
		collect(now);
		decide(now, value, 0);
		return;
	}
	toil_count(now->toil, 4 * (flat->claim_count + flat->task_count) + flat->order_count * flat->order_count);
	if (!toil_is_left(now->toil)) {
		now->is_cut = true;
		return;
	}
	size_t index = flat->order[place];

	if (can_be_in(now, index)) {
		size_t change_count = now->change_count;

		if (take_in(now, index) && is_promising(now, value_bound(now->bounds, now->is_out)))
			choose(now, place + 1, add_up(value, flat->jobs[index].said->value));
		now->is_in[index] = false;
		decisions_take_back(now, change_count);
	}
	now->is_out[index] = true;
	if (is_promising(now, value_bound(now->bounds, now->is_out)))
		choose(now, place + 1, value);
	now->is_out[index] = false;
}

bool conflicts_resolve(struct bounds *bounds, struct toil *toil, struct best *best)
{
	const struct flat_problem *flat = bounds->flat;
	struct arena *arena = flat->arena;

	if (flat->order_count > JOBS_MOST || flat->task_count > TASKS_MOST)
		return false;
	struct decisions now = { .bounds = bounds, .flat = flat, .toil = toil, .best = best };

	now.windows = windows_new(flat);
	now.at = now.windows.at;
	now.by_start = ARENA_ARRAY(arena, size_t, flat->task_count + 1);
	now.is_in = ARENA_ARRAY(arena, bool, flat->job_count + 1);
	now.is_out = ARENA_ARRAY(arena, bool, flat->job_count + 1);
	now.first_arc = ARENA_ARRAY(arena, size_t, flat->task_count + 1);
	now.queue_room = flat->task_count + 1;
	now.queue = ARENA_ARRAY(arena, size_t, flat->task_count + 1);
	now.is_queued = ARENA_ARRAY(arena, bool, flat->task_count + 1);
	now.hands = ARENA_ARRAY(arena, size_t, flat->task_count + 1);
	now.claims = ARENA_ARRAY(arena, size_t, flat->claim_count + 1);
	now.active = ARENA_ARRAY(arena, size_t, flat->claim_count + 1);
	for (size_t k = 0; k < flat->task_count; k++)
		now.first_arc[k] = SCHEDULE_NONE;
	choose(&now, 0, 0);
	return !now.is_cut;
}
