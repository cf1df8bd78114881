/* Schedules of problems from standard input, for tests/plan/schedule.py. All figures are whole numbers, -1 for
 * "never":
 *
 *     PROBLEM finish work_most
 *     RESOURCES count, then the amount of each
 *     BREAKS count, then start and duration of each
 *     JOBS count, then of each
 *       value urgent done_task
 *       tasks count, of each: duration hands in_break wait_least wait_most
 *       claims count, of each: resource amount from_task to_task after_s
 *       after count, of each: job task
 *
 * without the words; problems follow each other to the end of input. Answers: a line "value end value_bound
 * end_bound is_proven work done_count bytes", one "order …", and one a job: "-" or its end and the starts of its
 * tasks. */
#include <inttypes.h>
#include <stdio.h>

#include "compute/schedule.h"

static int64_t read_figure(void)
{
	int64_t figure = 0;

	return scanf("%" SCNd64, &figure) == 1 ? figure : 0;
}

static int64_t read_time(void)
{
	int64_t time_s = read_figure();

	return time_s < 0 ? SCHEDULE_NEVER : time_s;
}

static size_t read_size(void)
{
	return (size_t)read_figure();
}

static const struct schedule_resource *read_resources(size_t count, struct arena *arena)
{
	struct schedule_resource *resources = ARENA_ARRAY(arena, struct schedule_resource, count + 1);

	for (size_t i = 0; i < count; i++)
		resources[i].amount = read_figure();
	return resources;
}

static const struct schedule_break *read_breaks(size_t count, struct arena *arena)
{
	struct schedule_break *breaks = ARENA_ARRAY(arena, struct schedule_break, count + 1);

	for (size_t i = 0; i < count; i++) {
		breaks[i].start_s = read_figure();
		breaks[i].duration_s = read_figure();
	}
	return breaks;
}

static const struct schedule_task *read_tasks(size_t count, struct arena *arena)
{
	struct schedule_task *tasks = ARENA_ARRAY(arena, struct schedule_task, count + 1);

	for (size_t i = 0; i < count; i++) {
		tasks[i].duration_s = read_figure();
		tasks[i].needs_hands = read_figure() != 0;
		tasks[i].may_be_in_break = read_figure() != 0;
		tasks[i].wait_least_s = read_figure();
		tasks[i].wait_most_s = read_time();
	}
	return tasks;
}

static const struct schedule_claim *read_claims(size_t count, struct arena *arena)
{
	struct schedule_claim *claims = ARENA_ARRAY(arena, struct schedule_claim, count + 1);

	for (size_t i = 0; i < count; i++) {
		claims[i].resource = read_size();
		claims[i].amount = read_figure();
		claims[i].from_task = read_size();
		claims[i].to_task = read_size();
		claims[i].after_s = read_figure();
	}
	return claims;
}

static void read_job(struct schedule_job *job, struct arena *arena)
{
	job->value = read_figure();
	job->is_urgent = read_figure() != 0;
	job->done_task = read_size();
	job->task_count = read_size();
	job->tasks = read_tasks(job->task_count, arena);
	job->claim_count = read_size();
	job->claims = read_claims(job->claim_count, arena);
	job->after_count = read_size();

	size_t *after = ARENA_ARRAY(arena, size_t, job->after_count + 1);
	size_t *after_task = ARENA_ARRAY(arena, size_t, job->after_count + 1);

	for (size_t i = 0; i < job->after_count; i++) {
		after[i] = read_size();
		after_task[i] = read_size();
	}
	job->after = after;
	job->after_task = after_task;
}

static bool read_problem(struct schedule_problem *problem, struct arena *arena)
{
	int64_t finish_s;

	if (scanf("%" SCNd64, &finish_s) != 1)
		return false;
	*problem = (struct schedule_problem){ .finish_s = finish_s < 0 ? SCHEDULE_NEVER : finish_s };
	problem->work_most = read_figure();
	problem->resource_count = read_size();
	problem->resources = read_resources(problem->resource_count, arena);
	problem->break_count = read_size();
	problem->breaks = read_breaks(problem->break_count, arena);
	problem->job_count = read_size();

	struct schedule_job *jobs = ARENA_ARRAY(arena, struct schedule_job, problem->job_count + 1);

	for (size_t i = 0; i < problem->job_count; i++)
		read_job(&jobs[i], arena);
	problem->jobs = jobs;
	return true;
}

static void print_schedule(const struct schedule_problem *problem, const struct schedule *schedule, size_t bytes)
{
	printf("%" PRId64 " %" PRId64 " %" PRId64 " %" PRId64 " %d %" PRId64 " %zu %zu\norder", schedule->value,
	       schedule->end_s, schedule->value_bound, schedule->end_bound_s, schedule->is_proven, schedule->work,
	       schedule->done_count, bytes);
	for (size_t i = 0; i < schedule->done_count; i++)
		printf(" %zu", schedule->order[i]);
	putchar('\n');
	for (size_t j = 0; j < problem->job_count; j++) {
		const struct schedule_placement *placement = &schedule->jobs[j];

		if (!placement->is_done) {
			puts("-");
			continue;
		}
		printf("%" PRId64, placement->end_s);
		for (size_t k = 0; k < problem->jobs[j].task_count; k++)
			printf(" %" PRId64, placement->starts_s[k]);
		putchar('\n');
	}
}

/* Whether there was a problem to answer. */
static bool answer(struct arena *arena)
{
	struct schedule_problem problem;

	if (!read_problem(&problem, arena))
		return false;
	size_t used = arena->used;
	const struct schedule *schedule = schedule_solve(&problem, arena);

	print_schedule(&problem, schedule, arena->used - used);
	arena_release(arena);
	return true;
}

int main(void)
{
	struct landing landing;
	struct arena arena;

	arena_init(&arena, &landing);
	if (setjmp(landing.place)) {
		fputs("memory ran out\n", stderr);
		return 1;
	}
	while (answer(&arena))
		fflush(stdout);
	return 0;
}
