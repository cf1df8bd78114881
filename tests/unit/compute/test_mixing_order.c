#include "figures.h"

#include "compute/mixing_order.h"

static struct solution of_role(enum role_id role)
{
	return (struct solution){ .role = role, .role_span = SOMEWHERE };
}

static void put_in_order(struct mixing_turn *turns, size_t count)
{
	for (size_t i = 0; i < count; i++)
		turns[i].index = i;
	mixing_order(turns, count, &arena);
}

/* Common practice, no source: developer first, then bleach, bleach-fix and fix last. What
 * ends a process is mixed before the fixers, an acid after the developers. */
static void test_against_contamination(void **state)
{
	(void)state;
	struct solution fix = of_role(ROLE_fix), bleach_fix = of_role(ROLE_bleach_fix), stop = of_role(ROLE_stop);
	struct solution bleach = of_role(ROLE_bleach), developer = of_role(ROLE_colour_developer);
	struct solution rinse = of_role(ROLE_final_rinse), clearing = of_role(ROLE_clearing);
	struct mixing_turn turns[] = {
		{ .solution = &fix },	 { .solution = &rinse }, { .solution = &bleach_fix }, { .solution = &clearing },
		{ .solution = &bleach }, { .solution = &stop },	 { .solution = &developer },
	};
	const struct solution *wanted[] = { &developer, &stop, &bleach, &clearing, &rinse, &bleach_fix, &fix };
	put_in_order(turns, 7);
	for (size_t i = 0; i < 7; i++) {
		assert_ptr_equal(turns[i].solution, wanted[i]);
		assert_int_equal(turns[i].reason, MIXING_BY_GROUP);
	}
}

static void test_among_equals(void **state)
{
	(void)state;
	struct solution a = of_role(ROLE_developer), b = a, c = a, d = a;
	struct mixing_turn turns[] = {
		{ .solution = &a, .cools_ms = 60000, .keeps_ms = 5 },
		{ .solution = &b, .cools_ms = 120000 },
		{ .solution = &c, .cools_ms = 60000, .keeps_ms = 9 },
		{ .solution = &d, .cools_ms = 60000, .keeps_ms = 5 },
	};
	put_in_order(turns, 4);
	assert_ptr_equal(turns[0].solution, &b);
	assert_ptr_equal(turns[1].solution, &c);
	assert_int_equal(turns[1].reason, MIXING_BY_COOLING);
	assert_ptr_equal(turns[2].solution, &a);
	assert_int_equal(turns[2].reason, MIXING_BY_KEEPING);
	assert_ptr_equal(turns[3].solution, &d);
	assert_int_equal(turns[3].reason, MIXING_BY_POUR);
}

/* Where one cooling time is not known, none of the group counts: how much too warm they are does. */
static void test_without_times(void **state)
{
	(void)state;
	struct solution a = of_role(ROLE_developer), b = a;
	struct mixing_turn turns[] = {
		{ .solution = &a, .cools_ms = 999999, .excess = celsius(3) },
		{ .solution = &b, .cools_ms = -1, .excess = celsius(9) },
	};
	put_in_order(turns, 2);
	assert_ptr_equal(turns[0].solution, &b);
}

/* A stock comes before what is made from it, however long that must cool, and as early as that. */
static void test_stocks_come_first(void **state)
{
	(void)state;
	struct solution concentrate = of_role(ROLE_fix);
	struct solution stock = of_role(ROLE_developer);
	stock.stock = &concentrate;
	struct solution working = of_role(ROLE_developer);
	working.stock = &stock;
	struct solution other = of_role(ROLE_developer);
	struct mixing_turn turns[] = {
		{ .solution = &working, .cools_ms = 900000 },
		{ .solution = &other, .cools_ms = 500000 },
		{ .solution = &stock, .cools_ms = 1000 },
		{ .solution = &concentrate },
	};
	put_in_order(turns, 4);
	assert_ptr_equal(turns[0].solution, &concentrate);
	assert_ptr_equal(turns[1].solution, &stock);
	assert_ptr_equal(turns[2].solution, &working);
	assert_int_equal(turns[2].reason, MIXING_BY_STOCK);
	assert_ptr_equal(turns[3].solution, &other);
	assert_int_equal(turns[3].reason, MIXING_BY_COOLING);
}

/* A circle of stocks, which the model reports, ends; every bath is there once. */
static void test_circle(void **state)
{
	(void)state;
	struct solution a = of_role(ROLE_developer), b = a;
	a.stock = &b;
	b.stock = &a;
	struct mixing_turn turns[] = { { .solution = &a }, { .solution = &b } };
	put_in_order(turns, 2);
	assert_ptr_not_equal(turns[0].solution, turns[1].solution);
}

/* Any order of the same baths gives the same result, and each is there once. */
static void test_any_order(void **state)
{
	(void)state;
	struct solution baths[40];
	uint32_t seed = 1;
	for (size_t i = 0; i < 40; i++) {
		seed = seed * 1103515245u + 12345u;
		baths[i] = of_role((enum role_id)(seed / 65536 % ROLE_COUNT));
		if (i % 3 == 2)
			baths[i].stock = &baths[i - 1];
	}
	struct mixing_turn forth[40], back[40];
	for (size_t i = 0; i < 40; i++) {
		forth[i] = (struct mixing_turn){ .solution = &baths[i], .index = i, .cools_ms = (int64_t)(i * 7 % 5) };
		back[39 - i] = forth[i];
	}
	mixing_order(forth, 40, &arena);
	mixing_order(back, 40, &arena);
	for (size_t i = 0; i < 40; i++) {
		assert_ptr_equal(forth[i].solution, back[i].solution);
		for (size_t j = 0; j < i; j++) {
			assert_ptr_not_equal(forth[i].solution, forth[j].solution);
			assert_ptr_not_equal(forth[j].solution->stock, forth[i].solution);
		}
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_against_contamination), ARENA_TEST(test_among_equals), ARENA_TEST(test_without_times),
		ARENA_TEST(test_stocks_come_first),	ARENA_TEST(test_circle),       ARENA_TEST(test_any_order),
	};
	RUN_TESTS(tests);
}
