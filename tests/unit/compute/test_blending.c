#include "figures.h"

#include "compute/blending.h"
#include "compute/heat_balance.h"
#include "compute/mixing.h"

/* Worked examples with their printed answers: US Army SS0513 and SS0514, textbooks, manuals; each row names its own
 * source. Rows that are marked as printing errors are negative checks. */
#define EXAMPLES "tests/reference/mixing_arithmetic.tsv"
#define ANSWER 4

#define US_FL_OZ_ML 29.5735295625
#define OUNCE_NG 28349523125.0
#define GRAIN_NG 64798910.0
#define GRAM_NG 1e9

static double answer(const char *id)
{
	return printed(EXAMPLES, id, ANSWER);
}

static int64_t us_fluid_ounces(double count)
{
	return millilitres(count * US_FL_OZ_ML);
}

static double in_us_fluid_ounces(int64_t volume)
{
	return quantity_ml(volume) / US_FL_OZ_ML;
}

static double share_of(double more, double less, double wanted)
{
	double share = -1;
	assert_true(blending_share(more, less, wanted, &share));
	return share;
}

/* M01: 1 oz of solid made up to 10 oz; M02: what 2 oz of it carry; M25, M26: what carries 437.5 grains at 10 per cent,
 * reckoned as 1 grain in 10 minims of 1/480 oz, so that an ounce of weight goes with one of volume. */
static void test_percent_solutions(void **state)
{
	(void)state;
	/* in grams and millilitres, as the rule says: 1 in 10 is 10 per cent */
	int64_t percent = (int64_t)answer("M01") * PERCENT_ONE;
	assert_int_equal(blending_percent_volume((int64_t)GRAM_NG, percent), millilitres(10));
	assert_near(quantity_ml(blending_percent_volume((int64_t)(answer("M02") * GRAM_NG), percent)), 2, 1e-9);
	double minims = quantity_ml(blending_percent_volume((int64_t)(437.5 * GRAM_NG), percent));
	assert_near(minims, answer("M25"), 1e-6);
	assert_near(minims, 9 * 480 + 55, 1e-6);       /* M26: "9 oz 55 minims" */
	assert_near(OUNCE_NG / GRAIN_NG, 437.5, 1e-9); /* M03 prints this beside the manual's 440 */
}

/* M04, M05: 32 oz at 28 per cent from 99.5 per cent acid. M06: 3 parts of it and 8 of water. */
static void test_acids(void **state)
{
	(void)state;
	int64_t acid = blending_acid(us_fluid_ounces(32), ACETIC_PHOTOGRAPHIC, ACETIC_GLACIAL);
	assert_near(in_us_fluid_ounces(acid), answer("M04"), 0.05);
	assert_near(32 - in_us_fluid_ounces(acid), answer("M05"), 0.5);
	assert_near(32 * share_of(99.5, 0, 28), answer("M04"), 0.05);
	const struct heat_share parts[] = { { 99.5, 3 }, { 0, 8 } }; /* a strength blends as a temperature does */
	assert_near(heat_balance_temp_c(parts, 2), answer("M06"), 0.05);
	int64_t back = blending_acid(acid, ACETIC_GLACIAL, ACETIC_PHOTOGRAPHIC);
	assert_near(in_us_fluid_ounces(back), 32, 1e-9);
}

/* M27: 28 to 1 per cent with water is 1 + 27. M29: 25 and 10 per cent to 18 are 8 : 7; what the source says in its
 * closing sentence, 7 : 8, is a slip. */
static void test_criss_cross(void **state)
{
	(void)state;
	double share = share_of(28, 0, 1);
	assert_near(share / (1 - share), 1.0 / 27, 1e-12);
	share = share_of(25, 10, 18);
	assert_near(share * 15, 8, 1e-12);
	assert_true(fabs(share * 15 - 7) > 0.5);
	double nothing;
	assert_false(blending_share(25, 10, 26, &nothing));
	assert_false(blending_share(25, 10, 9, &nothing));
	assert_false(blending_share(10, 10, 10, &nothing));
	assert_near(share_of(25, 10, 25), 1, 0);
	assert_near(share_of(25, 10, 10), 0, 0);
}

/* M11 to M13: 4 oz at 5 grains an ounce in 8 oz, then 8 oz of water more; M16 to M18 the same way. */
static void test_mass_balance(void **state)
{
	(void)state;
	const struct heat_share first[] = { { 5, 4 }, { 0, 4 }, { 0, 8 } };
	assert_near(heat_balance_temp_c(first, 2) * 8, answer("M11"), 1e-9);
	assert_near(heat_balance_temp_c(first, 3), answer("M13"), 1e-9);
	const struct heat_share second[] = { { 5, 16 }, { 0, 8 }, { 0, 8 }, { 0, 64 } };
	assert_near(16 + 8 + 8, answer("M16"), 0);
	assert_near(32 + 64, answer("M17"), 0);
	assert_near(heat_balance_temp_c(second, 4), answer("M18"), 5e-5);
}

/* M07: 3 per cent of a US gallon. M08: the printed divisor 4 between pint and gallon is wrong. M09: 0.01 fl oz a
 * square inch, a roll being 80. M21: 1 dram (1/8 oz) and 1 oz to 10 oz, in metric to 300 mL. M30, M31: 4 fl oz a
 * gallon, 1 in 129. */
static void test_shares(void **state)
{
	(void)state;
	assert_near(in_us_fluid_ounces(mixing_scaled(us_fluid_ounces(3), us_fluid_ounces(128), us_fluid_ounces(100))),
		    answer("M07"), 1e-9);
	int64_t times = mixing_scaled(1, us_fluid_ounces(128), us_fluid_ounces(16));
	assert_int_equal(times, 8);
	assert_true(times != (int64_t)answer("M08"));
	assert_near(in_us_fluid_ounces(mixing_for_rolls(us_fluid_ounces(0.8), 10000)), answer("M09"), 1e-9);
	assert_near(quantity_ml(mixing_scaled(us_fluid_ounces(0.125), millilitres(300), us_fluid_ounces(10))), 4, 0.5);
	assert_near(quantity_ml(mixing_scaled(us_fluid_ounces(1), millilitres(300), us_fluid_ounces(10))), 30, 0.5);
	assert_near((double)us_fluid_ounces(128) / (double)us_fluid_ounces(4), answer("M30"), 1e-9);
	int64_t thin[] = { 1000, 128000 };
	struct solution solution = { .dilution = thin, .dilution_count = 2, .dilution_span = SOMEWHERE };
	double share = (double)mixing_stock(&solution, litres(1)) / (double)litres(1);
	assert_near(13.40 * share, answer("M31"), 1e-4);
}

/* C01 to C06: grams a litre against grains, ounces and pounds in 32 fl oz (S. Anchell, p. 326). */
static void test_compound_conversions(void **state)
{
	(void)state;
	int64_t ounces_32 = us_fluid_ounces(32);
	double in_32 = (double)mixing_scaled((int64_t)GRAM_NG, ounces_32, litres(1));
	assert_near(in_32 / GRAIN_NG, answer("C01"), 0.05);
	assert_near(in_32 / OUNCE_NG, answer("C02"), 0.000005);
	assert_near(in_32 / OUNCE_NG / 16, answer("C03"), 0.0000005);
	assert_near((double)mixing_scaled((int64_t)GRAIN_NG, litres(1), ounces_32) / GRAM_NG, answer("C04"), 0.000005);
	assert_near((double)mixing_scaled((int64_t)OUNCE_NG, litres(1), ounces_32) / GRAM_NG, answer("C05"), 0.005);
	assert_near((double)mixing_scaled((int64_t)(16 * OUNCE_NG), litres(1), ounces_32) / GRAM_NG, answer("C06"),
		    0.05);
}

/* What the taps give is what the heat balance of hot and cold says, to the millilitre; nothing is lost between them. */
static void test_taps(void **state)
{
	(void)state;
	for (int i = 0; i < 500; i++) {
		int64_t cold = celsius(5 + i % 17);
		int64_t hot = celsius(40 + i % 31);
		struct temperature_window wanted = window_within(18 + i % 22, 0);
		int64_t volume = millilitres(100 + 7 * i);
		struct blending_taps taps = blending_taps(hot, cold, &wanted, volume);
		if (wanted.nominal < cold || wanted.nominal > hot)
			continue;
		assert_int_equal(taps.reach, TAPS_REACH);
		assert_int_equal(taps.hot + taps.cold, volume);
		assert_int_equal(taps.hot % VOLUME_PER_ML, 0);
		const struct heat_share shares[] = { { quantity_celsius(hot), quantity_ml(taps.hot) },
						     { quantity_celsius(cold), quantity_ml(taps.cold) } };
		double allowance = 0.5 * quantity_celsius(hot - cold) / quantity_ml(volume);
		assert_near(heat_balance_temp_c(shares, 2), quantity_celsius(wanted.nominal), allowance + 1e-9);
	}
}

static void test_taps_out_of_reach(void **state)
{
	(void)state;
	struct temperature_window wanted = window_within(43, 2);
	struct blending_taps taps = blending_taps(celsius(42), celsius(12), &wanted, litres(1));
	assert_int_equal(taps.reach, TAPS_REACH); /* the window reaches down to the tap */
	assert_int_equal(taps.temp, celsius(42));
	assert_int_equal(taps.hot, litres(1));
	taps = blending_taps(celsius(40), celsius(12), &wanted, litres(1));
	assert_int_equal(taps.reach, TAPS_TOO_COLD);
	assert_int_equal(taps.hot, litres(1));
	wanted = window_within(18, 0.5);
	taps = blending_taps(celsius(40), celsius(21), &wanted, litres(1));
	assert_int_equal(taps.reach, TAPS_TOO_HOT);
	assert_int_equal(taps.cold, litres(1));
	wanted = window_within(20, 0); /* below 100 mL to a tenth */
	assert_int_equal(blending_taps(celsius(60), celsius(12), &wanted, millilitres(10)).hot, millilitres(1.7));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_percent_solutions),
		cmocka_unit_test(test_acids),
		cmocka_unit_test(test_criss_cross),
		cmocka_unit_test(test_mass_balance),
		cmocka_unit_test(test_shares),
		cmocka_unit_test(test_compound_conversions),
		cmocka_unit_test(test_taps),
		cmocka_unit_test(test_taps_out_of_reach),
	};
	return cmocka_run_group_tests_name("blending", tests, NULL, NULL);
}
