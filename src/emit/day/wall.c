#include "emit/day/wall.h"

#include <inttypes.h>

#include "model/date.h"

#define DAY_S (24 * 60 * 60)
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

struct text wall_time(struct arena *arena, const struct day *day, int64_t since_start_s)
{
	struct wall at = wall_at(day, since_start_s);
	bool is_other = at.date != day->date;
	return text_format(arena, "%s%s%02" PRId64 ":%02" PRId64, is_other ? date_weekday(at.date) : "",
			   is_other ? NBSP : "", at.second / 3600, at.second / 60 % 60);
}

struct text wall_span(struct arena *arena, const struct day *day, int64_t from_s, int64_t to_s)
{
	struct wall end = wall_at(day, to_s);
	struct text from = wall_time(arena, day, from_s);
	bool is_one_date = end.date == wall_at(day, from_s).date;
	struct text to =
		is_one_date ? text_format(arena, "%02" PRId64 ":%02" PRId64, end.second / 3600, end.second / 60 % 60)
			    : wall_time(arena, day, to_s);
	return text_format(arena, "%.*s" NBSP "to" NBSP "%.*s", TEXT_ARGUMENT(from), TEXT_ARGUMENT(to));
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
