/* What the head of a run's log says beyond the plan of its steps, so that a review needs nothing but the log: the load
 * and its rolls, the baths and what they have done, the windows, and how fast development goes at which temperature.
 * The timer and the live page write the same lines. docs/outputs.md has the fields. */
#ifndef EMIT_LOG_HEAD_H
#define EMIT_LOG_HEAD_H

#include "emit/emission.h"

/** Takes one line by its fields. A field may hold user text: whoever writes it makes it harmless. */
typedef void log_head_line(void *data, const struct text *fields, size_t count);

/** Hands out the lines in their order. */
void log_head(const struct emission *emission, log_head_line *put, void *data);

#endif
