/* The table of keywords and its hash. */
#include "syntax/words.h"

static const struct word_row rows[WORD_COUNT] = {
#define WORD(id, spelling, contexts, summary)                                                                          \
	{ { spelling, sizeof(spelling) - 1 }, contexts, { summary, sizeof(summary) - 1 } },
#include "syntax/words.def"
#undef WORD
};

const struct word_row *word_row(enum word_id word)
{
	return &rows[word];
}

/* Four bytes tell the keywords apart well enough for a table four times their number. */
static unsigned word_hash(struct text spelling)
{
	unsigned first = (unsigned char)spelling.data[0];
	unsigned middle = (unsigned char)spelling.data[spelling.length / 2];
	unsigned last = (unsigned char)spelling.data[spelling.length - 1];

	return (first * 7u + middle * 61u + last * 131u + (unsigned)spelling.length * 17u) % 512u;
}

void word_index_build(struct word_index *index)
{
	*index = (struct word_index){ { 0 } };
	for (unsigned word = 0; word < WORD_COUNT; word++) {
		unsigned slot = word_hash(rows[word].spelling);

		while (index->slots[slot] != 0)
			slot = (slot + 1) % 512u;
		index->slots[slot] = (unsigned char)(word + 1);
	}
}

enum word_id word_find(const struct word_index *index, struct text spelling)
{
	if (spelling.length == 0)
		return WORD_COUNT;
	for (unsigned slot = word_hash(spelling); index->slots[slot] != 0; slot = (slot + 1) % 512u) {
		enum word_id word = (enum word_id)(index->slots[slot] - 1);

		if (text_equal(rows[word].spelling, spelling))
			return word;
	}
	return WORD_COUNT;
}

const char *word_context_name(enum word_context context)
{
	switch (context) {
	case IN_TANK:
		return "a tank";
	case IN_GRADUATE:
		return "a graduate";
	case IN_HEATER:
		return "a heater";
	case IN_DRYER:
		return "a dryer";
	case IN_THERMOMETER:
		return "a thermometer";
	case IN_SOLUTION:
		return "a solution";
	case IN_FILM:
		return "a film";
	case IN_PROCESS:
		return "a process";
	case IN_STEP:
		return "a step";
	case IN_DAY:
		return "a day";
	case IN_ROLL:
		return "a roll";
	case IN_FILE:
	case IN_ANY:
		break;
	}
	return "the top level";
}
