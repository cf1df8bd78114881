#include "support/limits.h"

static const struct row {
	size_t value;
	const char *words;
} rows[LIMIT_COUNT] = {
#define LIMIT(id, value, words, of, then) { value, words },
#include "support/limits.def"
#undef LIMIT
};

size_t limit_value(enum limit limit)
{
	return rows[limit].value;
}

const char *limit_words(enum limit limit)
{
	return rows[limit].words;
}
