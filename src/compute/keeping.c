/* How long a mixed bath keeps. */
#include "compute/keeping.h"

#define DAY_MS 86400000LL

/* What one batch makes: the unit in which bottles are full. */
static int64_t batch_volume(const struct solution *solution)
{
	return span_is_set(solution->kit_makes.span) ? solution->kit_makes.value : solution->formula_makes.value;
}

static bool is_part_full(const struct solution *solution, const struct on_hand *on_hand)
{
	int64_t batch = batch_volume(solution);

	if (on_hand->done.value > 0)
		return true;
	return batch > 0 && on_hand->volume.value % batch != 0;
}

bool keeping_last_day(const struct solution *solution, const struct on_hand *on_hand, int64_t *day)
{
	const struct quantity *life = &solution->keeps_full;

	if (!span_is_set(on_hand->mixed))
		return false;
	if (is_part_full(solution, on_hand) && span_is_set(solution->keeps_part_full.span))
		life = &solution->keeps_part_full;
	if (!span_is_set(life->span))
		life = &solution->keeps_part_full;
	if (!span_is_set(life->span))
		return false;
	*day = on_hand->mixed_on + life->value / DAY_MS;
	return true;
}
