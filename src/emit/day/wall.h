/* The clock on the wall of a day: what it shows at a time since the day's start, across midnight and across a change to
 * or from summer time. Texts live in the arena given. */
#ifndef EMIT_DAY_WALL_H
#define EMIT_DAY_WALL_H

#include "compute/day_plan.h"

/** What the clock and the calendar show. */
struct wall {
	int64_t date;	  /* in days since 1970-01-01 */
	int64_t second;	  /* of that day */
	int64_t offset_s; /* ahead of UTC; of use only where the day says its own */
};

/** The clock at so many seconds since the day's start. */
struct wall wall_at(const struct day *day, int64_t since_start_s);

/** True where the day says how far its clock is ahead of UTC. */
bool wall_has_offset(const struct day *day);

/** True where the day's clock is changed. */
bool wall_is_changed(const struct day *day);

/** "2026-03-14T09:00:00", and "+01:00" behind it where the day says so. */
struct text wall_stamp(struct arena *arena, const struct day *day, int64_t since_start_s);

/** True where the clock shows this time twice, before it is put back and after. */
bool wall_is_shown_twice(const struct day *day, int64_t since_start_s);

/** What the clock shows, and no more: "09:15". */
struct text wall_hour(struct arena *arena, const struct day *day, int64_t since_start_s);

/** "Sunday"; "2026-03-22" in a plan so long that a weekday alone could mean two dates. */
struct text wall_short_date(struct arena *arena, const struct day_plan *plan, int64_t date);

/** "09:15"; on another date than the day's "Sunday 02:10", and "2026-03-22 02:10" in a plan so long that a weekday
 * could mean two dates. What the clock shows for the second time is "02:10 (changed clock)". */
struct text wall_time(struct arena *arena, const struct day_plan *plan, int64_t since_start_s);

/** "09:15 to 10:40", with the weekday, or the date, where it is another. */
struct text wall_span(struct arena *arena, const struct day_plan *plan, int64_t from_s, int64_t to_s);

/** "Saturday 2026-03-14". */
struct text wall_date(struct arena *arena, const struct day *day);

/** How long something lasts: "1 h 05 min", "45 min", "20 s". */
struct text wall_duration(struct arena *arena, int64_t duration_s);

#endif
