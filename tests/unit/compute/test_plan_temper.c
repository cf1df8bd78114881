/* When baths come to temperature, on schedules written down by hand: tempering takes 10 minutes and loading 1:30 a
 * roll, as of a day that says nothing. */
#include "figures.h"

#include "compute/plan_draft.h"

#define MINUTE 60

static struct day usual_day;
static struct schedule_break breaks[3];
static int64_t starts_s[2][3];
static struct schedule_placement placements[2];
static struct schedule schedule = { .jobs = placements };
static const struct packing_load four_rolls = { .count = 4 };
static struct plan_draft_load loads[2];

/* Two loads with nothing but loading and a run of one piece, and no break. */
static struct plan_draft draft_of_two(void)
{
	for (size_t i = 0; i < 2; i++) {
		placements[i] = (struct schedule_placement){ .is_done = true, .starts_s = starts_s[i] };
		loads[i] = (struct plan_draft_load){
			.packed = &four_rolls, .load_job = i, .load_task = 1, .first_run_task = 2, .piece_count = 1
		};
	}
	return (struct plan_draft){
		.day = &usual_day,
		.loads = loads,
		.load_count = 2,
		.schedule = &schedule,
		.problem = { .breaks = breaks },
	};
}

static void place(size_t load, int64_t loading_s, int64_t pour_s)
{
	starts_s[load][1] = loading_s;
	starts_s[load][2] = pour_s;
}

static void test_how_long_loaded_film_may_wait(void **state)
{
	(void)state;
	struct plan_draft draft = draft_of_two();
	breaks[0] = (struct schedule_break){ 60 * MINUTE, 8 * MINUTE };
	breaks[1] = (struct schedule_break){ 120 * MINUTE, 10 * MINUTE };
	draft.problem.break_count = 2;
	assert_true(plan_temper_wait_most_s(&draft) == SCHEDULE_NEVER);
	breaks[1].duration_s = 20 * MINUTE;
	assert_int_equal(plan_temper_wait_most_s(&draft), 20 * MINUTE - 1);
	breaks[2] = (struct schedule_break){ 180 * MINUTE, 30 * MINUTE };
	draft.problem.break_count = 3;
	assert_int_equal(plan_temper_wait_most_s(&draft), 20 * MINUTE - 1);
	breaks[2].duration_s = 11 * MINUTE;
	assert_int_equal(plan_temper_wait_most_s(&draft), 11 * MINUTE - 1);
	draft.problem.break_count = 2;
	assert_int_equal(plan_temper_wait_most_s(&draft), 20 * MINUTE - 1);
}

static void test_which_break_lies_before_a_pour(void **state)
{
	(void)state;
	struct plan_draft draft = draft_of_two();
	breaks[0] = (struct schedule_break){ 10 * MINUTE, 10 * MINUTE };
	breaks[1] = (struct schedule_break){ 60 * MINUTE, 30 * MINUTE };
	draft.problem.break_count = 2;
	place(0, 50 * MINUTE, 90 * MINUTE);
	assert_true(plan_temper_is_before_break(&draft, &loads[0]));
	place(0, 50 * MINUTE, 100 * MINUTE - 1);
	assert_true(plan_temper_is_before_break(&draft, &loads[0]));
	place(0, 50 * MINUTE, 100 * MINUTE);
	assert_false(plan_temper_is_before_break(&draft, &loads[0])); /* there are ten minutes behind it */
	place(0, 90 * MINUTE, 96 * MINUTE);
	assert_false(plan_temper_is_before_break(&draft, &loads[0])); /* loaded behind it */
	place(0, 40 * MINUTE, 50 * MINUTE);
	assert_false(plan_temper_is_before_break(&draft, &loads[0])); /* poured before it */
	place(0, 4 * MINUTE, 20 * MINUTE);
	assert_false(plan_temper_is_before_break(&draft, &loads[0])); /* it is no longer than tempering */
	place(0, 50 * MINUTE, 90 * MINUTE);
	draft.problem.break_count = 1;
	assert_false(plan_temper_is_before_break(&draft, &loads[0]));
}

static void test_what_is_not_poured_is_not_tempered(void **state)
{
	(void)state;
	struct plan_draft draft = draft_of_two();
	breaks[0] = (struct schedule_break){ 60 * MINUTE, 30 * MINUTE };
	draft.problem.break_count = 1;
	place(0, 50 * MINUTE, 90 * MINUTE);
	assert_true(plan_temper_is_before_break(&draft, &loads[0]));
	loads[0].piece_count = 0;
	assert_false(plan_temper_is_before_break(&draft, &loads[0]));
	loads[0].piece_count = 1;
	placements[0].is_done = false;
	assert_false(plan_temper_is_before_break(&draft, &loads[0]));
	loads[0].load_job = PLAN_NONE;
	assert_false(plan_temper_is_before_break(&draft, &loads[0]));
}

static void test_how_much_later_the_day_may_end(void **state)
{
	(void)state;
	struct plan_draft draft = draft_of_two();
	breaks[0] = (struct schedule_break){ 60 * MINUTE, 30 * MINUTE };
	draft.problem.break_count = 1;
	place(0, 40 * MINUTE, 50 * MINUTE);
	place(1, 90 * MINUTE, 100 * MINUTE);
	assert_int_equal(plan_temper_later_most_s(&draft), 0);
	place(1, 50 * MINUTE, 90 * MINUTE);
	assert_int_equal(plan_temper_later_most_s(&draft), (10 + 6) * MINUTE);
	place(0, 54 * MINUTE, 95 * MINUTE);
	assert_int_equal(plan_temper_later_most_s(&draft), 2 * (10 + 6) * MINUTE);
}

/* Where tempering is put that takes 10 minutes, with something else from minute 20 to 40. */
static int64_t tempered_from(enum plan_task_kind kind, bool needs_hands, int64_t pour_s, size_t place_of_temper)
{
	struct plan_task tasks[2];
	struct plan_load load = { .pour_s = pour_s };
	struct day_plan plan = { .loads = &load, .load_count = 1, .tasks = tasks, .task_count = 2 };
	tasks[place_of_temper] = (struct plan_task){ .kind = PLAN_TASK_temper, .start_s = 0, .end_s = 10 * MINUTE };
	tasks[1 - place_of_temper] = (struct plan_task){
		.kind = kind, .start_s = 20 * MINUTE, .end_s = 40 * MINUTE, .needs_hands = needs_hands
	};
	plan_temper_place(&plan);
	assert_int_equal(tasks[place_of_temper].end_s, tasks[place_of_temper].start_s + 10 * MINUTE);
	assert_int_equal(tasks[1 - place_of_temper].start_s, 20 * MINUTE);
	return tasks[place_of_temper].start_s / MINUTE;
}

static void test_tempering_is_as_late_as_the_hands_allow(void **state)
{
	(void)state;
	for (size_t place_of_temper = 0; place_of_temper < 2; place_of_temper++) {
		assert_int_equal(tempered_from(PLAN_TASK_load, true, 45 * MINUTE, place_of_temper), 20);
		assert_int_equal(tempered_from(PLAN_TASK_load, true, 50 * MINUTE, place_of_temper), 40);
		assert_int_equal(tempered_from(PLAN_TASK_load, true, 30 * MINUTE, place_of_temper), 20);
		assert_int_equal(tempered_from(PLAN_TASK_load, true, 25 * MINUTE, place_of_temper), 15);
		assert_int_equal(tempered_from(PLAN_TASK_rest, false, 45 * MINUTE, place_of_temper), 20);
		assert_int_equal(tempered_from(PLAN_TASK_dry, false, 45 * MINUTE, place_of_temper), 35);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_how_long_loaded_film_may_wait),
		ARENA_TEST(test_which_break_lies_before_a_pour),
		ARENA_TEST(test_what_is_not_poured_is_not_tempered),
		ARENA_TEST(test_how_much_later_the_day_may_end),
		ARENA_TEST(test_tempering_is_as_late_as_the_hands_allow),
	};
	RUN_TESTS(tests);
}
