/* The words of cues that every output shares, on steps filled in by hand. */
#include "arena_fixture.h"
#include "emit/cues/wording.h"

#define SET ((struct span){ 1, 1 })

static struct recipe recipe;
static struct process process;
static struct timeline_step places[2];
static struct timeline timeline = { .steps = places };
static struct step steps[2];
static struct solution solution;
static struct thermometer thermometer;
static struct used_time used[2];
static const struct conditions conditions;
static struct emission emission;

static int open_emission(void **state)
{
	open_arena(state);
	recipe = (struct recipe){ .names = intern_create(&arena) };
	solution.declared.name = intern_name(recipe.names, TEXT("soup"));
	memset(steps, 0, sizeof steps);
	memset(places, 0, sizeof places);
	steps[0].name = intern_name(recipe.names, TEXT("develop"));
	process = (struct process){ .steps = steps, .step_count = 2 };
	memset(used, 0, sizeof used);
	emission = (struct emission){ .arena = &arena,
				       .recipe = &recipe,
				       .process = &process,
				       .timeline = &timeline,
				       .conditions = &conditions,
				       .used = used };
	return 0;
}

#define EMISSION_TEST(function) cmocka_unit_test_setup_teardown(function, open_emission, close_arena)

static struct temperature_window window_of(enum window_form form, int64_t nominal, int64_t low, int64_t high,
					   enum unit_id unit)
{
	return (struct temperature_window){ SET, form, nominal, low, high, unit };
}

static struct text words_of(enum cue_kind kind, int64_t length_ms, int64_t count)
{
	const struct cue cue = { 1000, 0, kind, 1000 + length_ms, count };
	return wording_cue_plain(&emission, &cue);
}

static void test_a_pour_names_bath_bottle_and_temperature(void **state)
{
	(void)state;
	assert_text(words_of(CUE_pour, 0, 0), "pour");
	steps[0].bath = BATH_WATER;
	assert_text(words_of(CUE_pour, 0, 0), "pour water");
	steps[0].changes = (struct quantity){ 6, SET, UNIT_none };
	assert_text(words_of(CUE_pour, 0, 0), "pour water, fill and dump 6 times");
	steps[0].changes.span.begin = 0;
	steps[0].bath = BATH_SOLUTION;
	steps[0].solution = &solution;
	assert_text(words_of(CUE_pour, 0, 0), "pour soup");
	steps[0].bottle = 2;
	steps[0].at = window_of(WINDOW_TOLERANCE, 38 * 9000, 37 * 9000, 39 * 9000, UNIT_celsius);
	assert_text(words_of(CUE_pour, 0, 0), "pour soup (bottle 2) at 38.0 °C");
	steps[0].pour_at = window_of(WINDOW_POINT, 39 * 9000, 39 * 9000, 39 * 9000, UNIT_celsius);
	assert_text(words_of(CUE_pour, 0, 0), "pour soup (bottle 2) at 39.0 °C");
	used[0].is_measured = true;
	used[0].reading = 40 * 9000;
	assert_text(words_of(CUE_pour, 0, 0), "pour soup (bottle 2) at 40.0 °C, as measured");
	used[0].is_measured = false;
	steps[0].bottle = 0;
	steps[0].bath = BATH_RUNNING_WATER;
	steps[0].pour_at.span.begin = 0;
	steps[0].at.form = WINDOW_RANGE;
	assert_text(words_of(CUE_pour, 0, 0), "run water at 37.0 to 39.0 °C");
}

static void test_fahrenheit_stands_before_celsius(void **state)
{
	(void)state;
	steps[0].at = window_of(WINDOW_POINT, 350000, 350000, 350000, UNIT_fahrenheit);
	assert_text(words_of(CUE_pour, 0, 0), "pour at 102.0 °F (38.9 °C)");
}

/* The correction is added to the reading: 38.0 °C on a thermometer that shows 0.2 K too much is read as 38.2 °C. */
static void test_a_corrected_thermometer_is_read_in_its_own_scale(void **state)
{
	(void)state;
	thermometer = (struct thermometer){ .reads = { 900, SET, UNIT_celsius } };
	thermometer.correction = (struct quantity){ -1800, SET, UNIT_celsius };
	thermometer.declared.name = intern_name(recipe.names, TEXT("no-2"));
	process.thermometer = &thermometer;
	steps[0].at = window_of(WINDOW_POINT, 38 * 9000, 38 * 9000, 38 * 9000, UNIT_celsius);
	assert_text(words_of(CUE_pour, 0, 0), "pour at 38.0 °C, read 38.2 °C on no-2");
	steps[0].at = window_of(WINDOW_POINT, 350000, 350000, 350000, UNIT_fahrenheit);
	assert_text(words_of(CUE_pour, 0, 0), "pour at 102.0 °F (38.9 °C), read 39.1 °C on no-2");
	thermometer.reads.value = 4500;
	assert_text(words_of(CUE_pour, 0, 0), "pour at 102.0 °F (38.9 °C), read 39.0 °C on no-2");
	thermometer.reads = (struct quantity){ 2500, SET, UNIT_fahrenheit };
	thermometer.correction.value = 5000;
	assert_text(words_of(CUE_pour, 0, 0), "pour at 102.0 °F (38.9 °C), read 101.0 °F on no-2");
	/* The limits of a range lie on divisions within it. */
	thermometer.correction.value = 500;
	steps[0].at = window_of(WINDOW_RANGE, 340000, 315000, 365000, UNIT_fahrenheit);
	assert_text(words_of(CUE_pour, 0, 0),
		    "pour at 95.0 to 105.0 °F (35.0 to 40.6 °C), read 95.0 to 104.5 °F on no-2");
	thermometer.correction.value = 0;
	steps[0].at = window_of(WINDOW_POINT, 350000, 350000, 350000, UNIT_fahrenheit);
	assert_text(words_of(CUE_pour, 0, 0), "pour at 102.0 °F (38.9 °C)");
}

static void test_agitation_and_taps(void **state)
{
	(void)state;
	assert_text(words_of(CUE_agitation_start, 5000, 2), "agitate, 5 s");
	assert_text(words_of(CUE_agitation_start, 2500, 2), "agitate, 2.5 s");
	assert_text(words_of(CUE_agitation_start, 50, 2), "agitate, 0.05 s");
	assert_text(words_of(CUE_agitation_start, 59000, 1), "agitate, 59 s");
	assert_text(words_of(CUE_agitation_start, 60000, 1), "agitate, 1:00");
	assert_text(words_of(CUE_agitation_start, 390000, 1), "agitate, 6:30");
	assert_text(words_of(CUE_agitation_end, 0, 1), "let stand");
	steps[0].taps = 2;
	assert_text(words_of(CUE_agitation_end, 0, 1), "set down");
	assert_text(words_of(CUE_taps, 2000, 2), "tap 2");
	steps[0].expose = (struct quantity){ 5000, SET, UNIT_second };
	assert_text(words_of(CUE_expose, 0, 0), "expose to light, 5 s each side");
}

static void test_ends_of_a_step_that_may_last_longer(void **state)
{
	(void)state;
	places[0].time = (struct time_window){ SET, TIME_EXACT, 60000, 60000 };
	assert_text(words_of(CUE_drain_soon, 0, 0), "drain soon");
	assert_text(words_of(CUE_drain, 0, 0), "drain");
	assert_text(words_of(CUE_end, 0, 0), "step over");
	assert_int_equal(wording_first_longer(&emission), 2);
	places[0].time = (struct time_window){ SET, TIME_AT_LEAST, 60000, TIME_OPEN };
	assert_text(words_of(CUE_drain_soon, 0, 0), "drain soon, at the earliest");
	assert_text(words_of(CUE_drain, 0, 0), "drain, at the earliest");
	assert_text(words_of(CUE_end, 0, 0), "earliest end");
	assert_int_equal(wording_first_longer(&emission), 0);
	places[0].time = (struct time_window){ SET, TIME_RANGE, 60000, 90000 };
	assert_text(words_of(CUE_end, 0, 0), "earliest end");
	assert_text(words_of(CUE_latest_end, 0, 0), "latest end");
}

static void test_clocks_and_totals(void **state)
{
	(void)state;
	assert_text(wording_clock(&arena, 0), "0:00:00");
	assert_text(wording_clock(&arena, 210000), "0:03:30");
	assert_text(wording_clock(&arena, 3600000 + 62499), "1:01:02");
	assert_text(wording_clock(&arena, 3600000 + 62500), "1:01:03");
	assert_text(wording_clock(&arena, -20000), "-0:00:20");
	assert_text(wording_clock(&arena, -400), "0:00:00");
	assert_text(wording_clock(&arena, 400 * 3600000LL), "400:00:00");
	assert_text(wording_total(&arena, 870000, 900000), "14:30 to 15:00");
	assert_text(wording_total(&arena, 870000, 870000), "14:30");
	assert_text(wording_total(&arena, 870000, TIME_OPEN), "at least 14:30");
}

static void test_the_first_row_of_a_product_is_its_default(void **state)
{
	(void)state;
	assert_int_equal(emitter_find(TEXT("cues"), TEXT("")), EMITTER_cues_text);
	assert_int_equal(emitter_find(TEXT("cues"), TEXT("vtt")), EMITTER_cues_vtt);
	assert_int_equal(emitter_find(TEXT("cues"), TEXT("html")), EMITTER_COUNT);
	assert_int_equal(emitter_find(TEXT("cue"), TEXT("")), EMITTER_COUNT);
	assert_int_equal(emitter_find(TEXT(""), TEXT("")), EMITTER_COUNT);
	for (size_t i = 0; i < EMITTER_COUNT; i++) {
		const struct emitter_row *row = emitter_row((enum emitter_id)i);
		assert_int_equal(emitter_find(row->product, row->format), i);
		assert_non_null(row->emit);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		EMISSION_TEST(test_a_pour_names_bath_bottle_and_temperature),
		EMISSION_TEST(test_fahrenheit_stands_before_celsius),
		EMISSION_TEST(test_a_corrected_thermometer_is_read_in_its_own_scale),
		EMISSION_TEST(test_agitation_and_taps),
		EMISSION_TEST(test_ends_of_a_step_that_may_last_longer),
		EMISSION_TEST(test_clocks_and_totals),
		EMISSION_TEST(test_the_first_row_of_a_product_is_its_default),
	};
	RUN_TESTS(tests);
}
