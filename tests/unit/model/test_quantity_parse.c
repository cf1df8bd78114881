#include "arena_fixture.h"

#include "model/quantity.h"

#define NOTHING INT64_C(-987654321)

static void assert_reads(const char *text, enum quantity_kind kind, int64_t wanted)
{
	int64_t value = NOTHING;
	const char *problem = quantity_parse(text_from(text), kind, &value);
	if (problem)
		fail_msg("`%s` %s", text, problem);
	if (value != wanted)
		fail_msg("`%s` is %lld, not %lld", text, (long long)value, (long long)wanted);
}

static void assert_refuses(const char *text, enum quantity_kind kind)
{
	int64_t value = NOTHING;
	if (!quantity_parse(text_from(text), kind, &value))
		fail_msg("`%s` is read, as %lld", text, (long long)value);
	assert_int_equal(value, NOTHING);
}

/* Base units: 1/9000 K from 0 °C, so that 1 °F is 5000 and 32 °F is 0. */
static void test_temperatures(void **state)
{
	(void)state;
	assert_reads("21C", QUANTITY_TEMPERATURE, 21 * 9000);
	assert_reads("21 C", QUANTITY_TEMPERATURE, 21 * 9000);
	assert_reads("21 °C", QUANTITY_TEMPERATURE, 21 * 9000);
	assert_reads("21.5°C", QUANTITY_TEMPERATURE, 193500);
	assert_reads("21.55  °C", QUANTITY_TEMPERATURE, 193950);
	assert_reads("32F", QUANTITY_TEMPERATURE, 0);
	assert_reads("70 °F", QUANTITY_TEMPERATURE, 38 * 5000);
	assert_reads("102.25F", QUANTITY_TEMPERATURE, 351250);
	assert_reads("-10C", QUANTITY_TEMPERATURE, -90000);
	assert_reads("0C", QUANTITY_TEMPERATURE, 0);
	assert_reads("120C", QUANTITY_TEMPERATURE, 120 * 9000);
	assert_refuses("120.1C", QUANTITY_TEMPERATURE);
	assert_refuses("-31C", QUANTITY_TEMPERATURE);
	assert_refuses("21", QUANTITY_TEMPERATURE);
	assert_refuses("21 mL", QUANTITY_TEMPERATURE);
	assert_refuses("21 X", QUANTITY_TEMPERATURE);
	assert_refuses("C", QUANTITY_TEMPERATURE);
	assert_refuses("", QUANTITY_TEMPERATURE);
	assert_refuses("21.00001C", QUANTITY_TEMPERATURE);
}

static void test_figures_that_are_none(void **state)
{
	(void)state;
	static const char *const texts[] = { "2 1C",
					     "2,5C",
					     ".5C",
					     "5.C",
					     "2.5.1C",
					     "--2C",
					     "2-C",
					     "+C",
					     "1e2C",
					     "nanC",
					     "infC",
					     "0x10C",

					     "21 C C",
					     "²C",
					     "２１C",
					     "\xff"
					     "1C",

					     "- 2C",
					     "99999999999999999999C" };
	for (size_t i = 0; i < sizeof(texts) / sizeof(texts[0]); i++)
		assert_refuses(texts[i], QUANTITY_TEMPERATURE);
}

static void test_volumes(void **state)
{
	(void)state;
	assert_reads("2.5 L", QUANTITY_VOLUME, 2500 * VOLUME_PER_ML);
	assert_reads("600mL", QUANTITY_VOLUME, 600 * VOLUME_PER_ML);
	assert_reads("0 mL", QUANTITY_VOLUME, 0);
	assert_refuses("-1 mL", QUANTITY_VOLUME);
	assert_refuses("600", QUANTITY_VOLUME);
	assert_refuses("600 g", QUANTITY_VOLUME);
	assert_refuses("2000000 L", QUANTITY_VOLUME);
}

/* Counts have no unit; they are in thousandths. */
static void test_counts(void **state)
{
	(void)state;
	assert_reads("12", QUANTITY_COUNT, 12000);
	assert_reads("2.25", QUANTITY_COUNT, 2250);
	assert_reads("0", QUANTITY_COUNT, 0);
	assert_refuses("-1", QUANTITY_COUNT);
	assert_refuses("12 C", QUANTITY_COUNT);
	assert_refuses("1.0001", QUANTITY_COUNT);
	assert_refuses("rolls", QUANTITY_COUNT);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_temperatures),
		cmocka_unit_test(test_figures_that_are_none),
		cmocka_unit_test(test_volumes),
		cmocka_unit_test(test_counts),
	};
	return cmocka_run_group_tests_name("quantity parse", tests, NULL, NULL);
}
