/* The forecast as a picture: the temperature in the tank over the whole run, all steps on one time axis, with their
 * windows hatched, their working points dashed, and what is outside drawn thick; under it the figures as a table. Black
 * on white; nothing is told by colour. */
#ifndef EMIT_FORECAST_CURVE_H
#define EMIT_FORECAST_CURVE_H

#include "compute/forecast.h"
#include "emit/emission.h"

/** Writes one <svg> element of the class `forecast-curve` with a name and a description, good alone and inside HTML: no
 * style sheet, no script, nothing fetched; its ids begin with `forecast-`, so that a page takes one of it. */
void curve_draw(const struct emission *emission, const struct forecast *forecasts, struct output *output);

/** How high the picture is where it is so wide. */
int curve_height(const struct emission *emission, const struct forecast *forecasts, int width);

#endif
