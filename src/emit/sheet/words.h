/* How the sheet says figures: with no-break spaces, and temperatures as the declared thermometer shows them. */
#ifndef EMIT_SHEET_WORDS_H
#define EMIT_SHEET_WORDS_H

#include "emit/sheet/sheet.h"

/** A no-break space. */
#define NBSP "\xC2\xA0"

/** Text whose spaces hold, but for those after a comma. */
struct text words_bound(struct sheet *sheet, struct text text);

/** "3:30"; whole seconds below a minute as "30 s". */
struct text words_duration(struct sheet *sheet, int64_t duration_ms);

/** A cue's time for a clock, rounded where all cues are: "3:15". */
struct text words_clock(struct sheet *sheet, int64_t time_ms);

/** "2.5 L". */
struct text words_volume(struct sheet *sheet, int64_t volume);

/** A count of thousandths: "1", "1.5". */
struct text words_thousandths(struct sheet *sheet, int64_t thousandths);

/** One temperature to read: "38.0 °C", with °F behind it where it was declared so. */
struct text words_temperature(struct sheet *sheet, int64_t temperature, enum unit_id unit);

/** A printed figure without its unit: "38.0". */
struct text words_figure(struct text printed);

/** The working point of a window to read: "38.0 °C"; both ends of a range: "15.0 to 40.0 °C". */
struct text words_point(struct sheet *sheet, const struct temperature_window *window);

/** The limits of a window to read: "not below 37.8, not above 38.2"; empty where there is a point or a range only. */
struct text words_limits(struct sheet *sheet, const struct temperature_window *window);

/** The same window in °F, with a space and brackets, where it was declared so: " (101.8 to 102.3 °F)"; else empty. */
struct text words_fahrenheit(struct sheet *sheet, const struct temperature_window *window);

/** All of it: "38.0 °C, not below 37.8, not above 38.2", and °F in brackets where it was declared so. */
struct text words_window(struct sheet *sheet, const struct temperature_window *window);

/** Its two ends without the working point, for what is only kept between them: "37.0 to 39.0 °C". */
struct text words_range(struct sheet *sheet, const struct temperature_window *window);

/** A declared thing's title as CommonMark, or its name. */
void words_add_title(struct sheet *sheet, cmark_node *parent, const struct declared *declared);

/** The same without markup. */
struct text words_title(struct sheet *sheet, const struct declared *declared);

/** Which thermometer the temperatures are read on, and how it errs. */
void words_add_thermometer(struct sheet *sheet, cmark_node *parent, const struct thermometer *thermometer);

/** The bath of a step in plain words: a solution's title, "running water". Empty where the step has none. */
struct text words_bath(struct sheet *sheet, const struct step *step);

/** The name of a step for people: "bleach-fix" becomes "Bleach-fix". */
struct text words_step(struct sheet *sheet, const struct step *step);

/** True where a text holds a word or words, but for case, spaces and hyphens. */
bool words_hold(struct text text, struct text words);

/** True where two names say the same in that sense. */
bool words_alike(struct text a, struct text b);

/** True where one of two names begins with the other: "dry" and "drying". */
bool words_share_stem(struct text a, struct text b);

#endif
