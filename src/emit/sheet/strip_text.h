/* Strips in characters, for terminals and receipt printers: two lines of marks over a ruler, all to one scale, a
 * character for so many seconds. */
#ifndef EMIT_SHEET_STRIP_TEXT_H
#define EMIT_SHEET_STRIP_TEXT_H

#include "emit/sheet/sheet.h"

struct strip_scale {
	int64_t cell_ms; /* what a character stands for; 0 where no step has a strip */
	size_t columns;	 /* characters in a row: whole minutes */
};

/** The scale of all strips of a sheet that is `width` columns wide. */
struct strip_scale strip_text_scale(const struct sheet *sheet, size_t width);

/** What the marks mean, in sentences. */
struct text strip_text_legend(const struct sheet *sheet, const struct strip_scale *scale);

/** Draws one step's strip, in as many rows as it takes; nothing where it has none. */
void strip_text_draw(const struct sheet *sheet, const struct strip_scale *scale, size_t step, struct output *output);

#endif
