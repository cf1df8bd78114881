#include "figures.h"

#include "compute/cooling_bath.h"
#include "compute/heat_balance.h"

#define EXAMPLES "tests/reference/mixing_arithmetic.tsv"
#define HEAT_EXAMPLES "tests/reference/worked_examples_heat_rate_wash.tsv"
#define ANSWER 4

#define JOULE_PER_CALORIE 4.184

/* B04: 25 g of ice take up 8350 J at 334 J/g; B05: 2000 cal at 80 cal/g, which is 334.7 J/g. */
static void test_melting(void **state)
{
	(void)state;
	assert_near(cooling_bath_ice_g(printed(EXAMPLES, "B04", ANSWER), 0), 25, 1e-9);
	assert_near(cooling_bath_ice_g(printed(EXAMPLES, "B05", ANSWER) * JOULE_PER_CALORIE, 0), 25, 0.1);
}

/* B06: 90 g of ice at 0 °C in 670 g of water at 24 °C end at 11.7 °C. The ice that takes up what the water gives up
 * lies around 90 g over the whole of the printed figure's rounding (and the source's 4.186). */
static void test_ice_in_water(void **state)
{
	(void)state;
	double end_c = printed(EXAMPLES, "B06", ANSWER);
	double most = cooling_bath_ice_g(cooling_bath_heat_j(670, 24, end_c - 0.05), end_c - 0.05);
	double least = cooling_bath_ice_g(cooling_bath_heat_j(670, 24, end_c + 0.05), end_c + 0.05);
	assert_true(least < 90 && 90 < most);
	assert_true(most - least < 1.5);
}

/* H1 (OpenStax Chemistry 2e): 800 g of water between 21 and 85 °C, printed with two figures. */
static void test_heat(void **state)
{
	(void)state;
	assert_near(cooling_bath_heat_j(800, 85, 21), printed(HEAT_EXAMPLES, "H1", ANSWER), 5000);
}

/* Heat is kept: the ice's melt at 0 °C, warmed to the bath, and the mix cooled to the target balance. */
static void test_heat_is_kept(void **state)
{
	(void)state;
	for (int i = 1; i < 200; i++) {
		double volume_ml = 100.0 * i;
		double bath_c = i % 20;
		double from_c = 52 - i % 7;
		double to_c = 20 + i % 18;
		double ice_g = cooling_bath_ice_g(cooling_bath_heat_j(volume_ml, from_c, to_c), bath_c);
		double taken_j = ice_g * (ICE_LATENT_HEAT + WATER_SPECIFIC_HEAT * bath_c);
		assert_near(taken_j, volume_ml * WATER_SPECIFIC_HEAT * (from_c - to_c), taken_j * 1e-12);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_melting),
		cmocka_unit_test(test_ice_in_water),
		cmocka_unit_test(test_heat),
		cmocka_unit_test(test_heat_is_kept),
	};
	return cmocka_run_group_tests_name("cooling_bath", tests, NULL, NULL);
}
