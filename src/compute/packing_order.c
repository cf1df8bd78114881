/* The loads in order: on as few fills as were found, the untried ones first, urgent rolls early; and the result. */
#include <stdlib.h>
#include <string.h>

#include "compute/packing_parts.h"

/* More loads than this are put in order once and not improved: that work grows with the fourth power. */
#define IMPROVED_MOST 48

size_t packing_order_count(const struct packing_tally *tally, const int64_t *areas, size_t count, size_t *fills)
{
	bool has_first = tally->problem->first_fill_area_milli_rolls > 0;
	int64_t room = has_first ? tally->first_fill : tally->fill;
	size_t fill = 0;

	for (size_t load = 0; load < count; load++) {
		if (tally->has_fills && areas[load] > room) {
			fill++;
			room = tally->fill;
		}
		room -= areas[load];
		if (fills != NULL)
			fills[load] = fill;
	}
	return count == 0 ? 0 : fill + 1;
}

static int64_t *areas_of(const struct packing_tally *tally, const struct packing_sharing *sharing)
{
	int64_t *areas = ARENA_ARRAY(tally->arena, int64_t, sharing->load_count + 1);

	for (size_t i = 0; i < sharing->share_count; i++)
		areas[sharing->shares[i].load] += sharing->shares[i].count * tally->areas[sharing->shares[i].kind];
	return areas;
}

/* ---- fills ---- */

/* order[new place] = load */
static void renumber(const struct packing_tally *tally, struct packing_sharing *sharing, const size_t *order)
{
	size_t *places = ARENA_ARRAY(tally->arena, size_t, sharing->load_count + 1);

	for (size_t place = 0; place < sharing->load_count; place++)
		places[order[place]] = place;
	for (size_t i = 0; i < sharing->share_count; i++)
		sharing->shares[i].load = places[sharing->shares[i].load];
	packing_sharing_sort(sharing);
}

/* Of the loads that are not on a fill yet, the one with the most film that fits. */
static size_t largest_fitting(const int64_t *areas, const bool *is_placed, size_t count, int64_t room)
{
	size_t best = count;

	for (size_t load = 0; load < count; load++)
		if (!is_placed[load] && areas[load] <= room && (best == count || areas[load] > areas[best]))
			best = load;
	return best;
}

size_t packing_order_arrange(const struct packing_tally *tally, const int64_t *areas, size_t count, size_t *order,
			     bool *is_placed)
{
	int64_t room = tally->problem->first_fill_area_milli_rolls > 0 ? tally->first_fill : tally->fill;
	size_t fill = 0;

	memset(is_placed, 0, count * sizeof *is_placed);
	for (size_t place = 0; place < count; place++) {
		size_t load = place < tally->untried ? place : largest_fitting(areas, is_placed, count, room);

		if (load == count || areas[load] > room) {
			room = tally->fill;
			fill++;
			load = place < tally->untried ? place : largest_fitting(areas, is_placed, count, room);
		}
		is_placed[load] = true;
		room -= areas[load];
		order[place] = load;
	}
	return fill + 1;
}

void packing_order_fills(const struct packing_tally *tally, struct packing_sharing *sharing)
{
	size_t count = sharing->load_count;
	size_t *order = ARENA_ARRAY(tally->arena, size_t, count + 1);
	bool *is_placed = ARENA_ARRAY(tally->arena, bool, count + 1);

	sharing->fill_count = packing_order_arrange(tally, areas_of(tally, sharing), count, order, is_placed);
	renumber(tally, sharing, order);
}

/* ---- urgent rolls ---- */

struct urgency {
	const struct packing_tally *tally;
	const struct packing_sharing *sharing; /* by load */
	size_t *firsts;			       /* by load: its first share; one more at the end */
	bool *is_spread;		       /* by load */
	int64_t *areas;			       /* by load */
	int64_t *ordered;
	int64_t *urgent; /* [party][kind] */
	int64_t *left;
	size_t fill_count;
};

static struct urgency look_at(const struct packing_tally *tally, const struct packing_sharing *sharing)
{
	struct urgency urgency = { .tally = tally, .sharing = sharing, .areas = areas_of(tally, sharing) };
	size_t cells = tally->party_count * tally->kind_count + 1;
	size_t count = sharing->load_count;
	size_t at = 0;

	urgency.firsts = ARENA_ARRAY(tally->arena, size_t, count + 1);
	urgency.is_spread = ARENA_ARRAY(tally->arena, bool, count + 1);
	urgency.ordered = ARENA_ARRAY(tally->arena, int64_t, count + 1);
	urgency.urgent = ARENA_ARRAY(tally->arena, int64_t, cells);
	urgency.left = ARENA_ARRAY(tally->arena, int64_t, cells);
	for (size_t load = 0; load < count; load++) {
		int64_t sum = 0;

		urgency.firsts[load] = at;
		urgency.is_spread[load] = true;
		for (; at < sharing->share_count && sharing->shares[at].load == load; at++) {
			bool is_same =
				at > urgency.firsts[load] && sharing->shares[at].party == sharing->shares[at - 1].party;

			sum = sharing->shares[at].count + (is_same ? sum : 0);
			if (sum > tally->halves[sharing->shares[at].party])
				urgency.is_spread[load] = false;
		}
	}
	urgency.firsts[count] = at;
	for (size_t roll = 0; roll < tally->problem->roll_count; roll++)
		if (tally->kind_of[roll] != PACKING_NONE && tally->problem->rolls[roll].is_urgent)
			urgency.urgent[tally->problem->rolls[roll].party * tally->kind_count + tally->kind_of[roll]]++;
	urgency.fill_count = packing_order_count(tally, urgency.areas, count, NULL);
	return urgency;
}

/* Urgent rolls a load takes of those left. */
static int64_t urgent_in(struct urgency *urgency, size_t load, bool takes)
{
	int64_t sum = 0;

	for (size_t i = urgency->firsts[load]; i < urgency->firsts[load + 1]; i++) {
		const struct packing_share *share = &urgency->sharing->shares[i];
		int64_t *left = &urgency->left[share->party * urgency->tally->kind_count + share->kind];
		int64_t count = *left < share->count ? *left : share->count;

		sum += count;
		*left -= takes ? count : 0;
	}
	return sum;
}

static void begin(struct urgency *urgency)
{
	memcpy(urgency->left, urgency->urgent,
	       urgency->tally->party_count * urgency->tally->kind_count * sizeof *urgency->left);
}

/* Sum of the places of urgent rolls. */
static int64_t lateness(struct urgency *urgency, const size_t *order)
{
	int64_t sum = 0;

	begin(urgency);
	for (size_t place = 0; place < urgency->sharing->load_count; place++)
		sum += (int64_t)place * urgent_in(urgency, order[place], true);
	return sum;
}

static bool is_allowed(struct urgency *urgency, const size_t *order)
{
	const struct packing_tally *tally = urgency->tally;
	size_t count = urgency->sharing->load_count;

	for (size_t place = 0; place < count; place++) {
		if (place < tally->untried && !urgency->is_spread[order[place]])
			return false;
		urgency->ordered[place] = urgency->areas[order[place]];
	}
	return packing_order_count(tally, urgency->ordered, count, NULL) <= urgency->fill_count;
}

/* One after the other the load that takes the most urgent rolls; only where fills do not count. */
static void order_greedily(struct urgency *urgency, size_t *order)
{
	size_t count = urgency->sharing->load_count;

	begin(urgency);
	for (size_t place = 0; place < count; place++) {
		size_t best = place;
		int64_t most = -1;
		size_t load;

		for (size_t other = place; other < count; other++) {
			int64_t urgent = urgent_in(urgency, order[other], false);

			if (urgent > most && (place >= urgency->tally->untried || urgency->is_spread[order[other]])) {
				best = other;
				most = urgent;
			}
		}
		load = order[best];
		for (size_t other = best; other > place; other--)
			order[other] = order[other - 1];
		order[place] = load;
		urgent_in(urgency, load, true);
	}
}

static void swap(size_t *order, size_t left, size_t right)
{
	size_t load = order[left];

	order[left] = order[right];
	order[right] = load;
}

/* Pairs change places until no pair is better off. */
static void improve(struct urgency *urgency, size_t *order)
{
	size_t count = urgency->sharing->load_count;
	int64_t best = lateness(urgency, order);
	bool is_better = count <= IMPROVED_MOST;

	while (is_better) {
		is_better = false;
		for (size_t left = 0; left < count; left++)
			for (size_t right = left + 1; right < count; right++) {
				int64_t now;

				swap(order, left, right);
				now = lateness(urgency, order);
				if (now < best && is_allowed(urgency, order)) {
					best = now;
					is_better = true;
				} else {
					swap(order, left, right);
				}
			}
	}
}

/* ---- the result ---- */

/* The rolls of each party and kind, urgent ones first. */
struct shelf {
	uint32_t *rolls;
	size_t *firsts; /* [party][kind]: the next one */
};

static struct shelf sort_rolls(const struct packing_tally *tally)
{
	const struct packing_problem *problem = tally->problem;
	size_t cells = tally->party_count * tally->kind_count;
	struct shelf shelf = { .rolls = ARENA_ARRAY(tally->arena, uint32_t, problem->roll_count + 1),
			       .firsts = ARENA_ARRAY(tally->arena, size_t, cells + 1) };
	size_t *ends = ARENA_ARRAY(tally->arena, size_t, cells + 1);
	size_t at = 0;

	for (size_t cell = 0; cell < cells; cell++) {
		shelf.firsts[cell] = ends[cell] = at;
		at += (size_t)tally->rolls[cell];
	}
	for (int pass = 0; pass < 2; pass++)
		for (uint32_t roll = 0; roll < problem->roll_count; roll++) {
			size_t cell = problem->rolls[roll].party * tally->kind_count + tally->kind_of[roll];

			if (tally->kind_of[roll] != PACKING_NONE && problem->rolls[roll].is_urgent == (pass == 0))
				shelf.rolls[ends[cell]++] = roll;
		}
	return shelf;
}

static int compare_rolls(const void *left, const void *right)
{
	const uint32_t a = *(const uint32_t *)left;
	const uint32_t b = *(const uint32_t *)right;

	return (a > b) - (a < b);
}

static void write_load(const struct packing_tally *tally, const struct urgency *urgency, size_t load,
		       struct shelf *shelf, struct packing_load *result)
{
	const struct packing_sharing *sharing = urgency->sharing;
	size_t party_from = 0;

	for (size_t i = urgency->firsts[load]; i < urgency->firsts[load + 1]; i++)
		result->count += (size_t)sharing->shares[i].count;
	result->rolls = ARENA_ARRAY(tally->arena, uint32_t, result->count + 1);
	result->count = 0;
	for (size_t i = urgency->firsts[load]; i < urgency->firsts[load + 1]; i++) {
		const struct packing_share *share = &sharing->shares[i];
		size_t *next = &shelf->firsts[share->party * tally->kind_count + share->kind];

		if (i > urgency->firsts[load] && share->party != sharing->shares[i - 1].party)
			party_from = result->count;
		for (int64_t n = 0; n < share->count; n++) {
			uint32_t roll = shelf->rolls[(*next)++];
			int64_t area = tally->problem->rolls[roll].area_milli_rolls;

			result->rolls[result->count++] = roll;
			result->area_milli_rolls = area > INT64_MAX - result->area_milli_rolls
							   ? INT64_MAX
							   : result->area_milli_rolls + area;
		}
		qsort(&result->rolls[party_from], result->count - party_from, sizeof *result->rolls, compare_rolls);
	}
}

/* On which fill each load is, by the film it really has. */
static void write_fills(const struct packing_tally *tally, struct packing *packing)
{
	const struct packing_problem *problem = tally->problem;
	int64_t room = problem->first_fill_area_milli_rolls > 0 ? problem->first_fill_area_milli_rolls
								: problem->fill_area_milli_rolls;
	size_t fill = 0;

	for (size_t load = 0; load < packing->load_count; load++) {
		if (tally->has_fills && packing->loads[load].area_milli_rolls > room) {
			room = problem->fill_area_milli_rolls;
			fill++;
		}
		room -= tally->has_fills ? packing->loads[load].area_milli_rolls : 0;
		packing->loads[load].fill = fill;
	}
	packing->fill_count = packing->load_count == 0 ? 0 : fill + 1;
}

void packing_order_write(const struct packing_tally *tally, struct packing_sharing *sharing, struct packing *packing)
{
	struct urgency urgency;
	size_t *order = ARENA_ARRAY(tally->arena, size_t, sharing->load_count + 1);
	struct shelf shelf = sort_rolls(tally);

	packing_sharing_sort(sharing);
	urgency = look_at(tally, sharing);
	for (size_t place = 0; place < sharing->load_count; place++)
		order[place] = place;
	if (lateness(&urgency, order) > 0) {
		if (!tally->has_fills)
			order_greedily(&urgency, order);
		improve(&urgency, order);
	}
	packing->load_count = sharing->load_count;
	packing->split_count = sharing->split_count;
	packing->loads = ARENA_ARRAY(tally->arena, struct packing_load, sharing->load_count + 1);
	for (size_t place = 0; place < sharing->load_count; place++)
		write_load(tally, &urgency, order[place], &shelf, &packing->loads[place]);
	write_fills(tally, packing);
}
