#include "arena_fixture.h"

#include <stdalign.h>
#include <stdbool.h>

/* The address sanitizer reports a request that the system cannot meet, instead of letting it fail. */
#if defined(__SANITIZE_ADDRESS__)
#define IS_SANITIZED true
#elif defined(__has_feature)
#if __has_feature(address_sanitizer)
#define IS_SANITIZED true
#endif
#endif
#ifndef IS_SANITIZED
#define IS_SANITIZED false
#endif

static void test_memory_is_zeroed_and_aligned(void **state)
{
	(void)state;
	for (size_t i = 0; i < 3000; i++) {
		size_t size = 1 + i % 48;
		unsigned char *place = arena_alloc(&arena, 3, size);
		size_t alignment = 1;
		while (alignment < alignof(max_align_t) && size % (2 * alignment) == 0)
			alignment *= 2;
		assert_int_equal((uintptr_t)place % alignment, 0);
		for (size_t byte = 0; byte < 3 * size; byte++)
			assert_int_equal(place[byte], 0);
		memset(place, 0xA5, 3 * size);
	}
}

static void test_every_block_starts_aligned(void **state)
{
	(void)state;
	for (int i = 0; i < 40; i++) {
		max_align_t *place = ARENA_ARRAY(&arena, max_align_t, 500);
		assert_int_equal((uintptr_t)place % alignof(max_align_t), 0);
		arena_alloc(&arena, 1, 1);
	}
	max_align_t *large = ARENA_ARRAY(&arena, max_align_t, 50000);
	assert_int_equal((uintptr_t)large % alignof(max_align_t), 0);
}

static void test_allocations_do_not_overlap(void **state)
{
	(void)state;
	enum { COUNT = 2000 };
	unsigned char *places[COUNT];
	for (size_t i = 0; i < COUNT; i++) {
		places[i] = arena_alloc(&arena, 1 + i * 7 % 300, 1);
		memset(places[i], (int)(i % 251), 1 + i * 7 % 300);
	}
	for (size_t i = 0; i < COUNT; i++)
		for (size_t byte = 0; byte < 1 + i * 7 % 300; byte++)
			assert_int_equal(places[i][byte], i % 251);
}

static void test_nothing_is_a_place_too(void **state)
{
	(void)state;
	assert_non_null(arena_alloc(&arena, 0, 8));
	assert_non_null(arena_alloc(&arena, 8, 0));
}

static void test_large_requests_leave_the_block_in_use(void **state)
{
	(void)state;
	char *before = ARENA_ARRAY(&arena, char, 10);
	char *large = ARENA_ARRAY(&arena, char, 5 * 1024 * 1024);
	char *after = ARENA_ARRAY(&arena, char, 10);
	large[5 * 1024 * 1024 - 1] = 1;
	assert_ptr_equal(after, before + 10);
}

static void test_growing_keeps_the_items(void **state)
{
	(void)state;
	int *numbers = NULL;
	size_t count = 0, capacity = 0;
	for (int i = 0; i < 5000; i++) {
		ARENA_RESERVE(&arena, numbers, count, capacity);
		assert_true(count < capacity);
		assert_int_equal(numbers[count], 0);
		numbers[count++] = i;
		if (i % 100 == 0)
			ARENA_NEW(&arena, int); /* so that it must move now and then */
	}
	for (int i = 0; i < 5000; i++)
		assert_int_equal(numbers[i], i);
}

static void test_the_last_array_grows_where_it_stands(void **state)
{
	(void)state;
	size_t capacity = 16;
	char *first = ARENA_ARRAY(&arena, char, capacity);
	first[15] = 'x';
	char *grown = arena_grow(&arena, first, 16, &capacity, 17, 1);
	assert_ptr_equal(grown, first);
	assert_int_equal(capacity, 32);
	char *next = ARENA_ARRAY(&arena, char, 1);
	assert_ptr_equal(next, first + 32);
	grown = arena_grow(&arena, grown, 32, &capacity, 33, 1);
	assert_ptr_not_equal(grown, first);
	assert_int_equal(grown[15], 'x');
}

static void ask_for_an_overflow(void)
{
	arena_alloc(&arena, SIZE_MAX / 2, 4);
}

/* The product wraps around to 8 bytes, which could be had. */
static void ask_for_a_wrapped_product(void)
{
	arena_alloc(&arena, SIZE_MAX / 8 + 2, 8);
}

static void ask_for_half_of_everything(void)
{
	arena_alloc(&arena, PTRDIFF_MAX / 2, 1);
}

static void ask_for_just_too_much(void)
{
	arena_alloc(&arena, PTRDIFF_MAX, 1);
}

static void grow_beyond_everything(void)
{
	size_t capacity = SIZE_MAX / 2 + 1;
	arena_grow(&arena, NULL, 0, &capacity, SIZE_MAX, 1);
}

static void grow_into_an_overflow(void)
{
	size_t capacity = 8;
	arena_grow(&arena, ARENA_ARRAY(&arena, char, 8), 8, &capacity, SIZE_MAX / 4, 16);
}

static bool lands(void (*ask)(void))
{
	static struct landing here;
	arena.landing = &here;
	if (setjmp(here.place)) {
		arena.landing = &memory_is_gone;
		return true;
	}
	ask();
	arena.landing = &memory_is_gone;
	return false;
}

static void test_what_cannot_be_had_lands(void **state)
{
	(void)state;
	char *before = ARENA_ARRAY(&arena, char, 4);
	memcpy(before, "film", 4);
	assert_true(lands(ask_for_an_overflow));
	assert_true(lands(ask_for_a_wrapped_product));
	assert_true(IS_SANITIZED || lands(ask_for_half_of_everything));
	assert_true(lands(ask_for_just_too_much));
	assert_true(lands(grow_beyond_everything));
	assert_true(lands(grow_into_an_overflow));
	assert_memory_equal(before, "film", 4);
	char *after = ARENA_ARRAY(&arena, char, 4);
	assert_int_equal(after[0], 0);
}

static void test_a_released_arena_is_empty_and_usable(void **state)
{
	(void)state;
	ARENA_ARRAY(&arena, char, 100000);
	ARENA_ARRAY(&arena, char, 100);
	assert_true(arena.used >= 100100);
	arena_release(&arena);
	assert_int_equal(arena.used, 0);
	assert_null(arena.blocks);
	assert_int_equal(ARENA_ARRAY(&arena, char, 100)[99], 0);
	arena_release(&arena);
	arena_release(&arena);
}

/* How much a task wants of its arena, in pieces of the size. */
struct wants {
	size_t pieces;
	size_t size;
};

static void want(struct arena *scratch, void *data)
{
	const struct wants *wants = data;
	assert_ptr_not_equal(scratch, &arena);
	assert_int_equal(scratch->used, 0);
	for (size_t i = 0; i < wants->pieces; i++) {
		unsigned char *piece = arena_alloc(scratch, wants->size, 1);
		for (size_t byte = 0; byte < wants->size; byte++)
			assert_int_equal(piece[byte], 0);
		memset(piece, 0xA5, wants->size);
	}
}

/* What one task leaves behind is zero for the next, whatever it wanted: nothing, little, more than one block, a block
 * of its own. */
static void test_a_scratch_arena_is_new_each_time(void **state)
{
	(void)state;
	struct wants wants[] = { { 3, 100 }, { 0, 0 },	     { 400, 1000 },  { 3, 100 },    { 1, 300000 },
				 { 2, 100 }, { 1, 1000000 }, { 5000, 1000 }, { 40, 30000 }, { 1, 7 } };
	char *kept = ARENA_ARRAY(&arena, char, 4);
	memcpy(kept, "film", 4);
	for (size_t i = 0; i < 3 * sizeof(wants) / sizeof(*wants); i++)
		arena_with_scratch(&arena, want, &wants[i * 7 % (sizeof(wants) / sizeof(*wants))]);
	assert_memory_equal(kept, "film", 4);
}

static void want_within(struct arena *scratch, void *data)
{
	struct wants wants = { 400, 1000 };
	want(scratch, data);
	arena_with_scratch(scratch, want, data);
	arena_with_scratch(scratch, want, &wants);
	for (size_t i = 0; i < 10; i++)
		assert_int_equal(*(char *)arena_alloc(scratch, 30000, 1), 0);
}

static void test_scratch_arenas_nest(void **state)
{
	(void)state;
	struct wants wants = { 3, 100 };
	for (int i = 0; i < 3; i++)
		arena_with_scratch(&arena, want_within, &wants);
}

static void want_too_much(struct arena *scratch, void *data)
{
	want(scratch, data);
	arena_alloc(scratch, PTRDIFF_MAX, 1);
}

static void ask_for_too_much_within(void)
{
	struct wants wants = { 3, 100 };
	arena_with_scratch(&arena, want, &wants);
	arena_with_scratch(&arena, want_too_much, &wants);
}

static void test_what_cannot_be_had_within_lands(void **state)
{
	(void)state;
	struct wants wants = { 3, 100 };
	assert_true(lands(ask_for_too_much_within));
	arena_with_scratch(&arena, want, &wants);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_memory_is_zeroed_and_aligned),
		ARENA_TEST(test_every_block_starts_aligned),
		ARENA_TEST(test_allocations_do_not_overlap),
		ARENA_TEST(test_nothing_is_a_place_too),
		ARENA_TEST(test_large_requests_leave_the_block_in_use),
		ARENA_TEST(test_growing_keeps_the_items),
		ARENA_TEST(test_the_last_array_grows_where_it_stands),
		ARENA_TEST(test_what_cannot_be_had_lands),
		ARENA_TEST(test_a_released_arena_is_empty_and_usable),
		ARENA_TEST(test_a_scratch_arena_is_new_each_time),
		ARENA_TEST(test_scratch_arenas_nest),
		ARENA_TEST(test_what_cannot_be_had_within_lands),
	};
	RUN_TESTS(tests);
}
