/* The table of keywords and its hash. */
#include "syntax/words.h"

#include <limits.h>

#include "syntax/slots.h"
#include "syntax/word_slots.h" /* of each, its id and 1 more; 0: free */

_Static_assert(WORD_COUNT < UCHAR_MAX, "a slot holds a word in one byte");

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

enum word_id word_find(struct text spelling)
{
	if (spelling.length == 0)
		return WORD_COUNT;
	for (unsigned slot = slot_first(spelling); word_slots[slot] != 0; slot = slot_next(slot)) {
		enum word_id word = (enum word_id)(word_slots[slot] - 1);

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
