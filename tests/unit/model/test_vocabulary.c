#include "arena_fixture.h"
#include "model/vocabulary.h"

static void test_every_word_is_found_at_its_place(void **state)
{
	(void)state;
	for (size_t v = 0; v < VOCABULARY_COUNT; v++) {
		enum vocabulary vocabulary = (enum vocabulary)v;
		size_t size = vocabulary_size(vocabulary);
		assert_true(size > 3);
		for (size_t i = 0; i < size; i++) {
			struct text word = vocabulary_word(vocabulary, i);
			assert_int_equal(vocabulary_find(vocabulary, word), i); /* so none is there twice */
			for (size_t byte = 0; byte < word.length; byte++)
				assert_true(word.data[byte] > ' ' && word.data[byte] < 0x7F && word.data[byte] != '_');
		}
		assert_int_equal(vocabulary_find(vocabulary, TEXT("no-such-word")), size);
		assert_int_equal(vocabulary_find(vocabulary, TEXT("")), size);
		assert_memory_equal(vocabulary_name(vocabulary), "a ", 2);
	}
}

static void test_words_are_those_of_their_rows(void **state)
{
	(void)state;
	assert_text(vocabulary_word(VOCABULARY_ROLES, ROLE_bleach_fix), "bleach-fix");
	assert_text(vocabulary_word(VOCABULARY_FAMILIES, FAMILY_c_41), "C-41");
	assert_text(vocabulary_word(VOCABULARY_STREAMS, STREAM_none), "none");
	assert_text(vocabulary_word(VOCABULARY_CLASSES, CLASS_iron_chelate), "iron-chelate");
	assert_text(vocabulary_word(VOCABULARY_CHEMICALS, CHEMICAL_borax), "borax");
	assert_text(vocabulary_word(VOCABULARY_FORMATS, FORMAT_f4x5), "4x5");
	assert_text(role_row(ROLE_final_rinse)->title, "final rinse");
	assert_int_equal(role_row(ROLE_fix)->usual_stream, STREAM_silver);
	assert_text(stream_row(STREAM_acid)->word, "acid");
	assert_text(class_row(CLASS_silver)->title, "dissolved silver");
	assert_int_equal(family_row(FAMILY_e_6)->light, LIGHT_AFTER_ONE_MINUTE_OF_REVERSAL_BATH);
	assert_string_equal(chemical_row(CHEMICAL_sodium_sulfite)->hydrates, "anhydrous heptahydrate");
	assert_int_equal(chemical_row(CHEMICAL_ascorbic_acid)->classes,
			 CLASS_BIT(developing_agent) | CLASS_BIT(weak_acid));
}

static void test_which_roles_develop_and_fix(void **state)
{
	(void)state;
	for (size_t i = 0; i < ROLE_COUNT; i++) {
		enum role_id role = (enum role_id)i;
		assert_int_equal(role_develops(role), role == ROLE_developer || role == ROLE_first_developer ||
							      role == ROLE_colour_developer || role == ROLE_monobath);
		assert_int_equal(role_fixes(role),
				 role == ROLE_fix || role == ROLE_bleach_fix || role == ROLE_monobath);
	}
}

static void test_which_families_are_colour(void **state)
{
	(void)state;
	for (size_t i = 0; i < FAMILY_COUNT; i++)
		assert_int_equal(family_is_colour((enum family_id)i),
				 i != FAMILY_black_and_white_negative && i != FAMILY_black_and_white_reversal);
}

/* Source: the trade's unit, 80 square inches a roll of 135-36 or 120 or a sheet of 8 × 10 inch. */
static void test_areas(void **state)
{
	(void)state;
	assert_int_equal(format_row(FORMAT_f135)->area_milli_sq_in, ROLL_AREA_MILLI_SQ_IN);
	assert_int_equal(format_row(FORMAT_f120)->area_milli_sq_in, ROLL_AREA_MILLI_SQ_IN);
	assert_int_equal(format_row(FORMAT_f8x10)->area_milli_sq_in, 8 * 10 * 1000);
	assert_int_equal(format_row(FORMAT_f4x5)->area_milli_sq_in * 4, ROLL_AREA_MILLI_SQ_IN);
	for (size_t i = 0; i < FORMAT_COUNT; i++)
		assert_true(format_row((enum format_id)i)->area_milli_sq_in > 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_every_word_is_found_at_its_place),
		ARENA_TEST(test_words_are_those_of_their_rows),
		ARENA_TEST(test_which_roles_develop_and_fix),
		ARENA_TEST(test_which_families_are_colour),
		ARENA_TEST(test_areas),
	};
	RUN_TESTS(tests);
}
