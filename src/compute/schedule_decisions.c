/* The starts that follow from what was decided, each as early as it can be; and what must follow behind them. */
#include "compute/schedule_decisions.h"

int64_t decided_end(const struct decisions *now, size_t task)
{
	return now->at[task] + now->flat->tasks[task].duration_s;
}

void decisions_queue(struct decisions *now, size_t task)
{
	if (now->is_queued[task])
		return;
	now->is_queued[task] = true;
	now->queue[(now->queue_first + now->queue_count++) % now->queue_room] = task;
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
	decisions_queue(now, index);
	return true;
}

static bool pass_on(struct decisions *now, size_t index)
{
	const struct flat_problem *flat = now->flat;
	const struct flat_job *job = &flat->jobs[flat->tasks[index].job];
	bool is_possible = true;

	if (index + 1 < job->end)
		is_possible = raise(now, index + 1, decided_end(now, index) + flat->tasks[index + 1].wait_least_s);
	if (is_possible && index > job->first && flat->tasks[index].wait_most_s != SCHEDULE_NEVER)
		is_possible =
			raise(now, index - 1,
			      now->at[index] - flat->tasks[index].wait_most_s - flat->tasks[index - 1].duration_s);
	for (size_t a = now->first_arc[index]; is_possible && a != SCHEDULE_NONE; a = now->arcs[a].next)
		is_possible = raise(now, now->arcs[a].to, now->at[index] + now->arcs[a].after_s);
	return is_possible;
}

/* Raises what follows until nothing does. */
bool decisions_settle(struct decisions *now)
{
	bool is_possible = true;

	while (now->queue_count > 0) {
		size_t index = now->queue[now->queue_first];

		now->queue_first = (now->queue_first + 1) % now->queue_room;
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
bool decisions_add(struct decisions *now, size_t from, size_t to, int64_t after_s)
{
	ARENA_RESERVE(now->flat->arena, now->arcs, now->arc_count, now->arc_capacity);
	now->arcs[now->arc_count] = (struct arc){ to, after_s, now->first_arc[from] };
	now->first_arc[from] = now->arc_count++;
	/* found again by decisions_take_back */
	ARENA_RESERVE(now->flat->arena, now->changes, now->change_count, now->change_capacity);
	now->changes[now->change_count++] = (struct change){ from, -1 };
	return raise(now, to, now->at[from] + after_s);
}

/* Takes back what has changed since. */
void decisions_take_back(struct decisions *now, size_t change_count)
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

/* A task is followed by another that starts so long after its end, at least. */
static void look_back(struct decisions *now, size_t task, size_t next, int64_t wait_s)
{
	int64_t duration_s = now->flat->tasks[next].duration_s;
	int64_t tail_s = wait_s + duration_s + now->windows.tail_s[next];
	int64_t latest_s = now->windows.latest_end[next] - duration_s - wait_s;

	if (tail_s > now->windows.tail_s[task])
		now->windows.tail_s[task] = tail_s;
	if (latest_s < now->windows.latest_end[task])
		now->windows.latest_end[task] = latest_s;
}

/* What must follow each task by what was decided, from the last back to the first. Of tasks that start at once, one
 * may be looked at too early: it then has less behind it than there is, which does no harm. */
void decisions_find_tails(struct decisions *now)
{
	const struct flat_problem *flat = now->flat;

	now->task_count = 0;
	for (size_t i = 0; i < flat->order_count; i++) {
		const struct flat_job *job = &flat->jobs[flat->order[i]];

		for (size_t k = job->first; now->is_in[flat->order[i]] && k < job->end; k++) {
			now->windows.tail_s[k] = flat->tasks[k].tail_s;
			now->windows.latest_end[k] = flat->tasks[k].latest_end_s;
			now->by_start[now->task_count++] = k;
		}
	}
	sort_tasks(now->bounds, now->by_start, now->task_count, now->at);
	for (size_t i = now->task_count; i-- > 0;) {
		size_t task = now->by_start[i];

		if (task + 1 < flat->jobs[flat->tasks[task].job].end)
			look_back(now, task, task + 1, flat->tasks[task + 1].wait_least_s);
		for (size_t a = now->first_arc[task]; a != SCHEDULE_NONE; a = now->arcs[a].next)
			look_back(now, task, now->arcs[a].to, now->arcs[a].after_s - flat->tasks[task].duration_s);
	}
	toil_count(now->toil, now->task_count + now->arc_count / 2);
}
