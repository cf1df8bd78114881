#include "source_fixture.h"
#include "support/fix.h"

/* The clause `allow x` is taken out of a text: what is left. */
static const struct {
	const char *before;
	const char *after;
} clauses[] = {
	{ "a\n  allow x\nb\n", "a\nb\n" },
	{ "a\r\n\tallow x  \r\nb\r\n", "a\r\nb\r\n" },
	{ "a\n  allow x", "a\n" },
	{ "a\n  allow x # why\nb\n", "a\n   # why\nb\n" },
	{ "t { allow x; b }\n", "t { b }\n" },
	{ "t { a; allow x }\n", "t { a }\n" },
	{ "t { a; allow x; b }\n", "t { a; b }\n" },
	{ "t { allow x }\n", "t {  }\n" },
	{ "allow x\n", "" },
};

static void test_a_clause_goes_with_what_parts_it(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof(clauses) / sizeof(*clauses); i++) {
		const struct source_file *file = open_file(clauses[i].before);
		size_t at = (size_t)(strstr(clauses[i].before, "allow x") - clauses[i].before);
		struct fix fix = { .text = TEXT("") };
		const struct fix *fixes[] = { &fix };

		fix.span = fix_whole_clause(&sources, (struct span){ file->base + (uint32_t)at, 7 });
		assert_text(fix_apply(&arena, file, fixes, 1), clauses[i].after);
	}
}

/* The clause `new` is added to a block: what it becomes. */
static const struct {
	const char *before;
	const char *after;
} blocks[] = {
	{ "t {\n  a\n}", "t {\n  a\n  new\n}" },
	{ "  t {\n    a\n  }", "  t {\n    a\n    new\n  }" },
	{ "t { a }", "t { a; new }" },
	{ "t { a; }", "t { a; new }" },
	{ "t { }", "t { new }" },
	{ "t {}", "t { new }" },
	{ "t { a}", "t { a; new }" },
};

static void test_a_clause_is_added_at_the_end(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof(blocks) / sizeof(*blocks); i++) {
		const struct source_file *file = open_file(blocks[i].before);
		const struct fix *fix = fix_added_clause(&arena, &sources, (struct span){ file->base, file->length },
							 TEXT("new"), FIX_ASKS);

		assert_non_null(fix);
		assert_int_equal(fix->confidence, FIX_ASKS);
		assert_text(fix_apply(&arena, file, &fix, 1), blocks[i].after);
	}
	assert_null(fix_added_clause(&arena, &sources, (struct span){ 0, 0 }, TEXT("new"), FIX_ASKS));
	assert_null(
		fix_added_clause(&arena, &sources, (struct span){ sources.files[0]->base, 1 }, TEXT("new"), FIX_ASKS));
}

static void test_several_fixes_at_once(void **state)
{
	const struct source_file *file = open_file("0,5 L 1,5 L");
	struct fix first = { .span = { file->base, 3 }, .text = TEXT("0.5") };
	struct fix second = { .span = { file->base + 6, 3 }, .text = TEXT("1.5") };
	struct fix third = { .span = { file->base + 11, 0 }, .text = TEXT("\n") };
	const struct fix *fixes[] = { &first, &second, &third };

	(void)state;
	assert_text(fix_apply(&arena, file, fixes, 3), "0.5 L 1.5 L\n");
	assert_text(fix_apply(&arena, file, fixes, 0), "0,5 L 1,5 L");
}

static void test_line_ends_are_those_of_the_file(void **state)
{
	const struct source_file *file = open_file("a\r\nb\r\n");
	struct fix fix = { .span = { file->base, 0 }, .text = TEXT("wetside 1\n") };
	const struct fix *fixes[] = { &fix };

	(void)state;
	assert_text(fix_apply(&arena, file, fixes, 1), "wetside 1\r\na\r\nb\r\n");
}

static void test_words(void **state)
{
	struct fix fix = { .text = TEXT("  }\n") };

	(void)state;
	assert_text(fix_words(&arena, &fix), "write `}`");
	fix.text = TEXT("; blend ");
	assert_text(fix_words(&arena, &fix), "write `blend`");
	fix.text = TEXT("");
	assert_text(fix_words(&arena, &fix), "take it out");
	fix.text = TEXT(" ");
	assert_text(fix_words(&arena, &fix), "write an ordinary space");
	assert_string_equal(fix_confidence_name(FIX_SAFE), "safe");
	assert_string_equal(fix_confidence_name(FIX_ASKS), "asks");
	assert_string_equal(fix_confidence_name(FIX_GAPS), "gaps");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_a_clause_goes_with_what_parts_it),
		ARENA_TEST(test_a_clause_is_added_at_the_end),
		ARENA_TEST(test_several_fixes_at_once),
		ARENA_TEST(test_line_ends_are_those_of_the_file),
		ARENA_TEST(test_words),
	};

	RUN_TESTS(tests);
}
