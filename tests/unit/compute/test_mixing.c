#include "figures.h"

#include "compute/mixing.h"

#define KIT_SHEET "tests/reference/batch_scaling_e6_kit.tsv"

/* water 800 mL, two powders, top up: a powder kit of 1 L. */
struct kit {
	struct part parts[4];
	struct solution solution;
};

static void make_kit(struct kit *kit, enum kit_form form, double makes_l, double water_ml)
{
	*kit = (struct kit){
		.parts = {
			{ .kind = PART_WATER, .span = SOMEWHERE, .is_volume = true,
			  .amount = said(millilitres(water_ml)) },
			{ .kind = PART_ADD, .span = SOMEWHERE, .chemical = CHEMICAL_free_text },
			{ .kind = PART_ADD, .span = SOMEWHERE, .chemical = CHEMICAL_free_text },
			{ .kind = PART_TOP_UP, .span = SOMEWHERE, .is_volume = true },
		},
	};
	for (size_t i = 0; i < 3; i++)
		kit->parts[i].next = &kit->parts[i + 1];
	kit->solution = (struct solution){
		.kit_makes = said(litres(makes_l)), .kit_form = form, .parts = kit->parts, .parts_span = SOMEWHERE
	};
}

/* Common practice, no source: 2.5 L tank, 1 L kits, a 2 L graduate: three kits mixed as 2 +
 * 1, water started at 1,600 and 800 mL, half a litre over. */
static void test_common_practice(void **state)
{
	(void)state;
	struct kit kit;
	make_kit(&kit, KIT_POWDER, 1, 800);
	struct mixing_plan plan = mixing_plan(&kit.solution, litres(2.5), litres(2), &arena);
	assert_true(plan.fits);
	assert_int_equal(plan.kits, 3);
	assert_int_equal(plan.mix_count, 2);
	assert_int_equal(plan.mixes[0].kits, 2);
	assert_int_equal(plan.mixes[0].makes, litres(2));
	assert_int_equal(plan.mixes[0].water, millilitres(1600));
	assert_int_equal(plan.mixes[1].kits, 1);
	assert_int_equal(plan.mixes[1].water, millilitres(800));
	assert_int_equal(plan.makes - plan.needed, litres(0.5));
}

static void test_whole_kits_only(void **state)
{
	(void)state;
	struct kit kit;
	make_kit(&kit, KIT_POWDER, 1, 800);
	assert_int_equal(mixing_plan(&kit.solution, litres(2), 0, &arena).kits, 2);
	assert_int_equal(mixing_plan(&kit.solution, litres(2) + 1, 0, &arena).kits, 3);
	assert_int_equal(mixing_plan(&kit.solution, 1, 0, &arena).kits, 1);
	struct mixing_plan plan = mixing_plan(&kit.solution, litres(2.5), litres(0.999), &arena);
	assert_false(plan.fits);
	assert_int_equal(plan.kits, 3);
	assert_int_equal(plan.mix_count, 0);
	assert_true(mixing_plan(&kit.solution, litres(2.5), litres(1), &arena).fits);
	/* US units: four US quarts are a US gallon, exactly */
	make_kit(&kit, KIT_POWDER, 0.946352946, 700);
	assert_int_equal(mixing_plan(&kit.solution, litres(3.785411784), 0, &arena).kits, 4);
}

/* Two kits would fit by their marks, but not 1,920 mL of water and powder in a 2 L graduate. */
static void test_head_room(void **state)
{
	(void)state;
	struct kit kit;
	make_kit(&kit, KIT_POWDER, 1, 950); /* 2 × 950 mL is 95 % of it exactly */
	assert_int_equal(mixing_plan(&kit.solution, litres(3), litres(2), &arena).mix_count, 2);
	make_kit(&kit, KIT_POWDER, 1, 951);
	struct mixing_plan plan = mixing_plan(&kit.solution, litres(3), litres(2), &arena);
	assert_int_equal(plan.mix_count, 3);
	assert_int_equal(plan.mixes[2].kits, 1);
	assert_false(mixing_plan(&kit.solution, litres(3), litres(1), &arena).fits);
	/* what is divided by measure, by formula: as much at a time as leaves the room */
	for (int water_ml = 950; water_ml <= 975; water_ml += 25) {
		make_kit(&kit, KIT_LIQUID, 1, water_ml);
		kit.solution.kit_makes = (struct quantity){ 0 };
		kit.solution.formula_makes = said(litres(1));
		kit.parts[1].chemical = kit.parts[2].chemical = CHEMICAL_sodium_sulfite;
		kit.parts[1].amount = kit.parts[2].amount = said(INT64_C(9000000000));
		plan = mixing_plan(&kit.solution, litres(1), litres(1), &arena);
		assert_int_equal(plan.mix_count, water_ml == 950 ? 1 : 2); /* 974 mL would be the most */
		assert_true(plan.mixes[0].water <= millilitres(950));
	}
}

static void test_liquids_go_by_measure(void **state)
{
	(void)state;
	struct kit kit;
	make_kit(&kit, KIT_LIQUID, 1, 600);
	struct mixing_plan plan = mixing_plan(&kit.solution, litres(2.5), litres(2), &arena);
	assert_int_equal(plan.kits, 3); /* to open */
	assert_int_equal(plan.makes, litres(2.5));
	assert_int_equal(plan.mix_count, 2);
	assert_int_equal(plan.mixes[0].makes, litres(2));
	assert_int_equal(plan.mixes[0].water, millilitres(1200));
	assert_int_equal(plan.mixes[0].kits, 0);
	assert_int_equal(plan.mixes[1].makes, litres(0.5));
	assert_int_equal(plan.mixes[1].water, millilitres(300));
	plan = mixing_plan(&kit.solution, litres(2.5), millilitres(400),
			   &arena); /* smaller than one kit: still by measure */
	assert_int_equal(plan.mix_count, 7);
	assert_int_equal(plan.mixes[6].makes, millilitres(100));
	assert_false(mixing_plan(&kit.solution, litres(2.5), 1, &arena).fits); /* too many mixes */
}

static void test_a_mix_as_written_is_mixed_once(void **state)
{
	(void)state;
	struct kit kit;
	make_kit(&kit, KIT_POWDER, 1, 800);
	kit.solution.kit_makes.span = (struct span){ 0, 0 };
	kit.parts[1].amount = said(millilitres(48));
	kit.parts[1].is_volume = true;
	assert_true(mixing_is_as_written(&kit.solution));
	assert_int_equal(mixing_batch(&kit.solution).makes, 0); /* topped up to nobody knows what */
	kit.parts[3].amount = said(litres(1));
	assert_int_equal(mixing_batch(&kit.solution).makes, litres(1));
	assert_int_equal(mixing_plan(&kit.solution, litres(2.5), 0, &arena).makes, litres(1));
	assert_false(mixing_plan(&kit.solution, litres(2.5), litres(0.9), &arena).fits);
	kit.parts[2].next = NULL; /* no top-up: what was put in */
	assert_int_equal(mixing_batch(&kit.solution).makes, millilitres(848));
}

static void test_batch_is_added_up(void **state)
{
	(void)state;
	struct kit kit;
	make_kit(&kit, KIT_POWDER, 1, 800);
	struct part second = {
		.kind = PART_WATER, .amount = said(millilitres(70)), .is_volume = true, .next = &kit.parts[2]
	};
	kit.parts[1].next = &second;
	struct mixing_batch batch = mixing_batch(&kit.solution);
	assert_int_equal(batch.makes, litres(1));
	assert_int_equal(batch.mark, litres(1));
	assert_int_equal(batch.water, millilitres(800)); /* to start with */
	assert_int_equal(batch.measured, millilitres(870));
	assert_int_equal(batch.before_dry, millilitres(870));
	assert_ptr_equal(batch.first_dry, &kit.parts[1]);
	assert_ptr_equal(batch.last_liquid, &second);
}

/* Source: Eastman Kodak TI2443 (rev. Jan 2000), concentrate volumes for several batch sizes. A concentrate that takes
 * `a` mL in 5 L is the dilution a + (5000 − a). Where the sheet prints a rounded figure, exact_ml is compared. */
static void test_scaling_of_a_published_kit(void **state)
{
	(void)state;
	struct reference_table table;
	double per_5_l = 0;
	char name[64] = "";
	size_t compared = 0;
	for (int pass = 0; pass < 40; pass++) { /* the row for 5 L comes last in its group */
		open_table(&table, KIT_SHEET);
		size_t row = 0;
		while (next_row(&table)) {
			if (strcmp(table.columns[1], "5000") != 0 || (int)row++ != pass)
				continue;
			per_5_l = strtod(table.columns[2], NULL);
			snprintf(name, sizeof(name), "%s", table.columns[0]);
		}
		if ((int)row <= pass)
			break;
		int64_t dilution[] = { llround(per_5_l * 10), llround((5000 - per_5_l) * 10) };
		struct solution solution = { .dilution = dilution, .dilution_count = 2, .dilution_span = SOMEWHERE };
		open_table(&table, KIT_SHEET);
		while (next_row(&table)) {
			if (strcmp(table.columns[0], name) != 0)
				continue;
			int64_t total = millilitres(strtod(table.columns[1], NULL));
			int64_t part = mixing_dilution_part(&solution, 0, total);
			assert_near(quantity_ml(part), strtod(table.columns[3], NULL), 1e-6);
			/* as printed, to 0.1 mL; one row of the sheet prints 50 for 49.875 */
			double printed_ml = strtod(table.columns[2], NULL);
			double allowance = printed_ml == 50 ? 0.11 : 1e-6;
			assert_near(quantity_ml(quantity_round_volume(part)), printed_ml, allowance);
			compared++;
		}
	}
	assert_in_range(compared, 36, 60); /* the two kits of final rinse share no name, one lacks its 5 L row */
}

/* Source: criss-cross rule, row M27 of tests/reference/mixing_arithmetic.tsv: 28 % acid to 1 % is 1 + 27; row M31:
 * 1:128 read as 1 + 128 parts has 129. */
static void test_dilutions(void **state)
{
	(void)state;
	int64_t acid[] = { 1000, 27000 };
	struct solution solution = { .dilution = acid, .dilution_count = 2, .dilution_span = SOMEWHERE };
	assert_int_equal(mixing_stock(&solution, litres(2.8)), millilitres(100));
	int64_t thin[] = { 1000, 128000 };
	solution.dilution = thin;
	assert_int_equal(mixing_dilution_part(&solution, 1, millilitres(1290)), millilitres(1280));
	int64_t two_parts[] = { 1000, 1000, 98000 };
	solution = (struct solution){ .dilution = two_parts, .dilution_count = 3, .dilution_span = SOMEWHERE };
	assert_int_equal(mixing_stock(&solution, litres(1)), millilitres(10));
	assert_int_equal(mixing_dilution_part(&solution, 2, litres(1)), millilitres(980));
	struct mixing_plan plan = mixing_plan(&solution, litres(2.5), litres(2), &arena);
	assert_int_equal(plan.mix_count, 2);
	assert_int_equal(plan.mixes[0].water, litres(1.96));
	solution = (struct solution){ 0 };
	assert_int_equal(mixing_stock(&solution, litres(1)), litres(1));
}

static void test_what_a_process_needs(void **state)
{
	(void)state;
	int64_t ten[] = { 1000, 9000 };
	int64_t half[] = { 1000, 1000 };
	struct solution concentrate = { 0 };
	struct solution stock = { .dilution = half, .dilution_count = 2, .stock = &concentrate };
	struct solution working = { .dilution = ten, .dilution_count = 2, .stock = &stock };
	struct solution other = { 0 };
	struct step steps[] = { { .solution = &working }, { .bath = BATH_WATER } };
	struct tank tank = { .holds = said(litres(2.5)) };
	struct process process = { .tank = &tank, .steps = steps, .step_count = 2 };
	assert_int_equal(mixing_needed(&process, &working), litres(2.5));
	assert_int_equal(mixing_needed(&process, &stock), millilitres(250));
	assert_int_equal(mixing_needed(&process, &concentrate), millilitres(125));
	assert_int_equal(mixing_needed(&process, &other), 0);
	assert_true(mixing_is_poured(&process, &working));
	assert_false(mixing_is_poured(&process, &stock));
	concentrate.stock = &working; /* a circle, which the model reports, ends */
	assert_int_equal(mixing_needed(&process, &other), 0);
}

static void test_which_vessel(void **state)
{
	(void)state;
	struct graduate small = { .holds = said(litres(1)) };
	struct graduate large = { .holds = said(litres(3)) };
	struct graduate *graduates[] = { &small, &large };
	struct process process = { .graduates = graduates, .graduate_count = 2 };
	struct solution solution = { 0 };
	assert_ptr_equal(mixing_largest(&process), &large);
	assert_ptr_equal(mixing_vessel(&process, &solution), &large);
	solution.graduate = &small;
	assert_ptr_equal(mixing_vessel(&process, &solution), &small);
	process.graduate_count = 0;
	assert_null(mixing_largest(&process));
}

/* Common practice, no source: pooled, three kits of 1 L do 24 rolls at 8 a litre; 2.5 L do
 * 20. */
static void test_capacity(void **state)
{
	(void)state;
	struct solution solution = { .capacity_rolls = said(8), .capacity_volume = said(litres(1)) };
	assert_int_equal(mixing_capacity_milli_rolls(&solution, litres(3)), 24000);
	assert_int_equal(mixing_capacity_milli_rolls(&solution, litres(2.5)), 20000);
	assert_int_equal(mixing_per_roll(millilitres(250), 8000), millilitres(31.25));
	assert_int_equal(mixing_per_roll(litres(100), 500), litres(200));
	assert_int_equal(mixing_for_rolls(millilitres(6), 2250), millilitres(13.5));
}

static uint32_t next(uint32_t *seed)
{
	*seed = *seed * 1103515245u + 12345u;
	return *seed / 65536;
}

/* Twice the batch takes twice of everything, and what two batches take together is what one of their sum takes; to the
 * smallest unit of the model. */
static void test_scaling_is_linear(void **state)
{
	(void)state;
	uint32_t seed = 7;
	for (int i = 0; i < 2000; i++) {
		int64_t amount = (int64_t)next(&seed) * 12345678 + 1; /* to 809 g */
		int64_t batch = litres(0.1 + next(&seed) % 50 / 10.0);
		int64_t one = millilitres(next(&seed) % 20000), other = millilitres(next(&seed) % 20000);
		int64_t sum = mixing_scaled(amount, one, batch) + mixing_scaled(amount, other, batch);
		assert_in_range(mixing_scaled(amount, one + other, batch) - sum + 1, 0, 2);
		assert_in_range(mixing_scaled(amount, 2 * one, batch) - 2 * mixing_scaled(amount, one, batch) + 1, 0,
				2);
		assert_in_range(mixing_scaled(2 * amount, one, batch) - 2 * mixing_scaled(amount, one, batch) + 1, 0,
				2);
		assert_int_equal(mixing_scaled(amount, batch, batch), amount);
	}
}

/* All mixes together are what is to be made, water too, whatever vessel they are made in; none is larger than it. */
static void test_splitting_loses_nothing(void **state)
{
	(void)state;
	uint32_t seed = 11;
	for (int i = 0; i < 2000; i++) {
		struct kit kit;
		double makes_l = 0.25 * (1 + next(&seed) % 20);
		make_kit(&kit, i % 2 == 0 ? KIT_POWDER : KIT_LIQUID, makes_l, makes_l * (400 + next(&seed) % 500));
		int64_t needed = millilitres(1 + next(&seed) % 9000), vessel = millilitres(100 + next(&seed) % 9000);
		struct mixing_plan plan = mixing_plan(&kit.solution, needed, vessel, &arena);
		struct mixing_batch batch = mixing_batch(&kit.solution);
		int64_t makes = 0, water = 0, kits = 0;
		for (size_t j = 0; j < plan.mix_count; j++) {
			makes += plan.mixes[j].makes;
			water += plan.mixes[j].water;
			kits += plan.mixes[j].kits;
			assert_true(plan.mixes[j].makes <= vessel && plan.mixes[j].makes > 0);
			assert_true(plan.mixes[j].water <= vessel - vessel / MIXING_HEAD_ROOM + 1 || i % 2 != 0);
		}
		if (!plan.fits)
			continue;
		assert_int_equal(makes, plan.makes);
		assert_true(makes >= needed);
		assert_near((double)water, (double)mixing_scaled(batch.water, plan.makes, batch.makes),
			    1 + (double)plan.mix_count);
		assert_int_equal(kits, i % 2 == 0 ? plan.kits : 0);
	}
}

/* A formula with a dilution of its own makes the stock of it, as a kit does. */
static void test_stock_with_its_own_dilution(void **state)
{
	(void)state;
	int64_t tenth[] = { 1000, 9000 };
	struct kit kit;
	make_kit(&kit, KIT_POWDER, 1, 800);
	assert_false(mixing_is_stock_and_dilution(&kit.solution));
	kit.solution.kit_makes.span = (struct span){ 0, 0 };
	kit.solution.formula_makes = said(litres(1));
	kit.solution.dilution = tenth;
	kit.solution.dilution_count = 2;
	assert_true(mixing_is_stock_and_dilution(&kit.solution));
	assert_int_equal(mixing_plan(&kit.solution, litres(2.5), 0, &arena).makes, millilitres(250));
	struct mixing_plan plan = mixing_dilution_plan(&kit.solution, litres(2.5), litres(2), &arena);
	assert_int_equal(plan.makes, litres(2.5));
	assert_int_equal(plan.mix_count, 2);
	assert_int_equal(plan.mixes[0].water, litres(1.8));
}

static void test_vessel_for_a_volume(void **state)
{
	(void)state;
	struct graduate small = { .holds = said(litres(1)) }, large = { .holds = said(litres(3)) };
	struct graduate *graduates[] = { &large, &small };
	struct process process = { .graduates = graduates, .graduate_count = 2 };
	assert_ptr_equal(mixing_vessel_for(&process, litres(1)), &small);
	assert_ptr_equal(mixing_vessel_for(&process, litres(1) + 1), &large);
	assert_null(mixing_vessel_for(&process, litres(3) + 1));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_common_practice),
		ARENA_TEST(test_whole_kits_only),
		ARENA_TEST(test_head_room),
		ARENA_TEST(test_liquids_go_by_measure),
		ARENA_TEST(test_a_mix_as_written_is_mixed_once),
		ARENA_TEST(test_batch_is_added_up),
		ARENA_TEST(test_scaling_of_a_published_kit),
		ARENA_TEST(test_dilutions),
		ARENA_TEST(test_what_a_process_needs),
		ARENA_TEST(test_which_vessel),
		ARENA_TEST(test_capacity),
		ARENA_TEST(test_scaling_is_linear),
		ARENA_TEST(test_splitting_loses_nothing),
		ARENA_TEST(test_stock_with_its_own_dilution),
		ARENA_TEST(test_vessel_for_a_volume),
	};
	RUN_TESTS(tests);
}
