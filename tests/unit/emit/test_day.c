/* What a day's products say, on a day planned by hand. */
#include "day_fixture.h"

#include "emit/day/bound.h"
#include "emit/day/parts.h"
#include "emit/day/wall.h"
#include "emit/escape/ics.h"
#include "emit/lists/lists.h"

#define HOUR 3600
#define NBSP "\xC2\xA0"

static struct text ics_of(const char *name, struct text value)
{
	struct output output;

	output_open_memory(&output, &arena);
	ics_text(&output, &arena, name, value);
	return output_memory(&output);
}

/* ---- the clock on the wall ---- */

static void test_the_clock_goes_past_midnight(void **state)
{
	(void)state;
	assert_text(wall_time(&arena, &plan, 0), "09:00");
	assert_text(wall_time(&arena, &plan, 15 * HOUR + 60), "Sunday" NBSP "00:01");
	assert_text(wall_stamp(&arena, &day, 15 * HOUR), "2026-03-15T00:00:00");
	assert_text(wall_span(&arena, &plan, 0, 5400), "09:00" NBSP "to" NBSP "10:30");
	assert_text(wall_date(&arena, &day), "Saturday" NBSP "2026-03-14");
}

/* The eighth day has the weekday of the first: from there on a weekday alone could be either. */
static void test_a_plan_of_more_than_a_week_has_dates(void **state)
{
	(void)state;
	plan.last_s = 7 * 24 * HOUR - 9 * HOUR - 1; /* Friday, one second to midnight */
	assert_text(wall_time(&arena, &plan, 15 * HOUR), "Sunday" NBSP "00:00");
	assert_text(wall_short_date(&arena, &plan, day.date + 1), "Sunday");
	plan.last_s++;
	assert_text(wall_time(&arena, &plan, 0), "09:00");
	assert_text(wall_time(&arena, &plan, 15 * HOUR), "2026-03-15 00:00");
	assert_text(wall_time(&arena, &plan, 7 * 24 * HOUR), "2026-03-21 09:00");
	assert_text(wall_span(&arena, &plan, 0, 15 * HOUR), "09:00" NBSP "to 2026-03-15 00:00");
	assert_text(wall_span(&arena, &plan, 15 * HOUR, 16 * HOUR), "2026-03-15 00:00" NBSP "to" NBSP "01:00");
	assert_text(wall_short_date(&arena, &plan, day.date + 1), "2026-03-15");
}

/* 02:00 in the following night becomes 03:00: an hour of the clock is left out, none of the day. */
static void test_the_clock_is_put_forward(void **state)
{
	(void)state;
	day.clock_span = day.utc_span = SAID;
	day.clock_from_s = 26 * HOUR;
	day.clock_to_s = 27 * HOUR;
	day.utc_offset_s = HOUR;
	assert_text(wall_stamp(&arena, &day, 17 * HOUR - 1), "2026-03-15T01:59:59+01:00");
	assert_text(wall_stamp(&arena, &day, 17 * HOUR), "2026-03-15T03:00:00+02:00");
}

static void test_the_clock_is_put_back(void **state)
{
	(void)state;
	day.clock_span = day.utc_span = SAID;
	day.clock_from_s = 27 * HOUR;
	day.clock_to_s = 26 * HOUR;
	day.utc_offset_s = -2 * HOUR;
	assert_text(wall_stamp(&arena, &day, 18 * HOUR - 1), "2026-03-15T02:59:59-02:00");
	assert_text(wall_stamp(&arena, &day, 18 * HOUR), "2026-03-15T02:00:00-03:00");
}

/* From 02:00 to 03:00 it goes twice. */
static void test_what_the_clock_shows_twice_is_told_apart(void **state)
{
	(void)state;
	day.clock_span = SAID;
	day.clock_from_s = 27 * HOUR;
	day.clock_to_s = 26 * HOUR;
	assert_text(wall_time(&arena, &plan, 17 * HOUR - 60), "Sunday" NBSP "01:59");
	assert_text(wall_time(&arena, &plan, 17 * HOUR + 600), "Sunday" NBSP "02:10");
	assert_text(wall_time(&arena, &plan, 18 * HOUR + 600), "Sunday" NBSP "02:10 (changed" NBSP "clock)");
	assert_text(wall_time(&arena, &plan, 19 * HOUR), "Sunday" NBSP "03:00");
	assert_text(wall_span(&arena, &plan, 18 * HOUR - 60, 18 * HOUR + 60),
		    "Sunday" NBSP "02:59" NBSP "to" NBSP "02:01 (changed" NBSP "clock)");
	assert_text(wall_span(&arena, &plan, 18 * HOUR, 19 * HOUR - 60),
		    "Sunday" NBSP "02:00" NBSP "to" NBSP "02:59 (changed" NBSP "clock)");
	assert_text(wall_span(&arena, &plan, 19 * HOUR - 60, 19 * HOUR),
		    "Sunday" NBSP "02:59 (changed" NBSP "clock)" NBSP "to" NBSP "03:00");
	assert_false(wall_is_shown_twice(&day, 17 * HOUR - 1));
	assert_true(wall_is_shown_twice(&day, 17 * HOUR));
	assert_true(wall_is_shown_twice(&day, 19 * HOUR - 1));
	assert_false(wall_is_shown_twice(&day, 19 * HOUR));
}

static void test_durations(void **state)
{
	(void)state;
	assert_text(wall_duration(&arena, 20), "20" NBSP "s");
	assert_text(wall_duration(&arena, 2700), "45" NBSP "min");
	assert_text(wall_duration(&arena, 3900), "1" NBSP "h" NBSP "05" NBSP "min");
}

/* ---- why there are no fewer loads ---- */

static void test_a_bound_says_its_sum(void **state)
{
	(void)state;
	assert_text(bound_words(&emission, &kind), "Fewer than 3" NBSP "loads are impossible: 20" NBSP
						   "rolls of 135, of which 8 fill a tank: together 2.5 tanks full.");
}

static void test_a_gap_is_said(void **state)
{
	(void)state;
	packing.loads_least = 2;
	packing.bound = PACKING_BOUND_SEARCH;
	packing.is_proven_loads = false;
	assert_text(bound_words(&emission, &kind),
		    "Fewer than 2" NBSP "loads are impossible: every way to share the rolls out over 1" NBSP
		    "load was tried, and none keeps all rules. The plan has 3" NBSP
		    "loads, 1 more: whether fewer would do was not found out.");
}

static void test_one_load_needs_no_reason(void **state)
{
	(void)state;
	packing.load_count = packing.loads_least = 1;
	assert_text(bound_words(&emission, &kind), "It all fits into one load.");
}

/* ---- parts ---- */

static void test_a_part_load_has_empty_reels_on_top(void **state)
{
	(void)state;
	assert_int_equal(parts_empty_reels(&plan, &loads[0]), 0);
	assert_int_equal(parts_empty_reels(&plan, &loads[2]), 4);
	rolls[18].format = FORMAT_f120; /* 3/8 and 1/4 of the column: three eighths are left, and 135 is on top */
	assert_int_equal(parts_empty_reels(&plan, &loads[2]), 3);
}

static void test_what_a_load_takes_up(void **state)
{
	struct parts_stay tank = parts_in_tank(&plan, &loads[0]);
	struct parts_stay reels = parts_on_reels(&plan, &loads[0]);
	struct parts_stay dryer = parts_in_dryer(&plan, &loads[0]);

	(void)state;
	assert_true(tank.is_there && reels.is_there && dryer.is_there);
	assert_int_equal(tank.from_s, 1320); /* loading */
	assert_int_equal(tank.to_s, 3780);   /* rinsed */
	assert_int_equal(reels.to_s, 5580);  /* dry */
	assert_int_equal(dryer.to_s, 10840); /* taken down */
	assert_false(parts_in_tank(&plan, &loads[2]).is_there);
}

static void test_ordinals(void **state)
{
	static const char *const words[] = { "1st",  "2nd",  "3rd",  "4th",   "11th",
					     "12th", "13th", "21st", "102nd", "111th" };
	static const size_t numbers[] = { 1, 2, 3, 4, 11, 12, 13, 21, 102, 111 };

	(void)state;
	for (size_t i = 0; i < sizeof words / sizeof words[0]; i++)
		assert_text(lists_ordinal(&arena, numbers[i]), words[i]);
}

static void test_bottles_come_in_the_order_of_pouring(void **state)
{
	size_t count;
	const struct lists_bottle *bottles = lists_bottles(&emission, &count);

	(void)state;
	assert_int_equal(count, 2); /* both loads use the same fills */
	assert_int_equal(bottles[0].number, 1);
	assert_int_equal(bottles[1].number, 2);
	assert_text(lists_mixed(&emission, &bottles[0]), "2026-03-14 09:15");
	assert_text(lists_mixed(&emission, &bottles[1]), "");
}

/* ---- calendar lines: figures counted by hand from RFC 5545, 3.1 and 3.3.11 ---- */

static void test_a_line_of_75_octets_is_whole(void **state)
{
	char value[70];

	(void)state;
	memset(value, 'x', sizeof value);
	assert_int_equal(ics_of("NAME", (struct text){ value, 70 }).length, 75 + 2);
}

static void test_a_longer_line_is_folded(void **state)
{
	char value[71];
	struct text line;

	(void)state;
	memset(value, 'x', sizeof value);
	line = ics_of("NAME", (struct text){ value, 71 });
	assert_int_equal(line.length, 75 + 2 + 2 + 2);
	assert_memory_equal(line.data + 75, "\r\n x\r\n", 6);
}

/* The 75th octet would be the first of the two of an umlaut. */
static void test_no_character_is_cut(void **state)
{
	char value[71];
	struct text line;

	(void)state;
	memset(value, 'x', sizeof value);
	memcpy(value + 69, "\xC3\xA4", 2);
	line = ics_of("NAME", (struct text){ value, 71 });
	assert_memory_equal(line.data + 74, "\r\n \xC3\xA4\r\n", 7);
}

static void test_texts_are_escaped(void **state)
{
	(void)state;
	assert_text(ics_of("A", TEXT("a,b;c\\d\ne")), "A:a\\,b\\;c\\\\d\\ne\r\n");
	assert_text(ics_of("A", TEXT("x\r\nBEGIN:VEVENT")), "A:x<0x0D>\\nBEGIN:VEVENT\r\n");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		DAY_TEST(test_the_clock_goes_past_midnight),
		DAY_TEST(test_a_plan_of_more_than_a_week_has_dates),
		DAY_TEST(test_the_clock_is_put_forward),
		DAY_TEST(test_the_clock_is_put_back),
		DAY_TEST(test_what_the_clock_shows_twice_is_told_apart),
		DAY_TEST(test_durations),
		DAY_TEST(test_a_bound_says_its_sum),
		DAY_TEST(test_a_gap_is_said),
		DAY_TEST(test_one_load_needs_no_reason),
		DAY_TEST(test_a_part_load_has_empty_reels_on_top),
		DAY_TEST(test_what_a_load_takes_up),
		DAY_TEST(test_ordinals),
		DAY_TEST(test_bottles_come_in_the_order_of_pouring),
		DAY_TEST(test_a_line_of_75_octets_is_whole),
		DAY_TEST(test_a_longer_line_is_folded),
		DAY_TEST(test_no_character_is_cut),
		DAY_TEST(test_texts_are_escaped),
	};

	RUN_TESTS(tests);
}
