/* The problem checked and laid out flat: what can never be done, when each task can be at the earliest and latest. */
#include "compute/schedule_parts.h"

#include <string.h>

int64_t add_up(int64_t a, int64_t b)
{
	return a > SCHEDULE_NEVER - b ? SCHEDULE_NEVER : a + b;
}

void toil_count(struct toil *toil, size_t steps)
{
	toil->steps = add_up(toil->steps, (int64_t)steps);
}

bool toil_is_left(const struct toil *toil)
{
	return toil->steps < toil->steps_most;
}

/* ---- what is said ---- */

static bool is_sound_task(const struct schedule_task *task)
{
	return task->duration_s >= 0 && task->duration_s <= SCHEDULE_LATEST && task->wait_least_s >= 0 &&
	       task->wait_least_s <= SCHEDULE_LATEST && task->wait_most_s >= task->wait_least_s;
}

static bool is_sound_claim(const struct schedule_claim *claim, const struct schedule_job *job,
			   const struct schedule_problem *problem)
{
	return claim->from_task <= claim->to_task && claim->to_task < job->task_count &&
	       claim->resource < problem->resource_count && claim->after_s >= 0 &&
	       claim->amount <= problem->resources[claim->resource].amount;
}

/* Whether a job is well formed and asks for nothing that there is not. */
static bool is_sound(const struct schedule_job *job, const struct schedule_problem *problem)
{
	bool sound = job->value > 0 && job->done_task < job->task_count;

	for (size_t i = 0; sound && i < job->task_count; i++)
		sound = is_sound_task(&job->tasks[i]);
	for (size_t i = 0; sound && i < job->claim_count; i++)
		sound = is_sound_claim(&job->claims[i], job, problem);
	for (size_t i = 0; sound && i < job->after_count; i++)
		sound = job->after[i] < problem->job_count &&
			job->after_task[i] < problem->jobs[job->after[i]].task_count;
	return sound;
}

/* Breaks in order, clipped to times there are, and joined where they touch. */
static void lay_out_breaks(struct flat_problem *flat)
{
	const struct schedule_problem *problem = flat->said;
	size_t count = 0;

	flat->breaks = ARENA_ARRAY(flat->arena, struct busy, problem->break_count + 1);
	for (size_t i = 0; i < problem->break_count; i++) {
		const struct schedule_break *pause = &problem->breaks[i];
		size_t place = count;

		if (pause->duration_s <= 0 || pause->start_s > SCHEDULE_LATEST)
			continue;
		int64_t end_s = pause->start_s < 0 ? pause->start_s + pause->duration_s
						   : add_up(pause->start_s, pause->duration_s);
		if (end_s <= 0)
			continue;
		for (; place > 0 && flat->breaks[place - 1].start_s > pause->start_s; place--)
			flat->breaks[place] = flat->breaks[place - 1];
		flat->breaks[place] = (struct busy){ pause->start_s, end_s };
		count++;
	}
	for (size_t i = 0; i < count; i++) {
		struct busy *last = flat->break_count == 0 ? NULL : &flat->breaks[flat->break_count - 1];

		if (last != NULL && flat->breaks[i].start_s <= last->end_s) {
			if (flat->breaks[i].end_s > last->end_s)
				last->end_s = flat->breaks[i].end_s;
		} else {
			flat->breaks[flat->break_count++] = flat->breaks[i];
		}
	}
}

static void lay_out_task(struct flat_problem *flat, const struct schedule_task *said, size_t job)
{
	struct flat_task *task = &flat->tasks[flat->task_count++];

	*task = (struct flat_task){
		.duration_s = said->duration_s,
		.wait_least_s = said->wait_least_s,
		.wait_most_s = said->wait_most_s > SCHEDULE_LATEST ? SCHEDULE_NEVER : said->wait_most_s,
		.needs_hands = said->needs_hands && said->duration_s > 0,
		.shuns_breaks = (said->needs_hands || !said->may_be_in_break) && said->duration_s > 0,
		.job = job,
	};
	if (task->needs_hands) {
		struct flat_job *flat_job = &flat->jobs[job];

		flat_job->hands_s = add_up(flat_job->hands_s, task->duration_s);
		if (task->duration_s > flat->longest_hands_s)
			flat->longest_hands_s = task->duration_s;
	}
}

/* A job's claims by the task they begin with: among claims of one job, the later one gives way. */
static void lay_out_claims(struct flat_problem *flat, struct flat_job *job)
{
	job->first_claim = flat->claim_count;
	for (size_t i = 0; i < job->said->claim_count; i++) {
		const struct schedule_claim *said = &job->said->claims[i];
		struct flat_claim claim = { said->resource,
					    said->amount,
					    job->first + said->from_task,
					    job->first + said->to_task,
					    said->after_s > SCHEDULE_LATEST ? SCHEDULE_LATEST : said->after_s,
					    0 };
		size_t place = flat->claim_count;

		if (said->amount <= 0)
			continue;
		for (size_t k = claim.from; k <= claim.to; k++)
			claim.least_s = add_up(claim.least_s,
					       add_up(flat->tasks[k].duration_s,
						      k == claim.from ? claim.after_s : flat->tasks[k].wait_least_s));
		for (; place > job->first_claim && flat->claims[place - 1].from > claim.from; place--)
			flat->claims[place] = flat->claims[place - 1];
		flat->claims[place] = claim;
		flat->claim_count++;
	}
	job->end_claim = flat->claim_count;
}

static void lay_out_jobs(struct flat_problem *flat)
{
	const struct schedule_problem *problem = flat->said;
	size_t task_count = 0;
	size_t claim_count = 0;

	for (size_t j = 0; j < problem->job_count; j++) {
		task_count += problem->jobs[j].task_count;
		claim_count += problem->jobs[j].claim_count;
	}
	flat->tasks = ARENA_ARRAY(flat->arena, struct flat_task, task_count + 1);
	flat->claims = ARENA_ARRAY(flat->arena, struct flat_claim, claim_count + 1);
	flat->jobs = ARENA_ARRAY(flat->arena, struct flat_job, problem->job_count + 1);
	flat->job_count = problem->job_count;
	for (size_t j = 0; j < problem->job_count; j++) {
		struct flat_job *job = &flat->jobs[j];

		*job = (struct flat_job){ .said = &problem->jobs[j],
					  .first = flat->task_count,
					  .end = flat->task_count,
					  .first_claim = flat->claim_count,
					  .end_claim = flat->claim_count,
					  .twin_before = SCHEDULE_NONE };
		job->is_possible = is_sound(job->said, problem);
		if (!job->is_possible)
			continue;
		for (size_t k = 0; k < job->said->task_count; k++)
			lay_out_task(flat, &job->said->tasks[k], j);
		job->end = flat->task_count;
		job->done = job->first + job->said->done_task;
		lay_out_claims(flat, job);
	}
}

static void link_dependents(struct flat_problem *flat)
{
	for (size_t pass = 0; pass < 2; pass++) {
		for (size_t j = 0; j < flat->job_count; j++) {
			const struct schedule_job *said = flat->jobs[j].said;

			for (size_t i = 0; flat->jobs[j].is_possible && i < said->after_count; i++) {
				struct flat_job *before = &flat->jobs[said->after[i]];

				if (pass == 1)
					before->dependents[before->dependent_count] = j;
				before->dependent_count++;
			}
		}
		for (size_t j = 0; pass == 0 && j < flat->job_count; j++) {
			flat->jobs[j].dependents = ARENA_ARRAY(flat->arena, size_t, flat->jobs[j].dependent_count + 1);
			flat->jobs[j].dependent_count = 0;
		}
	}
}

/* ---- times ---- */

/* From the end backwards: how long the rest of the job takes, and when a task must have ended for the finish. */
static void find_tails(struct flat_problem *flat, const struct flat_job *job)
{
	int64_t tail_s = 0;
	int64_t latest_s = SCHEDULE_LATEST;

	for (size_t k = job->end; k-- > job->first;) {
		struct flat_task *task = &flat->tasks[k];

		if ((task->needs_hands || k == job->done) && flat->finish_s < latest_s)
			latest_s = flat->finish_s;
		task->tail_s = tail_s;
		task->latest_end_s = latest_s;
		tail_s = add_up(tail_s, add_up(task->duration_s, task->wait_least_s));
		latest_s -= task->duration_s + task->wait_least_s;
		if (latest_s < -1)
			latest_s = -1;
	}
}

/* No schedule that cannot be moved earlier ends later than this: behind the last break, something goes on at any
 * time. */
static int64_t horizon_of(const struct flat_problem *flat)
{
	int64_t horizon_s = flat->break_count == 0 ? 0 : flat->breaks[flat->break_count - 1].end_s;

	for (size_t k = 0; k < flat->task_count; k++)
		horizon_s = add_up(horizon_s, flat->tasks[k].duration_s + flat->tasks[k].wait_least_s);
	for (size_t c = 0; c < flat->claim_count; c++)
		horizon_s = add_up(horizon_s, flat->claims[c].after_s);
	return horizon_s;
}

/* What the horizon and the waits that are limited say about when a task must have ended. */
static void limit_ends(struct flat_problem *flat, const struct flat_job *job, int64_t horizon_s)
{
	int64_t before_s = 0;

	for (size_t k = job->first; k < job->end; k++) {
		struct flat_task *task = &flat->tasks[k];
		int64_t latest_s = add_up(add_up(before_s, task->wait_most_s), task->duration_s);

		if (horizon_s < task->latest_end_s)
			task->latest_end_s = horizon_s;
		if (latest_s < task->latest_end_s)
			task->latest_end_s = latest_s;
		before_s = task->latest_end_s < 0 ? 0 : task->latest_end_s;
	}
}

/* A part of a job that others may come between needs a wait that is long enough for something with hands. */
static void find_parts(struct flat_problem *flat)
{
	for (size_t k = 0; k < flat->task_count; k++) {
		struct flat_task *task = &flat->tasks[k];

		task->may_part = k == flat->jobs[task->job].first || task->wait_most_s == SCHEDULE_NEVER ||
				 task->wait_most_s - task->wait_least_s >= flat->longest_hands_s;
		flat->part_count += task->may_part;
	}
}

/* Each job alone on the board, behind those it comes after: so it is never earlier. Jobs are taken when all they come
 * after are through; what is in a circle never is, and what comes after something impossible is so too. */
static void find_heads(struct flat_problem *flat)
{
	struct toil unlimited = { 0, SCHEDULE_NEVER };
	struct board board;
	size_t *waiting = ARENA_ARRAY(flat->arena, size_t, flat->job_count + 1);
	size_t *queue = ARENA_ARRAY(flat->arena, size_t, flat->job_count + 1);
	size_t count = 0;

	board_init(&board, flat, &unlimited);
	for (size_t j = 0; j < flat->job_count; j++) {
		waiting[j] = flat->jobs[j].is_possible ? flat->jobs[j].said->after_count : 0;
		if (waiting[j] == 0)
			queue[count++] = j;
	}
	for (size_t i = 0; i < count; i++) {
		struct flat_job *job = &flat->jobs[queue[i]];

		for (size_t a = 0; job->is_possible && a < job->said->after_count; a++)
			job->is_possible = flat->jobs[job->said->after[a]].is_possible;
		if (job->is_possible)
			job->is_possible = board_find(&board, queue[i], job->end) == PLACING_DONE;
		for (size_t k = job->first; job->is_possible && k < job->end; k++)
			flat->tasks[k].head_s = board.at[k];
		for (size_t d = 0; d < job->dependent_count; d++)
			if (--waiting[job->dependents[d]] == 0)
				queue[count++] = job->dependents[d];
	}
	for (size_t j = 0; j < flat->job_count; j++)
		if (waiting[j] > 0)
			flat->jobs[j].is_possible = false;
}

/* The order in which jobs are considered: each behind those it comes after, else urgent ones first, then as they
 * stand. */
static void find_order(struct flat_problem *flat)
{
	bool *is_ordered = ARENA_ARRAY(flat->arena, bool, flat->job_count + 1);
	size_t before;

	flat->order = ARENA_ARRAY(flat->arena, size_t, flat->job_count + 1);
	do {
		before = flat->order_count;
		for (size_t turn = 0; turn < 2; turn++)
			for (size_t j = 0; j < flat->job_count; j++) {
				const struct schedule_job *said = flat->jobs[j].said;
				bool is_next =
					flat->jobs[j].is_possible && !is_ordered[j] && (said->is_urgent || turn == 1);

				for (size_t a = 0; is_next && a < said->after_count; a++)
					is_next = is_ordered[said->after[a]];
				if (!is_next)
					continue;
				is_ordered[j] = true;
				flat->order[flat->order_count++] = j;
			}
	} while (flat->order_count > before);
}

void flatten(struct flat_problem *flat, const struct schedule_problem *problem, struct arena *arena)
{
	*flat = (struct flat_problem){ .said = problem, .arena = arena };
	flat->finish_s = problem->finish_s > SCHEDULE_LATEST ? SCHEDULE_LATEST : problem->finish_s;
	lay_out_breaks(flat);
	lay_out_jobs(flat);
	link_dependents(flat);
	int64_t horizon_s = horizon_of(flat);

	for (size_t j = 0; j < flat->job_count; j++) {
		find_tails(flat, &flat->jobs[j]);
		limit_ends(flat, &flat->jobs[j], horizon_s);
	}
	find_parts(flat);
	find_heads(flat);
	find_order(flat);
	find_twins(flat);
}
