/* The edges of packing: nothing to pack, nothing that fits, limits that do not limit, figures beyond all reason. What
 * is the fewest is compared with another program in tests/plan/packing.py. */
#include "arena_fixture.h"

#include "compute/packing.h"

#define ROLLS_MOST 64

static struct packing_roll rolls[ROLLS_MOST];
static struct packing_party parties[ROLLS_MOST];

/* One format, so many a load, of one party. */
static struct packing_problem problem_of(size_t roll_count, int64_t takes)
{
	struct packing_problem problem = { .format_count = 1,
					   .takes = { takes },
					   .reels = { -1 },
					   .untried = 0,
					   .rolls = rolls,
					   .roll_count = roll_count,
					   .parties = parties,
					   .party_count = 1 };

	memset(parties, 0, sizeof parties);
	for (size_t i = 0; i < ROLLS_MOST; i++)
		rolls[i] = (struct packing_roll){ 0, 0, 1000, false };
	return problem;
}

static const struct packing *solve(const struct packing_problem *problem)
{
	return packing_solve(problem, &arena);
}

/* Every roll is in one load or too large. */
static void assert_all_there(const struct packing_problem *problem, const struct packing *packing)
{
	size_t seen[ROLLS_MOST] = { 0 };

	for (size_t i = 0; i < packing->too_large_count; i++)
		seen[packing->too_large[i]]++;
	for (size_t load = 0; load < packing->load_count; load++)
		for (size_t i = 0; i < packing->loads[load].count; i++)
			seen[packing->loads[load].rolls[i]]++;
	for (size_t i = 0; i < problem->roll_count; i++)
		assert_int_equal(seen[i], 1);
}

static void nothing_to_pack_is_proven(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(0, 8);
	const struct packing *packing;

	problem.party_count = 0;
	packing = solve(&problem);
	assert_int_equal(packing->load_count, 0);
	assert_int_equal(packing->fill_count, 0);
	assert_int_equal(packing->split_count, 0);
	assert_int_equal(packing->loads_least, 0);
	assert_int_equal(packing->bound, PACKING_BOUND_NONE);
	assert_int_equal(packing->bound_denominator, 1);
	assert_true(packing->is_proven_loads && packing->is_proven_fills && packing->is_proven_splits);
}

static void one_roll_is_one_load(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(1, 8);
	const struct packing *packing;

	problem.untried = 3;
	problem.fill_area_milli_rolls = 1000;
	problem.load_area_milli_rolls = 1000;
	packing = solve(&problem);
	assert_int_equal(packing->load_count, 1);
	assert_int_equal(packing->fill_count, 1);
	assert_int_equal(packing->loads[0].count, 1);
	assert_int_equal(packing->loads[0].area_milli_rolls, 1000);
	assert_true(packing->is_proven_loads && packing->is_proven_fills && packing->is_proven_splits);
}

static void what_does_not_fit_is_in_no_load(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(4, 2);
	const struct packing *packing;

	problem.format_count = 3;
	problem.takes[1] = 0;
	problem.reels[1] = -1;
	problem.takes[2] = 5;
	problem.reels[2] = 0;
	problem.load_area_milli_rolls = 3000;
	problem.fill_area_milli_rolls = 2000;
	rolls[0].format = 1;
	rolls[1].format = 2;
	rolls[2].area_milli_rolls = 2001;
	packing = solve(&problem);
	assert_int_equal(packing->too_large_count, 3);
	assert_int_equal(packing->too_large[0], 0);
	assert_int_equal(packing->too_large[2], 2);
	assert_int_equal(packing->load_count, 1);
	assert_int_equal(packing->loads[0].rolls[0], 3);
	problem.roll_count = 3;
	packing = solve(&problem);
	assert_int_equal(packing->load_count, 0);
	assert_int_equal(packing->too_large_count, 3);
	assert_true(packing->is_proven_loads);
}

/* 20 rolls, of which a load takes 8, has reels for 5 or a bath for 4: 20/8, 20/5, 20/4 loads, rounded up. */
static void the_bound_tells_why(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(20, 8);
	const struct packing *packing = solve(&problem);

	assert_int_equal(packing->load_count, 3);
	assert_int_equal(packing->bound, PACKING_BOUND_SPACE);
	assert_int_equal(packing->bound_numerator, 20);
	assert_int_equal(packing->bound_denominator, 8);
	problem.reels[0] = 5;
	packing = solve(&problem);
	assert_int_equal(packing->load_count, 4);
	assert_int_equal(packing->bound, PACKING_BOUND_REELS);
	assert_int_equal(packing->bound_format, 0);
	assert_int_equal(packing->bound_numerator, 20);
	assert_int_equal(packing->bound_denominator, 5);
	problem.load_area_milli_rolls = 4000;
	packing = solve(&problem);
	assert_int_equal(packing->load_count, 5);
	assert_int_equal(packing->bound, PACKING_BOUND_AREA);
	assert_int_equal(packing->bound_numerator, 20000);
	assert_int_equal(packing->bound_denominator, 4000);
}

/* Film of 1.1 in a bath for 2: no two fit together, so five rolls are five loads, though 5.5/2 is below three. */
static void large_rolls_bound(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(5, 8);
	const struct packing *packing;

	problem.load_area_milli_rolls = 2000;
	for (size_t i = 0; i < 5; i++)
		rolls[i].area_milli_rolls = 1100;
	packing = solve(&problem);
	assert_int_equal(packing->load_count, 5);
	assert_int_equal(packing->bound, PACKING_BOUND_LARGE);
	assert_int_equal(packing->bound_numerator, 5);
	assert_int_equal(packing->bound_denominator, 1);
}

/* Half of 4 is 2: two loads. Half of 5 is 2: two where only the first load is untried, three where the second is too.
 * */
static void an_origin_is_spread_over_untried_loads(void **state)
{
	(void)state;
	static const size_t expected[][3] = { { 1, 0, 1 }, { 4, 1, 2 }, { 5, 1, 2 },
					      { 5, 2, 3 }, { 2, 4, 2 }, { 3, 4, 3 } };

	for (size_t i = 0; i < sizeof expected / sizeof *expected; i++) {
		struct packing_problem problem = problem_of(expected[i][0], 8);
		const struct packing *packing;

		problem.untried = expected[i][1];
		packing = solve(&problem);
		assert_int_equal(packing->load_count, expected[i][2]);
		assert_true(packing->is_proven_loads && packing->is_proven_splits);
		if (expected[i][2] > 1)
			assert_int_equal(packing->bound, PACKING_BOUND_SPREAD);
		assert_int_equal(packing->split_count, expected[i][2] - 1);
		parties[0].is_together = true;
		assert_int_equal(solve(&problem)->load_count, 1);
	}
}

static void urgent_rolls_come_first(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(12, 4);
	const struct packing *packing;

	problem.party_count = 3;
	for (size_t i = 0; i < 12; i++)
		rolls[i].party = (uint32_t)i / 4;
	rolls[10].is_urgent = true;
	packing = solve(&problem);
	assert_int_equal(packing->load_count, 3);
	assert_int_equal(packing->split_count, 0);
	assert_int_equal(packing->loads[0].rolls[2], 10);
}

/* On hand for 1.5, a load of 4 rolls of 1: it fits into no such fill, which is counted though. */
static void what_is_on_hand_is_the_first_fill(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(8, 4);
	const struct packing *packing;

	problem.fill_area_milli_rolls = 4000;
	problem.first_fill_area_milli_rolls = 1500;
	packing = solve(&problem);
	assert_int_equal(packing->load_count, 2);
	assert_int_equal(packing->fill_count, 3);
	assert_int_equal(packing->loads[0].fill, 1);
	assert_int_equal(packing->loads[1].fill, 2);
	problem.first_fill_area_milli_rolls = 8000;
	packing = solve(&problem);
	assert_int_equal(packing->fill_count, 1);
	assert_int_equal(packing->loads[1].fill, 0);
}

static void figures_beyond_reason_do_not_overflow(void **state)
{
	(void)state;
	static const int64_t takes[] = { 999999937, 1000000007, 998244353, 1000000009, INT64_MAX, 1 };
	struct packing_problem problem = problem_of(ROLLS_MOST, 8);
	const struct packing *packing;

	problem.format_count = 6;
	for (size_t i = 0; i < 6; i++) {
		problem.takes[i] = takes[i];
		problem.reels[i] = i == 0 ? INT64_MAX : 1000000000;
	}
	for (size_t i = 0; i < ROLLS_MOST; i++)
		rolls[i] = (struct packing_roll){ (uint32_t)i % 6, 0, INT64_MAX - (int64_t)(i * i), i % 2 == 0 };
	problem.untried = SIZE_MAX;
	packing = solve(&problem);
	assert_all_there(&problem, packing);
	assert_int_equal(packing->too_large_count, 0);
	/* 10 rolls that fill a load, and a party of 64 of which no load takes more than 32 */
	assert_true(packing->load_count >= 10);
	problem.load_area_milli_rolls = INT64_MAX;
	problem.fill_area_milli_rolls = INT64_MAX - 1;
	problem.first_fill_area_milli_rolls = INT64_MAX;
	problem.untried = 1;
	packing = solve(&problem);
	assert_all_there(&problem, packing);
	assert_int_equal(packing->too_large_count, 1);
	for (size_t load = 0; load < packing->load_count; load++)
		assert_int_equal(packing->loads[load].count, 1);
}

static void many_kinds_of_film_are_rounded(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(ROLLS_MOST, 100);
	const struct packing *packing;

	problem.load_area_milli_rolls = 10000;
	for (size_t i = 0; i < ROLLS_MOST; i++)
		rolls[i].area_milli_rolls = 1000 + 7 * (int64_t)i;
	packing = solve(&problem);
	assert_all_there(&problem, packing);
	for (size_t load = 0; load < packing->load_count; load++)
		assert_true(packing->loads[load].area_milli_rolls <= 10000);
	/* the film is 64 + 7 x 64 x 63 / 2 / 1000 = 78.112: eight loads of ten */
	assert_int_equal(packing->loads_least, 8);
	assert_true(packing->load_count <= 9);
}

static void little_work_still_packs(void **state)
{
	(void)state;
	for (int64_t work = 1; work < 3000; work = work * 3 + 1) {
		struct packing_problem problem = problem_of(ROLLS_MOST, 5);
		const struct packing *packing;

		problem.work_most = work;
		problem.untried = 2;
		problem.party_count = 9;
		problem.load_area_milli_rolls = 4300;
		problem.fill_area_milli_rolls = 9000;
		for (size_t i = 0; i < ROLLS_MOST; i++) {
			rolls[i].party = (uint32_t)(i * i % 9);
			rolls[i].area_milli_rolls = 1000 - (int64_t)(i % 5) * 90;
		}
		packing = solve(&problem);
		assert_all_there(&problem, packing);
		assert_true(packing->loads_least <= packing->load_count);
	}
}

/* What is on hand does another thousandth of a roll, and no roll: it is fill 0 all the same, so that four rolls are
 * done on fill 1. */
static void a_fill_on_hand_counts_however_little_it_does(void **state)
{
	(void)state;
	struct packing_problem problem = problem_of(4, 8);

	problem.fill_area_milli_rolls = 8000;
	assert_int_equal(solve(&problem)->fill_count, 1);
	problem.first_fill_area_milli_rolls = 1;
	assert_int_equal(solve(&problem)->fill_count, 2);
	problem.first_fill_area_milli_rolls = 4000;
	assert_int_equal(solve(&problem)->fill_count, 1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(nothing_to_pack_is_proven),
		ARENA_TEST(one_roll_is_one_load),
		ARENA_TEST(what_does_not_fit_is_in_no_load),
		ARENA_TEST(the_bound_tells_why),
		ARENA_TEST(large_rolls_bound),
		ARENA_TEST(an_origin_is_spread_over_untried_loads),
		ARENA_TEST(urgent_rolls_come_first),
		ARENA_TEST(what_is_on_hand_is_the_first_fill),
		ARENA_TEST(figures_beyond_reason_do_not_overflow),
		ARENA_TEST(many_kinds_of_film_are_rounded),
		ARENA_TEST(little_work_still_packs),
		ARENA_TEST(a_fill_on_hand_counts_however_little_it_does),
	};
	RUN_TESTS(tests);
}
