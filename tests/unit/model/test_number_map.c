#include "arena_fixture.h"
#include "model/number_map.h"

static int values[100000];
enum { COUNT = sizeof(values) / sizeof(*values) };

/* Numbers in a row, as names have them, and far apart, as places in the sources. */
static uint32_t number_of(size_t index, uint32_t step)
{
	return 1 + (uint32_t)index * step;
}

static void test_empty(void **state)
{
	struct number_map map = { 0 };
	(void)state;
	assert_null(number_map_find(&map, 1));
}

static void test_many(void **state)
{
	static const uint32_t steps[] = { 1, 7, 4096, 40000 };

	(void)state;
	for (size_t i = 0; i < sizeof(steps) / sizeof(*steps); i++) {
		struct number_map map = { 0 };

		for (size_t k = 0; k < COUNT; k++)
			number_map_put(&map, &arena, number_of(k, steps[i]), &values[k]);
		assert_int_equal(map.count, COUNT);
		for (size_t k = 0; k < COUNT; k++)
			assert_ptr_equal(number_map_find(&map, number_of(k, steps[i])), &values[k]);
		assert_null(number_map_find(&map, UINT32_MAX));
	}
}

static void test_again(void **state)
{
	struct number_map map = { 0 };

	(void)state;
	number_map_put(&map, &arena, 5, &values[0]);
	number_map_put(&map, &arena, 5, &values[1]);
	assert_ptr_equal(number_map_find(&map, 5), &values[1]);
	number_map_put(&map, &arena, 5, NULL);
	assert_null(number_map_find(&map, 5));
	assert_int_equal(map.count, 1);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_empty),
		ARENA_TEST(test_many),
		ARENA_TEST(test_again),
	};
	RUN_TESTS(tests);
}
