/* The temperature ladder: the windows of all baths beside each other on one scale, each with its working point, as the
 * declared thermometer shows them. */
#ifndef EMIT_SHEET_LADDER_H
#define EMIT_SHEET_LADDER_H

#include "emit/sheet/sheet.h"

/** Adds the ladder to the head of the sheet: a caption and the same facts as a list, one step a line. Nothing where
 * fewer than two steps have a window. */
void ladder_add(struct sheet *sheet, cmark_node *banner);

/** How wide the picture is, in px of 1/96 inch; 0 where there is none. */
int ladder_width(const struct sheet *sheet);

/** Draws it as SVG, so many px high. */
void ladder_draw(const struct sheet *sheet, int height, struct output *output);

#endif
