/* How much of each thing the program takes. */
#ifndef SUPPORT_LIMITS_H
#define SUPPORT_LIMITS_H

#include <stddef.h>

enum limit {
#define LIMIT(id, value, words, of, then) LIMIT_##id,
#include "support/limits.def"
#undef LIMIT
	LIMIT_COUNT
};

/** A limit as a number: of bytes, or of things. */
size_t limit_value(enum limit limit);

/** A limit as it is said to people, as "256 MiB". */
const char *limit_words(enum limit limit);

#endif
