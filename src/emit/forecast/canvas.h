/* The plane of the forecast's picture: minutes across, degrees upward, and the marks on it. Coordinates are written
 * to a hundredth of a unit of the drawing. */
#ifndef EMIT_FORECAST_CANVAS_H
#define EMIT_FORECAST_CANVAS_H

#include "compute/forecast.h"
#include "emit/emission.h"

/* The drawing, in its own units. */
#define CANVAS_WIDTH 960
#define CANVAS_LEFT 58
#define CANVAS_RIGHT 946
#define CANVAS_TOP 64
#define CANVAS_BOTTOM 372

struct canvas {
	const struct emission *emission;
	const struct forecast *forecasts;
	struct output *output;
	int64_t end_ms; /* of the time axis */
	double low_c;	/* of the temperature axis */
	double high_c;
	double tick_c;
};

/** Chooses both axes: every curve whole, with the narrow windows; a wide window may run off the plane. */
struct canvas canvas_open(const struct emission *emission, const struct forecast *forecasts, struct output *output);

double canvas_x(const struct canvas *canvas, double time_ms);

/** May lie off the plane. */
double canvas_y(const struct canvas *canvas, double temp_c);

/** True where a temperature is on the plane. */
bool canvas_holds(const struct canvas *canvas, double temp_c);

/** A line with extra attributes, such as ` stroke-width="2"`. */
void canvas_line(const struct canvas *canvas, double x1, double y1, double x2, double y2, const char *attributes);

/** A text at a place; user text is made harmless. */
void canvas_text(const struct canvas *canvas, double x, double y, const char *attributes, struct text text);

/** The axes with their ticks and figures. */
void canvas_axes(const struct canvas *canvas);

#endif
