#include "arena_fixture.h"

#include "check/mixture.h"

static bool is_known(struct text word)
{
	return text_equal(word, TEXT("*")) || text_equal(word, TEXT("water")) ||
	       vocabulary_find(VOCABULARY_CLASSES, word) < vocabulary_size(VOCABULARY_CLASSES) ||
	       vocabulary_find(VOCABULARY_CHEMICALS, word) < vocabulary_size(VOCABULARY_CHEMICALS);
}

static void assert_words(const char *things)
{
	for (const char *at = things; *at != '\0';) {
		struct text word = { at, strcspn(at, " +") };
		if (!is_known(word))
			fail_msg("%.*s is neither a class nor a chemical", TEXT_ARGUMENT(word));
		at += word.length;
		at += *at != '\0';
	}
}

/* A word that the vocabularies do not have would make its row silent. */
static void test_rows_name_what_there_is(void **state)
{
	(void)state;
	const struct mixing_rules *rules = mixing_rules_read(&arena);
	for (size_t i = 0; i < NEVER_MIX_COUNT; i++) {
		const struct never_mix_row *row = rules->never[i].row;
		assert_true(row->one[0] != '\0' && row->other[0] != '\0');
		assert_words(row->one);
		assert_words(row->other);
		assert_words(row->unless);
		assert_true(strlen(row->reason) > 10 && strlen(row->source) > 10);
	}
	for (size_t i = 0; i < ADD_ORDER_COUNT; i++) {
		const struct add_order_row *row = rules->order[i].row;
		assert_true(row->first[0] != '\0' && row->second[0] != '\0');
		assert_words(row->first);
		assert_words(row->second);
		assert_words(row->where);
		assert_true(strlen(row->reason) > 10 && strlen(row->source) > 10);
	}
}

static bool holds(const struct mixture *mixture, const char *words)
{
	struct things things = things_read(words);
	return mixture_holds(mixture, &things);
}

static uint32_t place(const struct mixture *mixture, const char *words)
{
	struct things things = things_read(words);
	return mixture_place(mixture, &things).begin;
}

static struct solution solution_of(struct part *part, enum chemical_id chemical, class_set contains)
{
	*part = (struct part){ .kind = PART_ADD, .chemical = chemical, .span = { 7, 1 } };
	struct solution solution = { .parts = part, .contains = contains };
	if (chemical != CHEMICAL_free_text)
		solution.contains |= chemical_row(chemical)->classes;
	return solution;
}

static void test_what_a_mixture_holds(void **state)
{
	(void)state;
	struct part part;
	struct solution solution = solution_of(&part, CHEMICAL_hydrochloric_acid, CLASS_BIT(formaldehyde));
	struct mixture mixture = mixture_of(&solution, false);
	assert_true(holds(&mixture, "hydrochloric-acid"));
	assert_true(holds(&mixture, "silver strong-acid"));
	assert_true(holds(&mixture, "strong-acid+chloride"));
	assert_false(holds(&mixture, "strong-acid+silver"));
	assert_false(holds(&mixture, "sulfuric-acid"));
	assert_false(holds(&mixture, ""));
}

static void test_strength_of_acids(void **state)
{
	(void)state;
	struct part part;
	struct solution glacial = solution_of(&part, CHEMICAL_acetic_acid_glacial, 0);
	struct mixture mixture = mixture_of(&glacial, false);
	assert_false(holds(&mixture, "strong-acid"));
	assert_true(holds(&mixture, "weak-acid"));
	glacial.ph = (struct quantity){ 3999, { 9, 1 }, UNIT_none };
	mixture = mixture_of(&glacial, false);
	assert_true(holds(&mixture, "strong-acid"));
	glacial.ph.value = 4000;
	mixture = mixture_of(&glacial, false);
	assert_false(holds(&mixture, "strong-acid"));
}

static void test_stocks_count_for_a_bath(void **state)
{
	(void)state;
	struct part part;
	struct solution stock = solution_of(&part, CHEMICAL_sodium_sulfite, 0);
	struct solution bath = { .stock = &stock };
	struct mixture alone = mixture_of(&bath, false);
	struct mixture whole = mixture_of(&bath, true);
	assert_false(holds(&alone, "sulfite"));
	assert_true(holds(&whole, "sulfite"));
	assert_true(holds(&whole, "sodium-sulfite"));
	stock.stock = &bath; /* a circle ends */
	assert_true(mixture_of(&bath, true).held.classes != 0);
}

static void test_where_it_came_from(void **state)
{
	(void)state;
	struct part part;
	struct solution solution = solution_of(&part, CHEMICAL_sodium_sulfite, CLASS_BIT(silver));
	solution.contains_span = (struct span){ 20, 1 };
	solution.declared.name_span = (struct span){ 1, 1 };
	struct mixture mixture = mixture_of(&solution, false);
	assert_int_equal(place(&mixture, "sulfite"), 7);
	assert_int_equal(place(&mixture, "silver"), 20);
	assert_int_equal(place(&mixture, "strong-acid"), 1);
	solution.ph.span = (struct span){ 30, 1 };
	assert_int_equal(place(&mixture, "strong-acid"), 30);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_rows_name_what_there_is),  cmocka_unit_test(test_what_a_mixture_holds),
		cmocka_unit_test(test_strength_of_acids),  cmocka_unit_test(test_stocks_count_for_a_bath),
		cmocka_unit_test(test_where_it_came_from),
	};
	return cmocka_run_group_tests_name("mixture", tests, NULL, NULL);
}
