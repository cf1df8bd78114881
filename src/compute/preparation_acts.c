/* The acts of mixing, one after the other: what goes in, and what the mix is like then. */
#include <math.h>

#include "compute/heat_balance.h"
#include "compute/preparation.h"

#define TENTH_KELVIN (TEMPERATURE_PER_KELVIN / 10)

/* The vessel while it fills. */
struct bench {
	const struct preparation_scene *scene;
	struct preparation_stage *stage;
	struct mixing_batch batch;
	int64_t makes;
	int64_t level; /* volume in it, as it goes in */
	struct preparation_temp temp;
};

static int64_t to_tenth(double temp_c)
{
	return llround(temp_c * 10) * TENTH_KELVIN;
}

static struct preparation_temp known(int64_t temperature)
{
	return (struct preparation_temp){ true, temperature };
}

/* ---- temperatures ---- */

/* So much liquid of a temperature goes in; what is not known about it is taken as warm as the mix. */
static void pour_in(struct bench *bench, int64_t volume, struct preparation_temp temp)
{
	if (bench->level <= 0)
		bench->temp = temp;
	if (bench->level > 0 && volume > 0 && temp.is_known && bench->temp.is_known) {
		const struct heat_share shares[] = {
			{ quantity_celsius(bench->temp.value), quantity_ml(bench->level) },
			{ quantity_celsius(temp.value), quantity_ml(volume) },
		};
		bench->temp.value = to_tenth(heat_balance_temp_c(shares, 2));
	}
	bench->level += volume;
}

/* The temperature of so much more water with which the mix comes to its working point; unknown where no tap gives it.
 */
static struct preparation_temp water_for_target(const struct bench *bench, int64_t volume)
{
	const struct preparation *preparation = bench->scene->preparation;
	struct preparation_temp none = { 0 };
	if (!span_is_set(bench->scene->target.span) || !bench->temp.is_known || bench->level <= 0 || volume <= 0)
		return none;
	double target_c = quantity_celsius(bench->scene->target.nominal);
	double held_c = quantity_celsius(bench->temp.value);
	int64_t water = to_tenth(target_c + (target_c - held_c) * quantity_ml(bench->level) / quantity_ml(volume));
	int64_t coldest = preparation->cold.is_known ? preparation->cold.value : 5 * TEMPERATURE_PER_KELVIN;
	int64_t hottest = preparation->hot.is_known ? preparation->hot.value : 60 * TEMPERATURE_PER_KELVIN;
	return water < coldest || water > hottest ? none : known(water);
}

static void set_water(const struct bench *bench, struct preparation_act *act, const struct temperature_window *at)
{
	const struct preparation *preparation = bench->scene->preparation;
	act->at = *at;
	if (!span_is_set(at->span) || !preparation->hot.is_known || !preparation->cold.is_known)
		return;
	act->has_taps = true;
	act->taps = blending_taps(preparation->hot.value, preparation->cold.value, at, act->amount);
}

static struct preparation_temp temp_of_water(const struct bench *bench, const struct preparation_act *act)
{
	if (act->has_taps)
		return known(act->taps.temp);
	return span_is_set(act->at.span) ? known(act->at.nominal) : bench->scene->preparation->cold;
}

/* ---- the acts of a mix as declared ---- */

static int64_t scaled(const struct bench *bench, int64_t amount)
{
	return bench->batch.makes > 0 ? mixing_scaled(amount, bench->makes, bench->batch.makes) : amount;
}

static void set_amount(const struct bench *bench, struct preparation_act *act)
{
	const struct quantity *amount = &act->part->amount;
	act->has_amount = span_is_set(amount->span);
	act->is_volume = act->part->is_volume || act->kind == PREPARE_WATER;
	act->exact = scaled(bench, amount->value);
	if (!act->is_volume)
		act->amount = quantity_round_mass(act->exact);
	else /* where nothing tops up, the parts have to make the whole */
		act->amount =
			bench->batch.top_up ? quantity_measured_volume(act->exact) : quantity_round_volume(act->exact);
}

static void add_water(struct bench *bench, struct preparation_act *act)
{
	set_water(bench, act, &act->part->at);
	pour_in(bench, act->amount, temp_of_water(bench, act));
}

static void dissolve(struct bench *bench, struct preparation_act *act)
{
	struct preparation_temp *temp = &bench->temp;
	int64_t after = temp->value;
	struct part part = *act->part;
	part.amount.value = act->amount;
	if (!temp->is_known)
		return;
	if (span_is_set(part.drops.span))
		after -= part.drops.value;
	else if (!heat_balance_dissolved(&part, bench->level, temp->value, &after))
		return;
	after = to_tenth(quantity_celsius(after));
	if (after == temp->value)
		return;
	*temp = act->after = known(after);
}

static void add_part(struct bench *bench, struct preparation_act *act)
{
	const struct solution *solution = bench->scene->solution;
	if (!act->has_amount && span_is_set(solution->kit_makes.span))
		act->milli_packets = mixing_scaled(1000, bench->makes, bench->batch.makes);
	if (!act->has_amount)
		return;
	preparation_instead(act, bench->batch.top_up ? bench->makes - scaled(bench, bench->batch.measured) : 0);
	if (act->is_volume)
		pour_in(bench, act->amount, bench->scene->preparation->room);
	dissolve(bench, act);
}

static void top_up(struct bench *bench, struct preparation_act *act)
{
	const struct preparation *preparation = bench->scene->preparation;
	act->is_volume = true;
	act->amount = quantity_round_volume(act->has_amount ? scaled(bench, act->part->amount.value) : bench->makes);
	act->has_amount = act->amount > 0;
	int64_t volume = act->amount - bench->level;
	if (volume <= 0)
		return;
	act->ready = water_for_target(bench, volume);
	if (!preparation->cold.is_known)
		bench->stage->tops_up_warm = true;
	pour_in(bench, volume, preparation->cold);
}

static struct preparation_act *next_act(struct preparation_mix *mix, enum preparation_kind kind,
					const struct part *part)
{
	struct preparation_act *act = &mix->acts[mix->act_count++];
	*act = (struct preparation_act){ .kind = kind, .part = part, .acid.chemical = CHEMICAL_COUNT };
	return act;
}

static void build_declared(struct bench *bench, struct preparation_mix *mix)
{
	static const enum preparation_kind kinds[] = {
		[PART_WATER] = PREPARE_WATER, [PART_ADD] = PREPARE_PART,      [PART_STIR] = PREPARE_STIR,
		[PART_STAND] = PREPARE_STAND, [PART_TOP_UP] = PREPARE_TOP_UP,
	};
	size_t count = 0;
	for (const struct part *part = bench->scene->solution->parts; part; part = part->next)
		count++;
	mix->acts = ARENA_ARRAY(bench->scene->arena, struct preparation_act, count);
	for (const struct part *part = bench->scene->solution->parts; part; part = part->next) {
		struct preparation_act *act = next_act(mix, kinds[part->kind], part);
		set_amount(bench, act);
		if (act->kind == PREPARE_WATER)
			add_water(bench, act);
		else if (act->kind == PREPARE_PART)
			add_part(bench, act);
		else if (act->kind == PREPARE_TOP_UP)
			top_up(bench, act);
		else
			act->has_amount = false;
	}
}

/* ---- the acts of a dilution ---- */

/* What the water must be at, so that it comes out right with a concentrate that has the room's temperature. A stock
 * that is mixed here has cooled to the working point, and so must the water. */
static struct temperature_window dilution_water(const struct bench *bench, int64_t water, bool is_from_shelf)
{
	const struct preparation_temp *room = &bench->scene->preparation->room;
	struct temperature_window at = bench->scene->target;
	int64_t stock = bench->makes - water;
	if (!span_is_set(at.span) || !is_from_shelf || !room->is_known || water <= 0 || stock <= 0)
		return at;
	double target_c = quantity_celsius(at.nominal);
	double more_c = (target_c - quantity_celsius(room->value)) * quantity_ml(stock) / quantity_ml(water);
	int64_t shift = to_tenth(target_c + more_c) - at.nominal;
	at.nominal += shift;
	at.low += shift;
	at.high += shift;
	return at;
}

static void build_dilution(struct bench *bench, struct preparation_mix *mix)
{
	const struct solution *solution = bench->scene->solution;
	size_t last = solution->dilution_count - 1;
	bool is_from_shelf = !solution->stock && !mixing_is_stock_and_dilution(solution);
	int64_t stock = 0;
	mix->acts = ARENA_ARRAY(bench->scene->arena, struct preparation_act, solution->dilution_count + 1);
	struct mixing_dilution measured = mixing_dilution(solution, bench->makes);
	struct preparation_act *water = next_act(mix, PREPARE_WATER, NULL);
	for (size_t i = 0; i < last; i++) {
		struct preparation_act *act = next_act(mix, PREPARE_STOCK, NULL);
		act->stock = i;
		act->has_amount = act->is_volume = true;
		act->amount = mixing_dilution_measured(solution, i, bench->makes);
		stock += act->amount;
	}
	water->has_amount = water->is_volume = true;
	water->amount = measured.water;
	struct temperature_window at = dilution_water(bench, water->amount, is_from_shelf);
	set_water(bench, water, &at);
	pour_in(bench, water->amount, temp_of_water(bench, water));
	pour_in(bench, stock, is_from_shelf ? bench->scene->preparation->room : (struct preparation_temp){ 0 });
	if (!measured.is_topped_up)
		return;
	/* Less than the least figure of a vessel: as warm as the rest. */
	struct preparation_act *rest = next_act(mix, PREPARE_TOP_UP, NULL);
	rest->has_amount = rest->is_volume = true;
	rest->amount = measured.mark;
}

/* ---- mixes ---- */

static void build_mix(const struct preparation_scene *scene, struct preparation_stage *stage,
		      struct preparation_mix *mix)
{
	struct bench bench = {
		.scene = scene,
		.stage = stage,
		.batch = mixing_batch(scene->solution),
		.makes = mix->mix.makes,
	};
	if (stage->is_dilution) {
		build_dilution(&bench, mix);
	} else {
		build_declared(&bench, mix);
		mix->has_room = stage->vessel && bench.batch.before_dry > 0 && bench.batch.makes > 0;
	}
	if (mix->has_room)
		mix->room = quantity_round_volume(stage->vessel->holds.value - scaled(&bench, bench.batch.before_dry));
	if (bench.level > 0)
		stage->temp = bench.temp;
}

void preparation_mixes(const struct preparation_scene *scene, struct preparation_stage *stage)
{
	const struct mixing_plan *plan = &stage->plan;
	stage->mixes = ARENA_ARRAY(scene->arena, struct preparation_mix, plan->mix_count);
	for (size_t i = 0; i < plan->mix_count; i++) {
		if (i > 0 && plan->mixes[i].makes == plan->mixes[i - 1].makes) {
			stage->mixes[stage->mix_count - 1].times++;
			continue;
		}
		struct preparation_mix *mix = &stage->mixes[stage->mix_count++];
		*mix = (struct preparation_mix){ .times = 1, .mix = plan->mixes[i] };
		build_mix(scene, stage, mix);
		mix->mix.makes = quantity_round_volume(mix->mix.makes);
	}
}
