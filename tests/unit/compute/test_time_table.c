#include "figures.h"

#include <stdlib.h>

#include "compute/reading.h"
#include "compute/time_table.h"

#define FAHRENHEIT_ZERO (-160000)
#define FAHRENHEIT_DEGREE 5000

/* One step in one bath, read on one thermometer. */
struct bench {
	struct thermometer thermometer;
	struct solution solution;
	struct solution *solutions[1];
	struct step step;
	struct process process;
	struct recipe recipe;
	struct report report;
	struct condition at, done;
	struct conditions conditions;
	struct used_time used;
	struct time_table table;
};

static void set_up(struct bench *bench)
{
	*bench = (struct bench){ .thermometer.reads = { celsius(0.1), SOMEWHERE, UNIT_celsius } };
	bench->recipe.names = intern_create(&arena);
	bench->recipe.solutions = bench->solutions;
	bench->recipe.solution_count = 1;
	bench->solutions[0] = &bench->solution;
	bench->solution.declared.name = intern_name(bench->recipe.names, TEXT("soup"));
	bench->step = (struct step){
		.name = intern_name(bench->recipe.names, TEXT("develop")),
		.name_span = SOMEWHERE,
		.role = ROLE_developer,
		.bath = BATH_SOLUTION,
		.solution = &bench->solution,
		.at = window_within(20, 0.5),
		.time = exactly(480000),
		.coefficient = said(8 * PERCENT_ONE),
	};
	bench->process = (struct process){
		.thermometer = &bench->thermometer,
		.steps = &bench->step,
		.step_count = 1,
		.family = FAMILY_black_and_white_negative,
	};
	bench->at = (struct condition){ .name = TEXT("develop") };
	bench->done = (struct condition){ .name = TEXT("soup") };
	report_init(&bench->report, &arena);
}

static const struct time_table *fill(struct bench *bench)
{
	time_table_fill(&bench->process, &bench->step, &bench->used, &bench->table);
	return &bench->table;
}

static const struct timed_reading *row_at(const struct time_table *table, int64_t reading)
{
	for (size_t i = 0; i < table->count; i++)
		if (table->rows[i].reading == reading)
			return &table->rows[i];
	fail_msg("no row at %g", (double)reading / TEMPERATURE_PER_KELVIN);
	return NULL;
}

/* 18 to 24 °C at tenths are 61 rows; the thermometer shows them 0.2 K higher. */
static void test_every_division(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	struct time_row rows[3] = { { said(celsius(18)), said(570000), &rows[1] },
				    { said(celsius(20)), said(480000), &rows[2] },
				    { said(celsius(24)), said(330000), NULL } };
	bench.step.times = rows;
	bench.thermometer.correction = said(celsius(-0.2));
	const struct time_table *table = fill(&bench);
	assert_int_equal(table->count, 61);
	for (size_t i = 0; i < table->count; i++)
		assert_int_equal(table->rows[i].reading, celsius(18.2) + celsius(0.1) * (int64_t)i);
	assert_int_equal(table->rows[0].time.low_ms, 570000);
	assert_int_equal(table->rows[20].time.low_ms, 480000);
	assert_int_equal(table->rows[60].time.low_ms, 330000);
}

static void test_too_many_divisions(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.solution.usable = window_between(15.05, 30);
	const struct time_table *table = fill(&bench);
	assert_true(table->count > 40 && table->count <= TIME_TABLE_ROWS_MOST);
	assert_int_equal(table->rows[0].reading, celsius(15.05));
	assert_int_equal(table->rows[1].reading, celsius(15.3)); /* every third */
	assert_int_equal(table->rows[table->count - 1].reading, celsius(30));
	assert_int_equal(row_at(table, celsius(20))->time.low_ms, 480000);
}

/* Without a usable range, the step's window. In °F its ends lie between two hundredths: inwards. */
static void test_fahrenheit(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.step.at.low++;
	bench.step.at.high--;
	bench.thermometer.reads = (struct quantity){ FAHRENHEIT_DEGREE / 2, SOMEWHERE, UNIT_fahrenheit };
	const struct time_table *table = fill(&bench);
	const int64_t hundredths[] = { 6711, 6750, 6800, 6850, 6889 };
	assert_int_equal(table->count, sizeof hundredths / sizeof hundredths[0]);
	for (size_t i = 0; i < table->count; i++)
		assert_int_equal(table->rows[i].reading, FAHRENHEIT_ZERO + hundredths[i] * (FAHRENHEIT_DEGREE / 100));
	bench.process.thermometer = NULL; /* tenths of the degree that was written */
	assert_int_equal(fill(&bench)->count, 11);
	bench.step.at.unit = UNIT_fahrenheit;
	assert_int_equal(fill(&bench)->count, 19);
}

static void test_a_pour_of_its_own(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	bench.step.pour_at = window_within(21.03, 0.5);
	bench.solution.usable = window_between(18, 24);
	const struct time_table *table = fill(&bench);
	assert_int_equal(table->rows[0].reading, celsius(19.03));
	assert_int_equal(table->rows[table->count - 1].reading, celsius(25.03));
	assert_int_equal(row_at(table, celsius(21.03))->time.low_ms, 480000);
}

static void test_no_table(void **state)
{
	(void)state;
	struct bench bench;
	set_up(&bench);
	assert_int_equal(fill(&bench)->count, 11);
	bench.process.family = FAMILY_c_41;
	bench.step.role = ROLE_colour_developer;
	assert_int_equal(fill(&bench)->count, 0); /* colour is not put right by time */
	bench.step.times_are_makers = true;
	assert_int_equal(fill(&bench)->count, 11);
	bench.step.at = window_within(20, 0); /* one temperature is nothing to choose from */
	assert_int_equal(fill(&bench)->count, 0);
	set_up(&bench);
	bench.step.coefficient.span = (struct span){ 0, 0 };
	assert_int_equal(fill(&bench)->count, 0);
	bench.step.coefficient = said(8 * PERCENT_ONE);
	bench.step.at.span = (struct span){ 0, 0 };
	assert_int_equal(fill(&bench)->count, 0);
}

static double between(double low, double high)
{
	return low + (high - low) * rand() / RAND_MAX;
}

/* Every row of 300 random steps is what --at gives there, lengthened for film done; rows rise, both ends are there. */
static void test_rows_are_those_of_at(void **state)
{
	(void)state;
	srand(20);
	for (int i = 0; i < 300; i++) {
		struct bench bench;
		set_up(&bench);
		double low_c = floor(between(12, 19) * 100) / 100, high_c = floor(between(21, 34) * 100) / 100;
		bench.solution.usable = window_between(low_c, high_c);
		bench.solution.usable.low = celsius(low_c);
		bench.solution.usable.high = celsius(high_c);
		bench.step.coefficient = said(llround(between(1, 14) * PERCENT_ONE));
		bench.step.round_to = said(i % 3 ? 1000 : 5000);
		bench.thermometer.reads.value = celsius(i % 2 ? 0.1 : 0.5);
		bench.thermometer.correction = said(celsius(floor(between(-9, 9)) / 10));
		bench.solution.lengthen_percent = said(10 * PERCENT_ONE);
		bench.solution.lengthen_volume = said(litres(1));
		struct tank tank = { .holds = said(litres(1)) };
		bench.process.tank = &tank;
		bench.conditions.done = &bench.done;
		bench.done.value = 500 * (i % 4);
		bench.used = *used_times(&bench.recipe, &bench.process, &bench.conditions, &bench.report, &arena);
		const struct time_table *table = fill(&bench);
		assert_true(table->count > 2 && table->count <= TIME_TABLE_ROWS_MOST);
		assert_int_equal(table->rows[0].reading, celsius(low_c) - bench.thermometer.correction.value);
		assert_int_equal(table->rows[table->count - 1].reading,
				 celsius(high_c) - bench.thermometer.correction.value);
		bench.conditions.temperatures = &bench.at;
		for (size_t row = 0; row < table->count; row++) {
			bench.at.value = table->rows[row].reading;
			struct used_time *used =
				used_times(&bench.recipe, &bench.process, &bench.conditions, &bench.report, &arena);
			assert_int_equal(used->time.low_ms, table->rows[row].time.low_ms);
			assert_true(row == 0 || table->rows[row - 1].reading < table->rows[row].reading);
		}
		assert_int_equal(bench.report.count, 0);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_every_division), ARENA_TEST(test_too_many_divisions),
		ARENA_TEST(test_fahrenheit),	 ARENA_TEST(test_a_pour_of_its_own),
		ARENA_TEST(test_no_table),	 ARENA_TEST(test_rows_are_those_of_at),
	};
	RUN_TESTS(tests);
}
