#include "arena_fixture.h"
#include "support/diagnostic.h"

static struct span at(uint32_t begin, uint32_t length)
{
	return (struct span){ begin, length };
}

static void test_findings_are_counted_by_severity(void **state)
{
	(void)state;
	struct report report;
	report_init(&report, &arena);
	report_add(&report, CHECK_syntax, at(1, 1), "one");
	report_add(&report, CHECK_jump_between_baths, at(2, 1), "%s", "two");
	report_add(&report, CHECK_no_hazards_declared, at(3, 1), "three");
	assert_int_equal(report.count, 3);
	assert_int_equal(report.errors, 1);
	assert_int_equal(report.warnings, 1);
	assert_int_equal(report.items[2].severity, SEVERITY_HINT);
	assert_text(report.items[1].message, "two");
}

static void test_an_allowed_finding_no_longer_counts(void **state)
{
	(void)state;
	struct report report;
	report_init(&report, &arena);
	struct diagnostic *finding = report_add(&report, CHECK_no_fix, at(4, 2), "no fix");
	assert_null(finding->allowed.data);
	report_allow(&report, finding, TEXT("a monobath"));
	report_allow(&report, finding, TEXT("a monobath, twice"));
	assert_int_equal(report.errors, 0);
	assert_text(report.items[0].allowed, "a monobath, twice");
	finding = report_add(&report, CHECK_jump_between_baths, at(5, 2), "too far");
	report_allow(&report, finding, (struct text){ NULL, 0 });
	assert_int_equal(report.warnings, 0);
	assert_non_null(report.items[1].allowed.data);
}

static void test_a_raised_finding_counts_as_what_it_is(void **state)
{
	(void)state;
	struct report report;
	report_init(&report, &arena);
	struct diagnostic *finding = report_add(&report, CHECK_jump_between_baths, at(5, 2), "too far");
	report_raise(&report, finding, SEVERITY_ERROR);
	assert_int_equal(report.warnings, 0);
	assert_int_equal(report.errors, 1);
	report_allow(&report, finding, TEXT("its maker says so"));
	report_raise(&report, finding, SEVERITY_WARNING);
	assert_int_equal(report.warnings, 0);
	assert_int_equal(report.errors, 0);
	assert_int_equal(report.items[0].severity, SEVERITY_WARNING);
}

static void test_help_and_notes_stay_in_order(void **state)
{
	(void)state;
	struct report report;
	report_init(&report, &arena);
	struct diagnostic *finding =
		report_add(&report, CHECK_defined_twice, at(9, 3), "`%s` is declared twice", "fix");
	report_help(&report, finding, "give one of them another name");
	report_note(&report, finding, at(2, 3), "first here");
	report_note(&report, finding, (struct span){ 0, 0 }, "a remark without a place");
	assert_text(finding->message, "`fix` is declared twice");
	assert_text(finding->help, "give one of them another name");
	assert_text(finding->notes->message, "first here");
	assert_int_equal(finding->notes->span.begin, 2);
	assert_text(finding->notes->next->message, "a remark without a place");
	assert_false(span_is_set(finding->notes->next->span));
	assert_null(finding->notes->next->next);
}

static void test_sorting_goes_by_place_then_check(void **state)
{
	(void)state;
	struct report report;
	report_init(&report, &arena);
	for (uint32_t i = 0; i < 500; i++)
		report_add(&report, CHECK_syntax, at(1 + i * 137 % 500, 1), "%u", i * 137 % 500);
	report_add(&report, CHECK_no_fix, at(1, 1), "later");
	report_add(&report, CHECK_no_developer, at(1, 1), "earlier");
	report_sort(&report);
	assert_int_equal(report.count, 502);
	assert_text(report.items[0].message, "0");
	assert_text(report.items[1].message, "earlier");
	assert_text(report.items[2].message, "later");
	for (size_t i = 3; i < report.count; i++)
		assert_int_equal(report.items[i].span.begin, i - 1);
}

static void test_sorting_drops_repeated_findings_and_recounts(void **state)
{
	(void)state;
	struct report report;
	report_init(&report, &arena);
	for (int i = 0; i < 3; i++) {
		report_add(&report, CHECK_no_waste_route, at(7, 2), "no place to go");
		report_add(&report, CHECK_no_waste_route, at(7, 2), "another message");
		report_add(&report, CHECK_never_mix, at(7, 2), "no place to go");
		report_add(&report, CHECK_no_waste_route, at(8, 2), "no place to go");
	}
	report_sort(&report);
	assert_int_equal(report.count, 4);
	assert_int_equal(report.warnings, 3);
	assert_int_equal(report.errors, 1);
	struct report empty;
	report_init(&empty, &arena);
	report_sort(&empty);
	assert_int_equal(empty.count, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_findings_are_counted_by_severity),
		ARENA_TEST(test_an_allowed_finding_no_longer_counts),
		ARENA_TEST(test_a_raised_finding_counts_as_what_it_is),
		ARENA_TEST(test_help_and_notes_stay_in_order),
		ARENA_TEST(test_sorting_goes_by_place_then_check),
		ARENA_TEST(test_sorting_drops_repeated_findings_and_recounts),
	};
	RUN_TESTS(tests);
}
