/* The day to scale: hands, each tank and the dryer over the hours. */
#ifndef EMIT_DAY_PICTURE_H
#define EMIT_DAY_PICTURE_H

#include "emit/day/parts.h"
#include "support/output.h"

/** Draws it as an SVG element, in bands of a few hours one below the other. */
void picture_draw(const struct emission *emission, struct output *output);

#endif
