#include "emit/day/json_day.h"

#include "emit/day/wall.h"
#include "emit/json_recipe.h"
#include "model/date.h"

void json_day_count(struct json_node node, const char *key, size_t count)
{
	json_node_whole(node, key, (int64_t)count);
}

void json_day_time(struct json_node node, const char *key, int64_t since_start_s, bool is_known)
{
	if (is_known)
		json_node_whole(node, key, since_start_s);
	else
		json_node_null(node, key);
}

void json_day_stamp(struct json_node node, const struct emission *emission, const char *key, int64_t since_start_s,
		    bool is_known)
{
	if (is_known)
		json_node_text(node, key, wall_stamp(emission->arena, emission->plan->day, since_start_s));
	else
		json_node_null(node, key);
}

void json_day_declared(struct json_node node, const struct emission *emission, const struct declared *declared)
{
	json_node_text(node, "name", parts_name(emission, declared));
	json_recipe_text_or_null(node, "title", declared->title.text);
}

void json_day_rolls(struct json_node node, const char *key, int64_t milli_rolls)
{
	json_node_ratio(node, key, milli_rolls, 1000);
}

void json_day_volume(struct json_node node, const char *key, int64_t volume)
{
	json_node_ratio(node, key, quantity_round_volume(volume), VOLUME_PER_ML);
}

/* ---- the day ---- */

static void put_clock_change(struct json_node parent, const struct day *day)
{
	if (!wall_is_changed(day)) {
		json_node_null(parent, "clock_change");
		return;
	}
	struct json_node node = json_node_object(parent, "clock_change");
	json_node_whole(node, "at_s", day->clock_from_s - day->start_s);
	json_node_whole(node, "by_s", day->clock_to_s - day->clock_from_s);
}

void json_day(struct json_node root, const struct emission *emission)
{
	const struct day *day = emission->plan->day;
	int64_t finish_s = day->finish_s - day->start_s;
	bool has_finish = day->finish_s >= 0;
	struct json_node node = json_node_object(root, "day");
	json_node_text(node, "date", date_print(emission->arena, day->date));
	json_recipe_text_or_null(node, "title", day->declared.title.text);
	json_day_stamp(node, emission, "start", 0, true);
	json_day_time(node, "finish_s", finish_s, has_finish);
	json_day_stamp(node, emission, "finish", finish_s, has_finish);
	if (span_is_set(day->room.span))
		json_recipe_celsius(node, "room_c", day->room.value);
	else
		json_node_null(node, "room_c");
	json_day_time(node, "utc_offset_s", day->utc_offset_s, wall_has_offset(day));
	put_clock_change(node, day);
}

/* ---- rolls ---- */

static void put_family(struct json_node node, const char *key, enum family_id family)
{
	if (family == FAMILY_COUNT)
		json_node_null(node, key);
	else
		json_node_text(node, key, family_row(family)->word);
}

static void put_declared_ratio(struct json_node node, const char *key, const struct quantity *quantity, int64_t per)
{
	if (span_is_set(quantity->span))
		json_node_ratio(node, key, quantity->value, per);
	else
		json_node_null(node, key);
}

void json_day_conditions(struct json_node parent, const struct roll *roll)
{
	struct json_node list = json_node_list(parent, "conditions");
	for (int i = 0; i < CONDITION_COUNT; i++)
		if ((roll->conditions & (condition_set)1 << i) != 0)
			json_node_text(list, NULL, condition_row((enum condition_id)i)->word);
}

static void put_allowed(struct json_node node, const struct roll *roll)
{
	struct json_node list = json_node_list(node, "allowed");
	for (const struct allowance *allowance = roll->allowances; allowance; allowance = allowance->next) {
		struct json_node one = json_node_object(list, NULL);
		json_node_text(one, "check", check_row(allowance->check)->name);
		json_node_text(one, "reason", allowance->reason.text);
	}
}

void json_day_said(struct json_node node, const struct roll *roll)
{
	json_recipe_text_or_null(node, "title", roll->title.text);
	put_family(node, "needs", roll->needs);
	put_family(node, "develop_as", roll->develop_as);
	json_recipe_text_or_null(node, "develop_reason", roll->develop_reason.text);
	json_recipe_text_or_null(node, "decided_by", roll->decided_by);
	put_allowed(node, roll);
	struct json_node notes = json_node_list(node, "notes");
	for (const struct note *note = roll->notes; note; note = note->next)
		json_node_text(notes, NULL, note->prose.text);
}

static void put_fields(struct json_node node, const struct roll *roll)
{
	struct json_node fields = json_node_list(node, "fields");
	for (const struct roll_field *field = roll->fields; field; field = field->next) {
		struct json_node one = json_node_object(fields, NULL);
		json_node_text(one, "name", field->name);
		json_node_text(one, "value", field->value);
	}
}

void json_day_roll(struct json_node parent, const char *key, const struct emission *emission, const struct roll *roll)
{
	json_day_roll_facts(json_node_object(parent, key), emission, roll);
}

void json_day_roll_facts(struct json_node node, const struct emission *emission, const struct roll *roll)
{
	json_node_text(node, "label", roll->label);
	json_node_text(node, "format", format_row(roll->format)->word);
	put_declared_ratio(node, "exposures", &roll->exposures, 1);
	put_declared_ratio(node, "length_m", &roll->length, LENGTH_PER_METRE);
	json_day_rolls(node, "area_rolls", roll->area_milli_rolls);
	json_day_said(node, roll);
	json_recipe_text_or_null(node, "film", roll->film ? parts_name(emission, &roll->film->declared) : TEXT(""));
	json_recipe_text_or_null(node, "origin", roll->origin);
	json_recipe_text_or_null(node, "together", roll->together);
	json_node_flag(node, "urgent", roll->is_urgent);
	json_node_flag(node, "precious", roll->is_precious);
	json_node_ratio(node, "push_stops", roll->push.value, 1000);
	json_day_conditions(node, roll);
	put_declared_ratio(node, "made", &roll->made, 1);
	if (span_is_set(roll->set_aside.span))
		json_node_text(node, "set_aside", roll->set_aside.text);
	else
		json_node_null(node, "set_aside");
	put_fields(node, roll);
}

/* ---- accounts ---- */

void json_day_accounts(struct json_node load, const struct emission *emission, const struct plan_load *of)
{
	struct json_node list = json_node_list(load, "accounts");
	for (const struct plan_account *account = of->accounts; account; account = account->next) {
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "bath", parts_name(emission, &account->solution->declared));
		json_day_count(node, "mix", account->fill + 1);
		json_node_flag(node, "on_hand", account->on_hand != NULL);
		json_day_volume(node, "volume_ml", account->volume);
		json_day_rolls(node, "done_before_rolls", account->done_milli_rolls);
		json_day_rolls(node, "load_rolls", account->load_milli_rolls);
		json_day_rolls(node, "done_after_rolls", account->done_milli_rolls + account->load_milli_rolls);
		if (account->capacity_milli_rolls > 0)
			json_day_rolls(node, "capacity_rolls", account->capacity_milli_rolls);
		else
			json_node_null(node, "capacity_rolls");
		json_node_ratio(node, "lengthened_percent", account->lengthened_percent, PERCENT_ONE);
	}
}

/* ---- what is left ---- */

void json_day_left(struct json_node root, const struct emission *emission)
{
	static const char *const reasons[] = {
		[LEFT_TOMORROW] = "tomorrow",
		[LEFT_SET_ASIDE] = "set-aside",
		[LEFT_NO_PROCESS] = "no-process",
		[LEFT_TOO_LARGE] = "too-large",
	};
	const struct day_plan *plan = emission->plan;
	struct json_node list = json_node_list(root, "left");
	for (size_t i = 0; i < plan->left_count; i++) {
		const struct plan_left *left = &plan->left[i];
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "reason", text_from(reasons[left->reason]));
		if (left->reason == LEFT_TOMORROW)
			json_day_count(node, "load", plan->loads[left->load].number);
		else
			json_node_null(node, "load");
		json_day_roll(node, "roll", emission, left->roll);
	}
}
