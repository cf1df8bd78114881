#include "arena_fixture.h"
#include "syntax/words.h"

static void test_every_keyword_is_found(void **state)
{
	(void)state;
	for (size_t word = 0; word < WORD_COUNT; word++)
		assert_int_equal(word_find(word_row((enum word_id)word)->spelling), word);
}

static void test_other_words_are_none(void **state)
{
	(void)state;
	for (size_t word = 0; word < WORD_COUNT; word++) {
		struct text spelling = word_row((enum word_id)word)->spelling;
		struct text longer = text_format(&arena, "%.*sq", TEXT_ARGUMENT(spelling));
		char *other = (char *)text_copy(&arena, spelling).data;
		other[spelling.length / 3] = 'Q';
		assert_int_equal(word_find(longer), WORD_COUNT);
		assert_int_equal(word_find((struct text){ other, spelling.length }), WORD_COUNT);
	}
	assert_int_equal(word_find(TEXT("")), WORD_COUNT);
	assert_int_equal(word_find(TEXT("\xFF")), WORD_COUNT);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_every_keyword_is_found),
		ARENA_TEST(test_other_words_are_none),
	};
	RUN_TESTS(tests);
}
