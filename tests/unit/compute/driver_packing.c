/* Packs problems from standard input: for tests/plan/packing.py, which works the same problems out with another
 * program. Whole numbers, one problem after the other:
 *
 *     format_count takes... reels... load_area fill_area first_fill_area untried work_most
 *     party_count together... roll_count, and of each roll: format party area urgent
 *
 * Answers: a line of figures, one of the rolls that are too large, and one for each load: fill, film, its rolls. With
 * the argument `memory` only figures of work and memory. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "compute/packing.h"

static bool read_figure(int64_t *figure)
{
	return scanf("%" SCNd64, figure) == 1;
}

static bool read_size(size_t *size)
{
	int64_t figure;

	if (!read_figure(&figure))
		return false;
	*size = (size_t)figure;
	return true;
}

static bool read_limits(struct packing_problem *problem)
{
	if (!read_size(&problem->format_count) || problem->format_count > PACKING_FORMATS_MOST)
		return false;
	for (size_t i = 0; i < problem->format_count; i++)
		if (!read_figure(&problem->takes[i]))
			return false;
	for (size_t i = 0; i < problem->format_count; i++)
		if (!read_figure(&problem->reels[i]))
			return false;
	return read_figure(&problem->load_area_milli_rolls) && read_figure(&problem->fill_area_milli_rolls) &&
	       read_figure(&problem->first_fill_area_milli_rolls) && read_size(&problem->untried) &&
	       read_figure(&problem->work_most);
}

static bool read_problem(struct packing_problem *problem, struct arena *arena)
{
	struct packing_party *parties;
	struct packing_roll *rolls;

	*problem = (struct packing_problem){ 0 };
	if (!read_limits(problem) || !read_size(&problem->party_count))
		return false;
	problem->parties = parties = ARENA_ARRAY(arena, struct packing_party, problem->party_count + 1);
	for (size_t i = 0; i < problem->party_count; i++) {
		int64_t together;

		if (!read_figure(&together))
			return false;
		parties[i].is_together = together != 0;
	}
	if (!read_size(&problem->roll_count))
		return false;
	problem->rolls = rolls = ARENA_ARRAY(arena, struct packing_roll, problem->roll_count + 1);
	for (size_t i = 0; i < problem->roll_count; i++) {
		int64_t format, party, area, urgent;

		if (!read_figure(&format) || !read_figure(&party) || !read_figure(&area) || !read_figure(&urgent))
			return false;
		rolls[i] = (struct packing_roll){ (uint32_t)format, (uint32_t)party, area, urgent != 0 };
	}
	return true;
}

static void answer(const struct packing *packing)
{
	static const char *const bounds[] = { "none", "space", "reels", "area", "large", "spread", "search" };

	printf("%zu %zu %zu %zu %zu %zu %d %d %d %s %" PRIu32 " %" PRId64 " %" PRId64 " %" PRId64 "\n",
	       packing->load_count, packing->fill_count, packing->split_count, packing->loads_least,
	       packing->fills_least, packing->splits_least, packing->is_proven_loads, packing->is_proven_fills,
	       packing->is_proven_splits, bounds[packing->bound], packing->bound_format, packing->bound_numerator,
	       packing->bound_denominator, packing->work);
	printf("large");
	for (size_t i = 0; i < packing->too_large_count; i++)
		printf(" %" PRIu32, packing->too_large[i]);
	putchar('\n');
	for (size_t load = 0; load < packing->load_count; load++) {
		printf("load %zu %" PRId64, packing->loads[load].fill, packing->loads[load].area_milli_rolls);
		for (size_t i = 0; i < packing->loads[load].count; i++)
			printf(" %" PRIu32, packing->loads[load].rolls[i]);
		putchar('\n');
	}
}

int main(int count, char **arguments)
{
	bool is_measured = count > 1 && strcmp(arguments[1], "memory") == 0;
	struct landing landing;
	struct arena arena;

	if (setjmp(landing.place)) {
		fputs("memory ran out\n", stderr);
		return 1;
	}
	for (;;) {
		struct packing_problem problem;
		const struct packing *packing;
		size_t used;

		arena_init(&arena, &landing);
		if (!read_problem(&problem, &arena))
			break;
		used = arena.used;
		packing = packing_solve(&problem, &arena);
		if (is_measured)
			printf("%zu bytes\n", arena.used - used);
		answer(packing);
		fflush(stdout);
		arena_release(&arena);
	}
	arena_release(&arena);
	return feof(stdin) ? 0 : 1;
}
