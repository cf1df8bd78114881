/* Figures with a unit, exact: a 64-bit count of the quantity's base unit, with the place and unit as written.
 *
 * Base units: time 1 ms; temperature and temperature difference 1/9000 K (temperature counted from 0 °C); volume
 * 1e-10 mL; mass 1 ng; length 1 µm; area 1e-4 cm²; percentage 1e-6 %; energy 1 J/mol; a flow is the volume a minute.
 * With these, degrees Fahrenheit, ounces, grains and inches are whole numbers too. */
#ifndef MODEL_QUANTITY_H
#define MODEL_QUANTITY_H

#include <stdbool.h>
#include <stdint.h>

#include "support/span.h"
#include "support/text.h"
#include "syntax/units.h"

#define TEMPERATURE_PER_KELVIN 9000
#define MILLISECONDS_PER_SECOND 1000
#define DURATION_MOST_MS (3653LL * 86400000) /* 10 years: nothing that is meant lasts longer */
#define VOLUME_PER_ML 10000000000LL
#define LENGTH_PER_METRE 1000000
#define PERCENT_ONE 1000000LL

/** One declared figure; it was written down where its span is set. */
struct quantity {
	int64_t value;
	struct span span;
	enum unit_id unit;
};

/** A temperature as a bath's window: a working point and how far it may stray. */
struct temperature_window {
	struct span span; /* unset: none declared */
	enum window_form { WINDOW_POINT, WINDOW_TOLERANCE, WINDOW_RANGE } form;
	int64_t nominal; /* the working point: as written, or the middle of a range */
	int64_t low;
	int64_t high;
	enum unit_id unit; /* UNIT_celsius or UNIT_fahrenheit, as written */
};

/** How long a step lasts. */
struct time_window {
	struct span span; /* unset: none declared */
	enum time_form { TIME_EXACT, TIME_AT_LEAST, TIME_RANGE } form;
	int64_t low_ms;
	int64_t high_ms; /* equal to low_ms where exact; TIME_OPEN where there is no upper end */
};

#define TIME_OPEN INT64_MAX

/** Reads a figure's digits ("12", "0.25", "-0.2") in a unit, exactly. UNIT_none: the count in thousandths ("8" is
 * 8000). `is_difference`: a unit of temperature is read as a difference, without its zero point. Volumes and masses are
 * rounded to their base unit (half an ounce is not a whole number of nanograms); any other figure must be a whole
 * number of them. Returns null, or what is wrong with it in a reader's words that follow the figure: "is too large",
 * "is below zero", "lies outside -30 … 120 °C"; then `value` is unchanged. */
const char *quantity_read(struct text digits, enum unit_id unit, bool is_difference, int64_t *value);

/** How many bytes at the start of a figure's text are its digits: what stands behind them is its unit. A sign may be
 * U+2212, whose first byte some signs of units share. */
size_t quantity_digits(struct text text);

/** Reads a whole figure as it may stand on a command line: digits, blanks or none, a unit ("21C", "70 °F", "2.5 L",
 * "12"). Returns null, or what is wrong with it in a reader's words. */
const char *quantity_parse(struct text text, enum quantity_kind kind, int64_t *value);

/** Degrees Celsius of a temperature, for arithmetic in compute. */
double quantity_celsius(int64_t temperature);

/** Kelvin of a temperature difference. */
double quantity_kelvin(int64_t difference);

/** Millilitres of a volume. */
double quantity_ml(int64_t volume);

/* Printed figures are rounded half away from zero, with a no-break space before the unit and U+2212 for a minus. */

/** A temperature for print in °C, to 0.1 K; to 0.01 K where it was declared so: "38.0 °C", "37.85 °C". A figure that is
 * no whole number of 0.01 K, such as 110 °F, has one decimal: "43.3 °C". */
struct text quantity_print_temperature(struct arena *arena, int64_t temperature);

/** The same in °F. */
struct text quantity_print_fahrenheit(struct arena *arena, int64_t temperature);

/** A difference for print, to 0.01 K, below 1 K to 0.001 K where need be: "0.15 K", "2 K", "0.139 K". */
struct text quantity_print_difference(struct arena *arena, int64_t difference);

/** A temperature, volume or mass as the functions here print it: the one place where it is rounded. */
int64_t quantity_round_temperature(int64_t temperature);
int64_t quantity_round_volume(int64_t volume);
int64_t quantity_round_mass(int64_t mass);

/** A volume as it is measured out: to 1 mL from 100 mL on, since no vessel of that size shows less (a graduate is read
 * to about 1 % of what it holds; common practice, no source); below as it is printed. */
int64_t quantity_measured_volume(int64_t volume);

/** The most of a volume that can be measured so. */
int64_t quantity_measured_below(int64_t volume);

/** A volume for print, in mL below 1 L, else in L, to 1 mL; below 1 L to 0.1 mL, below 1 mL to 0.01 mL: "800 mL",
 * "2.5 L", "12.5 mL". */
struct text quantity_print_volume(struct arena *arena, int64_t volume);

/** A mass for print in g: "7.5 g". Below 10 mg to 1 µg, else to 1 mg; one from 1 g up that is no whole number of mg,
 * such as one converted from ounces, to 10 mg, from 100 g to 100 mg. */
struct text quantity_print_mass(struct arena *arena, int64_t mass);

/** A mass of at least 0 in ounces and grains, of which 437.5 make an ounce: to a grain, below 100 grains to a tenth. */
struct avoirdupois {
	int64_t ounces;
	int64_t grain_tenths;
};
struct avoirdupois quantity_avoirdupois(int64_t mass);

/** The same for print: "3 oz 231 gr", "30.9 gr". */
struct text quantity_print_avoirdupois(struct arena *arena, int64_t mass);

/** A duration for print: "3:30", "1:05:00"; fractions of a second where there are any: "0:02.5". */
struct text quantity_print_duration(struct arena *arena, int64_t duration_ms);

/** A long duration in the largest unit that measures it in whole numbers, 30 days being a month: "6 weeks", "2 days",
 * "12 h". */
struct text quantity_print_keeping(struct arena *arena, int64_t duration_ms);

/** A percentage for print: "2 %". */
struct text quantity_print_percent(struct arena *arena, int64_t percent);

/** A temperature window in a reader's words: "38.0 °C, not below 37.8, not above 38.2" or "38.0 °C"; empty where none
 * was declared. A window of at most 0.5 K has two decimals where need be. */
struct text quantity_print_window(struct arena *arena, const struct temperature_window *window);

/** The same in °F. */
struct text quantity_print_window_fahrenheit(struct arena *arena, const struct temperature_window *window);

/** A step's time in a reader's words: "3:30", "at least 6:30", "0:30 to 1:00"; empty where none was declared. */
struct text quantity_print_time_window(struct arena *arena, const struct time_window *time);

#endif
