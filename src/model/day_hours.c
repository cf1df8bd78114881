/* The hours of a day: start, finish, breaks, and the clock that is changed or is ahead of UTC. */
#include "model/day_hours.h"

#define HOUR_S 3600
#define DAY_S (24 * HOUR_S)
#define START_S (9 * HOUR_S)	    /* where a day does not say; common practice */
#define OFFSET_MOST_S (14 * HOUR_S) /* of a clock from UTC: no place on earth is further */

/* ---- as they are written ---- */

static node_index second_of(const struct reader *reader, node_index clause)
{
	return next_of(reader, first_of(reader, clause));
}

static void complain_hour(const struct reader *reader, struct span span, const char *problem, const char *help)
{
	struct report *report = reader->recipe->report;

	report_help(report, report_add(report, CHECK_figure_out_of_range, span, "%s", problem), "%s", help);
}

/* An hour of the clock, "09:00" to "24:00", in seconds since midnight. */
static bool read_hour(const struct reader *reader, node_index clock, int64_t *seconds)
{
	struct text text = read_text(reader, clock);
	int64_t parts[2] = { 0, 0 };
	size_t colons = 0;

	for (size_t i = 0; i < text.length && colons < 2; i++) {
		if (text.data[i] == ':')
			colons++;
		else if (text.data[i] < '0' || text.data[i] > '9' || parts[colons] > 99)
			colons = 2;
		else
			parts[colons] = parts[colons] * 10 + (text.data[i] - '0');
	}
	if (colons != 1 || parts[1] > 59 || parts[0] * 60 + parts[1] > 24 * 60) {
		complain_hour(reader, span_of(reader, clock), "not an hour of the day",
			      "hours and minutes from 00:00 to 24:00 are wanted, as in 13:30");
		return false;
	}
	*seconds = parts[0] * HOUR_S + parts[1] * 60;
	return true;
}

static void read_start(const struct reader *reader, node_index clause, struct day *day)
{
	if (read_is_repeated(reader, clause, day->start_span))
		return;
	day->start_span = span_of(reader, clause);
	if (read_hour(reader, first_of(reader, clause), &day->start_s) && day->start_s == DAY_S)
		complain_hour(reader, day->start_span, "a day does not begin at its end", "write 00:00");
}

static void read_finish(const struct reader *reader, node_index clause, struct day_hours *hours)
{
	struct day *day = hours->day;

	if (read_is_repeated(reader, clause, day->finish_span))
		return;
	day->finish_span = span_of(reader, clause);
	read_hour(reader, first_of(reader, clause), &hours->finish_s);
}

static void read_break(const struct reader *reader, node_index clause, struct day_hours *hours)
{
	struct day *day = hours->day;
	struct day_break read = { .span = span_of(reader, clause) };
	struct quantity lasts = { 0 };

	if (!read_hour(reader, first_of(reader, clause), &read.start_s) ||
	    !read_positive(reader, clause, second_of(reader, clause), QUANTITY_DURATION, &lasts))
		return;
	read.lasts_s = (lasts.value + MILLISECONDS_PER_SECOND - 1) / MILLISECONDS_PER_SECOND;
	ARENA_RESERVE(reader->recipe->arena, day->breaks, day->break_count, hours->break_capacity);
	day->breaks[day->break_count++] = read;
}

static void read_clock_changes(const struct reader *reader, node_index clause, struct day *day)
{
	int64_t from;
	int64_t to;

	if (read_is_repeated(reader, clause, day->clock_span))
		return;
	day->clock_span = span_of(reader, clause);
	if (!read_hour(reader, first_of(reader, clause), &from) || !read_hour(reader, second_of(reader, clause), &to))
		return;
	if (to - from > DAY_S / 2) /* put back from midnight, or on to it */
		to -= DAY_S;
	else if (from - to > DAY_S / 2)
		to += DAY_S;
	day->clock_from_s = from;
	day->clock_to_s = to;
}

static void read_offset(const struct reader *reader, node_index clause, struct day *day)
{
	struct quantity offset = { 0 };

	if (read_is_repeated(reader, clause, day->utc_span))
		return;
	day->utc_span = span_of(reader, clause);
	if (!read_quantity(reader, clause, first_of(reader, clause), QUANTITY_DURATION, &offset))
		return;
	if (offset.value > OFFSET_MOST_S * MILLISECONDS_PER_SECOND ||
	    offset.value % (60 * MILLISECONDS_PER_SECOND) != 0)
		complain_hour(reader, offset.span, "no clock on earth is so far from UTC",
			      "whole minutes are wanted, 14 hours at most");
	else
		day->utc_offset_s = offset.value / MILLISECONDS_PER_SECOND *
				    (tree_node(reader->tree, clause)->kind == NODE_clock_behind ? -1 : 1);
}

struct day_hours day_hours_of(struct day *day)
{
	day->start_s = START_S;
	day->finish_s = -1;
	return (struct day_hours){ .day = day, .finish_s = -1 };
}

bool day_hours_read(const struct reader *reader, node_index clause, struct day_hours *hours)
{
	switch ((enum node_kind)tree_node(reader->tree, clause)->kind) {
	case NODE_start:
		read_start(reader, clause, hours->day);
		return true;
	case NODE_finish:
		read_finish(reader, clause, hours);
		return true;
	case NODE_break:
		read_break(reader, clause, hours);
		return true;
	case NODE_clock_changes:
		read_clock_changes(reader, clause, hours->day);
		return true;
	case NODE_clock_ahead:
	case NODE_clock_behind:
		read_offset(reader, clause, hours->day);
		return true;
	default:
		return false;
	}
}

/* ---- a day that runs on ---- */

/* The clock is changed in the night of this day, or in its hours. */
static bool is_clock_changed(const struct day *day)
{
	return day->clock_from_s != day->clock_to_s;
}

/* When the clock shows this, as a time that runs on: hours before the day's start are those of the next day. An hour
 * that it shows twice is meant the first time (as in RFC 5545, 3.3.5). False for what it never shows, since it is put
 * on past it; the moment of the change itself is one by the old clock, too. */
static bool find_running(const struct day *day, int64_t shown_s, bool is_end, int64_t *running_s)
{
	int64_t shift = day->clock_to_s - day->clock_from_s;

	if (shown_s < day->start_s || (is_end && shown_s == day->start_s))
		shown_s += DAY_S;
	bool is_before = shown_s < day->clock_from_s || (shift > 0 && shown_s == day->clock_from_s);

	*running_s = is_before ? shown_s : shown_s - shift;
	return is_before || !is_clock_changed(day) || *running_s >= day->clock_from_s;
}

static struct text print_hour(struct arena *arena, int64_t second)
{
	return text_format(arena, "%02lld:%02lld", (long long)(second / HOUR_S % 24), (long long)(second / 60 % 60));
}

/* An hour that summer time leaves out: nobody can tell which other one is meant. */
static void complain_skipped(const struct reader *reader, const struct day *day, struct span span)
{
	struct report *report = reader->recipe->report;
	struct arena *arena = reader->recipe->arena;
	struct text from = print_hour(arena, day->clock_from_s), to = print_hour(arena, day->clock_to_s);
	struct diagnostic *finding = report_add(report, CHECK_figure_out_of_range, span,
						"the clock never shows this hour: it is put on from %.*s to %.*s",
						TEXT_ARGUMENT(from), TEXT_ARGUMENT(to));

	report_help(report, finding, "%.*s is the moment of the change; an hour after it is one of the changed clock",
		    TEXT_ARGUMENT(to));
	report_note(report, finding, day->clock_span, "it is changed here");
}

static int compare_breaks(const struct day_break *a, const struct day_break *b)
{
	return a->start_s < b->start_s ? -1 : a->start_s > b->start_s;
}

/* Few, and mostly in order. */
static void sort_breaks(struct day *day)
{
	for (size_t i = 1; i < day->break_count; i++) {
		for (size_t j = i; j > 0 && compare_breaks(&day->breaks[j], &day->breaks[j - 1]) < 0; j--) {
			struct day_break later = day->breaks[j - 1];

			day->breaks[j - 1] = day->breaks[j];
			day->breaks[j] = later;
		}
	}
}

/* The breaks that lie in hours that the clock shows; the others have been complained of. */
static void place_breaks(const struct reader *reader, struct day *day)
{
	int64_t end_s = day->finish_s >= 0 ? day->finish_s : DAY_S;
	size_t count = 0;

	for (size_t i = 0; i < day->break_count; i++) {
		struct day_break pause = day->breaks[i];

		if (!find_running(day, pause.start_s, false, &pause.start_s)) {
			complain_skipped(reader, day, pause.span);
			continue;
		}
		if (pause.start_s >= end_s)
			complain_hour(reader, pause.span, "this break lies outside the day",
				      "a break lies between `start` and `finish by`");
		day->breaks[count++] = pause;
	}
	day->break_count = count;
}

static void settle_breaks(const struct reader *reader, struct day *day)
{
	struct report *report = reader->recipe->report;

	place_breaks(reader, day);
	sort_breaks(day);
	for (size_t i = 1; i < day->break_count; i++)
		if (day->breaks[i].start_s < day->breaks[i - 1].start_s + day->breaks[i - 1].lasts_s)
			report_note(report,
				    report_add(report, CHECK_out_of_place, day->breaks[i].span,
					       "this break begins before another has ended"),
				    day->breaks[i - 1].span, "that one is here");
}

void day_hours_settle(const struct reader *reader, struct day_hours *hours)
{
	struct day *day = hours->day;

	if (day->clock_from_s < day->start_s && is_clock_changed(day)) { /* in the night that follows */
		day->clock_from_s += DAY_S;
		day->clock_to_s += DAY_S;
	}
	if (hours->finish_s >= 0 && !find_running(day, hours->finish_s, true, &day->finish_s))
		complain_skipped(reader, day, day->finish_span);
	settle_breaks(reader, day);
}
