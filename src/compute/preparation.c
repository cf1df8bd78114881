#include "compute/preparation.h"

#include "compute/development.h"
#include "compute/reading.h"
#include "compute/used_time.h"

/* Chains of stocks longer than this go in a circle, which the model reports. */
#define LONGEST_CHAIN 32

struct builder {
	struct preparation *preparation;
	const struct recipe *recipe;
	const struct process *process;
	const struct conditions *conditions;
	struct arena *arena;
	size_t bath_capacity;
	size_t in_hand_capacity;
};

/* ---- which baths ---- */

static bool is_listed(const struct preparation *preparation, const struct solution *solution)
{
	for (size_t i = 0; i < preparation->bath_count; i++) {
		if (preparation->baths[i].solution == solution)
			return true;
	}
	for (size_t i = 0; i < preparation->in_hand_count; i++) {
		if (preparation->in_hand[i].solution == solution)
			return true;
	}
	return false;
}

/* Lists a bath of which enough is mixed already; false where it has to be mixed. */
static bool list_in_hand(struct builder *builder, const struct solution *solution, uint32_t bottle)
{
	struct preparation *preparation = builder->preparation;
	const struct on_hand *declared = solution->on_hand;
	int64_t done = used_done_milli_rolls(builder->recipe, builder->conditions, solution);
	if (builder->conditions->has_volume || (!declared && done == 0))
		return false;
	int64_t volume = used_bath_volume(builder->process, solution, builder->arena);
	if (volume < mixing_needed_for(builder->process, solution, preparation->poured))
		return false;
	ARENA_RESERVE(builder->arena, preparation->in_hand, preparation->in_hand_count, builder->in_hand_capacity);
	preparation->in_hand[preparation->in_hand_count++] = (struct preparation_in_hand){
		.solution = solution,
		.bottle = bottle,
		.volume = quantity_round_volume(volume),
		.done_milli_rolls = done,
		.declared = declared,
	};
	return true;
}

static uint32_t bottle_of(const struct process *process, const struct solution *solution)
{
	for (size_t i = 0; i < process->step_count; i++) {
		if (process->steps[i].solution == solution)
			return process->steps[i].bottle;
	}
	return 0;
}

/* The bath of a step and the stocks behind it, as far as they have to be mixed. */
static void list_baths(struct builder *builder, const struct step *step)
{
	struct preparation *preparation = builder->preparation;
	const struct solution *solution = step->solution;
	for (int length = 0; solution && length < LONGEST_CHAIN; length++, solution = solution->stock) {
		uint32_t bottle = bottle_of(builder->process, solution);
		if (is_listed(preparation, solution) || list_in_hand(builder, solution, bottle))
			return;
		ARENA_RESERVE(builder->arena, preparation->baths, preparation->bath_count, builder->bath_capacity);
		preparation->baths[preparation->bath_count++] =
			(struct preparation_bath){ .solution = solution, .step = step, .bottle = bottle };
	}
}

/* ---- how much, in how many mixes ---- */

static void add_stage(const struct preparation_scene *scene, struct preparation_bath *bath, bool is_dilution)
{
	struct preparation_stage *stage = &bath->stages[bath->stage_count++];
	stage->is_dilution = is_dilution;
	stage->vessel = mixing_vessel(scene->process, bath->solution);
	int64_t holds = stage->vessel ? stage->vessel->holds.value : 0;
	stage->plan = is_dilution ? mixing_dilution_plan(bath->solution, bath->needed, holds, scene->arena)
				  : mixing_plan(bath->solution, bath->needed, holds, scene->arena);
	if (stage->plan.mix_count > 1)
		stage->together = mixing_vessel_for(scene->process, stage->plan.makes);
	preparation_mixes(scene, stage);
}

static void add_stages(const struct preparation_scene *scene, struct preparation_bath *bath)
{
	const struct solution *solution = bath->solution;
	bool is_made =
		solution->parts || span_is_set(solution->kit_makes.span) || span_is_set(solution->formula_makes.span);
	if (is_made)
		add_stage(scene, bath, false);
	if (solution->dilution_count > 0 && (!is_made || mixing_is_stock_and_dilution(solution)))
		add_stage(scene, bath, true);
	bath->makes = bath->needed;
	if (bath->stage_count == 0)
		return;
	const struct mixing_plan *plan = &bath->stages[0].plan;
	bath->makes = quantity_round_volume(plan->makes);
	bath->over = quantity_round_volume(plan->makes - plan->needed);
	if (plan->kits > 0 && solution->kit_form == KIT_LIQUID)
		bath->concentrate_over = quantity_round_volume(plan->kits * solution->kit_makes.value - plan->makes);
}

/* A range of temperatures has no point that is better than another: the room's own, where it lies in it. */
static struct temperature_window target_of(const struct preparation *preparation, const struct step *step)
{
	struct temperature_window target = *development_pour_window(step);
	const struct preparation_temp *room = &preparation->room;
	if (span_is_set(target.span) && target.form == WINDOW_RANGE && room->is_known && room->value >= target.low &&
	    room->value <= target.high)
		target.nominal = room->value;
	return target;
}

static void work_out(struct builder *builder, struct preparation_bath *bath)
{
	const struct preparation_scene scene = {
		.preparation = builder->preparation,
		.process = builder->process,
		.solution = bath->solution,
		.target = target_of(builder->preparation, bath->step),
		.arena = builder->arena,
	};
	bath->needed = mixing_needed_for(builder->process, bath->solution, builder->preparation->poured);
	add_stages(&scene, bath);
	preparation_cool(&scene, bath);
}

/* ---- in which order ---- */

static void put_in_order(struct builder *builder)
{
	struct preparation *preparation = builder->preparation;
	size_t count = preparation->bath_count;
	struct mixing_turn *turns = ARENA_ARRAY(builder->arena, struct mixing_turn, count);
	struct preparation_bath *ordered = ARENA_ARRAY(builder->arena, struct preparation_bath, count);
	for (size_t i = 0; i < count; i++) {
		const struct preparation_bath *bath = &preparation->baths[i];
		const struct preparation_cooling *cooling = &bath->cooling;
		bool must_cool = cooling->way == WAY_COOL;
		turns[i] = (struct mixing_turn){
			.solution = bath->solution,
			.index = i,
			.cools_ms = !must_cool		   ? 0
				    : cooling->time_ms > 0 ? cooling->time_ms
							   : -1,
			.excess = must_cool ? cooling->start - cooling->target : 0,
			.keeps_ms = bath->solution->keeps_full.value,
		};
	}
	mixing_order(turns, count, builder->arena);
	for (size_t i = 0; i < count; i++) {
		ordered[i] = preparation->baths[turns[i].index];
		ordered[i].reason = turns[i].reason;
	}
	preparation->baths = ordered;
}

static struct preparation_temp known_if(bool is_known, int64_t value)
{
	return (struct preparation_temp){ is_known, value };
}

static void set_temperatures(struct preparation *preparation, const struct process *process,
			     const struct conditions *conditions)
{
	const struct thermometer *thermometer = process->thermometer;
	preparation->room = known_if(span_is_set(process->room.span), process->room.value);
	preparation->hot = known_if(conditions->has_hot, reading_true(thermometer, conditions->hot));
	preparation->cold = known_if(conditions->has_cold, reading_true(thermometer, conditions->cold));
	preparation->water_bath =
		known_if(conditions->has_water_bath, reading_true(thermometer, conditions->water_bath));
}

struct preparation *preparation_build(const struct recipe *recipe, const struct process *process,
				      const struct conditions *conditions, struct arena *arena)
{
	struct preparation *preparation = ARENA_NEW(arena, struct preparation);
	struct builder builder = {
		.preparation = preparation,
		.recipe = recipe,
		.process = process,
		.conditions = conditions,
		.arena = arena,
	};
	int64_t holds = process->tank ? process->tank->holds.value : 0;
	preparation->poured = conditions->has_volume ? conditions->volume : holds;
	set_temperatures(preparation, process, conditions);
	for (size_t i = 0; i < process->step_count; i++)
		list_baths(&builder, &process->steps[i]);
	for (size_t i = 0; i < preparation->bath_count; i++)
		work_out(&builder, &preparation->baths[i]);
	put_in_order(&builder);
	return preparation;
}
