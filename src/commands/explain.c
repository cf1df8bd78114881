/* `wetside explain`: what a check finds, what a unit or a word means. */
#include <string.h>

#include "commands/explanation.h"
#include "commands/help.h"
#include "model/hazards.h"
#include "support/suggest.h"
#include "support/utf8.h"

static void offer_all(struct suggestion_list *list)
{
	for (int i = 0; i < CHECK_COUNT; i++)
		suggest_offer(list, check_row((enum check_id)i)->name);
	for (int i = 0; i < WORD_COUNT; i++)
		suggest_offer(list, word_row((enum word_id)i)->spelling);
	for (int i = 0; i < VOCABULARY_COUNT; i++)
		for (size_t j = 0; j < vocabulary_size((enum vocabulary)i); j++)
			suggest_offer(list, vocabulary_word((enum vocabulary)i, j));
	for (size_t i = 0; i < hazard_count(); i++)
		suggest_offer(list, hazard_code(i));
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

int command_explain(const struct invocation *invocation)
{
	struct text_builder text = text_builder_start(invocation->arena);

	if (invocation->lists)
		return help_write(invocation, explanation_list(invocation->arena));
	if (invocation->operand_count == 0)
		return complain("explain wants a WORD; see `wetside explain --list`");
	for (size_t i = 0; i < invocation->operand_count; i++) {
		if (i > 0)
			text_append_byte(&text, '\n');
		if (!explanation_append(&text, invocation->operands[i]))
			return complain_word(invocation, invocation->operands[i]);
	}
	return help_write(invocation, text_builder_text(&text));
}
