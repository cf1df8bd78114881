#include "figures.h"

#include "compute/hydrates.h"

/* Source: S. Anchell, The Darkroom Cookbook, 3rd ed., 2008, pp. 329-330; M. Langford, Langford's Basic Photography,
 * appendix D; each row names its own. */
#define PRINTED "tests/reference/hydrate_factors.tsv"

/* Printed factors are rounded to two figures. */
#define ALLOWANCE 0.03

/* How the books call the forms. */
static const struct {
	const char *printed;
	enum chemical_id chemical;
	const char *word;
} NAMES[] = {
	{ "borax decahydrate", CHEMICAL_borax, "decahydrate" },
	{ "borax pentahydrate", CHEMICAL_borax, "pentahydrate" },
	{ "sodium carbonate anhydrous", CHEMICAL_sodium_carbonate, "anhydrous" },
	{ "sodium carbonate monohydrate", CHEMICAL_sodium_carbonate, "monohydrate" },
	{ "sodium carbonate decahydrate", CHEMICAL_sodium_carbonate, "decahydrate" },
	{ "sodium thiosulfate anhydrous", CHEMICAL_sodium_thiosulfate, "anhydrous" },
	{ "sodium thiosulfate pentahydrate", CHEMICAL_sodium_thiosulfate, "pentahydrate" },
	{ "sodium sulfate anhydrous", CHEMICAL_sodium_sulfate, "anhydrous" },
	{ "sodium sulfate crystals (decahydrate)", CHEMICAL_sodium_sulfate, "decahydrate" },
	{ "sodium sulfite anhydrous", CHEMICAL_sodium_sulfite, "anhydrous" },
	{ "sodium sulfite heptahydrate", CHEMICAL_sodium_sulfite, "heptahydrate" },
	{ "sodium sulfite crystals (heptahydrate)", CHEMICAL_sodium_sulfite, "heptahydrate" },
};

static bool find_name(const char *printed_name, enum chemical_id *chemical, struct text *word)
{
	for (size_t i = 0; i < sizeof(NAMES) / sizeof(NAMES[0]); i++) {
		if (strcmp(NAMES[i].printed, printed_name) != 0)
			continue;
		*chemical = NAMES[i].chemical;
		*word = text_from(NAMES[i].word);
		return true;
	}
	return false;
}

static void test_printed_factors(void **state)
{
	(void)state;
	struct reference_table table;
	size_t compared = 0;
	open_table(&table, PRINTED);
	while (next_row(&table)) {
		enum chemical_id specified_chemical;
		enum chemical_id chemical;
		struct text specified;
		struct text in_hand;
		int64_t mass;
		if (!find_name(table.columns[0], &specified_chemical, &specified) ||
		    !find_name(table.columns[1], &chemical, &in_hand) || chemical != specified_chemical)
			continue;
		assert_true(hydrate_mass(chemical, specified, in_hand, 1000000, &mass));
		double factor = strtod(table.columns[2], NULL);
		assert_near((double)mass / 1e6, factor, factor * ALLOWANCE);
		compared++;
	}
	assert_in_range(compared, 10, 20);
}

/* The words are those that the language offers, each with a mass. */
static void test_every_form_of_the_vocabulary(void **state)
{
	(void)state;
	for (size_t i = 0; i < CHEMICAL_COUNT; i++) {
		enum chemical_id chemical = (enum chemical_id)i;
		const char *words = chemical_row(chemical)->hydrates;
		size_t count = 0;
		while (*words != '\0') {
			struct text word = { words, strcspn(words, " ") };
			int64_t mass = 0;
			assert_true(hydrate_mass(chemical, word, word, 7, &mass));
			assert_int_equal(mass, 7);
			words += word.length + (words[word.length] == ' ');
			count++;
		}
		assert_int_equal(hydrate_count(chemical), count);
		for (size_t k = 0; k < count; k++)
			assert_non_null(strstr(chemical_row(chemical)->hydrates, hydrate_word(chemical, k).data));
	}
}

static void test_unknown_forms(void **state)
{
	(void)state;
	int64_t mass;
	assert_false(hydrate_mass(CHEMICAL_metol, TEXT("anhydrous"), TEXT("anhydrous"), 1, &mass));
	assert_false(hydrate_mass(CHEMICAL_borax, TEXT("anhydrous"), TEXT("heptahydrate"), 1, &mass));
	assert_int_equal(hydrate_word(CHEMICAL_borax, 3).length, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_printed_factors),
		cmocka_unit_test(test_every_form_of_the_vocabulary),
		cmocka_unit_test(test_unknown_forms),
	};
	return cmocka_run_group_tests_name("hydrates", tests, NULL, NULL);
}
