/* The best schedule, searched in every way that matters. First it is decided which jobs are done; then every task is put
 * as early as its waits and what was decided before allow; where two tasks meet for the hands, or claims are more than
 * there is, it is decided which comes first, each way in turn. A schedule without a conflict is the best of all in which
 * what was decided holds, since nothing in it can be earlier. So every schedule is looked at, but for those that bounds
 * rule out and those that differ only in which of several jobs that are alike is which. */
#include "compute/schedule_parts.h"

#include <string.h>

#define DEPTH_MOST 4000 /* decisions on top of each other */

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
	int64_t delay_s; /* by which `to` would be later */
};

struct decisions {
	struct bounds *bounds;
	const struct flat_problem *flat;
	struct toil *toil;
	struct best *best;
	int64_t *at;
	bool *is_in, *is_out; /* by job */
	struct arc *arcs;
	size_t arc_count, arc_capacity;
	size_t *first_arc; /* by task */
	struct change *changes;
	size_t change_count, change_capacity;
	size_t *queue; /* tasks whose start has changed, as a ring */
	size_t queue_first, queue_count;
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

/* ---- starts that follow from what was decided ---- */

static int64_t end_of(const struct decisions *now, size_t task)
{
	return now->at[task] + now->flat->tasks[task].duration_s;
}

/* A task starts at a time or later; false where that is too late for the finish. */
static bool raise(struct decisions *now, size_t index, int64_t time_s)
{
	const struct flat_task *task = &now->flat->tasks[index];
	size_t steps = 1;

	if (time_s <= now->at[index])
		return true;
	if (task->shuns_breaks)
		time_s = free_from(now->flat->breaks, now->flat->break_count, time_s, task->duration_s, &steps);
	toil_count(now->toil, steps);
	if (time_s > task->latest_end_s - task->duration_s)
		return false;
	ARENA_RESERVE(now->flat->arena, now->changes, now->change_count, now->change_capacity);
	now->changes[now->change_count++] = (struct change){ index, now->at[index] };
	now->at[index] = time_s;
	if (!now->is_queued[index]) {
		now->is_queued[index] = true;
		now->queue[(now->queue_first + now->queue_count++) % now->flat->task_count] = index;
	}
	return true;
}

static bool pass_on(struct decisions *now, size_t index)
{
	const struct flat_problem *flat = now->flat;
	const struct flat_job *job = &flat->jobs[flat->tasks[index].job];
	bool is_possible = true;

	if (index + 1 < job->end)
		is_possible = raise(now, index + 1, end_of(now, index) + flat->tasks[index + 1].wait_least_s);
	if (is_possible && index > job->first && flat->tasks[index].wait_most_s != SCHEDULE_NEVER)
		is_possible =
			raise(now, index - 1,
			      now->at[index] - flat->tasks[index].wait_most_s - flat->tasks[index - 1].duration_s);
	for (size_t a = now->first_arc[index]; is_possible && a != SCHEDULE_NONE; a = now->arcs[a].next)
		is_possible = raise(now, now->arcs[a].to, now->at[index] + now->arcs[a].after_s);
	return is_possible;
}

/* Raises what follows until nothing does. */
static bool settle(struct decisions *now)
{
	bool is_possible = true;

	while (now->queue_count > 0) {
		size_t index = now->queue[now->queue_first];

		now->queue_first = (now->queue_first + 1) % now->flat->task_count;
		now->queue_count--;
		now->is_queued[index] = false;
		/* what is too late is emptied out */
		is_possible = is_possible && toil_is_left(now->toil) && pass_on(now, index);
	}
	if (!toil_is_left(now->toil))
		now->is_cut = true;
	return is_possible;
}

/* Adds an arc and raises what it asks for; false where that is too late. */
static bool add_arc(struct decisions *now, size_t from, size_t to, int64_t after_s)
{
	ARENA_RESERVE(now->flat->arena, now->arcs, now->arc_count, now->arc_capacity);
	now->arcs[now->arc_count] = (struct arc){ to, after_s, now->first_arc[from] };
	now->first_arc[from] = now->arc_count++;
	/* found again by take_back */
	ARENA_RESERVE(now->flat->arena, now->changes, now->change_count, now->change_capacity);
	now->changes[now->change_count++] = (struct change){ from, -1 };
	return raise(now, to, now->at[from] + after_s);
}

/* Takes back what has changed since. */
static void take_back(struct decisions *now, size_t change_count)
{
	while (now->change_count > change_count) {
		const struct change *change = &now->changes[--now->change_count];

		if (change->at < 0) {
			now->first_arc[change->task] = now->arcs[--now->arc_count].next;
		} else {
			now->at[change->task] = change->at;
		}
	}
}

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
			worth.urgent_s = add_up(worth.urgent_s, end_of(now, flat->jobs[j].done));
		else if (flat->jobs[j].said->is_urgent && (now->is_out[j] || !flat->jobs[j].is_possible))
			worth.urgent_left++;
	}
	if (compare_worth(&worth, &now->best->worth, false) >= 0)
		return false;
	if (hands_are_late(now->bounds, now->at, now->is_in, &end_s))
		return false;
	worth.end_s = end_s;
	return compare_worth(&worth, &now->best->worth, false) < 0;
}

/* ---- conflicts ---- */

/* Of jobs that are alike, the first has each of its tasks and claims before the second's. */
static bool is_later_twin(const struct decisions *now, size_t task, size_t other)
{
	const struct flat_job *job = &now->flat->jobs[now->flat->tasks[task].job];
	const struct flat_job *before = &now->flat->jobs[now->flat->tasks[other].job];

	return job->twin_first == before->twin_first && job->twin_rank > before->twin_rank &&
	       task - job->first == other - before->first;
}

static void add_way(struct decisions *now, size_t from, size_t to, int64_t after_s)
{
	struct way way = { from, to, after_s, now->at[from] + after_s - now->at[to] };
	size_t place = now->way_count;

	ARENA_RESERVE(now->flat->arena, now->ways, now->way_count, now->way_capacity);
	for (; place > now->way_base && now->ways[place - 1].delay_s > way.delay_s; place--)
		now->ways[place] = now->ways[place - 1];
	now->ways[place] = way;
	now->way_count++;
}

/* The first time at which two tasks meet for the hands; SCHEDULE_NEVER. */
static int64_t find_meeting(struct decisions *now, size_t *earlier, size_t *later)
{
	size_t last = SCHEDULE_NONE;

	for (size_t i = 1; i < now->hands_count; i++) {
		size_t task = now->hands[i];
		size_t place = i;

		for (; place > 0 && now->at[now->hands[place - 1]] > now->at[task]; place--)
			now->hands[place] = now->hands[place - 1];
		now->hands[place] = task;
	}
	for (size_t i = 0; i < now->hands_count; i++) {
		size_t task = now->hands[i];

		if (last != SCHEDULE_NONE && now->at[task] < end_of(now, last)) {
			*earlier = last;
			*later = task;
			return now->at[task];
		}
		last = task;
	}
	return SCHEDULE_NEVER;
}

static int64_t release_of(const struct decisions *now, size_t claim)
{
	return end_of(now, now->flat->claims[claim].to) + now->flat->claims[claim].after_s;
}

static int64_t begin_of(const struct decisions *now, size_t claim)
{
	return now->at[now->flat->claims[claim].from];
}

static bool begins_before(const struct decisions *now, size_t a, size_t b)
{
	size_t left = now->flat->claims[a].resource;
	size_t right = now->flat->claims[b].resource;

	return left != right ? left < right : begin_of(now, a) < begin_of(now, b);
}

/* The first time before `before_s` at which there is not enough of something; the claims then are in `active`. */
static int64_t find_shortage(struct decisions *now, int64_t before_s, size_t *count)
{
	const struct flat_claim *claims = now->flat->claims;
	size_t low = 0;

	for (size_t i = 1; i < now->claim_count; i++) {
		size_t claim = now->claims[i];
		size_t place = i;

		for (; place > 0 && begins_before(now, claim, now->claims[place - 1]); place--)
			now->claims[place] = now->claims[place - 1];
		now->claims[place] = claim;
	}
	int64_t found_s = SCHEDULE_NEVER;
	size_t found = 0;

	for (size_t i = 0; i < now->claim_count; i++) {
		size_t claim = now->claims[i];
		int64_t time_s = begin_of(now, claim);
		int64_t amount = now->flat->said->resources[claims[claim].resource].amount;

		while (claims[now->claims[low]].resource != claims[claim].resource)
			low = i;
		if (time_s >= before_s || time_s >= found_s)
			continue;
		for (size_t k = low; k <= i; k++) {
			if (release_of(now, now->claims[k]) <= time_s)
				continue;
			amount -= claims[now->claims[k]].amount <= amount ? claims[now->claims[k]].amount : amount + 1;
			if (amount < 0)
				break;
		}
		toil_count(now->toil, 1 + (i - low) / 4);
		if (amount < 0) {
			found_s = time_s;
			found = i;
		}
	}
	if (found_s == SCHEDULE_NEVER)
		return found_s;
	*count = 0;
	for (size_t k = 0; k <= found; k++)
		if (claims[now->claims[k]].resource == claims[now->claims[found]].resource &&
		    release_of(now, now->claims[k]) > found_s)
			now->active[(*count)++] = now->claims[k];
	return found_s;
}

/* Leaves out claims, the smallest first, that are not needed for there being too little. */
static size_t shrink_shortage(struct decisions *now, size_t count)
{
	const struct flat_claim *claims = now->flat->claims;
	int64_t over = 0;

	for (size_t i = 1; i < count; i++) {
		size_t claim = now->active[i];
		size_t place = i;

		for (; place > 0 && claims[now->active[place - 1]].amount < claims[claim].amount; place--)
			now->active[place] = now->active[place - 1];
		now->active[place] = claim;
	}
	/* the largest ones until there are enough of them; the one that fills it up may be the smallest that does */
	int64_t amount = now->flat->said->resources[claims[now->active[0]].resource].amount;
	size_t needed = 0;

	for (; over <= amount - claims[now->active[needed]].amount; needed++)
		over += claims[now->active[needed]].amount;
	return needed + 1;
}

static void part_claims(struct decisions *now, size_t count)
{
	const struct flat_claim *claims = now->flat->claims;

	for (size_t a = 0; a < count; a++)
		for (size_t b = 0; b < count; b++) {
			const struct flat_claim *before = &claims[now->active[a]];
			const struct flat_claim *behind = &claims[now->active[b]];
			int64_t after_s = now->flat->tasks[before->to].duration_s + before->after_s;

			/* a claim is out of another's way if it lasts no time */
			if (a == b && before->least_s > 0)
				continue;
			if (before->least_s > 0 && is_later_twin(now, before->from, behind->from) &&
			    is_later_twin(now, before->to, behind->to))
				continue;
			add_way(now, before->to, behind->from, after_s);
		}
}

/* The ways to resolve the first conflict, behind way_base; or that there is none. */
static void find_ways(struct decisions *now)
{
	size_t earlier = 0;
	size_t later = 0;
	size_t count = 0;
	int64_t meeting_s = find_meeting(now, &earlier, &later);
	int64_t shortage_s = find_shortage(now, meeting_s, &count);

	now->is_free = shortage_s == SCHEDULE_NEVER && meeting_s == SCHEDULE_NEVER;
	if (shortage_s != SCHEDULE_NEVER) {
		part_claims(now, shrink_shortage(now, count));
	} else if (meeting_s != SCHEDULE_NEVER) {
		if (!is_later_twin(now, earlier, later))
			add_way(now, earlier, later, now->flat->tasks[earlier].duration_s);
		if (!is_later_twin(now, later, earlier))
			add_way(now, later, earlier, now->flat->tasks[later].duration_s);
	}
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
	find_ways(now);
	if (now->is_free) {
		best_take(now->best, now->flat, now->at, now->is_in);
		return;
	}
	size_t end = now->way_count;

	for (size_t i = base; i < end; i++) {
		struct way way = now->ways[i];
		size_t change_count = now->change_count;

		/* what is queued is taken off in any case */
		bool is_possible = add_arc(now, way.from, way.to, way.after_s);

		if (settle(now) && is_possible)
			decide(now, value, depth + 1);
		take_back(now, change_count);
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
		is_possible = add_arc(now, before + k, job->first + k,
				      flat->tasks[before + k].needs_hands ? flat->tasks[before + k].duration_s : 0);
	for (size_t c = job->first_claim; is_possible && c < job->end_claim; c++) {
		const struct flat_claim *claim = &flat->claims[c];
		int64_t at_once = flat->said->resources[claim->resource].amount / claim->amount;
		size_t other = index;

		if (claim->least_s == 0 || (uint64_t)at_once > job->twin_rank)
			continue;
		for (; at_once > 0; at_once--)
			other = flat->jobs[other].twin_before;
		is_possible = add_arc(now, flat->jobs[other].first + claim->to - job->first, claim->from,
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
		now->queue[(now->queue_first + now->queue_count++) % flat->task_count] = k;
		now->is_queued[k] = true;
	}
	for (size_t a = 0; is_possible && a < job->said->after_count; a++) {
		size_t before = flat->jobs[job->said->after[a]].first + job->said->after_task[a];

		is_possible = add_arc(now, before, job->first, flat->tasks[before].duration_s);
	}
	is_possible = is_possible && follow_twin(now, index);
	/* what is queued is taken off in any case */
	return settle(now) && is_possible;
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
	toil_count(now->toil, flat->claim_count + flat->task_count);
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
		take_back(now, change_count);
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
	struct decisions now = { .bounds = bounds, .flat = flat, .toil = toil, .best = best };

	now.at = ARENA_ARRAY(arena, int64_t, flat->task_count + 1);
	now.is_in = ARENA_ARRAY(arena, bool, flat->job_count + 1);
	now.is_out = ARENA_ARRAY(arena, bool, flat->job_count + 1);
	now.first_arc = ARENA_ARRAY(arena, size_t, flat->task_count + 1);
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
