/* Load lists, hang lists and labels as data: docs/schemas/lists.schema.json describes every key. */
#include <inttypes.h>

#include "emit/day/json_day.h"
#include "emit/json_recipe.h"
#include "emit/lists/lists.h"

#define LISTS_FORMAT "wetside-lists/1"

static void put_entry(struct json_node list, const struct emission *emission, const struct plan_place *place,
		      size_t turn)
{
	struct json_node node = json_node_object(list, NULL);
	json_day_count(node, "turn", turn);
	json_day_count(node, "reel", place->reel);
	json_recipe_text_or_null(node, "mark", place->mark);
	json_day_roll_facts(node, emission, place->roll);
}

static void put_tank(struct json_node node, const struct emission *emission, const struct plan_load *load)
{
	size_t tank = parts_tank_of(emission->plan, load);
	if (tank < parts_tank_count(emission->plan))
		json_node_text(node, "tank", parts_name(emission, &parts_tank(emission->plan, tank)->declared));
	else
		json_node_null(node, "tank");
}

static void put_load(struct json_node list, const struct emission *emission, const struct plan_load *load)
{
	const struct process *process = parts_process(emission->plan, load);
	struct json_node node = json_node_object(list, NULL);
	json_day_count(node, "number", load->number);
	json_day_count(node, "of", emission->plan->load_count);
	json_node_text(node, "process", parts_name(emission, &process->declared));
	json_recipe_text_or_null(node, "title", process->declared.title.text);
	json_node_text(node, "fingerprint", process->fingerprint);
	put_tank(node, emission, load);
	json_node_flag(node, "today", load->is_today);
	json_day_stamp(node, emission, "start", load->start_s, load->is_today);
	json_day_stamp(node, emission, "pour", load->pour_s, load->is_today);
	json_day_stamp(node, emission, "hung", load->hung_s, load->is_today);
	json_day_stamp(node, emission, "dry", load->dry_s, load->is_today);
	json_day_count(node, "empty_reels", parts_empty_reels(emission->plan, load));
	struct json_node loading = json_node_list(node, "load_list");
	for (size_t i = 0; i < load->place_count; i++)
		put_entry(loading, emission, &load->places[i], i + 1);
	struct json_node hanging = json_node_list(node, "hang_list");
	for (size_t i = 0; i < load->place_count; i++)
		put_entry(hanging, emission, &load->places[load->place_count - 1 - i], i + 1);
	json_day_accounts(node, emission, load);
}

/* ---- labels ---- */

static void put_label(struct json_node list, const struct emission *emission, const struct roll *roll,
		      const struct plan_load *load, const struct plan_place *place)
{
	struct json_node node = json_node_object(list, NULL);
	json_day_time(node, "load", load ? (int64_t)load->number : 0, load != NULL);
	json_day_time(node, "reel", place ? (int64_t)place->reel : 0, place != NULL);
	json_node_text(node, "label", roll->label);
	json_node_text(node, "format", format_row(roll->format)->word);
	json_recipe_text_or_null(node, "origin", roll->origin);
	json_recipe_text_or_null(node, "mark", place ? place->mark : roll->mark);
	if (load)
		json_node_text(node, "process", parts_name(emission, &parts_process(emission->plan, load)->declared));
	else
		json_node_null(node, "process");
}

static void put_labels(struct json_node root, const struct emission *emission)
{
	const struct day_plan *plan = emission->plan;
	struct json_node list = json_node_list(root, "labels");
	for (size_t i = 0; i < plan->load_count; i++)
		for (size_t j = 0; lists_hold(emission, &plan->loads[i]) && j < plan->loads[i].place_count; j++)
			put_label(list, emission, plan->loads[i].places[j].roll, &plan->loads[i],
				  &plan->loads[i].places[j]);
	for (size_t i = 0; !emission->load && i < plan->left_count; i++)
		put_label(list, emission, plan->left[i].roll, NULL, NULL);
}

static void put_bottle(struct json_node list, const struct emission *emission, const struct lists_bottle *bottle)
{
	const struct solution *solution = bottle->account->solution;
	struct json_node node = json_node_object(list, NULL);
	json_day_time(node, "number", bottle->number, bottle->number > 0);
	json_node_text(node, "process", parts_name(emission, &parts_process(emission->plan, bottle->load)->declared));
	json_node_text(node, "bath", parts_name(emission, &solution->declared));
	json_recipe_text_or_null(node, "title", solution->declared.title.text);
	json_day_count(node, "mix", bottle->account->fill + 1);
	json_node_flag(node, "on_hand", bottle->account->on_hand != NULL);
	json_recipe_text_or_null(node, "mixed", lists_mixed(emission, bottle));
	json_day_volume(node, "volume_ml", bottle->account->volume);
	json_day_rolls(node, "done_rolls", bottle->account->done_milli_rolls);
	struct json_node hazards = json_node_list(node, "hazards");
	for (const struct hazard *hazard = solution->hazards; hazard; hazard = hazard->next)
		json_node_text(hazards, NULL, hazard->code);
	if (solution->waste < STREAM_COUNT)
		json_node_text(node, "waste", stream_row(solution->waste)->word);
	else
		json_node_null(node, "waste");
}

static void put_bottles(struct json_node root, const struct emission *emission)
{
	size_t count;
	const struct lists_bottle *bottles = lists_bottles(emission, &count);
	struct json_node list = json_node_list(root, "bottles");
	for (size_t i = 0; i < count; i++)
		put_bottle(list, emission, &bottles[i]);
}

static void fill(struct json_node root, const void *subject)
{
	const struct emission *emission = subject;
	json_node_text(root, "format", TEXT(LISTS_FORMAT));
	json_day(root, emission);
	json_day_count(root, "rolls", lists_roll_count(emission));
	struct json_node checklist = json_node_list(root, "checklist");
	for (const char *const *sentence = lists_before_dark; *sentence; sentence++)
		json_node_text(checklist, NULL, text_from(*sentence));
	for (const char *const *sentence = lists_before_light; *sentence; sentence++)
		json_node_text(checklist, NULL, text_from(*sentence));
	struct json_node loads = json_node_list(root, "loads");
	for (size_t i = 0; i < emission->plan->load_count; i++)
		if (lists_hold(emission, &emission->plan->loads[i]))
			put_load(loads, emission, &emission->plan->loads[i]);
	put_labels(root, emission);
	put_bottles(root, emission);
	if (emission->load)
		json_node_list(root, "left");
	else
		json_day_left(root, emission);
}

void emit_lists_json(const struct emission *emission, struct output *output)
{
	json_tree_write(output, emission->arena, fill, emission);
}
