#include "compute/mixing.h"

#include "compute/rounding.h"
#include "support/limits.h"

/* A chain of stocks longer than this goes in a circle, which the model reports. */
#define LONGEST_CHAIN 32

static bool is_liquid(const struct part *part)
{
	return span_is_set(part->amount.span) && part->is_volume;
}

static bool is_powder_kit(const struct solution *solution)
{
	return span_is_set(solution->kit_makes.span) && solution->kit_form == KIT_POWDER;
}

static bool is_dry(const struct solution *solution, const struct part *part)
{
	if (span_is_set(part->amount.span))
		return !part->is_volume;
	return is_powder_kit(solution);
}

static void add_part(struct mixing_batch *batch, const struct solution *solution, const struct part *part)
{
	if (part->kind == PART_ADD && is_dry(solution, part)) {
		batch->before_dry = batch->measured;
		if (!batch->first_dry)
			batch->first_dry = part;
	}
	if ((part->kind == PART_WATER || part->kind == PART_ADD) && is_liquid(part)) {
		if (batch->measured < ROUNDING_MOST)
			batch->measured += part->amount.value;
		batch->last_liquid = part;
	}
	if (part->kind == PART_TOP_UP) {
		batch->top_up = part;
		batch->mark = is_liquid(part) ? part->amount.value : batch->makes;
	}
}

struct mixing_batch mixing_batch(const struct solution *solution)
{
	struct mixing_batch batch = { 0 };
	if (span_is_set(solution->kit_makes.span))
		batch.makes = solution->kit_makes.value;
	else if (span_is_set(solution->formula_makes.span))
		batch.makes = solution->formula_makes.value;
	bool is_started = false;
	for (const struct part *part = solution->parts; part; part = part->next) {
		add_part(&batch, solution, part);
		is_started = is_started || part->kind == PART_ADD || part->kind == PART_TOP_UP;
		if (!is_started)
			batch.water = batch.measured;
	}
	if (batch.makes <= 0)
		batch.makes = batch.top_up ? batch.mark : batch.measured;
	return batch;
}

/* volume × share / whole; the product may be larger than 64 bits hold. */
static int64_t share_of(int64_t volume, int64_t share, int64_t whole)
{
	return rounding_whole((double)volume * (double)share / (double)whole);
}

int64_t mixing_dilution_part(const struct solution *solution, size_t part, int64_t total)
{
	int64_t sum = 0;
	for (size_t i = 0; i < solution->dilution_count; i++)
		sum += solution->dilution[i];
	return sum > 0 ? share_of(total, solution->dilution[part], sum) : 0;
}

int64_t mixing_dilution_measured(const struct solution *solution, size_t part, int64_t total)
{
	return quantity_measured_volume(mixing_dilution_part(solution, part, total));
}

struct mixing_dilution mixing_dilution(const struct solution *solution, int64_t total)
{
	struct mixing_dilution dilution = { .mark = quantity_round_volume(total) };
	int64_t stock = 0;
	for (size_t i = 0; i + 1 < solution->dilution_count; i++)
		stock += mixing_dilution_measured(solution, i, total);
	int64_t left = dilution.mark > stock ? dilution.mark - stock : 0;
	dilution.water = quantity_measured_below(left);
	dilution.is_topped_up = dilution.water < left;
	return dilution;
}

int64_t mixing_stock(const struct solution *solution, int64_t volume)
{
	return solution->dilution_count > 0 ? mixing_dilution_part(solution, 0, volume) : volume;
}

bool mixing_is_poured(const struct process *process, const struct solution *solution)
{
	for (size_t i = 0; i < process->step_count; i++) {
		if (process->steps[i].solution == solution)
			return true;
	}
	return false;
}

int64_t mixing_scaled(int64_t amount, int64_t makes, int64_t batch)
{
	return share_of(amount, makes, batch);
}

bool mixing_is_from(const struct solution *bath, const struct solution *solution)
{
	for (int length = 0; bath && length < LONGEST_CHAIN; length++, bath = bath->stock) {
		if (bath == solution)
			return true;
	}
	return false;
}

/* What so much of a bath takes of the solution, itself or down its chain of stocks. */
static int64_t needed_through(const struct solution *bath, const struct solution *solution, int64_t volume)
{
	for (int length = 0; bath && length < LONGEST_CHAIN; length++) {
		if (bath == solution)
			return volume;
		volume = mixing_stock(bath, volume);
		bath = bath->stock;
	}
	return 0;
}

int64_t mixing_needed_for(const struct process *process, const struct solution *solution, int64_t poured)
{
	int64_t most = 0;
	for (size_t i = 0; i < process->step_count; i++) {
		int64_t needed = needed_through(process->steps[i].solution, solution, poured);
		if (needed > most)
			most = needed;
	}
	return most;
}

int64_t mixing_needed(const struct process *process, const struct solution *solution)
{
	return mixing_needed_for(process, solution, process->tank ? process->tank->holds.value : 0);
}

const struct graduate *mixing_largest(const struct process *process)
{
	const struct graduate *largest = NULL;
	for (size_t i = 0; i < process->graduate_count; i++) {
		const struct graduate *graduate = process->graduates[i];
		if (!largest || graduate->holds.value > largest->holds.value)
			largest = graduate;
	}
	return largest;
}

const struct graduate *mixing_vessel_for(const struct process *process, int64_t volume)
{
	const struct graduate *smallest = NULL;
	for (size_t i = 0; i < process->graduate_count; i++) {
		const struct graduate *graduate = process->graduates[i];
		if (graduate->holds.value >= volume && (!smallest || graduate->holds.value < smallest->holds.value))
			smallest = graduate;
	}
	return smallest;
}

const struct graduate *mixing_vessel(const struct process *process, const struct solution *solution)
{
	return solution->graduate ? solution->graduate : mixing_largest(process);
}

static int64_t smaller(int64_t a, int64_t b)
{
	return a < b ? a : b;
}

/* The largest mix that a vessel takes; of powder kits, so many whole ones. */
static int64_t largest_mix(const struct mixing_batch *batch, int64_t vessel, bool is_whole)
{
	int64_t under_powder = vessel - vessel / MIXING_HEAD_ROOM;
	if (is_whole) {
		int64_t kits = vessel / batch->makes;
		if (batch->before_dry > 0)
			kits = smaller(kits, under_powder / batch->before_dry);
		return kits * batch->makes;
	}
	return batch->before_dry > 0 ? smaller(vessel, share_of(under_powder, batch->makes, batch->before_dry))
				     : vessel;
}

/* Lists mixes of at most `largest` until `plan->makes` is mixed. */
static void list_mixes(struct mixing_plan *plan, const struct mixing_batch *batch, int64_t largest, bool is_whole,
		       struct arena *arena)
{
	int64_t count = plan->makes / largest + (plan->makes % largest > 0);
	if (count > (int64_t)limit_value(LIMIT_MIXES))
		return;
	plan->fits = true;
	plan->mix_count = (size_t)count;
	plan->mixes = ARENA_ARRAY(arena, struct mixing_mix, plan->mix_count);
	int64_t left = plan->makes;
	for (size_t i = 0; i < plan->mix_count; i++) {
		int64_t makes = smaller(left, largest);
		plan->mixes[i] = (struct mixing_mix){
			.kits = is_whole ? makes / batch->makes : 0,
			.makes = makes,
			.water = share_of(batch->water, makes, batch->makes),
		};
		left -= makes;
	}
}

/* The batch that is repeated or divided; a dilution without parts is one, its last part is water. */
static struct mixing_batch batch_for(const struct solution *solution, int64_t needed)
{
	struct mixing_batch batch = mixing_batch(solution);
	if (batch.makes > 0)
		return batch;
	batch.makes = needed;
	if (solution->dilution_count > 0)
		batch.water = mixing_dilution_part(solution, solution->dilution_count - 1, needed);
	return batch;
}

bool mixing_is_as_written(const struct solution *solution)
{
	return solution->parts && !span_is_set(solution->kit_makes.span) &&
	       !span_is_set(solution->formula_makes.span) && solution->dilution_count == 0;
}

int64_t mixing_capacity_milli_rolls(const struct solution *solution, int64_t volume)
{
	return share_of(volume, solution->capacity_rolls.value * 1000, solution->capacity_volume.value);
}

int64_t mixing_per_roll(int64_t volume, int64_t milli_rolls)
{
	return share_of(volume, 1000, milli_rolls);
}

int64_t mixing_for_rolls(int64_t per_roll, int64_t milli_rolls)
{
	return share_of(per_roll, milli_rolls, 1000);
}

bool mixing_is_stock_and_dilution(const struct solution *solution)
{
	bool is_made = span_is_set(solution->kit_makes.span) || span_is_set(solution->formula_makes.span);
	return is_made && !solution->stock && solution->dilution_count > 0;
}

struct mixing_plan mixing_dilution_plan(const struct solution *solution, int64_t needed, int64_t vessel,
					struct arena *arena)
{
	const struct solution dilution = {
		.dilution = solution->dilution,
		.dilution_count = solution->dilution_count,
		.dilution_span = solution->dilution_span,
	};
	return mixing_plan(&dilution, needed, vessel, arena);
}

struct mixing_plan mixing_plan(const struct solution *solution, int64_t needed, int64_t vessel, struct arena *arena)
{
	bool is_kit = span_is_set(solution->kit_makes.span);
	if (mixing_is_stock_and_dilution(solution))
		needed = mixing_stock(solution, needed);
	struct mixing_plan plan = { .needed = needed, .vessel = vessel, .makes = needed };
	if (needed <= 0)
		return plan;
	struct mixing_batch batch = batch_for(solution, needed);
	bool is_whole = is_powder_kit(solution);
	bool is_as_written = mixing_is_as_written(solution);
	if (is_kit)
		plan.kits = needed / batch.makes + (needed % batch.makes > 0);
	if (is_whole)
		plan.makes = plan.kits * batch.makes;
	if (is_as_written)
		plan.makes = batch.makes;
	int64_t largest = vessel > 0 ? largest_mix(&batch, vessel, is_whole) : plan.makes;
	if (largest > 0 && (!is_as_written || largest >= plan.makes))
		list_mixes(&plan, &batch, largest, is_whole, arena);
	return plan;
}
