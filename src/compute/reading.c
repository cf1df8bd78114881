#include "compute/reading.h"

bool reading_is_corrected(const struct thermometer *thermometer)
{
	return reading_of(thermometer, 0) != 0;
}

enum unit_id reading_unit(const struct thermometer *thermometer, const struct temperature_window *window)
{
	enum unit_id unit = thermometer ? thermometer->reads.unit : window->unit;
	return unit == UNIT_fahrenheit ? UNIT_fahrenheit : UNIT_celsius;
}

int64_t reading_of(const struct thermometer *thermometer, int64_t temperature)
{
	return thermometer ? temperature - thermometer->correction.value : temperature;
}

static int64_t floor_to(int64_t value, int64_t division)
{
	int64_t rest = value % division;
	return value - (rest < 0 ? rest + division : rest);
}

struct temperature_window reading_window(const struct thermometer *thermometer, const struct temperature_window *window)
{
	struct temperature_window shown = *window;
	shown.nominal = reading_of(thermometer, window->nominal);
	shown.low = reading_of(thermometer, window->low);
	shown.high = reading_of(thermometer, window->high);
	if (!reading_is_corrected(thermometer) || thermometer->reads.value <= 0)
		return shown;
	/* Divisions count from the zero of the thermometer's own scale. */
	int64_t division = thermometer->reads.value;
	int64_t zero = thermometer->reads.unit == UNIT_fahrenheit ? unit_row(UNIT_fahrenheit)->offset : 0;
	struct temperature_window round = shown;
	round.nominal = floor_to(shown.nominal - zero + division / 2, division) + zero;
	round.low = -floor_to(zero - shown.low, division) + zero;
	round.high = floor_to(shown.high - zero, division) + zero;
	if (window->form == WINDOW_POINT)
		round.low = round.high = round.nominal;
	return round.low <= round.nominal && round.nominal <= round.high ? round : shown;
}

int64_t reading_true(const struct thermometer *thermometer, int64_t reading)
{
	return thermometer == NULL ? reading : reading + thermometer->correction.value;
}
