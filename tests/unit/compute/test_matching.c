/* Which step is which: moved, renamed, gone. Steps are letters where only their order counts. */
#include "arena_fixture.h"

#include "compute/matching.h"

static struct outline *fact(const char *key, const char *value)
{
	struct outline *node = ARENA_NEW(&arena, struct outline);
	*node = (struct outline){
		.form = OUTLINE_TEXT, .is_fact = true, .key = key, .text = text_from(value), .per = 1
	};
	return node;
}

static struct outline *step(const char *name, const char *role, const char *bath, const char *time)
{
	struct outline *node = ARENA_NEW(&arena, struct outline);
	*node = (struct outline){ .form = OUTLINE_OBJECT, .label = "step", .name = text_from(name), .per = 1 };
	outline_attach(node, fact("role", role));
	outline_attach(node, fact("bath", bath));
	outline_attach(node, fact("time", time));
	return node;
}

/* A list of steps, each alike but for its name of one letter. */
static struct outline *steps(const char *letters)
{
	struct outline *list = ARENA_NEW(&arena, struct outline);
	list->form = OUTLINE_LIST;
	for (; *letters != '\0'; letters++) {
		struct outline *item = step("", letters, letters, letters);
		item->name = (struct text){ letters, 1 };
		outline_attach(list, item);
	}
	return list;
}

/* The letters that have moved, by the old order. */
static const char *moved(const char *old, const char *new)
{
	struct matching matching = matching_of(steps(old), steps(new), false, &arena);
	struct text_builder letters = text_builder_start(&arena);
	for (size_t i = 0; i < matching.old_count; i++)
		if (matching.is_moved[i])
			text_append(&letters, matching.old[i]->name);
	return text_builder_text(&letters).data;
}

static void nothing_moves_where_steps_come_and_go(void **state)
{
	(void)state;
	assert_string_equal(moved("abcd", "abcd"), "");
	assert_string_equal(moved("abcd", "xaybzcdw"), "");
	assert_string_equal(moved("abcd", "bd"), "");
	assert_string_equal(moved("", "ab"), "");
	assert_string_equal(moved("ab", ""), "");
}

static void the_fewest_move(void **state)
{
	(void)state;
	assert_string_equal(moved("abcde", "eabcd"), "e");
	assert_string_equal(moved("abcde", "bcdea"), "a");
	assert_string_equal(moved("abcdef", "adbcef"), "d");
	assert_string_equal(moved("abcdef", "xdyabcef"), "d");
}

static void neighbours_that_change_places_read_the_same_backwards(void **state)
{
	(void)state;
	assert_string_equal(moved("ab", "ba"), moved("ba", "ab"));
	assert_int_equal(strlen(moved("ab", "ba")), 1);
	assert_int_equal(strlen(moved("abcd", "badc")), 2);
	for (const char *letter = moved("abcd", "badc"); *letter != '\0'; letter++)
		assert_non_null(strchr(moved("badc", "abcd"), *letter));
}

static void the_first_of_a_name_goes_with_the_first(void **state)
{
	(void)state;
	struct matching matching = matching_of(steps("wfw"), steps("wwfw"), false, &arena);
	assert_int_equal(matching.of_old[0], 0);
	assert_int_equal(matching.of_old[1], 2);
	assert_int_equal(matching.of_old[2], 3);
	assert_true(matching.of_new[1] == MATCHING_NONE);
}

static struct outline *list_of(struct outline *one, struct outline *other)
{
	struct outline *list = steps("");
	outline_attach(list, one);
	if (other != NULL)
		outline_attach(list, other);
	return list;
}

static void what_is_alike_was_renamed(void **state)
{
	(void)state;
	struct outline *old = list_of(step("stop", "stop", "acid", "0:30"), step("rinse", "rinse", "water", "1:00"));
	struct outline *new = list_of(step("wash", "rinse", "water", "2:00"), step("halt", "stop", "acid", "0:30"));
	struct matching matching = matching_of(old, new, true, &arena);
	assert_int_equal(matching.of_old[0], 1);
	assert_int_equal(matching.of_old[1], 0);
	matching = matching_of(old, new, false, &arena);
	assert_true(matching.of_old[0] == MATCHING_NONE && matching.of_old[1] == MATCHING_NONE);
}

static void another_role_is_another_step(void **state)
{
	(void)state;
	struct outline *old = list_of(step("stop", "stop", "water", "0:30"), NULL);
	struct outline *new = list_of(step("rinse", "rinse", "water", "0:30"), NULL);
	struct matching matching = matching_of(old, new, true, &arena);
	assert_true(matching.of_old[0] == MATCHING_NONE && matching.of_new[0] == MATCHING_NONE);
}

static void little_in_common_is_not_enough(void **state)
{
	(void)state;
	struct outline *old = list_of(step("one", "wash", "water", "0:30"), NULL);
	struct outline *new = list_of(step("two", "wash", "running water", "9:00"), NULL);
	assert_true(matching_of(old, new, true, &arena).of_old[0] == MATCHING_NONE);
}

static void among_equals_the_first_is_meant(void **state)
{
	(void)state;
	struct outline *old = list_of(step("one", "wash", "water", "0:30"), NULL);
	struct outline *new = list_of(step("two", "wash", "water", "1:00"), step("three", "wash", "water", "2:00"));
	struct matching matching = matching_of(old, new, true, &arena);
	assert_int_equal(matching.of_old[0], 0);
	assert_true(matching.of_new[1] == MATCHING_NONE);
	matching = matching_of(new, old, true, &arena);
	assert_int_equal(matching.of_old[0], 0);
	assert_true(matching.of_old[1] == MATCHING_NONE);
}

/* A process with one fact and steps of these letters. */
static struct outline *process(const char *name, const char *family, const char *letters)
{
	struct outline *node = ARENA_NEW(&arena, struct outline);
	*node = (struct outline){ .form = OUTLINE_OBJECT, .label = "process", .name = text_from(name), .per = 1 };
	struct outline *list = steps(letters);
	list->key = "steps";
	outline_attach(node, fact("family", family));
	outline_attach(node, list);
	return node;
}

static bool is_renamed(struct outline *old, struct outline *new)
{
	return matching_of(list_of(old, NULL), list_of(new, NULL), true, &arena).of_old[0] == 0;
}

/* Half of what there is: one fact and the longer list of steps. */
static void processes_are_alike_by_their_steps(void **state)
{
	(void)state;
	assert_true(is_renamed(process("one", "C-41", "abc"), process("two", "E-6", "abd")));	  /* 2 of 4 */
	assert_false(is_renamed(process("one", "C-41", "abc"), process("two", "E-6", "ade")));	  /* 1 of 4 */
	assert_false(is_renamed(process("one", "C-41", "abcd"), process("two", "C-41", "aefg"))); /* 2 of 5 */
	assert_true(is_renamed(process("one", "C-41", "abc"), process("two", "C-41", "ab")));	  /* 3 of 4 */
	assert_false(is_renamed(process("one", "C-41", "abc"), process("two", "E-6", "a")));	  /* 1 of 4 */
	assert_true(is_renamed(process("one", "C-41", "ab"), process("two", "C-41", "aaa")));	  /* 2 of 4 */
}

/* The 200th stranger is still looked at, with the 201st nobody is. */
static void long_lists_are_not_searched(void **state)
{
	(void)state;
	struct outline *old = steps("");
	struct outline *new = list_of(step("new", "wash", "water", "1:00"), NULL);
	for (int i = 0; i < 199; i++)
		outline_attach(old, step(text_format(&arena, "old-%d", i).data, "stop", "acid", "0:30"));
	outline_attach(old, step("last", "wash", "water", "1:00"));
	assert_int_equal(matching_of(old, new, true, &arena).of_new[0], 199);
	assert_int_equal(matching_of(new, old, true, &arena).of_old[0], 199);
	outline_attach(old, step("more", "stop", "acid", "0:30"));
	assert_true(matching_of(old, new, true, &arena).of_new[0] == MATCHING_NONE);
	assert_true(matching_of(new, old, true, &arena).of_old[0] == MATCHING_NONE);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(nothing_moves_where_steps_come_and_go),
		ARENA_TEST(the_fewest_move),
		ARENA_TEST(neighbours_that_change_places_read_the_same_backwards),
		ARENA_TEST(the_first_of_a_name_goes_with_the_first),
		ARENA_TEST(what_is_alike_was_renamed),
		ARENA_TEST(another_role_is_another_step),
		ARENA_TEST(little_in_common_is_not_enough),
		ARENA_TEST(among_equals_the_first_is_meant),
		ARENA_TEST(processes_are_alike_by_their_steps),
		ARENA_TEST(long_lists_are_not_searched),
	};
	RUN_TESTS(tests);
}
