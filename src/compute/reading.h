/* What a thermometer shows at a true temperature. Its correction is what must be added to its reading, so the reading
 * is the true temperature less the correction. */
#ifndef COMPUTE_READING_H
#define COMPUTE_READING_H

#include "model/recipe.h"

/** True where a thermometer is given and has a correction other than 0. */
bool reading_is_corrected(const struct thermometer *thermometer);

/** The scale, °C or °F, in which a temperature is read: the thermometer's; where there is none, that in which
 * `window` was written. */
enum unit_id reading_unit(const struct thermometer *thermometer, const struct temperature_window *window);

/** The reading, in 1/9000 K, at a true temperature; the temperature itself where there is no thermometer. */
int64_t reading_of(const struct thermometer *thermometer, int64_t temperature);

/** The true temperature, in 1/9000 K, behind a reading. */
int64_t reading_true(const struct thermometer *thermometer, int64_t reading);

/** The window to read. A corrected figure is one that the thermometer can show: the working point at the nearest of its
 * divisions, limits at the next one inside. A window too narrow for that is only shifted. */
struct temperature_window reading_window(const struct thermometer *thermometer,
					 const struct temperature_window *window);

#endif
