/* How few splits there can be.
 *
 * Draw a line from each party to each load it is in, and the drawing falls into clusters. A cluster of l loads and p
 * parties has l + p - 1 lines at least, so all of it has (loads - clusters) splits at least. A cluster wastes what its
 * loads hold more than its parties weigh, and all of them together waste no more than all loads: where there is
 * little to waste, few parties can be a cluster of their own, few pairs can, and the others are three or more to a
 * cluster. */
#include "compute/packing_parts.h"

/* With more parties the pairs are too many to look at in each state. */
#define PARTIES_MOST 40

static int64_t rounded_up(int64_t numerator, int64_t denominator)
{
	return numerator / denominator + (numerator % denominator != 0);
}

/* What loads enough for such a weight hold more than it. */
static int64_t waste_of(int64_t weight, int64_t capacity)
{
	return rounded_up(weight, capacity) * capacity - weight;
}

/* How many parties there are, the smallest wastes first, that waste no more together. */
static int64_t count_singles(const int64_t *wastes, size_t count, int64_t spare)
{
	int64_t singles = 0;

	for (size_t i = 0; i < count && wastes[i] <= spare; i++) {
		spare -= wastes[i];
		singles++;
	}
	return singles;
}

/* How many parties have another with which they waste no more. */
static int64_t count_paired(const int64_t *weights, size_t count, int64_t capacity, int64_t spare)
{
	int64_t paired = 0;

	for (size_t i = 0; i < count; i++)
		for (size_t j = 0; j < count; j++)
			if (i != j && waste_of(weights[i] + weights[j], capacity) <= spare) {
				paired++;
				break;
			}
	return paired;
}

static int64_t clusters_most(const int64_t *weights, const int64_t *wastes, size_t count, int64_t capacity,
			     int64_t spare)
{
	int64_t singles = count_singles(wastes, count, spare);
	int64_t others = (int64_t)count - singles;
	int64_t paired = others == 0 ? 0 : count_paired(weights, count, capacity, spare);
	int64_t clusters;

	if (paired > others)
		paired = others;
	clusters = singles + (3 * paired + 2 * (others - paired)) / 6;
	return clusters < 1 ? 1 : clusters;
}

/* By one row: the fewest splits over every number of loads that may be used. */
static int64_t least_by_row(int64_t *weights, size_t count, int64_t capacity, int64_t load_count)
{
	int64_t wastes[PARTIES_MOST];
	int64_t least = INT64_MAX;
	int64_t sum = 0;

	for (size_t i = 0; i < count; i++) {
		int64_t waste = waste_of(weights[i], capacity);
		size_t at = i;

		for (; at > 0 && wastes[at - 1] > waste; at--)
			wastes[at] = wastes[at - 1];
		wastes[at] = waste;
		sum += weights[i];
	}
	if (rounded_up(sum, capacity) + 2 < load_count)
		return 0;
	for (int64_t loads = rounded_up(sum, capacity); loads <= load_count; loads++) {
		int64_t clusters = clusters_most(weights, wastes, count, capacity, loads * capacity - sum);

		if (loads - clusters < least)
			least = loads - clusters;
	}
	return least;
}

int64_t packing_splits_least(const struct packing_tally *tally, const int64_t *left, const size_t *parties,
			     size_t count, size_t load_count)
{
	int64_t weights[PARTIES_MOST];
	int64_t best = 0;

	for (size_t row = 0; row < tally->row_count && count > 0 && count <= PARTIES_MOST; row++) {
		int64_t least;

		for (size_t i = 0; i < count; i++)
			weights[i] = packing_row_sum(tally, row, &left[parties[i] * tally->kind_count]);
		least = least_by_row(weights, count, tally->rows[row].capacity, (int64_t)load_count);
		if (least > best)
			best = least;
	}
	return best;
}
