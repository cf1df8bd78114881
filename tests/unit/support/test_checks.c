#include "arena_fixture.h"
#include "support/checks.h"

static void test_names_are_hyphened_ids(void **state)
{
	(void)state;
	assert_text(check_row(CHECK_syntax)->name, "syntax");
	assert_text(check_row(CHECK_jump_between_baths)->name, "jump-between-baths");
	assert_text(check_row(CHECK_no_wash_before_final_rinse)->name, "no-wash-before-final-rinse");
	for (size_t i = 0; i < CHECK_COUNT; i++) {
		struct text name = check_row((enum check_id)i)->name;
		assert_true(name.length >= 3);
		for (size_t byte = 0; byte < name.length; byte++)
			assert_true(name.data[byte] == '-' || (name.data[byte] >= 'a' && name.data[byte] <= 'z'));
	}
}

static void test_every_check_is_found_by_its_name_alone(void **state)
{
	(void)state;
	for (size_t i = 0; i < CHECK_COUNT; i++)
		assert_int_equal(check_find(check_row((enum check_id)i)->name), i);
	assert_int_equal(check_find(TEXT("jump_between_baths")), CHECK_COUNT);
	assert_int_equal(check_find(TEXT("Syntax")), CHECK_COUNT);
	assert_int_equal(check_find(TEXT("")), CHECK_COUNT);
}

static void test_rows_agree_with_themselves(void **state)
{
	(void)state;
	for (size_t i = 0; i < CHECK_COUNT; i++) {
		const struct check_row *row = check_row((enum check_id)i);
		assert_true((int)row->needs < (int)i);
		if (row->needs != CHECK_none) /* what silences a row must be asked of the same subject */
			assert_int_equal(check_row(row->needs)->subject, row->subject);
		assert_true(row->summary.length > 10);
		assert_int_not_equal(row->summary.data[row->summary.length - 1], '.');
	}
}

static void test_a_row(void **state)
{
	(void)state;
	const struct check_row *row = check_row(CHECK_jump_between_baths);
	assert_int_equal(row->severity, SEVERITY_WARNING);
	assert_int_equal(row->subject, SUBJECT_STEP);
	assert_true(row->may_allow);
	assert_int_equal(row->needs, CHECK_window_empty);
	assert_int_equal(check_row(CHECK_syntax)->needs, CHECK_none);
	assert_string_equal(severity_name(SEVERITY_ERROR), "error");
	assert_string_equal(severity_name(SEVERITY_WARNING), "warning");
	assert_string_equal(severity_name(SEVERITY_HINT), "hint");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_names_are_hyphened_ids),
		ARENA_TEST(test_every_check_is_found_by_its_name_alone),
		ARENA_TEST(test_rows_agree_with_themselves),
		ARENA_TEST(test_a_row),
	};
	RUN_TESTS(tests);
}
