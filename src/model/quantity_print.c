#include <inttypes.h>

#include "model/quantity.h"

#define NO_BREAK_SPACE "\xC2\xA0"
#define MINUS "\xE2\x88\x92"

#define NANOGRAMS_PER_GRAM 1000000000LL
#define FAHRENHEIT_PER_DEGREE 5000
#define FAHRENHEIT_OFFSET 160000
#define FINE_WINDOW (TEMPERATURE_PER_KELVIN / 2)

#define SECOND_MS ((uint64_t)1000)
#define MINUTE_MS (60 * SECOND_MS)
#define HOUR_MS (60 * MINUTE_MS)
#define DAY_MS (24 * HOUR_MS)

/* ---- decimals ---- */

static uint64_t magnitude(int64_t value)
{
	return value < 0 ? (uint64_t)0 - (uint64_t)value : (uint64_t)value;
}

static uint64_t power_of_ten(int decimals)
{
	uint64_t power = 1;
	while (decimals-- > 0)
		power *= 10;
	return power;
}

/* To the nearest whole number of steps, half away from zero. */
static int64_t round_to(int64_t value, int64_t step)
{
	uint64_t size = magnitude(value), unit = (uint64_t)step;
	uint64_t rounded = (size / unit + (size % unit >= unit - size % unit)) * unit;
	return (int64_t)(value < 0 ? (uint64_t)0 - rounded : rounded);
}

/* value / one, rounded half away from zero to `most` decimals; zeros at the end are left out down to `least`. */
static void append_decimal(struct text_builder *builder, int64_t value, int64_t one, int least, int most)
{
	uint64_t unit = (uint64_t)one;
	uint64_t whole = magnitude(value) / unit, rest = magnitude(value) % unit;
	uint64_t power = power_of_ten(most);
	uint64_t fraction = rest * power / unit;
	uint64_t left = rest * power % unit;
	if (left >= unit - left)
		fraction++;
	if (fraction == power) {
		whole++;
		fraction = 0;
	}
	for (; most > least && fraction % 10 == 0; most--)
		fraction /= 10;
	if (value < 0 && (whole > 0 || fraction > 0))
		text_append_string(builder, MINUS);
	text_append_format(builder, "%" PRIu64, whole);
	if (most > 0)
		text_append_format(builder, ".%0*" PRIu64, most, fraction);
}

static struct text print_decimal(struct arena *arena, int64_t value, int64_t one, int least, int most, const char *unit)
{
	struct text_builder builder = text_builder_start(arena);
	append_decimal(&builder, value, one, least, most);
	text_append_string(&builder, NO_BREAK_SPACE);
	text_append_string(&builder, unit);
	return text_builder_text(&builder);
}

/* ---- temperatures ---- */

/* Two decimals for what was declared to 0.01 of a degree; a figure that no two decimals give, such as one converted
 * from the other scale, has one. */
static int temperature_decimals(int64_t value, int64_t degree)
{
	bool is_tenths = value % (degree / 10) == 0;
	bool is_hundredths = value % (degree / 100) == 0;
	return !is_tenths && is_hundredths ? 2 : 1;
}

int64_t quantity_round_temperature(int64_t temperature)
{
	int decimals = temperature_decimals(temperature, TEMPERATURE_PER_KELVIN);
	return round_to(temperature, TEMPERATURE_PER_KELVIN / (decimals == 2 ? 100 : 10));
}

struct scale {
	int64_t offset, degree; /* what lies between its zero and that of °C, and one degree, in 1/9000 K */
	const char *unit;
};

static const struct scale celsius = { 0, TEMPERATURE_PER_KELVIN, "°C" };
static const struct scale fahrenheit = { FAHRENHEIT_OFFSET, FAHRENHEIT_PER_DEGREE, "°F" };

static void append_temperature(struct text_builder *builder, const struct scale *scale, int64_t temperature,
			       bool is_fine)
{
	int64_t value;
	if (__builtin_add_overflow(temperature, scale->offset, &value))
		value = temperature;
	int decimals = temperature_decimals(value, scale->degree);
	append_decimal(builder, value, scale->degree, is_fine ? 1 : decimals, is_fine ? 2 : decimals);
}

static struct text print_temperature(struct arena *arena, const struct scale *scale, int64_t temperature)
{
	struct text_builder builder = text_builder_start(arena);
	append_temperature(&builder, scale, temperature, false);
	text_append_format(&builder, NO_BREAK_SPACE "%s", scale->unit);
	return text_builder_text(&builder);
}

struct text quantity_print_temperature(struct arena *arena, int64_t temperature)
{
	return print_temperature(arena, &celsius, temperature);
}

struct text quantity_print_fahrenheit(struct arena *arena, int64_t temperature)
{
	return print_temperature(arena, &fahrenheit, temperature);
}

struct text quantity_print_difference(struct arena *arena, int64_t difference)
{
	bool is_exact = difference % (TEMPERATURE_PER_KELVIN / 100) == 0;
	bool is_small = magnitude(difference) < TEMPERATURE_PER_KELVIN;
	return print_decimal(arena, difference, TEMPERATURE_PER_KELVIN, 0, !is_exact && is_small ? 3 : 2, "K");
}

/* In a window of less than half a kelvin a limit rounded to 0.1 K would be another limit. */
static struct text print_window(struct arena *arena, const struct scale *scale, const struct temperature_window *window)
{
	if (!span_is_set(window->span))
		return TEXT("");
	if (window->form == WINDOW_POINT)
		return print_temperature(arena, scale, window->nominal);
	bool is_fine = window->high - window->low <= FINE_WINDOW;
	struct text_builder builder = text_builder_start(arena);
	append_temperature(&builder, scale, window->nominal, is_fine);
	text_append_format(&builder, NO_BREAK_SPACE "%s, not below ", scale->unit);
	append_temperature(&builder, scale, window->low, is_fine);
	text_append_string(&builder, ", not above ");
	append_temperature(&builder, scale, window->high, is_fine);
	return text_builder_text(&builder);
}

struct text quantity_print_window(struct arena *arena, const struct temperature_window *window)
{
	return print_window(arena, &celsius, window);
}

struct text quantity_print_window_fahrenheit(struct arena *arena, const struct temperature_window *window)
{
	return print_window(arena, &fahrenheit, window);
}

/* ---- amounts ---- */

/* Small amounts keep a figure more, so that 0.5 mL of a wetting agent or 5 mg of a restrainer do not vanish. */
int64_t quantity_round_volume(int64_t volume)
{
	uint64_t millilitre = (uint64_t)VOLUME_PER_ML;
	if (magnitude(volume) < millilitre)
		return round_to(volume, VOLUME_PER_ML / 100);
	bool is_large = magnitude(volume) >= 1000 * millilitre - millilitre / 20;
	return round_to(volume, is_large ? VOLUME_PER_ML : VOLUME_PER_ML / 10);
}

#define WHOLE_ML_FROM (100 * VOLUME_PER_ML)

static int64_t measured_step(int64_t volume)
{
	if (volume >= WHOLE_ML_FROM)
		return VOLUME_PER_ML;
	return volume < VOLUME_PER_ML ? VOLUME_PER_ML / 100 : VOLUME_PER_ML / 10;
}

int64_t quantity_measured_volume(int64_t volume)
{
	return round_to(volume, measured_step(volume));
}

int64_t quantity_measured_below(int64_t volume)
{
	return volume - volume % measured_step(volume);
}

/* What was declared to a milligram stays; what was scaled or converted has the figures that scales show. */
int64_t quantity_round_mass(int64_t mass)
{
	const int64_t gram = NANOGRAMS_PER_GRAM;
	uint64_t size = magnitude(mass);
	if (size < (uint64_t)gram / 100)
		return round_to(mass, gram / 1000000);
	if (size < (uint64_t)gram || mass % (gram / 1000) == 0)
		return round_to(mass, gram / 1000);
	return round_to(mass, size < 100 * (uint64_t)gram ? gram / 100 : gram / 10);
}

struct text quantity_print_volume(struct arena *arena, int64_t volume)
{
	int64_t rounded = quantity_round_volume(volume);
	if (magnitude(rounded) >= (uint64_t)(1000 * VOLUME_PER_ML))
		return print_decimal(arena, rounded, 1000 * VOLUME_PER_ML, 0, 3, "L");
	return print_decimal(arena, rounded, VOLUME_PER_ML, 0, 2, "mL");
}

struct text quantity_print_mass(struct arena *arena, int64_t mass)
{
	return print_decimal(arena, quantity_round_mass(mass), NANOGRAMS_PER_GRAM, 0, 6, "g");
}

/* ---- ounces and grains ---- */

/* NIST SP 811: a grain is 64.79891 mg, an ounce of 437.5 grains 28.349523125 g. */
#define GRAIN_NG 64798910LL
#define OUNCE_NG 28349523125LL
#define GRAIN_TENTHS_PER_OUNCE 4375

struct avoirdupois quantity_avoirdupois(int64_t mass)
{
	struct avoirdupois weight = { mass / OUNCE_NG, 0 };
	int64_t rest = mass % OUNCE_NG;
	bool is_small = weight.ounces == 0 && rest < 100 * GRAIN_NG;
	weight.grain_tenths = round_to(rest, is_small ? GRAIN_NG / 10 : GRAIN_NG) / (GRAIN_NG / 10);
	if (weight.grain_tenths >= GRAIN_TENTHS_PER_OUNCE)
		weight = (struct avoirdupois){ weight.ounces + 1, 0 };
	return weight;
}

struct text quantity_print_avoirdupois(struct arena *arena, int64_t mass)
{
	struct avoirdupois weight = quantity_avoirdupois(mass);
	struct text_builder builder = text_builder_start(arena);
	if (weight.ounces > 0)
		text_append_format(&builder, "%" PRId64 NO_BREAK_SPACE "oz", weight.ounces);
	if (weight.ounces > 0 && weight.grain_tenths > 0)
		text_append_string(&builder, NO_BREAK_SPACE);
	if (weight.ounces == 0 || weight.grain_tenths > 0) {
		append_decimal(&builder, weight.grain_tenths, 10, 0, 1);
		text_append_string(&builder, NO_BREAK_SPACE "gr");
	}
	return text_builder_text(&builder);
}

struct text quantity_print_percent(struct arena *arena, int64_t percent)
{
	bool is_small = magnitude(percent) < (uint64_t)PERCENT_ONE / 10;
	return print_decimal(arena, percent, PERCENT_ONE, 0, is_small ? 6 : 2, "%");
}

/* ---- times ---- */

static void append_duration(struct text_builder *builder, int64_t duration_ms)
{
	uint64_t size = magnitude(duration_ms);
	uint64_t hours = size / HOUR_MS, minutes = size % HOUR_MS / MINUTE_MS;
	uint64_t seconds = size % MINUTE_MS / SECOND_MS, rest = size % SECOND_MS;
	if (duration_ms < 0)
		text_append_string(builder, MINUS);
	if (hours > 0)
		text_append_format(builder, "%" PRIu64 ":%02" PRIu64 ":%02" PRIu64, hours, minutes, seconds);
	else
		text_append_format(builder, "%" PRIu64 ":%02" PRIu64, minutes, seconds);
	if (rest == 0)
		return;
	int decimals = 3;
	for (; rest % 10 == 0; decimals--)
		rest /= 10;
	text_append_format(builder, ".%0*" PRIu64, decimals, rest);
}

struct text quantity_print_duration(struct arena *arena, int64_t duration_ms)
{
	struct text_builder builder = text_builder_start(arena);
	append_duration(&builder, duration_ms);
	return text_builder_text(&builder);
}

struct text quantity_print_time_window(struct arena *arena, const struct time_window *time)
{
	if (!span_is_set(time->span))
		return TEXT("");
	struct text_builder builder = text_builder_start(arena);
	if (time->form == TIME_AT_LEAST)
		text_append_string(&builder, "at least ");
	append_duration(&builder, time->low_ms);
	if (time->form == TIME_RANGE) {
		text_append_string(&builder, " to ");
		append_duration(&builder, time->high_ms);
	}
	return text_builder_text(&builder);
}

/* Thirty days count as a month (syntax/units.def). */
static const struct {
	uint64_t length_ms;
	const char *one;
	const char *many;
} keeping_units[] = {
	{ 30 * DAY_MS, "month", "months" }, { 7 * DAY_MS, "week", "weeks" },
	{ DAY_MS, "day", "days" },	    { HOUR_MS, "h", "h" },
	{ MINUTE_MS, "min", "min" },	    { SECOND_MS, "s", "s" },
};

struct text quantity_print_keeping(struct arena *arena, int64_t duration_ms)
{
	const size_t count = sizeof(keeping_units) / sizeof(*keeping_units);
	for (size_t i = 0; i < count && duration_ms > 0; i++) {
		if (magnitude(duration_ms) % keeping_units[i].length_ms != 0)
			continue;
		uint64_t number = magnitude(duration_ms) / keeping_units[i].length_ms;
		return text_format(arena, "%" PRIu64 NO_BREAK_SPACE "%s", number,
				   number == 1 ? keeping_units[i].one : keeping_units[i].many);
	}
	return print_decimal(arena, duration_ms, (int64_t)SECOND_MS, 0, 3, "s");
}
