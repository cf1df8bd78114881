/* What heads the card: which run it is for, and what holds for all baths. */
#include "compute/reading.h"
#include "emit/mix/card.h"
#include "emit/sheet/words.h"
#include "emit/this_run.h"
#include "model/date.h"

#include <inttypes.h>

static cmark_node *add_fact(struct mix_card *card, cmark_node *list, const char *label)
{
	cmark_node *item = document_add_item(card->sheet->document, list, NULL);
	document_strong(card->sheet->document, item, text_format(card->sheet->arena, "%s:", label));
	document_string(card->sheet->document, item, " ");
	return item;
}

/* What the thermometer reads. */
static struct text reading(struct mix_card *card, struct preparation_temp temp)
{
	return words_temperature(card->sheet, temp.value, UNIT_celsius);
}

static void add_volume(struct mix_card *card, cmark_node *list)
{
	const struct tank *tank = card->emission->process->tank;
	struct text poured = words_volume(card->sheet, card->preparation->poured);
	cmark_node *item = add_fact(card, list, "One filling");
	mix_strong(card, item, MIX_MARK_amount, poured);
	if (card->emission->conditions->has_volume) {
		document_string(card->sheet->document, item, ", as asked for");
	} else if (tank) {
		document_string(card->sheet->document, item, ", ");
		words_add_title(card->sheet, item, &tank->declared);
	}
}

static void add_surroundings(struct mix_card *card, cmark_node *list)
{
	const struct preparation *preparation = card->preparation;
	const struct thermometer *thermometer = card->emission->process->thermometer;
	if (preparation->hot.is_known && preparation->cold.is_known)
		document_format(card->sheet->document, add_fact(card, list, "Taps"), "hot %.*s, cold %.*s.",
				TEXT_ARGUMENT(reading(card, preparation->hot)),
				TEXT_ARGUMENT(reading(card, preparation->cold)));
	if (preparation->room.is_known)
		document_format(card->sheet->document, add_fact(card, list, "Room"), "%.*s%s.",
				TEXT_ARGUMENT(quantity_print_temperature(card->sheet->arena, preparation->room.value)),
				reading_is_corrected(thermometer) ? ", by a thermometer of its own" : "");
	if (preparation->water_bath.is_known)
		document_format(
			card->sheet->document, add_fact(card, list, "Water bath for cooling"),
			"%.*s. The ice is for the heat of the mix alone, at 0.0" NBSP
			"°C; vessel and room come on top. Never into the mix. Times by a heat-loss test in air are "
			"the longest it can take.",
			TEXT_ARGUMENT(reading(card, preparation->water_bath)));
	if (thermometer)
		words_add_thermometer(card->sheet, add_fact(card, list, "Thermometer"), thermometer);
}

static bool tops_up_warm(const struct preparation *preparation)
{
	for (size_t i = 0; i < preparation->bath_count; i++) {
		if (preparation->baths[i].stage_count > 0 && preparation->baths[i].stages[0].tops_up_warm)
			return true;
	}
	return false;
}

static void add_assumptions(struct mix_card *card, cmark_node *list)
{
	struct document *document = card->sheet->document;
	cmark_node *item = add_fact(card, list, "Reckoned");
	document_string(document, item, "baths as so much water, vessels left out");
	if (card->preparation->room.is_known)
		document_string(document, item, ", concentrates as warm as the room");
	if (tops_up_warm(card->preparation))
		document_string(document, item, ", water that tops up as warm as the mix");
	document_string(document, item, ". Measure before use.");
}

static void add_in_hand(struct mix_card *card, cmark_node *list)
{
	struct document *document = card->sheet->document;
	for (size_t i = 0; i < card->preparation->in_hand_count; i++) {
		const struct preparation_in_hand *bath = &card->preparation->in_hand[i];
		cmark_node *item = add_fact(card, list, "In hand, not mixed again");
		if (bath->bottle > 0)
			document_format(document, item, "bottle" NBSP "%" PRIu32 ", ", bath->bottle);
		words_add_title(card->sheet, item, &bath->solution->declared);
		document_format(document, item, ", %.*s", TEXT_ARGUMENT(words_volume(card->sheet, bath->volume)));
		if (bath->declared && span_is_set(bath->declared->mixed))
			document_format(document, item, ", mixed %.*s",
					TEXT_ARGUMENT(date_print(card->sheet->arena, bath->declared->mixed_on)));
		if (bath->done_milli_rolls > 0) {
			struct text done = this_run_rolls(card->sheet->arena, bath->done_milli_rolls);
			document_format(document, item, ", rolls done: %.*s", TEXT_ARGUMENT(done));
		}
		document_string(document, item, ".");
	}
}

/* "1 bottle 1, 2 bottle 3, …": so that the order is seen at a glance. */
static void add_order(struct mix_card *card, cmark_node *list)
{
	const struct preparation *preparation = card->preparation;
	struct document *document = card->sheet->document;
	if (preparation->bath_count == 0) {
		document_string(document, add_fact(card, list, "Order"), "nothing is to be mixed.");
		return;
	}
	cmark_node *item = add_fact(card, list, "In this order");
	for (size_t i = 0; i < preparation->bath_count; i++) {
		const struct preparation_bath *bath = &preparation->baths[i];
		document_string(document, item, i > 0 ? ", then " : "");
		if (bath->bottle > 0)
			document_format(document, item, "bottle" NBSP "%" PRIu32, bath->bottle);
		else
			words_add_title(card->sheet, item, &bath->solution->declared);
	}
	document_string(document, item,
			". What spoils the others comes last; where that is the same, what cools longest "
			"comes first. A stirrer and a funnel of its own for each bath.");
}

static void add_cautions(struct mix_card *card, cmark_node *block)
{
	static const char *const cautions[] = {
#define CAUTION(words) words,
#include "emit/cautions.def"
#undef CAUTION
	};
	struct document *document = card->sheet->document;
	cmark_node *line = document_add(document, block, CMARK_NODE_PARAGRAPH, mix_mark(MIX_MARK_care));
	document_strong(document, line, TEXT("Cautions:"));
	for (size_t i = 0; i < sizeof(cautions) / sizeof(cautions[0]); i++)
		document_format(document, line, " %s", cautions[i]);
}

void mix_banner(struct mix_card *card)
{
	struct document *document = card->sheet->document;
	cmark_node *block = document_add(document, document->root, CMARK_NODE_CUSTOM_BLOCK, mix_mark(MIX_MARK_banner));
	cmark_node *title = document_add_heading(document, block, 1, NULL);
	words_add_title(card->sheet, title, &card->emission->process->declared);
	cmark_node *kind = document_add(document, block, CMARK_NODE_PARAGRAPH, mix_mark(MIX_MARK_kind));
	document_string(document, kind, "Mixing card");
	cmark_node *list = document_add_list(document, block, mix_mark(MIX_MARK_facts));
	add_volume(card, list);
	add_surroundings(card, list);
	add_assumptions(card, list);
	add_in_hand(card, list);
	add_order(card, list);
	add_cautions(card, block);
}
