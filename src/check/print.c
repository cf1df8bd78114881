#include "check/print.h"

#include <inttypes.h>

#define HUNDREDTH (TEMPERATURE_PER_KELVIN / 100)
#define MILLI 1000

static int64_t to_hundredths(int64_t value)
{
	int64_t half = value < 0 ? -HUNDREDTH / 2 : HUNDREDTH / 2;
	return (value + half) / HUNDREDTH * HUNDREDTH;
}

struct text print_temperature(const struct check_run *run, int64_t temperature)
{
	return quantity_print_temperature(run->arena, to_hundredths(temperature));
}

struct text print_difference(const struct check_run *run, int64_t difference)
{
	return quantity_print_difference(run->arena, to_hundredths(difference));
}

struct text print_volume(const struct check_run *run, int64_t volume)
{
	return quantity_print_volume(run->arena, volume);
}

struct text print_rolls(const struct check_run *run, int64_t milli_rolls)
{
	int64_t whole = milli_rolls / MILLI;
	int64_t rest = milli_rolls % MILLI;
	const char *rolls = milli_rolls == MILLI ? "roll" : "rolls";
	if (rest == 0)
		return text_format(run->arena, "%" PRId64 " %s", whole, rolls);
	int decimals = 3;
	for (; rest % 10 == 0; rest /= 10)
		decimals--;
	return text_format(run->arena, "%" PRId64 ".%0*" PRId64 " %s", whole, decimals, rest, rolls);
}

struct text print_solution(const struct check_run *run, const struct solution *solution)
{
	return intern_text(run->recipe->names, solution->declared.name);
}
