#include "arena_fixture.h"
#include "support/intern.h"

static void test_equal_names_have_equal_numbers(void **state)
{
	(void)state;
	struct intern *intern = intern_create(&arena);
	char word[] = "saltmarsh";
	uint32_t first = intern_name(intern, text_from(word));
	uint32_t second = intern_name(intern, TEXT("Saltmarsh"));
	assert_int_not_equal(first, 0);
	assert_int_not_equal(first, second);
	word[0] = 'm'; /* the table keeps its own copy */
	assert_int_equal(intern_name(intern, TEXT("saltmarsh")), first);
	assert_text(intern_text(intern, first), "saltmarsh");
	assert_text(intern_text(intern, second), "Saltmarsh");
}

static void test_names_are_compared_in_normal_form(void **state)
{
	(void)state;
	struct intern *intern = intern_create(&arena);
	uint32_t composed = intern_name(intern, TEXT("d\xC3\xA9veloppeur"));
	assert_int_equal(intern_name(intern, TEXT("de\xCC\x81veloppeur")), composed);
	assert_int_equal(intern_find(intern, TEXT("de\xCC\x81veloppeur")), composed);
	assert_text(intern_text(intern, composed), "développeur");
}

static void test_unknown_names_are_zero(void **state)
{
	(void)state;
	struct intern *intern = intern_create(&arena);
	assert_int_equal(intern_find(intern, TEXT("dev")), 0);
	intern_name(intern, TEXT("dev"));
	assert_int_equal(intern_find(intern, TEXT("de")), 0);
	assert_text(intern_text(intern, 0), "");
	assert_text(intern_text(intern, 9999), "");
}

static void test_many_names(void **state)
{
	(void)state;
	struct intern *intern = intern_create(&arena);
	enum { COUNT = 20000 };
	for (uint32_t i = 0; i < COUNT; i++)
		assert_int_equal(intern_name(intern, text_format(&arena, "step-%u", i)), i + 1);
	for (uint32_t i = 0; i < COUNT; i++) {
		struct text name = text_format(&arena, "step-%u", i);
		assert_int_equal(intern_find(intern, name), i + 1);
		assert_true(text_equal(intern_text(intern, i + 1), name));
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_equal_names_have_equal_numbers),
		ARENA_TEST(test_names_are_compared_in_normal_form),
		ARENA_TEST(test_unknown_names_are_zero),
		ARENA_TEST(test_many_names),
	};
	RUN_TESTS(tests);
}
