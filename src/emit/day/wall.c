#include "emit/day/wall.h"

#include <inttypes.h>

#include "model/date.h"

#define DAY_S (24 * 60 * 60)
#define WEEKDAYS 7
#define NBSP "\xC2\xA0"

static int64_t floor_divide(int64_t number, int64_t by)
{
	int64_t quotient = number / by;
	return number % by < 0 ? quotient - 1 : quotient;
}

struct wall wall_at(const struct day *day, int64_t since_start_s)
{
	int64_t running = day->start_s + since_start_s;
	int64_t shift = day_clock_shift_s(day, running);
	int64_t days = floor_divide(running + shift, DAY_S);
	return (struct wall){ .date = day->date + days,
			      .second = running + shift - days * DAY_S,
			      .offset_s = day->utc_offset_s + shift - day_clock_shift_s(day, day->start_s) };
}

bool wall_has_offset(const struct day *day)
{
	return span_is_set(day->utc_span);
}

bool wall_is_changed(const struct day *day)
{
	return span_is_set(day->clock_span) && day->clock_from_s != day->clock_to_s;
}

struct text wall_stamp(struct arena *arena, const struct day *day, int64_t since_start_s)
{
	struct wall at = wall_at(day, since_start_s);
	struct text date = date_print(arena, at.date);
	struct text stamp = text_format(arena, "%.*sT%02" PRId64 ":%02" PRId64 ":%02" PRId64, TEXT_ARGUMENT(date),
					at.second / 3600, at.second / 60 % 60, at.second % 60);
	if (!wall_has_offset(day))
		return stamp;
	int64_t size = at.offset_s < 0 ? -at.offset_s : at.offset_s;
	return text_format(arena, "%.*s%c%02" PRId64 ":%02" PRId64, TEXT_ARGUMENT(stamp), at.offset_s < 0 ? '-' : '+',
			   size / 3600, size / 60 % 60);
}

bool wall_is_shown_twice(const struct day *day, int64_t since_start_s)
{
	int64_t running = day->start_s + since_start_s;
	return wall_is_changed(day) && running >= day->clock_to_s && running < 2 * day->clock_from_s - day->clock_to_s;
}

/* True where the clock shows this time for the second time. */
static bool is_shown_again(const struct day *day, int64_t since_start_s)
{
	return wall_is_shown_twice(day, since_start_s) && day->start_s + since_start_s >= day->clock_from_s;
}

struct text wall_hour(struct arena *arena, const struct day *day, int64_t since_start_s)
{
	struct wall at = wall_at(day, since_start_s);
	return text_format(arena, "%02" PRId64 ":%02" PRId64, at.second / 3600, at.second / 60 % 60);
}

/* The week after the day's date has each weekday once, and the eighth day is one of the day's own. */
static bool wants_dates(const struct day_plan *plan)
{
	return wall_at(plan->day, plan->last_s).date >= plan->day->date + WEEKDAYS;
}

struct text wall_short_date(struct arena *arena, const struct day_plan *plan, int64_t date)
{
	return wants_dates(plan) ? date_print(arena, date) : text_from(date_weekday(date));
}

/* Without what tells the clock's second showing from its first. */
static struct text print_time(struct arena *arena, const struct day_plan *plan, int64_t since_start_s)
{
	int64_t date = wall_at(plan->day, since_start_s).date;
	struct text hour = wall_hour(arena, plan->day, since_start_s);
	if (date == plan->day->date)
		return hour;
	/* A line may end behind a date, which is long. */
	return text_format(arena, "%.*s%s%.*s", TEXT_ARGUMENT(wall_short_date(arena, plan, date)),
			   wants_dates(plan) ? " " : NBSP, TEXT_ARGUMENT(hour));
}

static const char *mark_of_clock(const struct day *day, int64_t since_start_s)
{
	return is_shown_again(day, since_start_s) ? " (changed" NBSP "clock)" : "";
}

struct text wall_time(struct arena *arena, const struct day_plan *plan, int64_t since_start_s)
{
	struct text time = print_time(arena, plan, since_start_s);
	return text_format(arena, "%.*s%s", TEXT_ARGUMENT(time), mark_of_clock(plan->day, since_start_s));
}

struct text wall_span(struct arena *arena, const struct day_plan *plan, int64_t from_s, int64_t to_s)
{
	const struct day *day = plan->day;
	bool is_one_date = wall_at(day, to_s).date == wall_at(day, from_s).date;
	bool is_of_one_clock = is_shown_again(day, from_s) == is_shown_again(day, to_s);
	struct text from = print_time(arena, plan, from_s);
	struct text to = is_one_date ? wall_hour(arena, day, to_s) : print_time(arena, plan, to_s);
	return text_format(arena, "%.*s%s" NBSP "to%s%.*s%s", TEXT_ARGUMENT(from),
			   is_of_one_clock ? "" : mark_of_clock(day, from_s),
			   is_one_date || !wants_dates(plan) ? NBSP : " ", TEXT_ARGUMENT(to), mark_of_clock(day, to_s));
}

struct text wall_date(struct arena *arena, const struct day *day)
{
	return date_print_with_weekday(arena, day->date);
}

struct text wall_duration(struct arena *arena, int64_t duration_s)
{
	if (duration_s >= 60 * 60)
		return text_format(arena, "%" PRId64 NBSP "h" NBSP "%02" PRId64 NBSP "min", duration_s / 3600,
				   duration_s / 60 % 60);
	if (duration_s >= 60 && duration_s % 60 != 0)
		return text_format(arena, "%" PRId64 NBSP "min" NBSP "%02" PRId64 NBSP "s", duration_s / 60,
				   duration_s % 60);
	if (duration_s >= 60)
		return text_format(arena, "%" PRId64 NBSP "min", duration_s / 60);
	return text_format(arena, "%" PRId64 NBSP "s", duration_s);
}
