/* The acts of mixing, each with a box to tick for every mix. */
#include "emit/mix/card.h"
#include "emit/sheet/words.h"

#include <inttypes.h>

/* More boxes than this do not stand in a row. */
#define MOST_BOXES 8

/* Below this a volume is not for a graduate (common practice, no source). */
#define PIPETTE_BELOW (10 * VOLUME_PER_ML)

/* From here on a time to stir or stand is said in hours. */
#define LONG_TIME_MS (60 * 60 * (int64_t)MILLISECONDS_PER_SECOND)

struct bench {
	struct mix_card *card;
	struct document *document;
	const struct preparation_bath *bath;
	const struct preparation_stage *stage;
	const struct preparation_mix *mix;
};

static struct text amount_words(const struct bench *bench, bool is_volume, int64_t amount)
{
	struct sheet *sheet = bench->card->sheet;
	return is_volume ? words_volume(sheet, amount) : words_bound(sheet, quantity_print_mass(sheet->arena, amount));
}

static struct text time_words(const struct bench *bench, int64_t time_ms)
{
	struct sheet *sheet = bench->card->sheet;
	if (time_ms >= LONG_TIME_MS)
		return words_bound(sheet, quantity_print_keeping(sheet->arena, time_ms));
	return words_duration(sheet, time_ms);
}

static void add_amount(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	if (!act->has_amount)
		return;
	mix_strong(bench->card, item, MIX_MARK_amount, amount_words(bench, act->is_volume, act->amount));
	document_string(bench->document, item, " ");
}

/* A graduate does not show so little. */
static void add_pipette(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	if (act->has_amount && act->is_volume && act->amount < PIPETTE_BELOW)
		document_string(bench->document, item, ", by pipette or syringe");
}

/* ---- water ---- */

static void add_taps(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	struct sheet *sheet = bench->card->sheet;
	if (!act->has_taps)
		return;
	if (act->taps.reach == TAPS_TOO_COLD)
		document_string(bench->document, item, "; the hot tap is too cold for that: heat the water");
	else if (act->taps.reach == TAPS_TOO_HOT)
		document_string(bench->document, item, "; the cold tap is too warm for that: chill the water");
	else
		document_format(bench->document, item, ": hot" NBSP "tap %.*s, cold" NBSP "tap %.*s",
				TEXT_ARGUMENT(words_volume(sheet, act->taps.hot)),
				TEXT_ARGUMENT(words_volume(sheet, act->taps.cold)));
	if (act->taps.reach == TAPS_REACH && act->at.form != WINDOW_POINT &&
	    (act->at.form == WINDOW_RANGE || act->taps.temp != act->at.nominal))
		document_format(bench->document, item, " give %.*s",
				TEXT_ARGUMENT(words_temperature(sheet, act->taps.temp, UNIT_celsius)));
}

/* A range, or a point and how far it may be missed. */
static void add_window(const struct bench *bench, cmark_node *item, const struct temperature_window *at)
{
	struct sheet *sheet = bench->card->sheet;
	struct temperature_window point = *at;
	if (point.form == WINDOW_TOLERANCE) {
		point.form = WINDOW_POINT;
		point.low = point.high = point.nominal;
	}
	mix_strong(bench->card, item, MIX_MARK_amount, words_point(sheet, &point));
	if (at->form == WINDOW_TOLERANCE) {
		struct text most = words_bound(sheet, quantity_print_difference(sheet->arena, at->high - at->nominal));
		document_format(bench->document, item, NBSP "±" NBSP "%.*s", TEXT_ARGUMENT(most));
	}
	document_text(bench->document, item, words_fahrenheit(sheet, &point));
}

static void add_water(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	add_amount(bench, item, act);
	document_string(bench->document, item, "water");
	if (span_is_set(act->at.span)) {
		document_string(bench->document, item, " at ");
		add_window(bench, item, &act->at);
	}
	add_taps(bench, item, act);
}

static void add_top_up(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	document_string(bench->document, item, "top up with water");
	if (act->has_amount) {
		document_string(bench->document, item, " to ");
		mix_strong(bench->card, item, MIX_MARK_amount, amount_words(bench, true, act->amount));
	}
	if (!act->ready.is_known)
		return;
	struct text ready = words_temperature(bench->card->sheet, act->ready.value, UNIT_celsius);
	document_format(bench->document, item, "; with water at %.*s it comes out at its working temperature",
			TEXT_ARGUMENT(ready));
}

/* ---- what goes in ---- */

static void add_avoirdupois(const struct bench *bench, cmark_node *item, int64_t mass)
{
	struct sheet *sheet = bench->card->sheet;
	if (!bench->card->emission->conditions->wants_avoirdupois)
		return;
	struct text weight = words_bound(sheet, quantity_print_avoirdupois(sheet->arena, mass));
	document_format(bench->document, item, " (%.*s)", TEXT_ARGUMENT(weight));
}

/* How many of a kit's packets, or how much of its bottles: "2 × developer part A". */
static void add_packets(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	if (act->milli_packets == 0)
		return;
	struct text count = words_thousandths(bench->card->sheet, act->milli_packets);
	mix_strong(bench->card, item, MIX_MARK_amount,
		   text_format(bench->card->sheet->arena, "%.*s" NBSP "×", TEXT_ARGUMENT(count)));
	document_string(bench->document, item, " ");
}

static void add_name(const struct bench *bench, cmark_node *item, const struct part *part)
{
	if (part->chemical == CHEMICAL_free_text)
		document_prose(bench->document, item, part->label.text);
	else
		document_text(bench->document, item, chemical_row(part->chemical)->title);
	if (part->hydrate.length > 0)
		document_format(bench->document, item, ", %.*s", TEXT_ARGUMENT(part->hydrate));
}

static void add_other_acid(const struct bench *bench, cmark_node *item, const struct preparation_acid *acid)
{
	struct sheet *sheet = bench->card->sheet;
	if (acid->chemical == CHEMICAL_COUNT)
		return;
	struct text volume = words_volume(sheet, acid->volume);
	struct text title = chemical_row(acid->chemical)->title;
	document_format(bench->document, item, "; or %.*s %.*s", TEXT_ARGUMENT(volume), TEXT_ARGUMENT(title));
	if (acid->water > 0)
		document_format(bench->document, item, " into %.*s water",
				TEXT_ARGUMENT(words_volume(sheet, acid->water)));
}

static void add_percent(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	struct sheet *sheet = bench->card->sheet;
	if (act->percent == 0)
		return;
	struct text percent = words_bound(sheet, quantity_print_percent(sheet->arena, act->percent));
	document_format(bench->document, item, "; or %.*s of a %.*s solution",
			TEXT_ARGUMENT(words_volume(sheet, act->percent_volume)), TEXT_ARGUMENT(percent));
}

static void add_stirring(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	if (!span_is_set(act->part->stirring.span))
		return;
	struct text time = time_words(bench, act->part->stirring.value);
	document_format(bench->document, item, "; stir %.*s", TEXT_ARGUMENT(time));
}

static void add_part(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	add_amount(bench, item, act);
	add_packets(bench, item, act);
	add_name(bench, item, act->part);
	add_pipette(bench, item, act);
	if (act->has_amount && !act->is_volume)
		add_avoirdupois(bench, item, act->exact);
	add_other_acid(bench, item, &act->acid);
	add_percent(bench, item, act);
	add_stirring(bench, item, act);
	if (!act->after.is_known)
		return;
	struct text after = words_temperature(bench->card->sheet, act->after.value, UNIT_celsius);
	document_format(bench->document, item, "; the mix is then at about %.*s", TEXT_ARGUMENT(after));
}

static void add_stock(const struct bench *bench, cmark_node *item, const struct preparation_act *act)
{
	const struct solution *solution = bench->bath->solution;
	add_amount(bench, item, act);
	if (solution->stock)
		words_add_title(bench->card->sheet, item, &solution->stock->declared);
	else if (solution->dilution_count > 2)
		document_format(bench->document, item, "concentrate %c",
				(char)('A' + (act->stock < 26 ? act->stock : 25)));
	else
		document_string(bench->document, item, bench->bath->stage_count > 1 ? "of the stock" : "concentrate");
	add_pipette(bench, item, act);
	document_string(bench->document, item, ", stirring");
}

/* ---- acts and mixes ---- */

static void add_boxes(const struct bench *bench, cmark_node *item)
{
	size_t times = bench->mix->times;
	for (size_t i = 0; i < times && i < MOST_BOXES; i++) {
		document_span(bench->document, item, mix_mark(MIX_MARK_tick), TEXT("☐"));
		document_string(bench->document, item, " ");
	}
	if (times > MOST_BOXES)
		document_format(bench->document, item, "… %zu in all: ", times);
}

static void add_act(const struct bench *bench, cmark_node *list, const struct preparation_act *act)
{
	cmark_node *item = document_add_item(bench->document, list, NULL);
	add_boxes(bench, item);
	switch (act->kind) {
	case PREPARE_WATER:
		add_water(bench, item, act);
		break;
	case PREPARE_PART:
		add_part(bench, item, act);
		break;
	case PREPARE_STOCK:
		add_stock(bench, item, act);
		break;
	case PREPARE_TOP_UP:
		add_top_up(bench, item, act);
		break;
	default:
		document_format(bench->document, item, "%s %.*s", act->kind == PREPARE_STIR ? "stir" : "let stand",
				TEXT_ARGUMENT(time_words(bench, act->part->stirring.value)));
		break;
	}
	document_string(bench->document, item, ".");
}

/* What weighs another figure where it is in hand in another form. */
static void add_other_forms(const struct bench *bench, cmark_node *parent)
{
	struct sheet *sheet = bench->card->sheet;
	cmark_node *line = NULL;
	for (size_t i = 0; i < bench->mix->act_count; i++) {
		const struct preparation_act *act = &bench->mix->acts[i];
		int64_t mass;
		struct text form;
		for (size_t j = 0; preparation_other_form(act, j, &form, &mass); j++) {
			const char *before = line ? j > 0 ? " or" : "; " : "In another form: ";
			struct text title = chemical_row(act->part->chemical)->title;
			struct text weight = words_bound(sheet, quantity_print_mass(sheet->arena, mass));
			if (!line)
				line = document_add(bench->document, parent, CMARK_NODE_PARAGRAPH, NULL);
			document_format(bench->document, line, "%s%.*s %.*s %.*s", before,
					j > 0 ? 0 : (int)title.length, title.data, TEXT_ARGUMENT(form),
					TEXT_ARGUMENT(weight));
		}
	}
	if (line)
		document_string(bench->document, line, ".");
}

static void add_acts(const struct bench *bench, cmark_node *list)
{
	for (size_t i = 0; i < bench->mix->act_count; i++)
		add_act(bench, list, &bench->mix->acts[i]);
	if (bench->mix->act_count > 0)
		return;
	cmark_node *item = document_add_item(bench->document, list, NULL);
	add_boxes(bench, item);
	document_string(bench->document, item, "mix as the leaflet of the kit says.");
}

void mix_add_vessel(struct mix_card *card, cmark_node *parent, const struct preparation_stage *stage,
		    const struct preparation_mix *mix)
{
	struct sheet *sheet = card->sheet;
	if (!stage->vessel) {
		document_string(sheet->document, parent, "in any vessel");
		return;
	}
	document_string(sheet->document, parent, "in ");
	words_add_title(sheet, parent, &stage->vessel->declared);
	document_format(sheet->document, parent, " (%.*s)",
			TEXT_ARGUMENT(words_volume(sheet, stage->vessel->holds.value)));
	if (mix->has_room)
		document_format(sheet->document, parent, ", %.*s free when the powder goes in",
				TEXT_ARGUMENT(words_volume(sheet, mix->room)));
}

/* "Each of 3 mixes: 1 L in Mixing jug (1.5 L)" */
static void add_mix_head(const struct bench *bench, cmark_node *parent, size_t first)
{
	const struct preparation_mix *mix = bench->mix;
	size_t count = bench->stage->plan.mix_count;
	cmark_node *head = document_add_heading(bench->document, parent, 3, NULL);
	if (mix->times == count)
		document_format(bench->document, head, "Each of %zu" NBSP "mixes: ", count);
	else if (mix->times > 1)
		document_format(bench->document, head,
				"Mixes" NBSP "%zu to" NBSP "%zu of" NBSP "%zu, each: ", first + 1, first + mix->times,
				count);
	else
		document_format(bench->document, head, "Mix" NBSP "%zu of" NBSP "%zu: ", first + 1, count);
	document_text(bench->document, head, words_volume(bench->card->sheet, mix->mix.makes));
	document_string(bench->document, head, " ");
	mix_add_vessel(bench->card, head, bench->stage, mix);
}

cmark_node *mix_acts(struct mix_card *card, cmark_node *parent, const struct preparation_bath *bath,
		     const struct preparation_stage *stage)
{
	cmark_node *list = NULL;
	size_t first = 0;
	for (size_t i = 0; i < stage->mix_count; i++) {
		const struct bench bench = {
			.card = card,
			.document = card->sheet->document,
			.bath = bath,
			.stage = stage,
			.mix = &stage->mixes[i],
		};
		if (stage->plan.mix_count > 1)
			add_mix_head(&bench, parent, first);
		list = document_add_list(card->sheet->document, parent, mix_mark(MIX_MARK_acts));
		add_acts(&bench, list);
		add_other_forms(&bench, parent);
		first += bench.mix->times;
	}
	if (!stage->plan.fits)
		document_string(card->sheet->document,
				document_add(card->sheet->document, parent, CMARK_NODE_PARAGRAPH, NULL),
				"No vessel that is named takes a mix of it.");
	return stage->plan.mix_count > 1 ? NULL : list;
}
