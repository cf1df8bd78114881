#include "emit/day/said.h"

#include <string.h>

struct text said_conditions(struct arena *arena, const struct roll *roll)
{
	struct text_builder words = text_builder_start(arena);
	for (int i = 0; i < CONDITION_COUNT; i++)
		if ((roll->conditions & (condition_set)1 << i) != 0)
			text_append_format(&words, "%s%.*s", words.length > 0 ? " " : "",
					   TEXT_ARGUMENT(condition_row((enum condition_id)i)->word));
	return text_builder_text(&words);
}

static struct text family(enum family_id id)
{
	return id < FAMILY_COUNT ? family_row(id)->word : TEXT("");
}

static struct text notes(struct arena *arena, const struct roll *roll)
{
	struct text_builder words = text_builder_start(arena);
	for (const struct note *note = roll->notes; note; note = note->next)
		text_append_format(&words, "%s%.*s", words.length > 0 ? " " : "",
				   TEXT_ARGUMENT(document_plain_prose(arena, note->prose.text)));
	return text_builder_text(&words);
}

/* "brittle-or-shrunk: steel reel, by hand; dryer-too-hot: hangs in the open". */
static struct text allowed(struct arena *arena, const struct roll *roll)
{
	struct text_builder words = text_builder_start(arena);
	for (const struct allowance *allowance = roll->allowances; allowance; allowance = allowance->next)
		text_append_format(&words, "%s%.*s: %.*s", words.length > 0 ? "; " : "",
				   TEXT_ARGUMENT(check_row(allowance->check)->name),
				   TEXT_ARGUMENT(document_plain_prose(arena, allowance->reason.text)));
	return text_builder_text(&words);
}

struct roll_words said_of_roll(struct arena *arena, const struct roll *roll)
{
	return (struct roll_words){ {
		[ROLL_WORDS_title] = document_plain_prose(arena, roll->title.text),
		[ROLL_WORDS_needs] = family(roll->needs),
		[ROLL_WORDS_develop_as] = family(roll->develop_as),
		[ROLL_WORDS_develop_reason] = document_plain_prose(arena, roll->develop_reason.text),
		[ROLL_WORDS_decided_by] = roll->decided_by,
		[ROLL_WORDS_note] = notes(arena, roll),
		[ROLL_WORDS_allowed] = allowed(arena, roll),
	} };
}

const char *said_allowed(const struct roll_words *words)
{
	return roll_words_have_decision(words) ? " Allowed: " : " allowed: ";
}

void said_end(struct document *document, cmark_node *item, struct text last)
{
	bool is_over = last.length > 0 && strchr(".!?", last.data[last.length - 1]) != NULL;
	document_string(document, item, is_over ? "" : ".");
}

void said_add_decision(struct document *document, cmark_node *item, const struct roll_words *words,
		       said_add *add_reason)
{
	struct text needs = words->said[ROLL_WORDS_needs], as = words->said[ROLL_WORDS_develop_as];
	struct text by = words->said[ROLL_WORDS_decided_by], reason = words->said[ROLL_WORDS_develop_reason];
	if (!roll_words_have_decision(words))
		return;
	document_string(document, item, " made for ");
	document_text(document, item, needs.length > 0 ? needs : TEXT("a process that nobody knows"));
	if (as.length > 0) {
		document_string(document, item, ", developed as ");
		document_text(document, item, as);
	}
	if (as.length > 0 && reason.length > 0) {
		document_string(document, item, ": ");
		add_reason(document, item, reason);
	}
	if (by.length > 0) {
		document_string(document, item, "; decided by ");
		document_text(document, item, by);
	}
	said_end(document, item, by.length > 0 ? by : reason);
}
