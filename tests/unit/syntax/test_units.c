#include "reference_table.h"
#include "syntax/units.h"

static struct text spelling_at(const char **place)
{
	struct text word = { *place, strcspn(*place, " ") };
	*place += word.length;
	*place += strspn(*place, " ");
	return word;
}

static void test_every_spelling_finds_its_unit(void **state)
{
	(void)state;
	for (size_t unit = 1; unit < UNIT_COUNT; unit++) {
		const char *place = unit_row((enum unit_id)unit)->spellings;
		while (*place != '\0') {
			struct text spelling = spelling_at(&place);
			assert_int_equal(unit_find(spelling), unit); /* so none stands in two rows */
			char *spaced = (char *)text_copy(&arena, spelling).data;
			for (size_t i = 0; i < spelling.length; i++)
				if (spaced[i] == '_')
					spaced[i] = ' ';
			assert_int_equal(unit_find((struct text){ spaced, spelling.length }), unit);
		}
		assert_int_equal(unit_find(unit_row((enum unit_id)unit)->canonical), unit);
	}
}

static void test_blanks_within_a_spelling(void **state)
{
	(void)state;
	assert_int_equal(unit_find(TEXT("US fl  oz")), UNIT_us_fluid_ounce);
	assert_int_equal(unit_find(TEXT("UK \t fl oz")), UNIT_uk_fluid_ounce);
	assert_int_equal(unit_find(TEXT(" US gal ")), UNIT_us_gallon);
	assert_int_equal(unit_find(TEXT("US  ")), UNIT_none);
}

/* Neither country's fluid ounce can be told from a bare one, and a milligram is no megagram. */
static void test_spellings_that_are_none(void **state)
{
	(void)state;
	static const char *const spellings[] = { "",	 " ",	  "fl oz",
						 "gal",	 "pint",  "Mg",
						 "ML",	 "c",	  "f",
						 "k",	 "gm",	  "second s",
						 "min.", "oz oz", "a very long spelling that no unit has at all" };
	for (size_t i = 0; i < sizeof(spellings) / sizeof(*spellings); i++)
		if (unit_find(text_from(spellings[i])) != UNIT_none)
			fail_msg("\"%s\" is taken for a unit", spellings[i]);
}

static void test_words_for_quantities(void **state)
{
	(void)state;
	for (size_t kind = 0; kind < QUANTITY_KIND_COUNT; kind++)
		assert_true(strlen(quantity_kind_name((enum quantity_kind)kind)) > 5);
	assert_string_equal(quantity_kind_name(QUANTITY_TEMPERATURE), "a temperature");
	assert_text(quantity_kind_units(&arena, QUANTITY_TEMPERATURE), "°C or °F");
	assert_text(quantity_kind_units(&arena, QUANTITY_DIFFERENCE), "°C, °F or K");
	assert_text(quantity_kind_units(&arena, QUANTITY_PERCENT), "%");
	assert_text(quantity_kind_units(&arena, QUANTITY_ENERGY), "J/mol or kJ/mol");
	assert_text(quantity_kind_units(&arena, QUANTITY_COUNT), "no unit");
}

/* "29.5735295625" in units of which 10^power are one: exactly, or -1. */
static int64_t exact(const char *decimal, int power)
{
	int64_t value = 0;
	bool is_behind_point = false;
	for (; *decimal != '\0'; decimal++) {
		if (*decimal == '.') {
			is_behind_point = true;
			continue;
		}
		if (*decimal < '0' || *decimal > '9' || (is_behind_point && power == 0))
			return -1;
		value = value * 10 + (*decimal - '0');
		power -= is_behind_point;
	}
	while (power-- > 0)
		value *= 10;
	return value;
}

/* Source: NIST Handbook 44 appendix C and SP 811, as listed in tests/reference/units_and_constants.tsv. */
static void test_factors_are_those_of_nist(void **state)
{
	(void)state;
	static const struct {
		const char *name;
		enum unit_id unit;
		const char *in;
		int power; /* how many base units are one of `in`, as a power of ten */
	} sizes[] = {
		{ "US gallon", UNIT_us_gallon, "ml", 10 },
		{ "US fluid ounce", UNIT_us_fluid_ounce, "ml", 10 },
		{ "US pint", UNIT_us_pint, "ml", 10 },
		{ "UK gallon", UNIT_uk_gallon, "ml", 10 },
		{ "UK fluid ounce", UNIT_uk_fluid_ounce, "ml", 10 },
		{ "avoirdupois ounce", UNIT_ounce, "g", 9 },
		{ "avoirdupois pound", UNIT_pound, "g", 9 },
		{ "grain", UNIT_grain, "g", 9 },
		{ "square inch", UNIT_square_inch, "cm2", 4 },
	};
	enum { SIZES = sizeof(sizes) / sizeof(*sizes) };
	size_t found = 0;
	struct reference_table table;
	open_table(&table, "tests/reference/units_and_constants.tsv");
	while (next_row(&table)) {
		for (size_t i = 0; i < SIZES; i++) {
			if (strcmp(table.columns[0], sizes[i].name) != 0 || strcmp(table.columns[2], sizes[i].in) != 0)
				continue;
			assert_int_equal(unit_row(sizes[i].unit)->factor, exact(table.columns[1], sizes[i].power));
			found++;
		}
	}
	assert_int_equal(found, SIZES);
}

static int64_t factor(enum unit_id unit)
{
	return unit_row(unit)->factor;
}

/* Source: the same table (ounce and pound in grains); quarts, pints and feet by definition. */
static void test_factors_agree_with_each_other(void **state)
{
	(void)state;
	assert_int_equal(factor(UNIT_pound), 7000 * factor(UNIT_grain));
	assert_int_equal(2 * factor(UNIT_ounce), 875 * factor(UNIT_grain));
	assert_int_equal(factor(UNIT_pound), 16 * factor(UNIT_ounce));
	assert_int_equal(factor(UNIT_us_gallon), 128 * factor(UNIT_us_fluid_ounce));
	assert_int_equal(factor(UNIT_us_gallon), 8 * factor(UNIT_us_pint));
	assert_int_equal(factor(UNIT_us_gallon), 4 * factor(UNIT_us_quart));
	assert_int_equal(factor(UNIT_uk_gallon), 160 * factor(UNIT_uk_fluid_ounce));
	assert_int_equal(factor(UNIT_uk_gallon), 8 * factor(UNIT_uk_pint));
	assert_int_equal(factor(UNIT_uk_gallon), 4 * factor(UNIT_uk_quart));
	assert_int_equal(factor(UNIT_foot), 12 * factor(UNIT_inch));
	assert_int_equal(5 * factor(UNIT_celsius), 9 * factor(UNIT_fahrenheit));
	assert_int_equal(unit_row(UNIT_fahrenheit)->offset, -32 * factor(UNIT_fahrenheit));
	assert_int_equal(factor(UNIT_week), 7 * factor(UNIT_day));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_every_spelling_finds_its_unit), ARENA_TEST(test_blanks_within_a_spelling),
		ARENA_TEST(test_spellings_that_are_none),	ARENA_TEST(test_words_for_quantities),
		ARENA_TEST(test_factors_are_those_of_nist),	ARENA_TEST(test_factors_agree_with_each_other),
	};
	RUN_TESTS(tests);
}
