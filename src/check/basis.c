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

const struct check_basis *check_basis_of(const struct recipe *recipe)
{
	struct check_basis *basis = ARENA_NEW(recipe->arena, struct check_basis);
	struct sides all[STREAM_COUNT + 1] = { 0 };
	struct pouring *pourings = NULL;
	size_t count = 0, capacity = 0;

	for (int id = 0; id < CHECK_COUNT; id++) {
		const struct check_row *row = check_row((enum check_id)id);
		struct subject_rows *rows = &basis->rows[row->subject];
		rows->ids[rows->count] = (enum check_id)id;
		rows->needs[rows->count++] = row->needs;
	}
	basis->rules = mixing_rules_read(recipe->arena);
	/* Most containers hold nothing that clashes, and then nothing is kept of them. */
	for (int pass = 0; pass < 2; pass++) {
		for (size_t i = 0; i < recipe->solution_count; i++) {
			const struct solution *solution = recipe->solutions[i];
			if (!is_poured(solution))
				continue;
			struct sides *together = &all[solution->waste];
			if (pass == 1 && sides_clashing(*together, *together, basis->rules) == 0)
				continue;
			struct mixture mixture = mixture_of(solution, true);
			struct sides sides = mixture_sides(&mixture, basis->rules);
			if ((sides_meeting(sides) & basis->rules->always) != 0)
				continue;
			if (pass == 0) {
				together->one |= sides.one;
				together->other |= sides.other;
				continue;
			}
			ARENA_RESERVE(recipe->arena, pourings, count, capacity);
			pourings[count++] = (struct pouring){ sides, solution };
		}
	}
	if (count > 0) {
		qsort(pourings, count, sizeof(*pourings), compare_pourings);
		lay_groups(basis, pourings, count, recipe->arena);
	}
	return basis;
}
