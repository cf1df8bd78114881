/* How few loads there can be: bounds that can be told in a sentence, and rows that bound a search. */
#include "compute/packing_parts.h"

#define DUAL_MOST 8

/* The dual feasible functions u(k) of Fekete and Schepers (2001; from memory): whatever fits into a load of capacity C
 * still fits when each weight w becomes w if (k + 1) w / C is whole, else floor((k + 1) w / C) C / k. Here times k. */
void packing_bound_rows(struct packing_tally *tally, size_t source)
{
	const struct packing_row base = tally->rows[source];

	for (int64_t k = 1; k <= DUAL_MOST; k++) {
		struct packing_row *row = &tally->rows[tally->row_count];
		bool is_more = false;

		if (row->weights == NULL)
			row->weights = ARENA_ARRAY(tally->arena, int64_t, tally->kind_count);
		row->capacity = k * base.capacity;
		for (size_t kind = 0; kind < tally->kind_count; kind++) {
			int64_t scaled = (k + 1) * base.weights[kind];
			int64_t weight = k * base.weights[kind];

			if (scaled % base.capacity != 0)
				row->weights[kind] = scaled / base.capacity * base.capacity;
			else
				row->weights[kind] = weight;
			is_more |= row->weights[kind] > weight;
		}
		/* one that makes nothing heavier bounds nothing that the row itself does not */
		tally->row_count += is_more;
	}
}

static int64_t rounded_up(int64_t numerator, int64_t denominator)
{
	return numerator / denominator + (numerator % denominator != 0);
}

/* Takes a bound that is better than what is known. */
static void propose(struct packing *packing, enum packing_bound bound, int64_t numerator, int64_t denominator)
{
	int64_t loads = rounded_up(numerator, denominator);

	if (loads <= (int64_t)packing->loads_least)
		return;
	packing->loads_least = (size_t)loads;
	packing->bound = bound;
	packing->bound_numerator = numerator;
	packing->bound_denominator = denominator;
}

/* Where space was rounded, rolls are as much too light here as they are too heavy there. */
static void bound_by_space(const struct packing_tally *tally, struct packing *packing)
{
	const struct packing_problem *problem = tally->problem;
	int64_t capacity = tally->rows[0].capacity;
	int64_t sum = 0;

	for (size_t roll = 0; roll < problem->roll_count; roll++)
		if (tally->kind_of[roll] != PACKING_NONE)
			sum += capacity / problem->takes[problem->rolls[roll].format];
	propose(packing, PACKING_BOUND_SPACE, sum, capacity);
}

static void bound_by_reels(const struct packing_tally *tally, struct packing *packing)
{
	const struct packing_problem *problem = tally->problem;
	int64_t counts[PACKING_FORMATS_MOST] = { 0 };

	for (size_t roll = 0; roll < problem->roll_count; roll++)
		counts[problem->rolls[roll].format] += tally->kind_of[roll] != PACKING_NONE;
	for (uint32_t format = 0; format < problem->format_count; format++) {
		size_t before = packing->loads_least;

		if (problem->reels[format] <= 0 || counts[format] == 0)
			continue;
		propose(packing, PACKING_BOUND_REELS, counts[format], problem->reels[format]);
		if (packing->loads_least > before)
			packing->bound_format = format;
	}
}

/* Of one roll in a load: what the whole load may hold of film. */
static int64_t area_most(const struct packing_problem *problem)
{
	int64_t load = problem->load_area_milli_rolls;
	int64_t fill = problem->fill_area_milli_rolls;

	return load > 0 && (fill <= 0 || load < fill) ? load : fill;
}

static void bound_by_area(const struct packing_tally *tally, struct packing *packing)
{
	const struct packing_problem *problem = tally->problem;
	int64_t sum = 0;

	if (area_most(problem) <= 0)
		return;
	for (size_t roll = 0; roll < problem->roll_count; roll++) {
		int64_t area = problem->rolls[roll].area_milli_rolls;

		if (tally->kind_of[roll] != PACKING_NONE)
			sum = area > INT64_MAX - sum ? INT64_MAX : sum + area;
	}
	propose(packing, PACKING_BOUND_AREA, sum, area_most(problem));
}

/* Rolls at least as heavy as one that fits so many times into a load: no more of them fit together. Only rows that
 * were not rounded tell this. */
static void bound_by_large(const struct packing_tally *tally, struct packing *packing)
{
	for (size_t row = 0; row < tally->limit_count && !tally->is_rounded; row++) {
		const int64_t *weights = tally->rows[row].weights;

		for (size_t kind = 0; kind < tally->kind_count; kind++) {
			int64_t count = 0;

			if (weights[kind] == 0)
				continue;
			for (size_t other = 0; other < tally->kind_count; other++)
				count += weights[other] >= weights[kind] ? tally->totals[other] : 0;
			propose(packing, PACKING_BOUND_LARGE, count, tally->rows[row].capacity / weights[kind]);
		}
	}
}

/* A party of n rolls, of which each untried load takes n/2 rounded down: an even one needs two loads. So does an odd
 * one where the second load is not untried any more, else three. */
static void bound_by_spread(const struct packing_tally *tally, struct packing *packing)
{
	int64_t *counts = ARENA_ARRAY(tally->arena, int64_t, tally->party_count + 1);

	for (size_t roll = 0; roll < tally->problem->roll_count; roll++)
		counts[tally->problem->rolls[roll].party] += tally->kind_of[roll] != PACKING_NONE;
	for (size_t party = 0; party < tally->party_count && tally->untried > 0; party++) {
		int64_t half = tally->halves[party];
		int64_t loads;

		if (counts[party] <= half)
			continue;
		loads = rounded_up(counts[party], half);
		if (loads <= (int64_t)tally->untried)
			propose(packing, PACKING_BOUND_SPREAD, counts[party], half);
		else
			propose(packing, PACKING_BOUND_SPREAD, (int64_t)tally->untried + 1, 1);
	}
}

void packing_bound_find(const struct packing_tally *tally, struct packing *packing)
{
	packing->bound_denominator = 1;
	if (tally->roll_count == 0)
		return;
	bound_by_space(tally, packing);
	bound_by_reels(tally, packing);
	bound_by_area(tally, packing);
	bound_by_large(tally, packing);
	bound_by_spread(tally, packing);
}
