/* What is said of a roll in words, as a log carries it, so that the day's file is not needed to say later what was
 * decided about a roll, by whom and why. */
#ifndef MODEL_ROLL_WORDS_H
#define MODEL_ROLL_WORDS_H

#include "support/text.h"

enum roll_words_id {
#define ROLL_WORDS(id, column) ROLL_WORDS_##id,
#include "model/roll_words.def"
#undef ROLL_WORDS
	ROLL_WORDS_COUNT
};

/** One text for each row, each a line without markup; empty where nothing is said. */
struct roll_words {
	struct text said[ROLL_WORDS_COUNT];
};

/** The key of a row in JSON, and the name of its column. */
struct roll_words_row {
	const char *key;
	struct text column;
};

/** The row of a thing that is said. */
const struct roll_words_row *roll_words_row(enum roll_words_id id);

/** True where a roll is developed as something else than it needs, or somebody decided about it. */
bool roll_words_have_decision(const struct roll_words *words);

#endif
