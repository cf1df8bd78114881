/* The mixing card as data: docs/schemas/mix.schema.json describes every key. */
#include "emit/mix/json.h"

#include "emit/json_recipe.h"
#include "emit/this_run.h"
#include "model/date.h"
#include "model/hazards.h"

#define MIX_FORMAT "wetside-mix/1"

static void put_declared(const struct mix_card *card, struct json_node node, const struct declared *declared)
{
	json_node_text(node, "name", intern_text(card->emission->recipe->names, declared->name));
	json_recipe_text_or_null(node, "title", declared->title.text);
}

static void put_bottle(struct json_node node, uint32_t bottle)
{
	if (bottle > 0)
		json_node_whole(node, "bottle", bottle);
	else
		json_node_null(node, "bottle");
}

static void put_vessel(const struct mix_card *card, struct json_node parent, const char *key,
		       const struct graduate *vessel)
{
	if (!vessel) {
		json_node_null(parent, key);
		return;
	}
	struct json_node node = json_node_object(parent, key);
	put_declared(card, node, &vessel->declared);
	mix_json_volume(node, "holds_ml", vessel->holds.value);
}

/* ---- stages ---- */

static void put_mix(const struct mix_card *card, struct json_node list, const struct preparation_mix *mix)
{
	struct json_node node = json_node_object(list, NULL);
	json_node_whole(node, "times", (int64_t)mix->times);
	mix_json_volume(node, "makes_ml", mix->mix.makes);
	if (mix->mix.kits > 0)
		json_node_whole(node, "kits", mix->mix.kits);
	else
		json_node_null(node, "kits");
	if (mix->has_room)
		mix_json_volume(node, "free_ml", mix->room);
	else
		json_node_null(node, "free_ml");
	mix_json_acts(card, node, mix);
}

static void put_stage(const struct mix_card *card, struct json_node list, const struct preparation_stage *stage)
{
	struct json_node node = json_node_object(list, NULL);
	json_node_text(node, "stage", stage->is_dilution ? TEXT("dilution") : TEXT("mixing"));
	mix_json_volume(node, "needed_ml", stage->plan.needed);
	mix_json_volume(node, "makes_ml", stage->plan.makes);
	put_vessel(card, node, "vessel", stage->vessel);
	put_vessel(card, node, "blended_in", stage->together);
	struct json_node mixes = json_node_list(node, "mixes");
	for (size_t i = 0; i < stage->mix_count; i++)
		put_mix(card, mixes, &stage->mixes[i]);
}

/* ---- what comes after ---- */

static void put_cooling_time(const struct mix_card *card, struct json_node node,
			     const struct preparation_cooling *cooling)
{
	mix_json_temp(node, "surroundings_c", cooling->surroundings);
	json_node_flag(node, "in_water_bath", cooling->is_in_bath);
	json_node_flag(node, "reached_there", cooling->is_reached);
	put_vessel(card, node, "vessel", cooling->vessel);
	if (cooling->time_ms > 0)
		json_recipe_seconds(node, "time_s", cooling->time_ms);
	else
		json_node_null(node, "time_s");
	if (cooling->ice_ng > 0)
		mix_json_mass(node, "ice_g", cooling->ice_ng);
	else
		json_node_null(node, "ice_g");
}

static void put_cooling(const struct mix_card *card, struct json_node parent, const struct preparation_bath *bath)
{
	static const char *const words[] = {
		[WAY_UNKNOWN] = "", [WAY_READY] = "ready", [WAY_COOL] = "cool", [WAY_WARM] = "warm"
	};
	const struct preparation_cooling *cooling = &bath->cooling;
	if (cooling->way == WAY_UNKNOWN) {
		json_node_null(parent, "temperature");
		return;
	}
	struct json_node node = json_node_object(parent, "temperature");
	json_node_text(node, "then", text_from(words[cooling->way]));
	mix_json_reading(card, node, "from", cooling->start);
	mix_json_reading(card, node, "to", cooling->target);
	json_node_flag(node, "assumes_warm_top_up", bath->stages[0].tops_up_warm);
	if (cooling->way == WAY_COOL)
		put_cooling_time(card, node, cooling);
}

static void put_life(const struct mix_card *card, struct json_node parent, const char *key, const struct quantity *life)
{
	int64_t day;
	if (!span_is_set(life->span)) {
		json_node_null(parent, key);
		return;
	}
	struct json_node node = json_node_object(parent, key);
	json_recipe_seconds(node, "for_s", life->value);
	if (mix_keeps_until(card, life, &day))
		json_node_text(node, "until", date_print(card->sheet->arena, day));
	else
		json_node_null(node, "until");
}

static void put_keeping(const struct mix_card *card, struct json_node parent, const struct solution *solution)
{
	struct json_node node = json_node_object(parent, "keeps");
	put_life(card, node, "full", &solution->keeps_full);
	put_life(card, node, "part_full", &solution->keeps_part_full);
	put_life(card, node, "in_tank", &solution->keeps_in_tank);
}

static void put_hazards(const struct mix_card *card, struct json_node parent, const struct preparation_bath *bath)
{
	const struct solution *solution = bath->solution;
	struct json_node cautions = json_node_list(parent, "cautions");
	for (size_t i = 0; mix_caution(bath, i).length > 0; i++)
		json_node_text(cautions, NULL, mix_caution(bath, i));
	json_node_flag(parent, "hazards_none", solution->hazards_none);
	struct json_node list = json_node_list(parent, "hazards");
	for (const struct hazard *hazard = solution->hazards; hazard; hazard = hazard->next) {
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "code", hazard->code);
		json_node_text(node, "text", hazard_text(hazard->code));
	}
	struct text date = TEXT("");
	if (span_is_set(solution->hazards_sheet_dated))
		date = source_text(card->emission->recipe->sources, solution->hazards_sheet_dated);
	json_recipe_text_or_null(parent, "sheet_dated", date);
}

/* ---- baths ---- */

static void put_kits(struct json_node parent, const struct preparation_bath *bath)
{
	const struct solution *solution = bath->solution;
	if (!span_is_set(solution->kit_makes.span)) {
		json_node_null(parent, "kits");
		return;
	}
	struct json_node node = json_node_object(parent, "kits");
	json_node_whole(node, "count", bath->stages[0].plan.kits);
	json_node_text(node, "form", solution->kit_form == KIT_POWDER ? TEXT("powder") : TEXT("liquid"));
	mix_json_volume(node, "makes_ml", solution->kit_makes.value);
	mix_json_volume(node, "concentrate_left_for_ml", bath->concentrate_over);
}

static void put_dilution(const struct mix_card *card, struct json_node parent, const struct solution *solution)
{
	if (solution->dilution_count == 0) {
		json_node_null(parent, "dilution");
		return;
	}
	struct json_node node = json_node_object(parent, "dilution");
	struct json_node parts = json_node_list(node, "parts");
	for (size_t i = 0; i < solution->dilution_count; i++)
		json_node_ratio(parts, NULL, solution->dilution[i], 1000);
	struct text from = TEXT("");
	if (solution->stock)
		from = intern_text(card->emission->recipe->names, solution->stock->declared.name);
	json_recipe_text_or_null(node, "from", from);
}

static void put_bath(const struct mix_card *card, struct json_node list, size_t index)
{
	static const char *const reasons[] = {
		[MIXING_BY_GROUP] = "group",	 [MIXING_BY_STOCK] = "stock", [MIXING_BY_COOLING] = "cooling",
		[MIXING_BY_KEEPING] = "keeping", [MIXING_BY_POUR] = "pour",
	};
	const struct preparation_bath *bath = &card->preparation->baths[index];
	const struct solution *solution = bath->solution;
	struct json_node node = json_node_object(list, NULL);
	json_node_whole(node, "turn", (int64_t)index + 1);
	put_declared(card, node, &solution->declared);
	json_node_text(node, "role", role_row(solution->role)->word);
	put_bottle(node, bath->bottle);
	json_node_text(node, "order_by", text_from(reasons[bath->reason]));
	json_node_text(node, "reason", mix_reason(bath));
	mix_json_volume(node, "needed_ml", bath->needed);
	mix_json_volume(node, "makes_ml", bath->makes);
	mix_json_volume(node, "over_ml", bath->over);
	put_kits(node, bath);
	put_dilution(card, node, solution);
	struct json_node stages = json_node_list(node, "stages");
	for (size_t i = 0; i < bath->stage_count; i++)
		put_stage(card, stages, &bath->stages[i]);
	json_recipe_window(node, "working_window", &bath->step->at);
	put_cooling(card, node, bath);
	put_keeping(card, node, solution);
	put_hazards(card, node, bath);
}

static void put_in_hand(const struct mix_card *card, struct json_node root)
{
	struct json_node list = json_node_list(root, "in_hand");
	for (size_t i = 0; i < card->preparation->in_hand_count; i++) {
		const struct preparation_in_hand *bath = &card->preparation->in_hand[i];
		struct json_node node = json_node_object(list, NULL);
		put_declared(card, node, &bath->solution->declared);
		put_bottle(node, bath->bottle);
		mix_json_volume(node, "volume_ml", bath->volume);
		if (bath->declared && span_is_set(bath->declared->mixed))
			json_node_text(node, "mixed", date_print(card->sheet->arena, bath->declared->mixed_on));
		else
			json_node_null(node, "mixed");
		json_node_ratio(node, "done_rolls", bath->done_milli_rolls, 1000);
	}
}

static void fill(struct json_node root, const void *subject)
{
	const struct mix_card *card = subject;
	const struct emission *emission = card->emission;
	json_node_text(root, "format", TEXT(MIX_FORMAT));
	json_recipe_process(root, emission);
	json_node_text(root, "fingerprint", emission->process->fingerprint);
	json_recipe_text_or_null(root, "this_run", this_run_line(emission));
	mix_json_volume(root, "filling_ml", card->preparation->poured);
	mix_json_temp(root, "hot_tap_c", card->preparation->hot);
	mix_json_temp(root, "cold_tap_c", card->preparation->cold);
	mix_json_temp(root, "room_c", card->preparation->room);
	mix_json_temp(root, "water_bath_c", card->preparation->water_bath);
	put_in_hand(card, root);
	struct json_node baths = json_node_list(root, "baths");
	for (size_t i = 0; i < card->preparation->bath_count; i++)
		put_bath(card, baths, i);
}

void emit_mix_json(const struct emission *emission, struct output *output)
{
	json_tree_write(output, emission->arena, fill, mix_card_build(emission));
}
