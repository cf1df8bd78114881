/* What the program formats itself is what the C library's printf writes. */
#include <inttypes.h>
#include <limits.h>
#include <stdio.h>

#include "arena_fixture.h"

/* Compares with snprintf. */
#define assert_as_printf(...)                                                                                          \
	do {                                                                                                           \
		char expected[600];                                                                                    \
		snprintf(expected, sizeof(expected), __VA_ARGS__);                                                     \
		assert_string_equal(text_format(&arena, __VA_ARGS__).data, expected);                                  \
	} while (0)

static void test_whole_numbers(void **state)
{
	(void)state;
	static const int64_t numbers[] = { 0, 1, -1, 9, 10, -10, 99, 100, 12345, -12345, INT_MAX, INT_MIN };
	for (size_t i = 0; i < sizeof(numbers) / sizeof(numbers[0]); i++) {
		assert_as_printf("%d|%u", (int)numbers[i], (unsigned)numbers[i]);
		assert_as_printf("%02d|%03d|%010d", (int)numbers[i], (int)numbers[i], (int)numbers[i]);
		assert_as_printf("%ld|%lu|%03ld", (long)numbers[i], (unsigned long)numbers[i], (long)numbers[i]);
		assert_as_printf("%lld|%llu|%02lld", (long long)numbers[i], (unsigned long long)numbers[i],
				 (long long)numbers[i]);
		assert_as_printf("%" PRId64 "|%" PRIu64 "|%03" PRId64, numbers[i], (uint64_t)numbers[i], numbers[i]);
		assert_as_printf("%" PRId32 "|%" PRIu32, (int32_t)numbers[i], (uint32_t)numbers[i]);
		assert_as_printf("%zu|%zd", (size_t)numbers[i], (ssize_t)numbers[i]);
	}
	assert_as_printf("%" PRId64 " %" PRId64 " %" PRIu64, INT64_MIN, INT64_MAX, UINT64_MAX);
	assert_as_printf("%025d|%099d|%0120d", -7, 7, 7);
}

static void test_texts(void **state)
{
	(void)state;
	assert_as_printf("%s", "");
	assert_as_printf("%s%s%c%%", "a", "bc", 'd');
	assert_as_printf("%.*s|%.*s|%.*s", 3, "develop", 0, "stop", -1, "fix");
	assert_as_printf("%.*s|", 8, "ab\0cd");
	assert_as_printf("no conversion at all, 100%%");
}

/* From the first one that it leaves to printf, printf goes on, with the arguments that are left. */
static void test_what_is_left_to_printf(void **state)
{
	(void)state;
	assert_as_printf("%d %s %.2f %d %s", 1, "two", 3.0, 4, "five");
	assert_as_printf("%5d|%-5d|%+d|% d", 7, 7, 7, 7);
	assert_as_printf("%d %*s|%.3s|%6s", 1, 5, "ab", "abcdef", "x");
	assert_as_printf("%s %04X %zx %hd", "bytes", 0xABU, (size_t)255, (short)3);
	assert_as_printf("%.6g %lo %.*f", 1.5, 8L, 3, 2.0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_whole_numbers),
		ARENA_TEST(test_texts),
		ARENA_TEST(test_what_is_left_to_printf),
	};
	RUN_TESTS(tests);
}
