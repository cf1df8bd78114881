/* Schedules at the edges: nothing to do, what can never be done, times of no length and beyond all bounds. Expected
 * times are worked out by hand beside each. Whole days are compared in tests/plan/schedule.py. */
#include "arena_fixture.h"

#include "compute/schedule.h"

#define HANDS(duration)                                                                                                \
	{                                                                                                              \
		.duration_s = (duration), .needs_hands = true, .wait_most_s = SCHEDULE_NEVER                           \
	}
#define ALONE(duration)                                                                                                \
	{                                                                                                              \
		.duration_s = (duration), .may_be_in_break = true, .wait_most_s = SCHEDULE_NEVER                       \
	}
#define COUNT(array) (sizeof(array) / sizeof(array)[0])

static struct schedule_job job_of(const struct schedule_task *tasks, size_t count)
{
	return (struct schedule_job){ .tasks = tasks, .task_count = count, .value = 1, .done_task = count - 1 };
}

static struct schedule_problem problem_of(const struct schedule_job *jobs, size_t count)
{
	return (struct schedule_problem){ .jobs = jobs, .job_count = count, .finish_s = SCHEDULE_NEVER };
}

/* What is asked of every schedule here: it is proven, and its bounds are what it is. */
static const struct schedule *solve(const struct schedule_problem *problem)
{
	const struct schedule *schedule = schedule_solve(problem, &arena);

	assert_true(schedule->is_proven);
	assert_int_equal(schedule->value_bound, schedule->value);
	assert_int_equal(schedule->end_bound_s, schedule->end_s);
	return schedule;
}

static void without_jobs_nothing_is_done(void **state)
{
	(void)state;
	struct schedule_problem problem = problem_of(NULL, 0);
	const struct schedule *schedule = solve(&problem);

	assert_int_equal(schedule->done_count, 0);
	assert_int_equal(schedule->value, 0);
	assert_int_equal(schedule->end_s, 0);
}

static void what_never_fits_is_left_and_what_comes_after_it(void **state)
{
	(void)state;
	static const struct schedule_task longer[] = { HANDS(101) };
	static const struct schedule_task shorter[] = { HANDS(100) };
	static const size_t after[] = { 0 };
	static const size_t after_task[] = { 0 };
	struct schedule_job jobs[] = { job_of(longer, 1), job_of(shorter, 1), job_of(shorter, 1) };
	struct schedule_problem problem = problem_of(jobs, 3);

	jobs[1].after = after;
	jobs[1].after_task = after_task;
	jobs[1].after_count = 1;
	problem.finish_s = 100;

	const struct schedule *schedule = solve(&problem);

	assert_false(schedule->jobs[0].is_done);
	assert_false(schedule->jobs[1].is_done);
	assert_true(schedule->jobs[2].is_done);
	assert_int_equal(schedule->end_s, 100);
	assert_int_equal(schedule->done_count, 1);
	assert_int_equal(schedule->order[0], 2);
}

static void the_finish_is_for_hands_and_for_what_is_done(void **state)
{
	(void)state;
	/* hung at 30, then it dries until 130 by itself */
	static const struct schedule_task tasks[] = { HANDS(30), ALONE(100) };
	struct schedule_job job = job_of(tasks, 2);
	struct schedule_problem problem = problem_of(&job, 1);

	problem.finish_s = 30;
	assert_int_equal(solve(&problem)->done_count, 0);
	job.done_task = 0;
	assert_int_equal(solve(&problem)->done_count, 1);
	assert_int_equal(solve(&problem)->end_s, 130);
	assert_int_equal(solve(&problem)->jobs[0].end_s, 30);
	problem.finish_s = -1;
	assert_int_equal(solve(&problem)->done_count, 0);
}

static void tasks_of_no_time_take_nothing(void **state)
{
	(void)state;
	static const struct schedule_task instants[] = { HANDS(0), ALONE(0), HANDS(0) };
	static const struct schedule_task longer[] = { HANDS(10) };
	static const struct schedule_break breaks[] = { { 0, 0 }, { 0, 5 }, { 7, 0 } };
	struct schedule_job jobs[] = { job_of(instants, 3), job_of(longer, 1), job_of(instants, 3) };
	struct schedule_problem problem = problem_of(jobs, 3);

	problem.breaks = breaks;
	problem.break_count = 3;

	/* the instants are at the very start, in the break; the break of no length is none: 5 + 10 */
	const struct schedule *schedule = solve(&problem);

	assert_int_equal(schedule->jobs[0].end_s, 0);
	assert_int_equal(schedule->jobs[2].end_s, 0);
	assert_int_equal(schedule->end_s, 15);
}

static void a_claim_of_more_than_there_is_leaves_the_job(void **state)
{
	(void)state;
	static const struct schedule_task tasks[] = { ALONE(10) };
	static const struct schedule_resource resources[] = { { 3 } };
	static const struct schedule_claim larger[] = { { 0, 4, 0, 0, 0 } };
	static const struct schedule_claim just[] = { { 0, 3, 0, 0, 5 } };
	struct schedule_job jobs[] = { job_of(tasks, 1), job_of(tasks, 1), job_of(tasks, 1) };
	struct schedule_problem problem = problem_of(jobs, 3);

	problem.resources = resources;
	problem.resource_count = 1;
	for (size_t i = 0; i < 3; i++) {
		jobs[i].claims = i == 0 ? larger : just;
		jobs[i].claim_count = 1;
	}

	/* one from 0 to 10, all three are free again at 15, the other until 25 */
	const struct schedule *schedule = solve(&problem);

	assert_false(schedule->jobs[0].is_done);
	assert_int_equal(schedule->value, 2);
	assert_int_equal(schedule->end_s, 25);
}

static void a_break_at_the_start_is_kept(void **state)
{
	(void)state;
	static const struct schedule_task alone_in_break[] = { ALONE(10), HANDS(10) };
	static const struct schedule_task stops[] = { { .duration_s = 10, .wait_most_s = SCHEDULE_NEVER } };
	static const struct schedule_task at_once[] = { { .duration_s = 10, .needs_hands = true } };
	static const struct schedule_break breaks[] = { { -50, 70 } };
	struct schedule_job jobs[] = { job_of(alone_in_break, 2), job_of(stops, 1), job_of(at_once, 1) };
	struct schedule_problem problem = problem_of(jobs, 3);

	problem.breaks = breaks;
	problem.break_count = 1;

	const struct schedule *schedule = solve(&problem);

	assert_int_equal(schedule->jobs[0].starts_s[0], 0);
	assert_int_equal(schedule->jobs[0].starts_s[1], 20);
	assert_int_equal(schedule->jobs[1].starts_s[0], 20);
	/* it would have to begin with the day */
	assert_false(schedule->jobs[2].is_done);
}

static void a_wait_that_is_limited_pulls_the_task_before_it_along(void **state)
{
	(void)state;
	/* in the break nobody pours: the bath before it ends when the break does */
	static const struct schedule_task tasks[] = { ALONE(10), { .duration_s = 5, .needs_hands = true } };
	static const struct schedule_break breaks[] = { { 8, 92 } };
	struct schedule_job job = job_of(tasks, 2);
	struct schedule_problem problem = problem_of(&job, 1);

	problem.breaks = breaks;
	problem.break_count = 1;
	assert_int_equal(solve(&problem)->jobs[0].starts_s[0], 90);
	assert_int_equal(solve(&problem)->jobs[0].starts_s[1], 100);
}

static void loading_goes_on_while_a_wash_runs(void **state)
{
	(void)state;
	/* Load 10, wash 12 by itself, hang 5. One after the other 27 + 27; here the second is loaded from 10 to 20,
	 * the first hung from 22 to 27, the second washed from 20 to 32 and hung until 37. */
	static const struct schedule_task tasks[] = { HANDS(10), ALONE(12), HANDS(5) };
	struct schedule_job jobs[] = { job_of(tasks, 3), job_of(tasks, 3) };
	struct schedule_problem problem = problem_of(jobs, 2);

	assert_int_equal(solve(&problem)->end_s, 37);
}

static void a_later_task_gives_way_where_that_ends_earlier(void **state)
{
	(void)state;
	/* 1, a wait of 1 or more, 1; and 3 in one piece. As early as each fits: 0-1, 2-3, 3-6. The other way 0-3,
	 * 3-4, 5-6. Best is 0-1, 1-4, 4-5. */
	static const struct schedule_task parts[] = {
		HANDS(1), { .duration_s = 1, .needs_hands = true, .wait_least_s = 1, .wait_most_s = SCHEDULE_NEVER }
	};
	static const struct schedule_task piece[] = { HANDS(3) };
	struct schedule_job jobs[] = { job_of(parts, 2), job_of(piece, 1) };
	struct schedule_problem problem = problem_of(jobs, 2);

	assert_int_equal(solve(&problem)->end_s, 5);
}

static void urgent_jobs_end_first(void **state)
{
	(void)state;
	static const struct schedule_task shorter[] = { HANDS(5) };
	static const struct schedule_task longer[] = { HANDS(20) };
	struct schedule_job jobs[] = { job_of(shorter, 1), job_of(longer, 1) };
	struct schedule_problem problem = problem_of(jobs, 2);

	jobs[1].is_urgent = true;
	assert_int_equal(solve(&problem)->jobs[1].end_s, 20);
	jobs[1].is_urgent = false;
	jobs[0].is_urgent = true;
	assert_int_equal(solve(&problem)->jobs[0].end_s, 5);
	assert_int_equal(solve(&problem)->end_s, 25);
}

static void huge_figures_do_not_overflow(void **state)
{
	(void)state;
	static const struct schedule_task too_long[] = { HANDS(INT64_MAX) };
	static const struct schedule_task too_late[] = {
		{ .duration_s = 1, .wait_least_s = INT64_MAX, .wait_most_s = INT64_MAX }
	};
	static const struct schedule_task longest[] = { HANDS(SCHEDULE_LATEST / 2) };
	static const struct schedule_resource resources[] = { { INT64_MAX } };
	static const struct schedule_claim claims[] = { { 0, INT64_MAX, 0, 0, INT64_MAX } };
	static const struct schedule_break breaks[] = { { INT64_MAX - 1, INT64_MAX }, { INT64_MIN, INT64_MAX } };
	struct schedule_job jobs[] = { job_of(too_long, 1), job_of(too_late, 1), job_of(longest, 1), job_of(longest, 1),
				       job_of(longest, 1) };
	struct schedule_problem problem = problem_of(jobs, COUNT(jobs));

	problem.resources = resources;
	problem.resource_count = 1;
	problem.breaks = breaks;
	problem.break_count = 2;
	for (size_t i = 0; i < COUNT(jobs); i++)
		jobs[i].value = INT64_MAX;
	jobs[2].claims = claims;
	jobs[2].claim_count = 1;

	/* two of the longest fill all the time there is */
	const struct schedule *schedule = solve(&problem);

	assert_int_equal(schedule->value, INT64_MAX);
	assert_false(schedule->jobs[0].is_done);
	assert_false(schedule->jobs[1].is_done);
	assert_true(schedule->end_s <= SCHEDULE_LATEST);
}

static void jobs_in_a_circle_are_left(void **state)
{
	(void)state;
	static const struct schedule_task tasks[] = { HANDS(1) };
	static const size_t firsts[] = { 1, 0, 2, 0 };
	static const size_t task[] = { 0 };
	struct schedule_job jobs[] = { job_of(tasks, 1), job_of(tasks, 1), job_of(tasks, 1), job_of(tasks, 1),
				       job_of(tasks, 1) };
	struct schedule_problem problem = problem_of(jobs, COUNT(jobs));

	/* two after each other, one after itself, one after one of these; only the last is free */
	for (size_t i = 0; i < 4; i++) {
		jobs[i].after = &firsts[i];
		jobs[i].after_task = task;
		jobs[i].after_count = 1;
	}
	const struct schedule *schedule = solve(&problem);

	assert_int_equal(schedule->done_count, 1);
	assert_true(schedule->jobs[4].is_done);
}

static void what_is_not_well_formed_is_left(void **state)
{
	(void)state;
	static const struct schedule_task tasks[] = { HANDS(1) };
	static const struct schedule_task negative[] = { HANDS(-1) };
	static const struct schedule_task crossed[] = { { .duration_s = 1, .wait_least_s = 2, .wait_most_s = 1 } };
	static const struct schedule_claim nowhere[] = { { 7, 1, 0, 0, 0 } };
	static const size_t none[] = { 99 };
	static const size_t task[] = { 0 };
	struct schedule_job jobs[] = { job_of(negative, 1), job_of(crossed, 1), job_of(tasks, 1),
				       job_of(tasks, 1),    job_of(tasks, 1),	job_of(tasks, 0) };
	struct schedule_problem problem = problem_of(jobs, COUNT(jobs));

	jobs[2].claims = nowhere;
	jobs[2].claim_count = 1;
	jobs[3].after = none;
	jobs[3].after_task = task;
	jobs[3].after_count = 1;
	jobs[4].value = 0;
	assert_int_equal(solve(&problem)->done_count, 0);
}

/* Two jobs with hands at either end of a very long stretch. That one goes first at its begin and the other at its end
 * cannot be, but each second of the stretch seems to leave room for it: the search must come to an end. */
static void a_hopeless_chase_ends(void **state)
{
	(void)state;
	enum { LONG = INT32_MAX };
	static const struct schedule_task tasks[] = { HANDS(2),
						      { .duration_s = LONG, .may_be_in_break = true },
						      { .duration_s = 2, .needs_hands = true } };
	static const struct schedule_task others[] = { HANDS(3),
						       { .duration_s = LONG, .may_be_in_break = true },
						       { .duration_s = 4, .needs_hands = true } };
	struct schedule_job jobs[] = { job_of(tasks, 3), job_of(others, 3) };
	struct schedule_problem problem = problem_of(jobs, 2);

	problem.work_most = 20000;
	const struct schedule *schedule = schedule_solve(&problem, &arena);

	/* The one with 2 first: the other from 2, its end from LONG + 5 to LONG + 9. The one with 3 first: its end from
	 * LONG + 3 to LONG + 7, then 2. */
	assert_int_equal(schedule->done_count, 2);
	assert_int_equal(schedule->end_s, (int64_t)LONG + 9);
	assert_in_range(schedule->work, 0, 21000);
}

/* Ten minutes, one tank, and twenty jobs that want it for 61, 62, 63 … s: the nine shortest take it for 585 s, ten for
 * 655 s. Hands would do them all, 2 s each, so it is the tank that says so, and without a search. */
static void a_thing_in_use_bounds_what_can_be_done(void **state)
{
	(void)state;
	enum { JOBS = 20 };
	static const struct schedule_resource resources[] = { { 1 } };
	static const struct schedule_claim claim = { 0, 1, 0, 2, 0 };
	struct schedule_task tasks[JOBS][3];
	struct schedule_job jobs[JOBS];
	struct schedule_problem problem = problem_of(jobs, JOBS);

	for (int i = 0; i < JOBS; i++) {
		const struct schedule_task used[] = { HANDS(1), ALONE(59 + i), HANDS(1) };

		for (size_t k = 0; k < COUNT(used); k++)
			tasks[i][k] = used[k];
		jobs[i] = job_of(tasks[i], COUNT(used));
		jobs[i].claims = &claim;
		jobs[i].claim_count = 1;
	}
	problem.resources = resources;
	problem.resource_count = 1;
	problem.finish_s = 600;
	problem.work_most = 1;

	assert_int_equal(schedule_solve(&problem, &arena)->value_bound, 9);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(without_jobs_nothing_is_done),
		ARENA_TEST(what_never_fits_is_left_and_what_comes_after_it),
		ARENA_TEST(the_finish_is_for_hands_and_for_what_is_done),
		ARENA_TEST(tasks_of_no_time_take_nothing),
		ARENA_TEST(a_claim_of_more_than_there_is_leaves_the_job),
		ARENA_TEST(a_break_at_the_start_is_kept),
		ARENA_TEST(a_wait_that_is_limited_pulls_the_task_before_it_along),
		ARENA_TEST(loading_goes_on_while_a_wash_runs),
		ARENA_TEST(a_later_task_gives_way_where_that_ends_earlier),
		ARENA_TEST(urgent_jobs_end_first),
		ARENA_TEST(huge_figures_do_not_overflow),
		ARENA_TEST(jobs_in_a_circle_are_left),
		ARENA_TEST(what_is_not_well_formed_is_left),
		ARENA_TEST(a_hopeless_chase_ends),
		ARENA_TEST(a_thing_in_use_bounds_what_can_be_done),
	};

	RUN_TESTS(tests);
}
