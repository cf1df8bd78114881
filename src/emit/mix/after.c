/* What comes after the mixing: pouring together, temperature, what is over. */
#include "emit/mix/card.h"
#include "emit/sheet/words.h"

#include <inttypes.h>

static cmark_node *add_item(struct mix_card *card, cmark_node *list, const char *label)
{
	cmark_node *item = document_add_item(card->sheet->document, list, NULL);
	document_span(card->sheet->document, item, mix_mark(MIX_MARK_tick), TEXT("☐"));
	document_string(card->sheet->document, item, " ");
	document_strong(card->sheet->document, item, text_from(label));
	document_string(card->sheet->document, item, " ");
	return item;
}

/* Where the water that tops up may have been tempered, what follows is for water as it comes. */
static const char *topped_up(const struct preparation_bath *bath)
{
	const struct preparation_mix *mixes = bath->stages[0].mixes;
	for (size_t i = 0; i < mixes[0].act_count; i++) {
		if (mixes[0].acts[i].ready.is_known)
			return bath->stages[0].tops_up_warm ? ", if topped up warm,"
							    : ", if topped up from the cold tap,";
	}
	return "";
}

static struct text reading(struct mix_card *card, int64_t temperature)
{
	return words_temperature(card->sheet, temperature, UNIT_celsius);
}

static void add_together(struct mix_card *card, cmark_node *list, const struct preparation_bath *bath)
{
	struct sheet *sheet = card->sheet;
	const struct preparation_stage *stage = &bath->stages[0];
	if (stage->plan.mix_count < 2)
		return;
	cmark_node *item = add_item(card, list, "Blend:");
	struct text makes = words_volume(sheet, bath->makes);
	document_format(sheet->document, item, "pour all %zu" NBSP "mixes together, %.*s", stage->plan.mix_count,
			TEXT_ARGUMENT(makes));
	if (stage->together) {
		document_string(sheet->document, item, ", in ");
		words_add_title(sheet, item, &stage->together->declared);
	}
	document_string(sheet->document, item, ", before the first pour.");
}

/* ---- from the temperature of mixing to that of working ---- */

static void add_surroundings(struct mix_card *card, cmark_node *item, const struct preparation_cooling *cooling)
{
	struct text temperature = cooling->is_in_bath
					  ? reading(card, cooling->surroundings.value)
					  : quantity_print_temperature(card->sheet->arena, cooling->surroundings.value);
	document_format(card->sheet->document, item, " in %s at %.*s",
			cooling->is_in_bath ? "the water bath" : "the room", TEXT_ARGUMENT(temperature));
}

/* "25 min", "4 h 51 min" */
static struct text hours_and_minutes(struct mix_card *card, int64_t time_ms)
{
	struct arena *arena = card->sheet->arena;
	int64_t minutes = time_ms / (60 * (int64_t)MILLISECONDS_PER_SECOND);
	if (minutes < 60)
		return text_format(arena, "%" PRId64 NBSP "min", minutes);
	if (minutes % 60 == 0)
		return text_format(arena, "%" PRId64 NBSP "h", minutes / 60);
	return text_format(arena, "%" PRId64 NBSP "h" NBSP "%" PRId64 NBSP "min", minutes / 60, minutes % 60);
}

static void add_time(struct mix_card *card, cmark_node *item, const struct preparation_cooling *cooling)
{
	struct sheet *sheet = card->sheet;
	if (cooling->time_ms > 0) {
		struct text time = hours_and_minutes(card, cooling->time_ms);
		document_format(sheet->document, item, ", %s %.*s by the heat-loss test of ",
				cooling->is_in_bath ? "at the most" : "about", TEXT_ARGUMENT(time));
		words_add_title(sheet, item, &cooling->vessel->declared);
		return;
	}
	document_string(sheet->document, item, "; how long is not known: ");
	if (!cooling->vessel) {
		document_string(sheet->document, item, "no vessel of this size is declared");
		return;
	}
	words_add_title(sheet, item, &cooling->vessel->declared);
	document_string(sheet->document, item, " has no heat-loss test");
}

static void add_ice(struct mix_card *card, cmark_node *item, const struct preparation_cooling *cooling)
{
	struct sheet *sheet = card->sheet;
	if (cooling->ice_ng <= 0)
		return;
	struct text ice = words_bound(sheet, quantity_print_mass(sheet->arena, cooling->ice_ng));
	document_format(sheet->document, item, "; %.*s of ice hold the water around it there", TEXT_ARGUMENT(ice));
}

static void add_cooling(struct mix_card *card, cmark_node *list, const struct preparation_bath *bath)
{
	struct document *document = card->sheet->document;
	const struct preparation_cooling *cooling = &bath->cooling;
	cmark_node *item = add_item(card, list, "Cool");
	document_format(document, item, "from %.*s%s to %.*s", TEXT_ARGUMENT(reading(card, cooling->start)),
			topped_up(bath), TEXT_ARGUMENT(reading(card, cooling->target)));
	if (!cooling->surroundings.is_known) {
		document_string(document, item, "; how long is not known without the room's temperature");
	} else if (!cooling->is_reached) {
		document_string(document, item, " in a colder water bath:");
		add_surroundings(card, item, cooling);
		document_string(document, item, " it stays too warm");
	} else {
		add_surroundings(card, item, cooling);
		add_time(card, item, cooling);
		add_ice(card, item, cooling);
	}
	document_string(document, item, ". Measure.");
}

static void add_temperature(struct mix_card *card, cmark_node *list, const struct preparation_bath *bath)
{
	struct document *document = card->sheet->document;
	const struct preparation_cooling *cooling = &bath->cooling;
	cmark_node *item;
	switch (cooling->way) {
	case WAY_COOL:
		add_cooling(card, list, bath);
		break;
	case WAY_WARM:
		item = add_item(card, list, "Warm");
		document_format(document, item, "from %.*s%s to %.*s in a warm water bath. Measure.",
				TEXT_ARGUMENT(reading(card, cooling->start)), topped_up(bath),
				TEXT_ARGUMENT(reading(card, cooling->target)));
		break;
	case WAY_READY:
		item = add_item(card, list, "Measure:");
		document_format(document, item, "%.*s (used at %.*s).", TEXT_ARGUMENT(reading(card, cooling->start)),
				TEXT_ARGUMENT(words_range(card->sheet, &bath->step->at)));
		break;
	case WAY_UNKNOWN:
		break;
	}
}

/* ---- what is over ---- */

static void add_over(struct mix_card *card, cmark_node *list, const struct preparation_bath *bath)
{
	struct sheet *sheet = card->sheet;
	if (bath->over > 0) {
		cmark_node *item = add_item(card, list, "Over:");
		document_text(sheet->document, item, words_volume(sheet, bath->over));
		document_string(sheet->document, item,
				bath->solution->is_pooled ? ", kept with the rest as one stock."
							  : ", in a bottle that it fills.");
	}
	if (bath->concentrate_over > 0) {
		cmark_node *item = add_item(card, list, "Concentrate over:");
		document_format(sheet->document, item, "enough for %.*s; close its bottles at once.",
				TEXT_ARGUMENT(words_volume(sheet, bath->concentrate_over)));
	}
}

void mix_after(struct mix_card *card, cmark_node *parent, const struct preparation_bath *bath, cmark_node *list)
{
	struct document *document = card->sheet->document;
	if (!list) {
		cmark_node *head = document_add_heading(document, parent, 3, NULL);
		document_string(document, head, "After the last mix");
		list = document_add_list(document, parent, mix_mark(MIX_MARK_acts));
	}
	add_together(card, list, bath);
	add_temperature(card, list, bath);
	add_over(card, list, bath);
}
