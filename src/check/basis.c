#include "check/basis.h"

#include <stdlib.h>

/* A bath on its way to its container. */
struct pouring {
	struct sides sides;
	const struct solution *solution;
};

static int compare_numbers(size_t a, size_t b)
{
	return (a > b) - (a < b);
}

static int compare_pourings(const void *a, const void *b)
{
	const struct pouring *one = a;
	const struct pouring *other = b;
	int order = compare_numbers((size_t)one->solution->waste, (size_t)other->solution->waste);
	if (order == 0)
		order = compare_numbers(one->sides.one, other->sides.one);
	if (order == 0)
		order = compare_numbers(one->sides.other, other->sides.other);
	if (order == 0)
		order = compare_numbers(one->sides.unless, other->sides.unless);
	return order != 0 ? order : compare_numbers(one->solution->number, other->solution->number);
}

static bool is_poured(const struct solution *solution)
{
	return span_is_set(solution->waste_span) && solution->waste != STREAM_none;
}

static bool is_alike(const struct pouring *a, const struct pouring *b)
{
	return a->solution->waste == b->solution->waste && a->sides.one == b->sides.one &&
	       a->sides.other == b->sides.other && a->sides.unless == b->sides.unless;
}

/* Puts baths that are alike into groups; they stand in order. */
static void lay_groups(struct check_basis *basis, const struct pouring *pourings, size_t count, struct arena *arena)
{
	const struct solution **members = ARENA_ARRAY(arena, const struct solution *, count);
	struct container_group *groups = ARENA_ARRAY(arena, struct container_group, count);
	size_t laid = 0;

	for (size_t i = 0; i < count; i++) {
		struct container *container = &basis->containers[pourings[i].solution->waste];
		members[i] = pourings[i].solution;
		if (i == 0 || !is_alike(&pourings[i - 1], &pourings[i])) {
			groups[laid] = (struct container_group){ pourings[i].sides, &members[i], 0 };
			if (container->count++ == 0)
				container->groups = &groups[laid];
			laid++;
		}
		groups[laid - 1].count++;
	}
}

/* The baths that come into containers, but those that are dangerous by themselves. Returns how many. */
static size_t list_pourings(const struct recipe *recipe, const struct mixing_rules *rules, struct pouring *pourings)
{
	size_t count = 0;

	for (size_t i = 0; i < recipe->solution_count; i++) {
		const struct solution *solution = recipe->solutions[i];
		if (!is_poured(solution))
			continue;
		struct mixture mixture = mixture_of(solution, true);
		struct sides sides = mixture_sides(&mixture, rules);
		if ((sides_meeting(sides) & rules->always) == 0)
			pourings[count++] = (struct pouring){ sides, solution };
	}
	return count;
}

/* Keeps those of containers in which something clashes: in most of them nothing does. Returns how many. */
static size_t keep_clashing(const struct mixing_rules *rules, struct pouring *pourings, size_t count)
{
	struct sides together[STREAM_COUNT + 1] = { 0 };
	size_t kept = 0;

	for (size_t i = 0; i < count; i++) {
		struct sides *all = &together[pourings[i].solution->waste];
		all->one |= pourings[i].sides.one;
		all->other |= pourings[i].sides.other;
	}
	for (size_t i = 0; i < count; i++) {
		struct sides all = together[pourings[i].solution->waste];
		if (sides_clashing(all, all, rules) != 0)
			pourings[kept++] = pourings[i];
	}
	return kept;
}

static void look_into_containers(struct check_basis *basis, const struct recipe *recipe)
{
	struct pouring *pourings = ARENA_ARRAY(recipe->arena, struct pouring, recipe->solution_count);
	size_t count = list_pourings(recipe, basis->rules, pourings);

	count = keep_clashing(basis->rules, pourings, count);
	if (count == 0)
		return;
	qsort(pourings, count, sizeof(*pourings), compare_pourings);
	lay_groups(basis, pourings, count, recipe->arena);
}

const struct check_basis *check_basis_of(const struct recipe *recipe)
{
	struct check_basis *basis = ARENA_NEW(recipe->arena, struct check_basis);

	for (int id = 0; id < CHECK_COUNT; id++) {
		const struct check_row *row = check_row((enum check_id)id);
		struct subject_rows *rows = &basis->rows[row->subject];
		rows->ids[rows->count] = (enum check_id)id;
		rows->needs[rows->count++] = row->needs;
	}
	basis->rules = mixing_rules_read(recipe->arena);
	look_into_containers(basis, recipe);
	return basis;
}
