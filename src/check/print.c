#include "check/print.h"

#include <inttypes.h>

#define HUNDREDTH (TEMPERATURE_PER_KELVIN / 100)
#define MILLI 1000
#define TENTH_ML (VOLUME_PER_ML / 10)
#define TENTHS_PER_LITRE 10000

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

struct text print_temperature_beside(const struct check_run *run, int64_t temperature, int64_t limit)
{
	struct text text = print_temperature(run, temperature);
	if (temperature == limit || to_hundredths(temperature) != to_hundredths(limit))
		return text;
	return text_format(run->arena, "just %s %.*s", temperature < limit ? "under" : "over", TEXT_ARGUMENT(text));
}

struct text print_volume(const struct check_run *run, int64_t volume)
{
	int64_t tenths = (volume + TENTH_ML / 2) / TENTH_ML;
	if (tenths % 10 == 0 || tenths >= TENTHS_PER_LITRE || tenths < 100)
		return quantity_print_volume(run->arena, volume);
	return text_format(run->arena, "%" PRId64 ".%" PRId64 "\u00A0mL", tenths / 10, tenths % 10);
}

struct text print_volume_at_least(const struct check_run *run, int64_t volume)
{
	return print_volume(run, (volume + TENTH_ML - 1) / TENTH_ML * TENTH_ML);
}

struct text print_mass(const struct check_run *run, int64_t mass)
{
	int64_t step = 1;
	while (mass / step >= 10000)
		step *= 10;
	return quantity_print_mass(run->arena, (mass + step / 2) / step * step);
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
