/* The door to shell scripts: a text is one word on one line, whatever it holds. */
#include "arena_fixture.h"
#include "emit/escape/shell.h"

#define assert_word(text, word) assert_text(shell_word(&arena, TEXT(text)), word)

static void test_a_word_is_quoted(void **state)
{
	(void)state;
	assert_word("", "''");
	assert_word("a b", "'a b'");
	assert_word("it's", "'it'\\''s'");
	assert_word("'", "''\\'''");
	assert_word("''", "''\\'''\\'''");
	assert_word("$(touch x) `y` \\ \"z\" %s !", "'$(touch x) `y` \\ \"z\" %s !'");
	assert_word("-n", "'-n'");
	assert_word("38 \xC2\xB0"
		    "C",
		    "'38 \xC2\xB0"
		    "C'");
}

static void test_a_word_stays_on_its_line(void **state)
{
	(void)state;
	assert_word("a\nb\r\nc\td\x0B", "'a b  c d '");
	assert_word("a\xE2\x80\xA8"
		    "b\xC2\x85"
		    "c",
		    "'a b c'");
	assert_word("\x1B[2J\a\x7F", "'<0x1B>[2J<0x07><0x7F>'");
	assert_text(shell_word(&arena, (struct text){ "a\0b", 3 }), "'a<0x00>b'");
	assert_word("\xE2\x80\xAEtxet", "'<U+202E>txet'");
	assert_word("\xFF", "'<0xFF>'");
}

static void test_a_comment_stays_a_comment(void **state)
{
	(void)state;
	assert_text(shell_comment(&arena, TEXT("a\ntouch x\r touch y")), "a touch x  touch y");
	assert_text(shell_comment(&arena, TEXT("\xE2\x80\xA9touch x")), " touch x");
}

static void test_a_file_name_is_no_path_and_no_option(void **state)
{
	(void)state;
	assert_text(shell_file_name(&arena, TEXT("colour-negative-2.5")), "colour-negative-2.5");
	assert_text(shell_file_name(&arena, TEXT("../x y")), "_._x_y");
	assert_text(shell_file_name(&arena, TEXT("-rf")), "_rf");
	assert_text(shell_file_name(&arena, TEXT(".hidden")), "_hidden");
	assert_text(shell_file_name(&arena, TEXT("")), "_");
	assert_text(shell_file_name(&arena, TEXT("\xC3\xA9t\xC3\xA9")), "__t__");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_a_word_is_quoted),
		ARENA_TEST(test_a_word_stays_on_its_line),
		ARENA_TEST(test_a_comment_stays_a_comment),
		ARENA_TEST(test_a_file_name_is_no_path_and_no_option),
	};
	RUN_TESTS(tests);
}
