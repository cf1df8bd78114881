#include "model/roll_words.h"

const struct roll_words_row *roll_words_row(enum roll_words_id id)
{
	static const struct roll_words_row rows[] = {
#define ROLL_WORDS(id, column) { #id, { column, sizeof(column) - 1 } },
#include "model/roll_words.def"
#undef ROLL_WORDS
	};
	return &rows[id];
}

bool roll_words_have_decision(const struct roll_words *words)
{
	return words->said[ROLL_WORDS_develop_as].length > 0 || words->said[ROLL_WORDS_decided_by].length > 0;
}
