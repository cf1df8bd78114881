#include "reference_table.h"

#include "model/hazards.h"

/* Source: UN GHS (ST/SG/AC.10/30), Annex 3, section 1. */
static void test_texts_of_the_un_table(void **state)
{
	(void)state;
	struct reference_table table;
	size_t compared = 0;
	open_table(&table, "tests/reference/ghs_h_statements.tsv");
	while (next_row(&table)) {
		assert_text(hazard_text(text_from(table.columns[0])), table.columns[1]);
		compared++;
	}
	assert_true(compared > 60);
}

static void test_each_code_is_there_once(void **state)
{
	(void)state;
	assert_true(hazard_count() > 100);
	for (size_t i = 0; i < hazard_count(); i++) {
		struct text code = hazard_code(i);
		assert_true(hazard_text(code).length > 5);
		assert_true(code.data[0] == 'H' || memcmp(code.data, "EUH", 3) == 0);
		for (size_t k = 0; k < i; k++)
			assert_false(text_equal(code, hazard_code(k)));
	}
	assert_int_equal(hazard_code(hazard_count()).length, 0);
}

/* From memory: Regulation (EC) No 1272/2008, Annex II. */
static void test_codes_that_matter_at_a_sink(void **state)
{
	(void)state;
	assert_text(hazard_text(TEXT("EUH031")), "Contact with acids liberates toxic gas");
	assert_text(hazard_text(TEXT("EUH032")), "Contact with acids liberates very toxic gas");
}

static void test_no_such_code(void **state)
{
	(void)state;
	assert_int_equal(hazard_text(TEXT("H999")).length, 0);
	assert_int_equal(hazard_text(TEXT("h302")).length, 0);
	assert_int_equal(hazard_text(TEXT("")).length, 0);
	assert_int_equal(hazard_text(TEXT("H3020")).length, 0);
}

static void test_slips(void **state)
{
	(void)state;
	assert_text(hazard_nearest(TEXT("h302")), "H302");
	assert_text(hazard_nearest(TEXT("EUH31")), "EUH031");
	assert_text(hazard_nearest(TEXT("euh-031")), "EUH031");
	assert_text(hazard_nearest(TEXT("H360fd")), "H360FD");
	assert_text(hazard_nearest(TEXT("EUH201a")), "EUH201A");
	assert_int_equal(hazard_nearest(TEXT("H32")).length, 0);
	assert_int_equal(hazard_nearest(TEXT("H999")).length, 0);
	assert_int_equal(hazard_nearest(TEXT("")).length, 0);
	assert_int_equal(hazard_nearest(TEXT("-")).length, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_texts_of_the_un_table),
		cmocka_unit_test(test_each_code_is_there_once),
		cmocka_unit_test(test_codes_that_matter_at_a_sink),
		cmocka_unit_test(test_no_such_code),
		cmocka_unit_test(test_slips),
	};
	return cmocka_run_group_tests_name("hazards", tests, NULL, NULL);
}
