#include "emit/mix/card.h"

#include "emit/sheet/words.h"
#include "emit/this_run.h"
#include "model/date.h"

#define DAY_MS (24 * 60 * 60 * (int64_t)MILLISECONDS_PER_SECOND)

const void *mix_mark(enum mix_mark_id id)
{
	static const enum mix_mark_id ids[] = {
#define MIX_MARK(id, element, class_name) MIX_MARK_##id,
#include "emit/mix/marks.def"
#undef MIX_MARK
	};
	return &ids[id];
}

void mix_strong(struct mix_card *card, cmark_node *parent, enum mix_mark_id mark, struct text text)
{
	cmark_node *strong = document_add(card->sheet->document, parent, CMARK_NODE_STRONG, mix_mark(mark));
	document_text(card->sheet->document, strong, text);
}

struct text mix_reason(const struct preparation_bath *bath)
{
	switch (bath->reason) {
	case MIXING_BY_STOCK:
		return TEXT("made from what is mixed before it");
	case MIXING_BY_COOLING:
		return TEXT("the one before it has longer to cool");
	case MIXING_BY_KEEPING:
		return TEXT("the one before it keeps longer");
	case MIXING_BY_POUR:
		return TEXT("poured after the one before it");
	default:
		return mixing_order_why(bath->solution);
	}
}

bool mix_keeps_until(const struct mix_card *card, const struct quantity *life, int64_t *day)
{
	const struct conditions *conditions = card->emission->conditions;
	if (!conditions->has_date || !span_is_set(life->span))
		return false;
	*day = conditions->date + life->value / DAY_MS;
	return true;
}

/* Which recipe and which run this is. */
static void add_identity(struct mix_card *card)
{
	struct document *document = card->sheet->document;
	const struct process *process = card->emission->process;
	struct text name = intern_text(card->emission->recipe->names, process->declared.name);
	struct text run = this_run_line(card->emission);
	cmark_node *block =
		document_add(document, document->root, CMARK_NODE_CUSTOM_BLOCK, mix_mark(MIX_MARK_identity));
	cmark_node *line = document_add(document, block, CMARK_NODE_PARAGRAPH, NULL);
	document_strong(document, line, TEXT("Mixing card"));
	document_format(document, line, ", %.*s, fingerprint %.*s", TEXT_ARGUMENT(name),
			TEXT_ARGUMENT(process->fingerprint));
	if (run.length > 0)
		document_format(document, line, ". This run: %.*s", TEXT_ARGUMENT(run));
}

struct mix_card *mix_card_build(const struct emission *emission)
{
	struct mix_card *card = ARENA_NEW(emission->arena, struct mix_card);
	*card = (struct mix_card){
		.sheet = sheet_start(emission),
		.emission = emission,
		.preparation =
			preparation_build(emission->recipe, emission->process, emission->conditions, emission->arena),
	};
	mix_banner(card);
	for (size_t i = 0; i < card->preparation->bath_count; i++)
		mix_bath(card, i);
	add_identity(card);
	return card;
}
