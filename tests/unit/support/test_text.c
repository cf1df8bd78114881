#include "arena_fixture.h"

static const struct text nothing = { NULL, 0 };

static void test_equality_is_of_bytes(void **state)
{
	(void)state;
	assert_true(text_equal(TEXT("stop"), text_from("stop")));
	assert_false(text_equal(TEXT("stop"), TEXT("stops")));
	assert_false(text_equal(TEXT("stop"), TEXT("Stop")));
	assert_true(text_equal(nothing, TEXT("")));
	assert_false(text_equal(TEXT("a\0b"), TEXT("a\0c")));
}

static void test_order_is_of_unsigned_bytes_and_prefixes_come_first(void **state)
{
	(void)state;
	assert_true(text_compare(TEXT("fix"), TEXT("fixer")) < 0);
	assert_true(text_compare(TEXT("fixer"), TEXT("fix")) > 0);
	assert_true(text_compare(TEXT("z"), TEXT("\xC3\xA9")) < 0);
	assert_int_equal(text_compare(nothing, TEXT("")), 0);
	assert_true(text_compare(nothing, TEXT("a")) < 0);
	assert_int_equal(text_compare(TEXT("bleach"), TEXT("bleach")), 0);
}

static void test_a_copy_ends_in_nul(void **state)
{
	(void)state;
	struct text copy = text_copy(&arena, (struct text){ "developer", 3 });
	assert_text(copy, "dev");
	assert_string_equal(copy.data, "dev");
	assert_string_equal(text_copy(&arena, nothing).data, "");
}

static void test_a_builder_grows(void **state)
{
	(void)state;
	struct text_builder builder = text_builder_start(&arena);
	assert_text(text_builder_text(&builder), "");
	for (int i = 0; i < 1000; i++) {
		text_append(&builder, TEXT("ab"));
		text_append_byte(&builder, 'c');
		text_append_string(&builder, "d");
		text_append_format(&builder, "%03d", i);
		text_append(&builder, nothing);
	}
	struct text text = text_builder_text(&builder);
	assert_int_equal(text.length, 7000);
	assert_int_equal(text.data[7000], 0);
	for (int i = 0; i < 1000; i++) {
		char expected[16];
		snprintf(expected, sizeof(expected), "abcd%03d", i);
		assert_memory_equal(text.data + 7 * i, expected, 7);
	}
}

static void test_a_format_longer_than_the_room(void **state)
{
	(void)state;
	struct text_builder builder = text_builder_start(&arena);
	text_append_byte(&builder, '>');
	text_append_format(&builder, "%0500d", 7);
	struct text text = text_builder_text(&builder);
	assert_int_equal(text.length, 501);
	assert_int_equal(text.data[0], '>');
	assert_int_equal(text.data[500], '7');
	assert_text(text_format(&arena, "%.*s at %.1f", TEXT_ARGUMENT(TEXT("wash")), 38.0), "wash at 38.0");
	assert_text(text_format(&arena, "%s", ""), "");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_equality_is_of_bytes),
		ARENA_TEST(test_order_is_of_unsigned_bytes_and_prefixes_come_first),
		ARENA_TEST(test_a_copy_ends_in_nul),
		ARENA_TEST(test_a_builder_grows),
		ARENA_TEST(test_a_format_longer_than_the_room),
	};
	RUN_TESTS(tests);
}
