/* The problem of packing, counted: kinds, what limits a load, who has how many of which. */
#include <stdlib.h>

#include "compute/packing_parts.h"

/* Sums of rows over all rolls, and a few times these, stay below INT64_MAX. */
#define HEADROOM 32

int64_t packing_part_of(int64_t weight, int64_t capacity)
{
	if (capacity <= 0)
		return weight > 0 ? INT64_C(1) << 20 : 0;
	if (capacity >= INT64_C(1) << 41)
		return weight / (capacity >> 20);
	return (weight << 20) / capacity;
}

int64_t packing_row_sum(const struct packing_tally *tally, size_t row, const int64_t *counts)
{
	const int64_t *weights = tally->rows[row].weights;
	int64_t sum = 0;

	for (size_t kind = 0; kind < tally->kind_count; kind++)
		sum += weights[kind] * counts[kind];
	return sum;
}

int64_t packing_area_sum(const struct packing_tally *tally, const int64_t *counts)
{
	int64_t sum = 0;

	for (size_t kind = 0; kind < tally->kind_count; kind++)
		sum += tally->areas[kind] * counts[kind];
	return sum;
}

bool packing_rows_allow(const struct packing_tally *tally, const int64_t *counts, size_t load_count)
{
	for (size_t row = 0; row < tally->row_count; row++)
		if (packing_row_sum(tally, row, counts) > tally->rows[row].capacity * (int64_t)load_count)
			return false;
	return true;
}

struct packing_fills packing_fills_start(const struct packing_tally *tally, size_t fill_count)
{
	if (!tally->has_fills || fill_count == 0)
		return (struct packing_fills){ 0, 0 };
	return (struct packing_fills){ tally->problem->first_fill_area_milli_rolls > 0 ? tally->first_fill
										       : tally->fill,
				       (int64_t)fill_count - 1 };
}

bool packing_work_on(struct packing_tally *tally)
{
	if (tally->work >= tally->work_most)
		return false;
	tally->work++;
	return true;
}

int64_t packing_kind_size(const struct packing_tally *tally, size_t kind)
{
	int64_t most = 0;

	for (size_t row = 0; row < tally->limit_count; row++) {
		int64_t part = packing_part_of(tally->rows[row].weights[kind], tally->rows[row].capacity);

		if (part > most)
			most = part;
	}
	return most;
}

/* ---- what a load holds ---- */

/* The limits of the problem, before there are kinds. */
struct limits {
	int64_t space;			       /* of a load; 0: nothing fits */
	int64_t weights[PACKING_FORMATS_MOST]; /* of that */
	bool has_reels[PACKING_FORMATS_MOST];  /* fewer than the tank takes and than there are rolls */
	size_t same[PACKING_FORMATS_MOST];     /* the first format that is limited alike */
	int64_t counts[PACKING_FORMATS_MOST];
	int64_t area_most; /* of a load; INT64_MAX: no limit */
	bool has_area;	   /* not all film fits into one load */
	int64_t unit;	   /* film is counted in these, rounded up */
};

static int64_t greatest_common_divisor(int64_t left, int64_t right)
{
	while (right != 0) {
		int64_t rest = left % right;

		left = right;
		right = rest;
	}
	return left;
}

/* The least load in which every roll weighs a whole number; where that would be beyond counting, a large one, and
 * rolls weigh a little more than they do. */
static void find_space(struct packing_tally *tally, struct limits *limits)
{
	const struct packing_problem *problem = tally->problem;
	int64_t most = INT64_MAX / HEADROOM / (tally->roll_count + 1);

	limits->space = 1;
	for (size_t format = 0; format < problem->format_count && !tally->is_rounded; format++) {
		int64_t takes = problem->takes[format];
		int64_t factor;

		if (limits->counts[format] == 0)
			continue;
		factor = takes / greatest_common_divisor(takes, limits->space);
		if (limits->space > most / factor)
			tally->is_rounded = true;
		else
			limits->space *= factor;
	}
	if (tally->is_rounded)
		limits->space = most;
	for (size_t format = 0; format < problem->format_count; format++)
		if (limits->counts[format] > 0)
			limits->weights[format] = (limits->space - 1) / problem->takes[format] + 1;
}

static void find_reels(const struct packing_problem *problem, struct limits *limits)
{
	for (size_t format = 0; format < problem->format_count; format++) {
		int64_t reels = problem->reels[format];

		limits->has_reels[format] =
			reels >= 0 && reels < problem->takes[format] && reels < limits->counts[format];
		limits->same[format] = format;
		for (size_t other = 0; other < format && !limits->has_reels[format]; other++)
			if (limits->counts[other] > 0 && !limits->has_reels[other] &&
			    problem->takes[other] == problem->takes[format]) {
				limits->same[format] = other;
				break;
			}
	}
}

static int64_t in_units(int64_t area, const struct limits *limits)
{
	return area / limits->unit + (area % limits->unit != 0);
}

/* ---- kinds ---- */

struct kind_key {
	int64_t area;
	size_t format;
};

static int compare_kinds(const void *left, const void *right)
{
	const struct kind_key *a = left;
	const struct kind_key *b = right;

	if (a->format != b->format)
		return a->format < b->format ? -1 : 1;
	return (a->area > b->area) - (a->area < b->area);
}

static bool is_film_counted(const struct packing_tally *tally, const struct limits *limits)
{
	return limits->has_area || tally->has_fills;
}

static struct kind_key key_of(const struct packing_tally *tally, const struct limits *limits, size_t roll)
{
	const struct packing_roll *it = &tally->problem->rolls[roll];

	return (struct kind_key){ is_film_counted(tally, limits) ? in_units(it->area_milli_rolls, limits) : 0,
				  limits->same[it->format] };
}

static size_t gather_kinds(const struct packing_tally *tally, const struct limits *limits, struct kind_key *keys)
{
	size_t count = 0;
	size_t kept = 0;

	for (size_t roll = 0; roll < tally->problem->roll_count; roll++)
		if (tally->kind_of[roll] != PACKING_NONE)
			keys[count++] = key_of(tally, limits, roll);
	qsort(keys, count, sizeof *keys, compare_kinds);
	for (size_t i = 0; i < count; i++)
		if (i == 0 || compare_kinds(&keys[i], &keys[kept - 1]) != 0)
			keys[kept++] = keys[i];
	return kept;
}

/* ---- rows ---- */

static struct packing_row *add_row(struct packing_tally *tally, int64_t capacity)
{
	struct packing_row *row = &tally->rows[tally->row_count++];

	row->weights = ARENA_ARRAY(tally->arena, int64_t, tally->kind_count);
	row->capacity = capacity;
	return row;
}

static void make_limits(struct packing_tally *tally, const struct limits *limits, const struct kind_key *keys)
{
	struct packing_row *row = add_row(tally, limits->space);

	for (size_t kind = 0; kind < tally->kind_count; kind++)
		row->weights[kind] = limits->weights[keys[kind].format];
	if (limits->has_area) {
		row = add_row(tally, limits->area_most / limits->unit);
		for (size_t kind = 0; kind < tally->kind_count; kind++)
			row->weights[kind] = keys[kind].area < row->capacity ? keys[kind].area : row->capacity;
	}
	for (size_t format = 0; format < tally->problem->format_count; format++) {
		if (!limits->has_reels[format])
			continue;
		row = add_row(tally, tally->problem->reels[format]);
		for (size_t kind = 0; kind < tally->kind_count; kind++)
			row->weights[kind] = keys[kind].format == format;
	}
	tally->limit_count = tally->row_count;
	packing_bound_rows(tally, 0);
	if (limits->has_area)
		packing_bound_rows(tally, 1);
}

/* Large kinds first: what is hard to place is placed first. */
static void sort_kinds(struct packing_tally *tally, size_t *place)
{
	size_t *order = ARENA_ARRAY(tally->arena, size_t, tally->kind_count);
	int64_t *old = ARENA_ARRAY(tally->arena, int64_t, tally->kind_count);

	for (size_t kind = 0; kind < tally->kind_count; kind++) {
		size_t at = kind;

		for (; at > 0 && packing_kind_size(tally, order[at - 1]) < packing_kind_size(tally, kind); at--)
			order[at] = order[at - 1];
		order[at] = kind;
	}
	for (size_t row = 0; row <= tally->row_count; row++) {
		int64_t *values = row < tally->row_count ? tally->rows[row].weights : tally->areas;

		for (size_t kind = 0; kind < tally->kind_count; kind++)
			old[kind] = values[kind];
		for (size_t kind = 0; kind < tally->kind_count; kind++)
			values[kind] = old[order[kind]];
	}
	for (size_t kind = 0; kind < tally->kind_count; kind++)
		place[order[kind]] = kind;
}

static void count_rolls(struct packing_tally *tally, const struct limits *limits, const struct kind_key *keys)
{
	const struct packing_problem *problem = tally->problem;
	size_t *place = ARENA_ARRAY(tally->arena, size_t, tally->kind_count);

	for (size_t kind = 0; kind < tally->kind_count; kind++) {
		int64_t area = keys[kind].area;

		tally->areas[kind] = tally->has_fills && area > tally->fill ? tally->fill : area;
	}
	sort_kinds(tally, place);
	for (size_t roll = 0; roll < problem->roll_count; roll++) {
		const struct kind_key *found;
		struct kind_key key;

		if (tally->kind_of[roll] == PACKING_NONE)
			continue;
		key = key_of(tally, limits, roll);
		found = bsearch(&key, keys, tally->kind_count, sizeof *keys, compare_kinds);
		tally->kind_of[roll] = (uint32_t)place[found - keys];
		tally->rolls[problem->rolls[roll].party * tally->kind_count + tally->kind_of[roll]]++;
		tally->totals[tally->kind_of[roll]]++;
		tally->halves[problem->rolls[roll].party]++;
	}
	for (size_t party = 0; party < tally->party_count; party++) {
		int64_t half = tally->halves[party] / 2;

		tally->halves[party] = problem->parties[party].is_together ? INT64_MAX / 4 : half < 1 ? 1 : half;
	}
}

/* ---- the whole ---- */

static bool is_too_large(const struct packing_problem *problem, const struct limits *limits, size_t roll)
{
	const struct packing_roll *it = &problem->rolls[roll];

	return problem->takes[it->format] <= 0 || problem->reels[it->format] == 0 ||
	       it->area_milli_rolls > limits->area_most;
}

/* Which rolls fit, and how much film they are; what is beyond counting counts as the most there is. */
static int64_t leave_out(struct packing_tally *tally, struct limits *limits)
{
	const struct packing_problem *problem = tally->problem;
	int64_t film = 0;

	limits->area_most = problem->load_area_milli_rolls > 0 ? problem->load_area_milli_rolls : INT64_MAX;
	if (problem->fill_area_milli_rolls > 0 && problem->fill_area_milli_rolls < limits->area_most)
		limits->area_most = problem->fill_area_milli_rolls;
	for (size_t roll = 0; roll < problem->roll_count; roll++) {
		int64_t area = problem->rolls[roll].area_milli_rolls;

		if (is_too_large(problem, limits, roll)) {
			tally->kind_of[roll] = PACKING_NONE;
			continue;
		}
		limits->counts[problem->rolls[roll].format]++;
		tally->roll_count++;
		film = area > INT64_MAX - film ? INT64_MAX : film + area;
	}
	limits->has_area = film > limits->area_most;
	return film;
}

/* Film in units so large that its sums can be counted, and so that there are few kinds. */
static struct kind_key *find_kinds(struct packing_tally *tally, struct limits *limits, int64_t film)
{
	struct kind_key *keys = ARENA_ARRAY(tally->arena, struct kind_key, tally->problem->roll_count + 1);
	int64_t most = INT64_MAX / HEADROOM / (tally->roll_count + 1);
	int64_t largest = film;

	limits->unit = 1;
	if (limits->has_area && limits->area_most < largest)
		largest = limits->area_most;
	while (is_film_counted(tally, limits) && largest / limits->unit >= most)
		limits->unit *= 2;
	tally->kind_count = gather_kinds(tally, limits, keys);
	while (tally->kind_count > PACKING_KINDS_MOST && is_film_counted(tally, limits) && limits->unit < largest) {
		limits->unit *= 2;
		tally->kind_count = gather_kinds(tally, limits, keys);
	}
	tally->is_rounded |= limits->unit > 1;
	return keys;
}

struct packing_tally *packing_tally_make(const struct packing_problem *problem, struct arena *arena)
{
	struct packing_tally *tally = ARENA_NEW(arena, struct packing_tally);
	struct limits limits = { .unit = 1 };
	struct kind_key *keys;
	int64_t film;

	*tally = (struct packing_tally){
		.problem = problem, .arena = arena, .party_count = problem->party_count, .untried = problem->untried
	};
	tally->kind_of = ARENA_ARRAY(arena, uint32_t, problem->roll_count + 1);
	film = leave_out(tally, &limits);
	if (tally->untried > (size_t)tally->roll_count + 1)
		tally->untried = (size_t)tally->roll_count + 1;
	find_space(tally, &limits);
	find_reels(problem, &limits);
	tally->fill = problem->fill_area_milli_rolls;
	tally->first_fill = problem->first_fill_area_milli_rolls > 0 ? problem->first_fill_area_milli_rolls : 0;
	tally->has_fills = tally->fill > 0 && film > (tally->first_fill > 0 ? tally->first_fill : tally->fill);
	keys = find_kinds(tally, &limits, film);
	tally->fill /= limits.unit;
	tally->first_fill /= limits.unit;
	tally->rolls = ARENA_ARRAY(arena, int64_t, tally->party_count * tally->kind_count + 1);
	tally->totals = ARENA_ARRAY(arena, int64_t, tally->kind_count + 1);
	tally->areas = ARENA_ARRAY(arena, int64_t, tally->kind_count + 1);
	tally->halves = ARENA_ARRAY(arena, int64_t, tally->party_count + 1);
	tally->rows = ARENA_ARRAY(arena, struct packing_row, PACKING_FORMATS_MOST + 32);
	make_limits(tally, &limits, keys);
	count_rolls(tally, &limits, keys);
	return tally;
}
