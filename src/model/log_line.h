/* One line of a run's log: fields between tabs, each a text or a decimal figure. Private to model/. */
#ifndef MODEL_LOG_LINE_H
#define MODEL_LOG_LINE_H

#include <stdbool.h>
#include <stdint.h>

#include "support/arena.h"
#include "support/text.h"

/** A line has at most so many fields that mean something. */
#define FIELDS_MOST 20

/** Decimal places of figures. */
#define CENTI 2
#define MILLI 3
#define MICRO 6
#define NANO 9

/** The fields are slices of the log. */
struct log_line {
	struct text fields[FIELDS_MOST];
	size_t count;
};

/** The fields of a line without its end. What lies behind the last one that means something is left out. */
struct log_line log_line_split(struct text bytes);

/** A field; empty where the line has none there. */
struct text log_line_field(const struct log_line *line, size_t index);

/** The same, but empty as well where a dash stands, since nothing is there. */
struct text log_line_said(const struct log_line *line, size_t index);

/** The same of what a person wrote, in `arena`: a damaged log may hold any bytes. */
struct text log_line_words(struct arena *arena, const struct log_line *line, size_t index);

/** A decimal figure as a count of its last of `decimals` places; surplus ones are dropped. False where the text is
 * none, or is beyond what a log can hold. */
bool log_figure(struct text text, int decimals, int64_t *value);

/** The figure of a field. */
bool log_line_decimal(const struct log_line *line, size_t index, int decimals, int64_t *value);

/** The same where a dash means that there is none: RUN_LOG_NONE. */
bool log_line_optional(const struct log_line *line, size_t index, int decimals, int64_t *value);

#endif
