/* What a forecast says in sentences, the same in every output. Texts hold names from the recipe as written: whoever
 * prints them escapes them. They live in the emission's arena. */
#ifndef EMIT_FORECAST_REMARKS_H
#define EMIT_FORECAST_REMARKS_H

#include "compute/forecast.h"
#include "emit/emission.h"

#define REMARKS_MOST 8

struct remarks {
	struct text items[REMARKS_MOST];
	size_t count;
};

/** What holds for the whole run: what is missing for a forecast and how it is measured, what is not counted. */
struct remarks remarks_of_run(const struct emission *emission, const struct forecast *forecasts);

/** What there is to say about a step: the pour, its window, effective development, the remedy. */
struct remarks remarks_of_step(const struct emission *emission, const struct forecast *forecast, size_t index);

/** A temperature to 0.01 K without its unit: "38.36". */
struct text remarks_number(struct arena *arena, double temp_c);

/** A window without its unit: "37.85 to 38.15", "38.00"; empty where none is declared. */
struct text remarks_window(struct arena *arena, const struct temperature_window *window);

/** Effective development as a share of what is wanted: "97.6 %". */
struct text remarks_percent(struct arena *arena, const struct forecast *forecast);

/** True where people are told what pour would be exact: it develops by a rule, or something must be done. */
bool remarks_tell_exact(const struct forecast *forecast);

/** What the tank stands in: "in a water bath at 38.00 °C", "in a room at
 * 20.00 °C". */
struct text remarks_surroundings(const struct emission *emission);

#endif
