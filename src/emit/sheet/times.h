/* A step's times over what the thermometer may read, for whoever stands at the sink with a bath that is off. */
#ifndef EMIT_SHEET_TIMES_H
#define EMIT_SHEET_TIMES_H

#include "emit/sheet/sheet.h"

/** The most rows that a sheet has room for. */
#define TIMES_MOST 7

/** Adds a paragraph such as "Time by reading: 18.2 °C 9:30, **20.2 °C 8:00**, 22.2 °C 6:38, 24.2 °C 5:30.", which on a
 * page becomes a small table; nothing where the recipe gives no times by temperature. Readings are whole or half
 * degrees away from the working point, which is marked, and the two ends of what is declared. */
void times_add(struct sheet *sheet, cmark_node *block, size_t index);

#endif
