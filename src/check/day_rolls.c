/* The rolls of a day beside each other: labels, groups that are to be in one load. */
#include <stdlib.h>

#include "check/checks.h"

/* The rolls of the day in an array, in their order. */
static const struct roll **rolls_of(const struct check_run *run)
{
	const struct roll **rolls = ARENA_ARRAY(run->arena, const struct roll *, run->day->roll_count + 1);
	size_t count = 0;
	for (const struct roll *roll = run->day->rolls; roll; roll = roll->next)
		rolls[count++] = roll;
	return rolls;
}

/* What the rolls are sorted by, and their place in the day: equal ones stay in its order. */
struct keyed_roll {
	struct text key;
	size_t place;
	const struct roll *roll;
};

static int compare_keyed(const void *left, const void *right)
{
	const struct keyed_roll *a = left;
	const struct keyed_roll *b = right;
	int order = text_compare(a->key, b->key);
	if (order != 0)
		return order;
	return (a->place > b->place) - (a->place < b->place);
}

/* The rolls of the day by label, or by the group that is to be in one load; those of no group are left out. */
static struct keyed_roll *sorted_rolls(const struct check_run *run, bool by_label, size_t *count)
{
	const struct roll **rolls = rolls_of(run);
	struct keyed_roll *keyed = ARENA_ARRAY(run->arena, struct keyed_roll, run->day->roll_count + 1);
	*count = 0;
	for (size_t i = 0; i < run->day->roll_count; i++) {
		struct text key = by_label ? rolls[i]->label : rolls[i]->together;
		if (key.length > 0)
			keyed[(*count)++] = (struct keyed_roll){ key, i, rolls[i] };
	}
	if (*count > 1)
		qsort(keyed, *count, sizeof(*keyed), compare_keyed);
	return keyed;
}

void check_duplicate_label(struct check_run *run)
{
	size_t count;
	const struct keyed_roll *keyed = sorted_rolls(run, true, &count);
	const struct roll *first = NULL;
	for (size_t i = 1; i < count; i++) {
		if (!text_equal(keyed[i].key, keyed[i - 1].key)) {
			first = NULL;
			continue;
		}
		first = first ? first : keyed[i - 1].roll;
		struct diagnostic *finding = check_add(run, keyed[i].roll->span, "two rolls with the label `%.*s`",
						       TEXT_ARGUMENT(keyed[i].key));
		check_note(run, finding, first->span, "the first one is here");
		check_help(run, finding, "give each roll a label of its own, and write it on its spool or can now");
	}
}

static bool is_developed(const struct roll *roll)
{
	return !span_is_set(roll->set_aside.span) && roll->run != ROLL_NO_RUN;
}

/* Once for each group, at the first roll that differs. */
void check_mixed_push(struct check_run *run)
{
	size_t count;
	const struct keyed_roll *keyed = sorted_rolls(run, false, &count);
	const struct roll *first = NULL;
	bool has_said = false;
	for (size_t i = 0; i < count; i++) {
		const struct roll *roll = keyed[i].roll;
		if (i == 0 || !text_equal(keyed[i].key, keyed[i - 1].key)) {
			first = NULL;
			has_said = false;
		}
		if (!is_developed(roll))
			continue;
		if (!first)
			first = roll;
		if (roll->run == first->run || has_said)
			continue;
		has_said = true;
		struct diagnostic *finding =
			check_add(run, roll->together_span, "`%.*s` is to be in one load, and %s",
				  TEXT_ARGUMENT(keyed[i].key),
				  roll->push.value == first->push.value ? "this roll is for another process"
									: "this roll is pushed differently");
		check_note(run, finding, first->together_span, "the first roll of the group is here");
		check_help(run, finding, "give the rolls that differ a group of their own");
	}
}
