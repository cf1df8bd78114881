/* What a day has of each thing, and what its loads take of it. */
#include "emit/day/plan_json.h"
#include "emit/json_recipe.h"

/* ---- what there is ---- */

static void put_tanks(struct json_node parent, const struct emission *emission)
{
	struct json_node list = json_node_list(parent, "tanks");
	for (size_t i = 0; i < parts_tank_count(emission->plan); i++) {
		const struct tank *tank = parts_tank(emission->plan, i);
		struct json_node node = json_node_object(list, NULL);
		json_day_count(node, "number", i + 1);
		json_day_declared(node, emission, &tank->declared);
		json_day_volume(node, "holds_ml", tank->holds.value);
		struct json_node takes = json_node_list(node, "takes");
		for (const struct takes *of = tank->takes; of; of = of->next) {
			struct json_node one = json_node_object(takes, NULL);
			json_node_text(one, "format", format_row(of->format)->word);
			json_node_whole(one, "count", of->count);
		}
	}
}

static void put_reels(struct json_node parent, const struct day *day)
{
	if (day->reels_count == 0) {
		json_node_null(parent, "reels");
		return;
	}
	struct json_node list = json_node_list(parent, "reels");
	for (size_t i = 0; i < day->reels_count; i++) {
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "format", format_row(day->reels[i].format)->word);
		json_node_whole(node, "count", day->reels[i].count);
	}
}

static void put_dryer(struct json_node parent, const struct emission *emission)
{
	const struct dryer *dryer = emission->plan->day->dryer;
	if (!dryer) {
		json_node_null(parent, "dryer");
		return;
	}
	struct json_node node = json_node_object(parent, "dryer");
	json_day_declared(node, emission, &dryer->declared);
	if (span_is_set(dryer->takes_rolls.span))
		json_node_whole(node, "places", dryer->takes_rolls.value);
	else
		json_node_null(node, "places");
	if (span_is_set(dryer->lasts.span))
		json_recipe_seconds(node, "lasts_s", dryer->lasts.value);
	else
		json_node_null(node, "lasts_s");
}

static void put_breaks(struct json_node parent, const struct day *day)
{
	struct json_node list = json_node_list(parent, "breaks");
	for (size_t i = 0; i < day->break_count; i++) {
		int64_t start_s = day->breaks[i].start_s - day->start_s;
		struct json_node node = json_node_object(list, NULL);
		json_node_whole(node, "start_s", start_s);
		json_node_whole(node, "end_s", start_s + day->breaks[i].lasts_s);
	}
}

/* "reels dry" becomes "reels_dry_s". */
static const char *time_key(struct arena *arena, enum day_time time)
{
	struct text_builder key = text_builder_start(arena);
	text_append(&key, day_time_row(time)->word);
	for (size_t i = 0; i < key.length; i++)
		if (key.data[i] == ' ')
			key.data[i] = '_';
	text_append_string(&key, "_s");
	return text_builder_text(&key).data;
}

void plan_json_resources(struct json_node root, const struct emission *emission)
{
	const struct day *day = emission->plan->day;
	struct json_node node = json_node_object(root, "resources");
	json_node_whole(node, "hands", 1);
	put_tanks(node, emission);
	put_reels(node, day);
	put_dryer(node, emission);
	put_breaks(node, day);
	struct json_node times = json_node_object(node, "times");
	for (int i = 0; i < DAY_TIME_COUNT; i++)
		json_node_whole(times, time_key(emission->arena, (enum day_time)i), day_time_s(day, (enum day_time)i));
}

void plan_json_solutions(struct json_node root, const struct emission *emission)
{
	const struct day_plan *plan = emission->plan;
	struct json_node list = json_node_list(root, "solutions");
	for (size_t i = 0; i < plan->chemistry_count; i++) {
		const struct plan_chemistry *chemistry = &plan->chemistry[i];
		struct json_node node = json_node_object(list, NULL);
		json_day_declared(node, emission, &chemistry->solution->declared);
		json_node_text(node, "role", role_row(chemistry->solution->role)->word);
		json_day_volume(node, "on_hand_ml", chemistry->on_hand);
		json_day_volume(node, "mixed_ml", chemistry->mixed);
		json_day_count(node, "mixes", chemistry->mixes);
		json_day_rolls(node, "done_rolls", chemistry->done_milli_rolls);
		json_day_volume(node, "left_ml", chemistry->left);
	}
}

/* ---- what a load takes ---- */

static void put_claim(struct json_node list, const char *resource, size_t amount, struct parts_stay stay, size_t tank,
		      struct text format)
{
	if (!stay.is_there || amount == 0)
		return;
	struct json_node node = json_node_object(list, NULL);
	json_node_text(node, "resource", text_from(resource));
	json_day_time(node, "tank", (int64_t)tank, tank > 0);
	json_recipe_text_or_null(node, "format", format);
	json_day_count(node, "amount", amount);
	json_node_whole(node, "from_s", stay.from_s);
	json_node_whole(node, "to_s", stay.to_s);
}

static size_t places_of(const struct plan_load *load, enum format_id format)
{
	size_t count = 0;
	for (size_t i = 0; i < load->place_count; i++)
		count += load->places[i].roll->format == format;
	return count;
}

void plan_json_claims(struct json_node node, const struct emission *emission, const struct plan_load *load)
{
	const struct day_plan *plan = emission->plan;
	size_t tank = parts_tank_of(plan, load);
	struct json_node list = json_node_list(node, "claims");
	if (tank < parts_tank_count(plan))
		put_claim(list, "tank", 1, parts_in_tank(plan, load), tank + 1, TEXT(""));
	for (int i = 0; i < FORMAT_COUNT; i++)
		put_claim(list, "reels", places_of(load, (enum format_id)i), parts_on_reels(plan, load), 0,
			  format_row((enum format_id)i)->word);
	put_claim(list, "dryer", load->place_count, parts_in_dryer(plan, load), 0, TEXT(""));
}
