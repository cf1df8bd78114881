/* What follows from a day as it was declared. */
#include "model/day.h"

static const struct day_time_row times[DAY_TIME_COUNT] = {
#define DAY_TIME(id, word, usual_s, summary) { { word, sizeof(word) - 1 }, usual_s, { summary, sizeof(summary) - 1 } },
#include "model/day_times.def"
#undef DAY_TIME
};

const struct day_time_row *day_time_row(enum day_time time)
{
	return &times[time];
}

int64_t day_time_s(const struct day *day, enum day_time time)
{
	const struct quantity *declared = &day->times[time];

	if (!span_is_set(declared->span))
		return times[time].usual_s;
	/* A hand movement is no finer than a second: what is begun counts whole. */
	return (declared->value + MILLISECONDS_PER_SECOND - 1) / MILLISECONDS_PER_SECOND;
}

int64_t day_clock_shift_s(const struct day *day, int64_t since_midnight_s)
{
	if (day->clock_from_s == day->clock_to_s || since_midnight_s < day->clock_from_s)
		return 0;
	return day->clock_to_s - day->clock_from_s;
}

enum family_id roll_family(const struct roll *roll)
{
	return roll->develop_as != FAMILY_COUNT ? roll->develop_as : roll->needs;
}
