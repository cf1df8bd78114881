/* How much room a block of the sheet takes, reckoned from sheet.css in 1/100 mm and on the generous side, for the paper
 * of the emission. tests/sheet/ holds the figures against what a browser measures. */
#ifndef EMIT_SHEET_ROOM_H
#define EMIT_SHEET_ROOM_H

#include "emit/sheet/sheet.h"

/** The height of a block in one of the sizes; reckoned once. */
int room_of_block(struct sheet *sheet, const struct sheet_block *block, enum sheet_size size);

/** The height that a page offers. */
int room_of_side(const struct sheet *sheet);

/** The height of a strip, its ruler included, in px of 1/96 inch. */
int room_of_strip(enum sheet_size size);

/** The height of the ladder, likewise. */
int room_of_ladder(enum sheet_size size);

/** The height of the line that names a side; the last of several carries the whole fingerprint. */
int room_of_identity(enum sheet_size size, bool is_last);

#endif
