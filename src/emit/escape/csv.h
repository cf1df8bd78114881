/* Cells of comma-separated values (RFC 4180): quoted at need, and never a formula to a spreadsheet. */
#ifndef EMIT_ESCAPE_CSV_H
#define EMIT_ESCAPE_CSV_H

#include <stdbool.h>
#include <stdint.h>

#include "support/output.h"
#include "support/text.h"

/** One row while it is written. */
struct csv_row {
	struct output *output;
	struct arena *arena; /* scratch */
	bool has_cells;
};

/** Starts a row. */
struct csv_row csv_row_start(struct output *output, struct arena *arena);

/** A cell of text, with a leading ' where a spreadsheet would take it for a formula; controls and direction changers
 * are shown as escapes, line ends and tabs are kept within quotes. */
void csv_row_text(struct csv_row *row, struct text text);

/** A cell that holds no user text and is written as it is: a figure, a time. */
void csv_row_figure(struct csv_row *row, struct text figure);

/** A cell that holds thousandths as a decimal figure without needless zeros: "210", "2.5", "-20". */
void csv_row_decimal(struct csv_row *row, int64_t thousandths);

/** An empty cell. */
void csv_row_empty(struct csv_row *row);

/** Ends the row with CR LF. */
void csv_row_end(struct csv_row *row);

#endif
