/* `wetside explain`: what a check finds, what a unit or a word means. */
#include "commands/explain.h"

#include <string.h>

#include "check/explain.h"
#include "commands/help.h"
#include "compute/timeline.h"
#include "model/vocabulary.h"
#include "support/suggest.h"
#include "support/utf8.h"
#include "syntax/units.h"
#include "syntax/words.h"

static void add_check(struct text_builder *text, enum check_id check)
{
	const struct check_row *row = check_row(check);

	text_append(text, explain_text(check));
	text_append_format(text, "\nSeverity: %s. %s\n", severity_name(row->severity),
			   row->may_allow ? "To depart from it on purpose, write `allow` with its name and the reason."
					  : "It cannot be allowed.");
}

static void add_unit(struct text_builder *text, enum unit_id unit)
{
	const struct unit_row *row = unit_row(unit);

	text_append_format(text, "%.*s: a unit of %s; also written:", TEXT_ARGUMENT(row->canonical),
			   strchr(quantity_kind_name(row->quantity), ' ') + 1);
	for (const char *at = row->spellings; *at != '\0';) {
		size_t length = strcspn(at, " ");

		text_append_byte(text, ' ');
		for (size_t i = 0; i < length; i++)
			text_append_byte(text, at[i] == '_' ? ' ' : at[i]);
		at += length + (at[length] == ' ');
		if (*at != '\0')
			text_append_byte(text, ',');
	}
	text_append_byte(text, '\n');
}

static void add_word(struct text_builder *text, enum word_id word)
{
	const struct word_row *row = word_row(word);
	bool is_first = true;

	text_append_format(text, "%.*s: %.*s. Stands ", TEXT_ARGUMENT(row->spelling), TEXT_ARGUMENT(row->summary));
	for (unsigned bit = IN_FILE; bit <= IN_STEP; bit <<= 1) {
		if ((row->contexts & bit) == 0)
			continue;
		text_append_format(text, "%s%s%s", is_first ? "" : ", ", bit == IN_FILE ? "at " : "in ",
				   word_context_name((enum word_context)bit));
		is_first = false;
	}
	text_append_string(text, ".\n");
}

static void add_term(struct text_builder *text, enum vocabulary vocabulary, size_t index)
{
	text_append_format(text, "%.*s: %s (%.*s).\n", TEXT_ARGUMENT(vocabulary_word(vocabulary, index)),
			   vocabulary_name(vocabulary), TEXT_ARGUMENT(vocabulary_title(vocabulary, index)));
}

/* All that a word may mean; false where it means nothing. */
static bool add_meanings(struct text_builder *text, struct text word)
{
	struct word_index index;
	enum check_id check = check_find(word);
	enum word_id keyword;
	enum unit_id unit = unit_find(word);
	size_t before = text->length;

	word_index_build(&index);
	keyword = word_find(&index, word);
	if (check != CHECK_COUNT)
		add_check(text, check);
	if (keyword != WORD_COUNT)
		add_word(text, keyword);
	if (unit != UNIT_none)
		add_unit(text, unit);
	for (int i = 0; i < VOCABULARY_COUNT; i++) {
		size_t found = vocabulary_find((enum vocabulary)i, word);

		if (found < vocabulary_size((enum vocabulary)i))
			add_term(text, (enum vocabulary)i, found);
	}
	return text->length > before;
}

struct text explain_meaning(struct arena *arena, struct text word)
{
	struct text_builder text = text_builder_start(arena);

	add_meanings(&text, word);
	return text_builder_text(&text);
}

static void offer_all(struct suggestion_list *list)
{
	for (int i = 0; i < CHECK_COUNT; i++)
		suggest_offer(list, check_row((enum check_id)i)->name);
	for (int i = 0; i < WORD_COUNT; i++)
		suggest_offer(list, word_row((enum word_id)i)->spelling);
	for (int i = 0; i < VOCABULARY_COUNT; i++)
		for (size_t j = 0; j < vocabulary_size((enum vocabulary)i); j++)
			suggest_offer(list, vocabulary_word((enum vocabulary)i, j));
}

static int complain_word(const struct invocation *invocation, struct text word)
{
	struct suggestion_list list;
	struct text help;

	suggest_start(&list, word);
	offer_all(&list);
	help = suggest_sentence(invocation->arena, &list);
	word = utf8_harmless(invocation->arena, word);
	return complain("nothing is called `%.*s`%s%.*s; see `wetside explain --list`", TEXT_ARGUMENT(word),
			help.length > 0 ? "; " : "", TEXT_ARGUMENT(help));
}

/* One line a word: kind, word, meaning, parted by tabs. */
static struct text list_all(const struct invocation *invocation)
{
	struct text_builder text = text_builder_start(invocation->arena);

	for (int i = 0; i < CHECK_COUNT; i++) {
		const struct check_row *row = check_row((enum check_id)i);

		text_append_format(&text, "check\t%.*s\t%s: %.*s\n", TEXT_ARGUMENT(row->name),
				   severity_name(row->severity), TEXT_ARGUMENT(row->summary));
	}
	for (int i = UNIT_none + 1; i < UNIT_COUNT; i++)
		text_append_format(&text, "unit\t%.*s\tof %s\n", TEXT_ARGUMENT(unit_row((enum unit_id)i)->canonical),
				   strchr(quantity_kind_name(unit_row((enum unit_id)i)->quantity), ' ') + 1);
	for (int i = 0; i < WORD_COUNT; i++)
		text_append_format(&text, "word\t%.*s\t%.*s\n", TEXT_ARGUMENT(word_row((enum word_id)i)->spelling),
				   TEXT_ARGUMENT(word_row((enum word_id)i)->summary));
	for (int i = 0; i < VOCABULARY_COUNT; i++)
		for (size_t j = 0; j < vocabulary_size((enum vocabulary)i); j++)
			text_append_format(&text, "%s\t%.*s\t%.*s\n", vocabulary_key((enum vocabulary)i),
					   TEXT_ARGUMENT(vocabulary_word((enum vocabulary)i, j)),
					   TEXT_ARGUMENT(vocabulary_title((enum vocabulary)i, j)));
	return text_builder_text(&text);
}

int command_explain(const struct invocation *invocation)
{
	struct text_builder text = text_builder_start(invocation->arena);

	if (invocation->lists)
		return help_write(invocation, list_all(invocation));
	if (invocation->operand_count == 0)
		return complain("explain wants a WORD; see `wetside explain --list`");
	for (size_t i = 0; i < invocation->operand_count; i++)
		if (!add_meanings(&text, invocation->operands[i]))
			return complain_word(invocation, invocation->operands[i]);
	return help_write(invocation, text_builder_text(&text));
}
