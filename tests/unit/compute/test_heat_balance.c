#include "figures.h"

#include "compute/heat_balance.h"

/* Source: worked examples with printed answers; the tables name the source of each. */
#define BLENDS "tests/reference/mixing_arithmetic.tsv"
#define EXAMPLES "tests/reference/worked_examples_heat_rate_wash.tsv"
#define ANSWER 4
#define BLEND_ANSWER 4

/* 1 g of water is taken as 1 mL in these examples. */
static double blend(struct heat_share a, struct heat_share b)
{
	const struct heat_share shares[] = { a, b };
	return heat_balance_temp_c(shares, 2);
}

static void test_blends_of_hot_and_cold(void **state)
{
	(void)state;
	struct heat_share cool = { 25.00, 270.0 };
	struct heat_share hot = { 95.00, 100.0 };
	assert_near(blend(cool, hot), printed(BLENDS, "B01", BLEND_ANSWER), 0.005);
	struct heat_share warm = { 60, 100 };
	struct heat_share cold = { 20, 100 };
	assert_near(blend(warm, cold), printed(BLENDS, "B03", BLEND_ANSWER), 0.005);
}

/* Ice at 0 °C is as good as water colder by its latent heat over the specific heat of water (334 J/g, 4.186 J/(g
 * K)). */
static void test_ice_in_water(void **state)
{
	(void)state;
	struct heat_share ice = { -334 / 4.186, 90 };
	struct heat_share water = { 24, 670 };
	assert_near(blend(ice, water), printed(BLENDS, "B06", BLEND_ANSWER), 0.05);
	assert_near(25 * 334, printed(BLENDS, "B04", BLEND_ANSWER), 0.5);
}

/* A hot metal is so much water by its specific heat. What temperature must it have had? */
static void test_heat_balance_backwards(void **state)
{
	(void)state;
	struct heat_carried water = { { 24.0, 425 }, { 0, 0 } };
	double steel_as_water = 360.0 * 0.449 / WATER_SPECIFIC_HEAT;
	assert_near(heat_balance_bath_for_c(42.7, steel_as_water, &water), printed(EXAMPLES, "H2", ANSWER), 0.5);
	struct heat_carried more_water = { { 22.6, 390 }, { 0, 0 } };
	double copper_as_water = 248 * 0.385 / WATER_SPECIFIC_HEAT; /* specific heat of copper: from memory */
	assert_near(heat_balance_bath_for_c(39.9, copper_as_water, &more_water), printed(EXAMPLES, "H3", ANSWER), 0.2);
}

static void test_a_pour(void **state)
{
	(void)state;
	/* by hand: (2500 × 38 + 180 × 20 + 120 × 20) / 2800 = 101000 / 2800 */
	struct heat_share bath = { 38, 2500 };
	struct heat_carried carried = { { 20, 180 }, { 20, 120 } };
	assert_near(heat_balance_pour_c(bath, &carried), 101000.0 / 2800, 1e-9);
	struct heat_share better = { heat_balance_bath_for_c(38, 2500, &carried), 2500 };
	assert_near(better.temp_c, 38 + 300 * 18 / 2500.0, 1e-9);
	assert_near(heat_balance_pour_c(better, &carried), 38, 1e-9);
}

static void test_what_a_bath_meets(void **state)
{
	(void)state;
	struct takes smaller = { .count = 4 };
	struct takes takes = { .count = 8, .next = &smaller };
	struct tank tank = { .takes = &takes, .absorbs = said(millilitres(180)), .carries = said(millilitres(15)) };
	struct process process = { .tank = &tank };
	assert_int_equal(heat_balance_reels(&process), 8);
	struct heat_carried carried = heat_balance_carried(&process, true, 36, 21);
	assert_near(carried.tank.volume_ml, 180, 1e-9);
	assert_near(carried.tank.temp_c, 36, 1e-9);
	assert_near(carried.water.volume_ml, 8 * 15, 1e-9);
	carried = heat_balance_carried(&process, false, 0, 21);
	assert_near(carried.tank.temp_c, 21, 1e-9);
	assert_near(carried.water.volume_ml, 0, 0); /* dry reels */
	tank.absorbs.span = tank.carries.span = (struct span){ 0, 0 };
	carried = heat_balance_carried(&process, true, 36, 21);
	assert_near(carried.tank.volume_ml + carried.water.volume_ml, 0, 0);
}

/* By hand: 100 g of NaOH are 2.5 mol of 44.5 kJ, 111.25 kJ into 1 L of 4.184 kJ/K. */
static void test_hydroxide_warms_its_water(void **state)
{
	(void)state;
	assert_near(heat_balance_dissolving_k(100, 40.00, 44.5, 1000), 111.25 / 4.184, 1e-9);
	struct part part = { .kind = PART_ADD, .chemical = CHEMICAL_sodium_hydroxide, .amount = said(100000000000) };
	int64_t after = 0;
	assert_true(heat_balance_dissolved(&part, litres(1), celsius(20), &after));
	assert_near((double)after / TEMPERATURE_PER_KELVIN, 20 + 111.25 / 4.184, 1e-3);
	part.chemical = CHEMICAL_potassium_hydroxide;
	assert_true(heat_balance_dissolved(&part, litres(1), celsius(20), &after));
	assert_near((double)after / TEMPERATURE_PER_KELVIN, 20 + 100 / 56.11 * 57.6 / 4.184, 1e-3);
	assert_false(heat_balance_dissolved(&part, 0, celsius(20), &after));
	part.is_volume = true;
	assert_false(heat_balance_dissolved(&part, litres(1), celsius(20), &after));
	part = (struct part){ .kind = PART_ADD, .chemical = CHEMICAL_borax, .amount = said(1000000000) };
	assert_false(heat_balance_dissolved(&part, litres(1), celsius(20), &after));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_blends_of_hot_and_cold), cmocka_unit_test(test_ice_in_water),
		cmocka_unit_test(test_heat_balance_backwards), cmocka_unit_test(test_a_pour),
		cmocka_unit_test(test_what_a_bath_meets),      cmocka_unit_test(test_hydroxide_warms_its_water),
	};
	return cmocka_run_group_tests_name("heat balance", tests, NULL, NULL);
}
