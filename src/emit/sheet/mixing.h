/* How a bath is made up for the tank, in short. */
#ifndef EMIT_SHEET_MIXING_H
#define EMIT_SHEET_MIXING_H

#include "emit/sheet/sheet.h"

/** Adds "3 powder kits of 1 L make 3 L. …" or "Dilute 1+9: 250 mL stock, 2.25 L water." to a paragraph. */
void mixing_add(struct sheet *sheet, cmark_node *paragraph, const struct solution *solution);

#endif
