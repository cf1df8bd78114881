#include "figures.h"

#include "compute/wash.h"

/* Source of W1 and W3: OpenStax Calculus bundle m53704, well-mixed tank examples with printed solutions (rows W1 and
 * W3 of tests/reference/worked_examples_heat_rate_wash.tsv): u(t) = 50 − 46·e^(−t/50) and y(t) = 10 − 9·e^(−t/50). */
static void test_textbook_tanks(void **state)
{
	(void)state;
	for (double minutes = 0; minutes < 500; minutes += 7) {
		double left = wash_left_by_flow(2, 100, minutes);
		assert_near(50 + (4 - 50) * left, 50 - 46 * exp(-minutes / 50), 1e-9);
		assert_near(10 + (1 - 10) * left, 10 - 9 * exp(-minutes / 50), 1e-9);
	}
}

/* Source: US Navy NAVEDTRA 14209, p. 10-8: of the hypo 1/2 is left after 1 min, 1/4 after 2 min; that is a flow of
 * ln 2 vessels a minute. */
static void test_halves(void **state)
{
	(void)state;
	double flow = log(2) * 2500;
	assert_near(wash_left_by_flow(flow, 2500, 1), 0.5, 1e-12);
	assert_near(wash_left_by_flow(flow, 2500, 2), 0.25, 1e-12);
	assert_near(wash_left_by_flow(flow, 2500, 0), 1, 0);
}

static void test_changes(void **state)
{
	(void)state;
	assert_near(wash_left_by_changes(100, 900, 3), 1e-3, 1e-15); /* a tenth is left each time */
	assert_near(wash_left_by_changes(100, 900, 0), 1, 0);
	assert_near(wash_left_by_changes(0, 900, 1), 0, 0);
	/* two half fills wash better than one whole one */
	assert_true(wash_left_by_changes(100, 450, 2) < wash_left_by_changes(100, 900, 1));
}

#define MINUTE_MS 60000

/* Three steps: a wash, a rest with its drain, a wash. */
struct bench {
	struct tank tank;
	struct heater heater;
	struct step steps[3];
	struct process process;
	struct timeline_step rows[3];
	struct timeline timeline;
};

static void set_up(struct bench *bench, double gives_l, double stores_l, double flow_l)
{
	*bench = (struct bench){ .tank = { .holds = said(litres(2.5)) } };
	if (gives_l > 0)
		bench->heater.gives = said(litres(gives_l));
	if (stores_l > 0)
		bench->heater.stores = said(litres(stores_l));
	for (size_t i = 0; i < 3; i++) {
		bench->steps[i].time = exactly(3 * MINUTE_MS);
		int64_t start_ms = (int64_t)i * 4 * MINUTE_MS;
		bench->rows[i] = (struct timeline_step){ .pour_ms = start_ms, .end_ms = start_ms + 4 * MINUTE_MS };
	}
	bench->steps[0].flow = bench->steps[2].flow = said(litres(flow_l));
	bench->process = (struct process){
		.tank = &bench->tank, .heater = &bench->heater, .steps = bench->steps, .step_count = 3
	};
	bench->timeline = (struct timeline){ .process = &bench->process, .steps = bench->rows, .step_count = 3 };
}

static int64_t shortage(const struct bench *bench, size_t step)
{
	return wash_shortage(&bench->process, &bench->timeline, step);
}

static void test_water_of_a_step(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench, 5, 0, 4);
	assert_int_equal(wash_water(&bench.process, 0), litres(12));
	assert_int_equal(wash_water(&bench.process, 1), 0);
	bench.steps[0].changes = said(4); /* 4 × 2.5 L are less than the flow, 6 × 2.5 L more */
	assert_int_equal(wash_water(&bench.process, 0), litres(12));
	bench.steps[0].changes = said(6);
	assert_int_equal(wash_water(&bench.process, 0), litres(15));
	assert_int_equal(wash_flow_for(litres(12), 3 * MINUTE_MS), litres(4));
}

static void test_heater_without_a_store(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench, 4, 0, 4); /* exactly what it gives */
	assert_int_equal(shortage(&bench, 0), 0);
	assert_int_equal(shortage(&bench, 2), 0);
	set_up(&bench, 4, 0, 5);
	assert_int_equal(shortage(&bench, 0), litres(3)); /* 15 L of 12; the minute of draining gives nothing back */
	assert_int_equal(shortage(&bench, 1), 0);
	assert_int_equal(shortage(&bench, 2), litres(3));
}

static void test_heater_with_a_store(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench, 0, 20, 4); /* 12 L of 20, then 12 of the 8 that are left */
	assert_int_equal(shortage(&bench, 0), 0);
	assert_int_equal(shortage(&bench, 2), litres(4));
	set_up(&bench, 1, 20, 4); /* it warms 1 L a minute all along: 11 left, 16 before the second wash, 7 after */
	assert_int_equal(shortage(&bench, 2), 0);
	set_up(&bench, 0, 24, 4);
	assert_int_equal(shortage(&bench, 2), 0);
	set_up(&bench, 10, 6, 12); /* never more than the store holds, however long it rests: 6 + 30 − 36 */
	assert_int_equal(shortage(&bench, 2), 0);
	set_up(&bench, 10, 6, 13);
	assert_int_equal(shortage(&bench, 2), litres(3));
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_textbook_tanks),
		cmocka_unit_test(test_halves),
		cmocka_unit_test(test_changes),
		cmocka_unit_test(test_water_of_a_step),
		cmocka_unit_test(test_heater_without_a_store),
		cmocka_unit_test(test_heater_with_a_store),
	};
	return cmocka_run_group_tests_name("wash", tests, NULL, NULL);
}
