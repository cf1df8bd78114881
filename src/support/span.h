/* A place in the sources of a run. All files lie end to end in one 32-bit address space: a span names its file too. */
#ifndef SUPPORT_SPAN_H
#define SUPPORT_SPAN_H

#include <stdbool.h>
#include <stdint.h>

struct span {
	uint32_t begin; /* 0: nowhere; the first file starts at 1 */
	uint32_t length;
};

/** True where the span points at source text (a value that was written down). */
static inline bool span_is_set(struct span span)
{
	return span.begin != 0;
}

/** From the start of `first` to the end of `last`. */
static inline struct span span_join(struct span first, struct span last)
{
	return (struct span){ first.begin, last.begin + last.length - first.begin };
}

#endif
