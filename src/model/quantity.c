#include "model/quantity.h"

#include <string.h>

#define COUNT_SCALE 1000
#define DECIMALS_MOST 9 /* of a volume or mass */
#define DIGITS_MOST 18	/* so that the figure without its point fits 64 bits */

/* The figure without its point, and how many digits stood behind it; zeros at the very end are left out. */
struct decimal {
	int64_t figure;
	int scale;
};

static bool is_digit(char byte)
{
	return byte >= '0' && byte <= '9';
}

/* Takes a sign off the front; true for a minus (either the hyphen or U+2212). */
static bool take_sign(struct text *digits)
{
	static const char minus[] = "\xE2\x88\x92";
	size_t bytes = 0;
	bool is_negative = false;
	if (digits->length > 0 && (digits->data[0] == '-' || digits->data[0] == '+')) {
		bytes = 1;
		is_negative = digits->data[0] == '-';
	} else if (digits->length >= 3 && text_equal((struct text){ digits->data, 3 }, (struct text){ minus, 3 })) {
		bytes = 3;
		is_negative = true;
	}
	digits->data += bytes;
	digits->length -= bytes;
	return is_negative;
}

/* Leaves out the zeros after the last figure behind the point, and a point with nothing behind it. */
static void trim_decimals(struct text *digits)
{
	size_t point = 0;
	while (point < digits->length && digits->data[point] != '.')
		point++;
	if (point == digits->length)
		return;
	while (digits->length > point + 1 && digits->data[digits->length - 1] == '0')
		digits->length--;
	if (digits->length == point + 1)
		digits->length = point;
}

static const char *read_decimal(struct text digits, struct decimal *decimal)
{
	bool is_negative = take_sign(&digits);
	if (digits.length == 0 || !is_digit(digits.data[0]) || !is_digit(digits.data[digits.length - 1]))
		return "is not a number";
	trim_decimals(&digits);
	bool is_behind_point = false;
	int significant = 0;
	*decimal = (struct decimal){ 0, 0 };
	for (size_t i = 0; i < digits.length; i++) {
		char byte = digits.data[i];
		if (byte == '.' && !is_behind_point) {
			is_behind_point = true;
			continue;
		}
		if (!is_digit(byte))
			return "is not a number";
		if (decimal->figure > 0 || byte != '0')
			significant++;
		decimal->scale += is_behind_point;
		if (significant > DIGITS_MOST || decimal->scale > DIGITS_MOST)
			return is_behind_point ? "has more decimals than can be meant" : "is too large";
		decimal->figure = decimal->figure * 10 + (byte - '0');
	}
	if (is_negative)
		decimal->figure = -decimal->figure;
	return NULL;
}

/* Half an ounce is not a whole number of nanograms. Volumes and masses, whose base units lie far below what anyone can
 * measure, are rounded to them, half away from zero; all else must be exact. */
static bool is_rounded(enum quantity_kind kind)
{
	return kind == QUANTITY_VOLUME || kind == QUANTITY_MASS;
}

static void cancel(int64_t *a, int64_t *b, int64_t prime)
{
	while (*a % prime == 0 && *b % prime == 0) {
		*a /= prime;
		*b /= prime;
	}
}

/* figure × factor / 10^scale. Common factors are taken out first, so that only a result too large overflows. */
static const char *scale_figure(struct decimal decimal, int64_t factor, enum quantity_kind kind, int64_t *value)
{
	static const char too_fine[] = "has more decimals than can be meant";
	*value = 0;
	if (decimal.figure == 0)
		return NULL;
	if (is_rounded(kind) && decimal.scale > DECIMALS_MOST)
		return too_fine;
	int64_t divisor = 1;
	for (int i = 0; i < decimal.scale; i++)
		divisor *= 10;
	cancel(&divisor, &factor, 2);
	cancel(&divisor, &factor, 5);
	cancel(&divisor, &decimal.figure, 2);
	cancel(&divisor, &decimal.figure, 5);
	if (divisor != 1 && !is_rounded(kind))
		return too_fine;
	int64_t product;
	if (__builtin_mul_overflow(decimal.figure, factor, &product))
		return "is too large";
	if (divisor == 1) { /* the rule, and a division takes long */
		*value = product;
		return NULL;
	}
	int64_t rest = product % divisor;
	*value = product / divisor;
	if (rest > 0 && rest >= divisor - rest)
		++*value;
	else if (rest < 0 && -rest >= divisor + rest)
		--*value;
	return NULL;
}

/* What can be meant, in base units; common sense, no source. The words are for the unit written where that differs. */
struct limits {
	int64_t least;
	int64_t most;
	const char *outside;
};

static const struct limits temperature_limits = { -30LL * TEMPERATURE_PER_KELVIN, 120LL * TEMPERATURE_PER_KELVIN,
						  "lies outside -30 … 120 °C" };
static const struct limits difference_limits = { -100LL * TEMPERATURE_PER_KELVIN, 100LL * TEMPERATURE_PER_KELVIN,
						 "is more than 100 K" };

static const struct limits limits_of[QUANTITY_KIND_COUNT] = {
	[QUANTITY_COUNT] = { 0, 1000000LL * COUNT_SCALE, "is more than 1000000" },
	[QUANTITY_DURATION] = { 0, DURATION_MOST_MS, "is longer than 10 years" },
	[QUANTITY_VOLUME] = { 0, 1000000LL * VOLUME_PER_ML, "is more than 1000 L" },
	[QUANTITY_MASS] = { 0, 1000LL * 1000000000000, "is more than 1000 kg" },
	[QUANTITY_LENGTH] = { 0, 1000LL * 1000000, "is longer than 1000 m" },
	[QUANTITY_AREA] = { 0, 1000000LL * 10000, "is more than 100 m²" },
	[QUANTITY_PERCENT] = { 0, 1000LL * PERCENT_ONE, "is more than 1000 %" },
	[QUANTITY_ENERGY] = { 0, 1000LL * 1000, "is more than 1000 kJ/mol" },
};

static const char *check_limits(enum unit_id unit, enum quantity_kind kind, int64_t value)
{
	struct limits limits = limits_of[kind];
	if (kind == QUANTITY_TEMPERATURE)
		limits = temperature_limits;
	else if (kind == QUANTITY_DIFFERENCE)
		limits = difference_limits;
	if (value >= limits.least && value <= limits.most)
		return NULL;
	if (limits.least == 0 && value < 0)
		return "is below zero";
	if (unit == UNIT_fahrenheit)
		return kind == QUANTITY_TEMPERATURE ? "lies outside -22 … 248 °F" : "is more than 180 °F";
	return limits.outside;
}

const char *quantity_read(struct text digits, enum unit_id unit, bool is_difference, int64_t *value)
{
	const struct unit_row *row = unit_row(unit);
	enum quantity_kind kind = row->quantity;
	if (kind == QUANTITY_TEMPERATURE && is_difference)
		kind = QUANTITY_DIFFERENCE;
	struct decimal decimal;
	int64_t result = 0;
	const char *problem = read_decimal(digits, &decimal);
	if (!problem)
		problem = scale_figure(decimal, unit == UNIT_none ? COUNT_SCALE : row->factor, kind, &result);
	if (!problem && kind == QUANTITY_TEMPERATURE && __builtin_add_overflow(result, row->offset, &result))
		problem = "is too large";
	if (!problem)
		problem = check_limits(unit, kind, result);
	if (!problem)
		*value = result;
	return problem;
}

size_t quantity_digits(struct text text)
{
	struct text rest = text;

	take_sign(&rest);
	while (rest.length > 0 &&
	       (is_digit(rest.data[0]) || rest.data[0] == '.' || rest.data[0] == ',' || rest.data[0] == '-')) {
		rest.data++;
		rest.length--;
	}
	return text.length - rest.length;
}

const char *quantity_parse(struct text text, enum quantity_kind kind, int64_t *value)
{
	struct text digits = { text.data, 0 };
	struct text unit;
	enum unit_id found = UNIT_none;

	while (digits.length < text.length && memchr("0123456789.-", text.data[digits.length], 12) != NULL)
		digits.length++;
	unit = (struct text){ text.data + digits.length, text.length - digits.length };
	while (unit.length > 0 && unit.data[0] == ' ')
		unit = (struct text){ unit.data + 1, unit.length - 1 };
	if (unit.length > 0) {
		found = unit_find(unit);
		if (found == UNIT_none)
			return "has no unit that is known";
	}
	if ((found == UNIT_none ? QUANTITY_COUNT : unit_row(found)->quantity) != kind)
		return found == UNIT_none ? "has no unit" : "is another kind of figure";
	return quantity_read(digits, found, false, value);
}

double quantity_celsius(int64_t temperature)
{
	return (double)temperature / TEMPERATURE_PER_KELVIN;
}

double quantity_kelvin(int64_t difference)
{
	return (double)difference / TEMPERATURE_PER_KELVIN;
}

double quantity_ml(int64_t volume)
{
	return (double)volume / (double)VOLUME_PER_ML;
}
