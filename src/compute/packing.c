/* Packing, stage by stage: the fewest loads, then the fewest fills, then the fewest splits; each stage keeps what the
 * one before has found, and has its share of the work. */
#include "compute/packing_parts.h"

/* Steps of the search, a step being one party or kind looked at in one load: some tenths of a second. */
#define WORK_USUAL INT64_C(2400000)
#define WORK_PER_ROLL INT64_C(1000)

struct solving {
	struct packing_tally *tally;
	struct packing *packing;
	struct packing_kinds *kinds;
	struct packing_sharing *best;
	int64_t work_most;
};

/* Gives the next stage so much more work, out of what there is for all. */
static void allow_work(struct solving *solving, int64_t work)
{
	struct packing_tally *tally = solving->tally;

	tally->work_most = tally->work + (work < 1 ? 1 : work);
	if (tally->work_most > solving->work_most)
		tally->work_most = solving->work_most;
}

/* The parties of loads by kind that were just found; where the simple way does not spread them, by a search. */
static enum packing_answer share_out(struct solving *solving, size_t load_count, size_t fill_count)
{
	struct packing_tally *tally = solving->tally;
	struct packing_sharing *sharing = packing_construct(tally, solving->kinds, load_count);
	enum packing_answer answer = PACKING_YES;

	if (sharing == NULL) {
		struct packing_parties *parties = packing_parties_make(tally, solving->kinds, load_count, fill_count);

		sharing = packing_sharing_make(tally, load_count);
		answer = packing_parties_solve(parties, PACKING_SPLITS_ANY, sharing);
	}
	if (answer == PACKING_YES)
		solving->best = sharing;
	return answer;
}

/* Whether so many loads and fills are enough. A rounded tally cannot tell that they are not. */
static enum packing_answer try(struct solving *solving, size_t load_count, size_t fill_count)
{
	struct packing_tally *tally = solving->tally;
	enum packing_answer answer = packing_kinds_solve(solving->kinds, tally->totals, load_count,
							 packing_fills_start(tally, fill_count), tally->untried);

	if (answer == PACKING_YES)
		answer = share_out(solving, load_count, fill_count);
	return answer == PACKING_NO && tally->is_rounded ? PACKING_UNKNOWN : answer;
}

/* ---- loads ---- */

static void find_loads(struct solving *solving)
{
	struct packing_tally *tally = solving->tally;
	struct packing *packing = solving->packing;
	bool has_fills = tally->has_fills;
	bool is_certain = true;

	tally->has_fills = false;
	solving->best = packing_construct_first(tally);
	solving->kinds = packing_kinds_make(tally, solving->best->load_count);
	for (size_t loads = packing->loads_least;
	     loads < solving->best->load_count && tally->work < solving->work_most / 2; loads++) {
		enum packing_answer answer;

		allow_work(solving, solving->work_most / 8);
		answer = try(solving, loads, 0);
		if (answer == PACKING_YES)
			break;
		is_certain &= answer == PACKING_NO;
		if (!is_certain)
			continue;
		packing->loads_least = loads + 1;
		packing->bound = PACKING_BOUND_SEARCH;
		packing->bound_numerator = (int64_t)loads + 1;
		packing->bound_denominator = 1;
	}
	tally->has_fills = has_fills;
	packing->is_proven_loads = solving->best->load_count == packing->loads_least;
}

/* ---- fills ---- */

static size_t fills_bound(const struct packing_tally *tally)
{
	int64_t film = packing_area_sum(tally, tally->totals);
	struct packing_fills start = packing_fills_start(tally, 1);

	if (!tally->has_fills || film <= start.room)
		return 1;
	return 1 + (size_t)((film - start.room - 1) / tally->fill + 1);
}

/* With so many loads as there are now. */
static void find_fills(struct solving *solving)
{
	struct packing_tally *tally = solving->tally;
	struct packing *packing = solving->packing;
	size_t load_count = solving->best->load_count;
	size_t most;

	packing->fills_least = solving->best->fill_count = 1;
	packing->is_proven_fills = true;
	if (!tally->has_fills)
		return;
	packing_order_fills(tally, solving->best);
	most = solving->best->fill_count;
	packing->fills_least = tally->is_rounded ? 1 : fills_bound(tally);
	packing->is_proven_fills = most == packing->fills_least;
	if (packing->is_proven_fills)
		return;
	solving->kinds = packing_kinds_make(tally, load_count);
	for (size_t fills = packing->fills_least; fills < most; fills++) {
		enum packing_answer answer;

		allow_work(solving, solving->work_most / 8);
		answer = try(solving, load_count, fills);
		if (answer == PACKING_YES) {
			solving->best->fill_count = fills;
			break;
		}
		if (answer == PACKING_NO && fills == packing->fills_least)
			packing->fills_least = fills + 1;
	}
	packing->is_proven_fills = solving->best->fill_count == packing->fills_least;
}

/* ---- splits ---- */

static void keep_better(struct solving *solving, struct packing_sharing *sharing)
{
	if (sharing->split_count >= solving->best->split_count || sharing->load_count > solving->best->load_count)
		return;
	packing_sharing_copy(solving->best, sharing);
}

/* Fewer and fewer, as long as that is found quickly. */
static void improve_splits(struct solving *solving, struct packing_parties *parties, struct packing_sharing *sharing)
{
	size_t fill_count = solving->best->fill_count;

	allow_work(solving, solving->work_most / 2);
	if (!solving->tally->has_fills && packing_parties_greedy(parties, sharing) == PACKING_YES) {
		sharing->fill_count = fill_count;
		keep_better(solving, sharing);
	}
	if (solving->best->split_count > solving->packing->splits_least)
		packing_again(solving->tally, solving->best, solving->work_most / 3);
	while (solving->best->split_count > solving->packing->splits_least) {
		allow_work(solving, solving->work_most / 16);
		if (packing_parties_solve(parties, (int64_t)solving->best->split_count - 1, sharing) != PACKING_YES)
			break;
		sharing->fill_count = fill_count;
		keep_better(solving, sharing);
	}
}

/* Looks for the fewest splits from below; what is impossible raises the bound. */
static void prove_splits(struct solving *solving, struct packing_parties *parties, struct packing_sharing *sharing)
{
	struct packing *packing = solving->packing;

	while (packing->splits_least < solving->best->split_count) {
		enum packing_answer answer;

		answer = packing_parties_solve(parties, (int64_t)packing->splits_least, sharing);
		if (answer == PACKING_UNKNOWN || solving->tally->is_rounded)
			break;
		if (answer == PACKING_NO) {
			packing->splits_least++;
			continue;
		}
		sharing->fill_count = solving->best->fill_count;
		keep_better(solving, sharing);
	}
}

/* Without counting fills: what is impossible then is impossible with them, and what is found may by chance do with as
 * few fills. */
static void try_without_fills(struct solving *solving, struct packing_sharing *sharing)
{
	struct packing_tally *tally = solving->tally;
	struct packing_sharing *best = solving->best;
	struct packing_parties *parties;

	tally->has_fills = false;
	solving->kinds = packing_kinds_make(tally, best->load_count);
	parties = packing_parties_make(tally, solving->kinds, best->load_count, 0);
	solving->best = packing_sharing_make(tally, best->load_count);
	packing_sharing_copy(solving->best, best);
	allow_work(solving, solving->work_most / 4);
	prove_splits(solving, parties, sharing);
	solving->best = best;
	parties = packing_parties_make(tally, solving->kinds, best->load_count, 0);
	packing_parties_want_fills(parties, best->fill_count, best->load_count);
	for (size_t splits = solving->packing->splits_least; splits < best->split_count; splits++) {
		allow_work(solving, solving->work_most / 16);
		if (packing_parties_solve(parties, (int64_t)splits, sharing) != PACKING_YES)
			continue;
		packing_order_fills(tally, sharing);
		keep_better(solving, sharing);
	}
	tally->has_fills = true;
}

static void find_splits(struct solving *solving)
{
	struct packing_tally *tally = solving->tally;
	struct packing *packing = solving->packing;
	struct packing_sharing *best = solving->best;
	struct packing_sharing *sharing = packing_sharing_make(tally, best->load_count);
	struct packing_parties *parties =
		packing_parties_make(tally, solving->kinds, best->load_count, best->fill_count);

	packing->splits_least = (size_t)packing_splits_bound(parties);
	if (tally->has_fills) {
		try_without_fills(solving, sharing);
		solving->kinds = packing_kinds_make(tally, best->load_count);
		parties = packing_parties_make(tally, solving->kinds, best->load_count, best->fill_count);
	}
	improve_splits(solving, parties, sharing);
	allow_work(solving, solving->work_most);
	prove_splits(solving, parties, sharing);
	packing->is_proven_splits = best->split_count == packing->splits_least;
}

/* ---- the whole ---- */

static void list_too_large(const struct packing_tally *tally, struct packing *packing)
{
	packing->too_large = ARENA_ARRAY(tally->arena, uint32_t, tally->problem->roll_count + 1);
	for (uint32_t roll = 0; roll < tally->problem->roll_count; roll++)
		if (tally->kind_of[roll] == PACKING_NONE)
			packing->too_large[packing->too_large_count++] = roll;
}

struct packing *packing_solve(const struct packing_problem *problem, struct arena *arena)
{
	struct packing *packing = ARENA_NEW(arena, struct packing);
	struct packing_tally *tally = packing_tally_make(problem, arena);
	struct solving solving = { .tally = tally, .packing = packing, .work_most = problem->work_most };

	if (solving.work_most <= 0)
		solving.work_most = WORK_USUAL + WORK_PER_ROLL * tally->roll_count;
	list_too_large(tally, packing);
	packing_bound_find(tally, packing);
	packing->is_proven_loads = packing->is_proven_fills = packing->is_proven_splits = tally->roll_count == 0;
	if (tally->roll_count == 0)
		return packing;
	find_loads(&solving);
	find_fills(&solving);
	find_splits(&solving);
	packing_order_write(tally, solving.best, packing);
	/* the search for fewer splits may have saved a load by chance, the order for urgent rolls a fill */
	packing->is_proven_loads = packing->load_count == packing->loads_least;
	packing->is_proven_fills = packing->fill_count == packing->fills_least;
	packing->work = tally->work;
	return packing;
}
