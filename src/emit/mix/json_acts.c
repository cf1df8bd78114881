/* The acts of mixing as data. */
#include "emit/json_recipe.h"
#include "emit/mix/json.h"

static const char *const kind_words[] = {
	[PREPARE_WATER] = "water", [PREPARE_PART] = "add",    [PREPARE_STOCK] = "concentrate",
	[PREPARE_STIR] = "stir",   [PREPARE_STAND] = "stand", [PREPARE_TOP_UP] = "top-up",
};

static void put_taps(struct json_node parent, const struct preparation_act *act)
{
	static const char *const words[] = {
		[TAPS_REACH] = "reached", [TAPS_TOO_COLD] = "too-cold", [TAPS_TOO_HOT] = "too-hot"
	};
	if (!act->has_taps) {
		json_node_null(parent, "taps");
		return;
	}
	struct json_node node = json_node_object(parent, "taps");
	json_node_text(node, "temperature", text_from(words[act->taps.reach]));
	mix_json_volume(node, "hot_ml", act->taps.hot);
	mix_json_volume(node, "cold_ml", act->taps.cold);
	mix_json_celsius(node, "gives_c", act->taps.temp);
}

static void put_avoirdupois(struct json_node parent, int64_t mass)
{
	struct avoirdupois weight = quantity_avoirdupois(mass);
	struct json_node node = json_node_object(parent, "avoirdupois");
	json_node_whole(node, "ounces", weight.ounces);
	json_node_ratio(node, "grains", weight.grain_tenths, 10);
}

/* What may be taken in place of what is named: another hydrate, acid of another strength, a solution. */
static void put_alternatives(struct json_node parent, const struct preparation_act *act)
{
	struct json_node list = json_node_list(parent, "alternatives");
	struct text form;
	int64_t mass;
	for (size_t i = 0; preparation_other_form(act, i, &form, &mass); i++) {
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "hydrate", form);
		mix_json_mass(node, "mass_g", mass);
	}
	if (act->acid.chemical != CHEMICAL_COUNT) {
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "chemical", chemical_row(act->acid.chemical)->word);
		mix_json_volume(node, "volume_ml", act->acid.volume);
		mix_json_volume(node, "water_ml", act->acid.water > 0 ? act->acid.water : 0);
	}
	if (act->percent > 0) {
		struct json_node node = json_node_object(list, NULL);
		json_node_ratio(node, "percent_solution", act->percent, PERCENT_ONE);
		mix_json_volume(node, "volume_ml", act->percent_volume);
	}
}

static void put_part(const struct mix_card *card, struct json_node node, const struct preparation_act *act)
{
	const struct part *part = act->part;
	bool is_chemical = part->chemical != CHEMICAL_free_text;
	json_recipe_text_or_null(node, "chemical", is_chemical ? chemical_row(part->chemical)->word : TEXT(""));
	json_recipe_text_or_null(node, "hydrate", part->hydrate);
	json_recipe_text_or_null(node, "label", is_chemical ? TEXT("") : part->label.text);
	if (act->milli_packets > 0)
		json_node_ratio(node, "packets", act->milli_packets, 1000);
	else
		json_node_null(node, "packets");
	if (act->has_amount && !act->is_volume && card->emission->conditions->wants_avoirdupois)
		put_avoirdupois(node, act->exact);
	put_alternatives(node, act);
	mix_json_reading_or_null(card, node, "after", act->after);
}

static void put_act(const struct mix_card *card, struct json_node list, const struct preparation_act *act)
{
	struct json_node node = json_node_object(list, NULL);
	json_node_text(node, "act", text_from(kind_words[act->kind]));
	if (act->has_amount && act->is_volume)
		mix_json_volume(node, act->kind == PREPARE_TOP_UP ? "mark_ml" : "volume_ml", act->amount);
	else if (act->has_amount)
		mix_json_mass(node, "mass_g", act->amount);
	if (act->kind == PREPARE_WATER) {
		json_recipe_window(node, "window", &act->at);
		mix_json_reading_or_null(card, node, "temperature",
					 (struct preparation_temp){ span_is_set(act->at.span), act->at.nominal });
		put_taps(node, act);
	}
	if (act->kind == PREPARE_PART)
		put_part(card, node, act);
	if (act->kind == PREPARE_STOCK)
		json_node_whole(node, "concentrate", (int64_t)act->stock + 1);
	if (act->kind == PREPARE_TOP_UP)
		mix_json_reading_or_null(card, node, "ready_with_water_at", act->ready);
	if (act->part && span_is_set(act->part->stirring.span))
		json_recipe_seconds(node, "time_s", act->part->stirring.value);
}

void mix_json_acts(const struct mix_card *card, struct json_node parent, const struct preparation_mix *mix)
{
	struct json_node list = json_node_list(parent, "acts");
	for (size_t i = 0; i < mix->act_count; i++)
		put_act(card, list, &mix->acts[i]);
}
