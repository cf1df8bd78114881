/* The table of keywords (words.def): spelling, where each stands, one line. */
#ifndef SYNTAX_WORDS_H
#define SYNTAX_WORDS_H

#include <stddef.h>

#include "support/text.h"

enum word_id {
#define WORD(id, spelling, contexts, summary) WORD_##id,
#include "syntax/words.def"
#undef WORD
	WORD_COUNT
};

/** Kinds of block in which clauses stand; IN_FILE is the top level. */
enum word_context {
	IN_FILE = 1 << 0,
	IN_TANK = 1 << 1,
	IN_GRADUATE = 1 << 2,
	IN_HEATER = 1 << 3,
	IN_DRYER = 1 << 4,
	IN_THERMOMETER = 1 << 5,
	IN_SOLUTION = 1 << 6,
	IN_FILM = 1 << 7,
	IN_PROCESS = 1 << 8,
	IN_STEP = 1 << 9,
	IN_DAY = 1 << 10,
	IN_ROLL = 1 << 11,
	IN_ANY = (1 << 12) - 1
};

struct word_row {
	struct text spelling;
	unsigned contexts; /* bits of enum word_context */
	struct text summary;
};

/** The row of a keyword. */
const struct word_row *word_row(enum word_id word);

/** The keyword of a spelling, or WORD_COUNT. */
enum word_id word_find(struct text spelling);

/** A block in a reader's words: "a tank", "the top level". */
const char *word_context_name(enum word_context context);

#endif
