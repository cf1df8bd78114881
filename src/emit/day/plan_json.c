/* The plan of a day as data: docs/schemas/plan.schema.json describes every key. */
#include "emit/day/plan_json.h"
#include "emit/cues/wording.h"
#include "emit/day/bound.h"
#include "emit/day/json_day.h"
#include "emit/day/wall.h"
#include "emit/json_recipe.h"
#include "emit/this_run.h"

#define PLAN_FORMAT "wetside-plan/1"

/* ---- in figures ---- */

static void put_summary(struct json_node root, const struct emission *emission)
{
	const struct day_plan *plan = emission->plan;
	size_t today = parts_rolls_today(plan), planned = 0, out = 0;
	for (size_t i = 0; i < plan->load_count; i++)
		planned += plan->loads[i].place_count;
	for (size_t i = 0; i < plan->left_count; i++)
		out += plan->left[i].reason != LEFT_TOMORROW;
	struct json_node node = json_node_object(root, "summary");
	json_day_count(node, "rolls_today", today);
	json_day_count(node, "rolls_tomorrow", planned - today);
	json_day_count(node, "rolls_out", out);
	json_day_count(node, "loads", plan->load_count);
	json_day_count(node, "loads_today", plan->today_count);
	json_node_whole(node, "end_s", plan->end_s);
	json_day_stamp(node, emission, "end", plan->end_s, true);
	json_node_whole(node, "all_dry_s", plan->all_dry_s);
	json_day_stamp(node, emission, "all_dry", plan->all_dry_s, true);
	json_node_flag(node, "order_proven", plan->is_order_proven);
	json_node_whole(node, "end_bound_s", plan->end_bound_s);
	json_day_count(node, "dryer_most", plan->dryer_most);
	json_day_count(node, "dryer_waits", plan->dryer_waits);
}

/* ---- processes ---- */

static void put_bound(struct json_node parent, const struct plan_kind *kind)
{
	static const char *const words[] = {
		[PACKING_BOUND_NONE] = "none",	   [PACKING_BOUND_SPACE] = "space", [PACKING_BOUND_REELS] = "reels",
		[PACKING_BOUND_AREA] = "area",	   [PACKING_BOUND_LARGE] = "large", [PACKING_BOUND_SPREAD] = "spread",
		[PACKING_BOUND_SEARCH] = "search",
	};
	const struct packing *packing = kind->packing;
	struct json_node node = json_node_object(parent, "bound");
	json_node_text(node, "kind", text_from(words[packing->bound]));
	json_recipe_text_or_null(node, "format", packing->bound == PACKING_BOUND_REELS ? bound_format(kind) : TEXT(""));
	if (packing->bound_denominator > 0) {
		json_node_whole(node, "numerator", packing->bound_numerator);
		json_node_whole(node, "denominator", packing->bound_denominator);
	} else {
		json_node_null(node, "numerator");
		json_node_null(node, "denominator");
	}
}

static void put_packing(struct json_node node, const struct emission *emission, const struct plan_kind *kind)
{
	const struct packing *packing = kind->packing;
	json_day_count(node, "loads", packing->load_count);
	json_day_count(node, "loads_least", packing->loads_least);
	json_node_flag(node, "loads_proven", packing->is_proven_loads);
	put_bound(node, kind);
	json_node_text(node, "bound_words", wording_plain(emission->arena, bound_words(emission, kind)));
	json_recipe_text_or_null(node, "leading_bath",
				 kind->leading ? parts_name(emission, &kind->leading->declared) : TEXT(""));
	json_day_count(node, "fills", packing->fill_count);
	json_day_count(node, "fills_least", packing->fills_least);
	json_node_flag(node, "fills_proven", packing->is_proven_fills);
	json_day_count(node, "splits", packing->split_count);
	json_day_count(node, "splits_least", packing->splits_least);
	json_node_flag(node, "splits_proven", packing->is_proven_splits);
}

static void put_process(struct json_node list, const struct emission *emission, size_t index)
{
	const struct plan_kind *kind = &emission->plan->kinds[index];
	const struct process *process = kind->process;
	struct json_node node = json_node_object(list, NULL);
	json_day_count(node, "number", index + 1);
	json_day_declared(node, emission, &process->declared);
	if (span_is_set(process->family_span))
		json_node_text(node, "family", family_row(process->family)->word);
	else
		json_node_null(node, "family");
	json_node_ratio(node, "push_stops", process->push.value, 1000);
	json_node_text(node, "fingerprint", process->fingerprint);
	json_day_count(node, "rolls", kind->roll_count);
	if (process->tank)
		json_node_text(node, "tank", parts_name(emission, &process->tank->declared));
	else
		json_node_null(node, "tank");
	put_packing(node, emission, kind);
}

/* ---- tasks ---- */

static void put_task(struct json_node list, const struct emission *emission, size_t index)
{
	const struct day_plan *plan = emission->plan;
	const struct plan_task *task = &plan->tasks[index];
	const struct plan_task_row *row = plan_task_row(task->kind);
	bool has_bath = task->solution != NULL;
	struct json_node node = json_node_object(list, NULL);
	json_day_count(node, "number", index + 1);
	json_node_text(node, "kind", row->word);
	json_node_text(node, "title", row->title);
	json_node_whole(node, "start_s", task->start_s);
	json_node_whole(node, "end_s", task->end_s);
	json_day_stamp(node, emission, "start", task->start_s, true);
	json_day_stamp(node, emission, "end", task->end_s, true);
	json_node_flag(node, "hands", task->needs_hands);
	json_day_time(node, "load", task->load < plan->load_count ? (int64_t)plan->loads[task->load].number : 0,
		      task->load < plan->load_count);
	json_recipe_text_or_null(node, "bath", has_bath ? parts_name(emission, &task->solution->declared) : TEXT(""));
	json_day_time(node, "mix", (int64_t)task->fill + 1, has_bath);
	if (task->volume > 0)
		json_day_volume(node, "volume_ml", task->volume);
	else
		json_node_null(node, "volume_ml");
	json_day_time(node, "rolls", task->rolls, task->rolls > 0);
}

/* ---- loads ---- */

static void put_places(struct json_node node, const struct emission *emission, const struct plan_load *load)
{
	struct json_node list = json_node_list(node, "places");
	for (size_t i = 0; i < load->place_count; i++) {
		struct json_node place = json_node_object(list, NULL);
		json_day_count(place, "reel", load->places[i].reel);
		json_day_count(place, "hang", load->place_count - i);
		json_recipe_text_or_null(place, "mark", load->places[i].mark);
		json_day_roll(place, "roll", emission, load->places[i].roll);
	}
}

static void put_steps(struct json_node load, const struct emission *own)
{
	struct json_node list = json_node_list(load, "steps");
	for (size_t i = 0; own->timeline && i < own->timeline->step_count; i++) {
		const struct timeline_step *timed = &own->timeline->steps[i];
		uint32_t bottle = own->process->steps[i].bottle;
		struct json_node node = json_node_object(list, NULL);
		json_day_count(node, "number", i + 1);
		json_node_text(node, "name", wording_step(own, i));
		json_recipe_text_or_null(node, "bath", wording_bath(own, i));
		json_day_time(node, "bottle", bottle, bottle > 0);
		json_recipe_seconds(node, "pour_s", timed->pour_ms);
		json_recipe_seconds(node, "low_s", timed->time.low_ms);
		json_recipe_seconds_or_null(node, "high_s", timed->time.high_ms, TIME_OPEN);
		json_recipe_text_or_null(node, "reason", own->used ? this_run_reason(own, i) : TEXT(""));
	}
}

static void put_clocks(struct json_node node, const struct emission *emission, const struct plan_load *load)
{
	const struct {
		const char *seconds, *stamp;
		int64_t at_s;
	} moments[] = { { "start_s", "start", load->start_s },
			{ "pour_s", "pour", load->pour_s },
			{ "out_s", "out", load->out_s },
			{ "hung_s", "hung", load->hung_s },
			{ "dry_s", "dry", load->dry_s } };
	for (size_t i = 0; i < sizeof moments / sizeof moments[0]; i++)
		json_day_time(node, moments[i].seconds, moments[i].at_s, load->is_today);
	for (size_t i = 0; i < sizeof moments / sizeof moments[0]; i++)
		json_day_stamp(node, emission, moments[i].stamp, moments[i].at_s, load->is_today);
}

static void put_load(struct json_node list, const struct emission *emission, const struct plan_load *load)
{
	const struct day_plan *plan = emission->plan;
	struct emission own = parts_of_load(emission, load);
	size_t tank = parts_tank_of(plan, load);
	struct json_node node = json_node_object(list, NULL);
	json_day_count(node, "number", load->number);
	json_day_count(node, "process", load->kind + 1);
	json_day_time(node, "tank", (int64_t)tank + 1, tank < parts_tank_count(plan));
	json_node_flag(node, "today", load->is_today);
	json_day_rolls(node, "area_rolls", load->area_milli_rolls);
	json_node_flag(node, "temper_again", load->tempers_again);
	put_clocks(node, emission, load);
	put_places(node, emission, load);
	json_day_accounts(node, emission, load);
	put_steps(node, &own);
	plan_json_claims(node, emission, load);
}

/* ---- what belongs together, what would help ---- */

static void put_parties(struct json_node root, const struct emission *emission)
{
	struct json_node list = json_node_list(root, "parties");
	for (size_t i = 0; i < emission->plan->party_count; i++) {
		const struct plan_party *party = &emission->plan->parties[i];
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "name", party->name);
		json_node_flag(node, "together", party->is_together);
		json_day_count(node, "process", party->kind + 1);
		json_day_count(node, "rolls", party->roll_count);
		json_day_count(node, "loads", party->load_count);
		json_day_count(node, "least_loads", party->least_loads);
	}
}

static void put_remedies(struct json_node root, const struct emission *emission)
{
	struct json_node list = json_node_list(root, "remedies");
	for (size_t i = 0; i < emission->plan->remedy_count; i++) {
		const struct plan_remedy *remedy = &emission->plan->remedies[i];
		const struct plan_remedy_row *row = plan_remedy_row(remedy->kind);
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "kind", row->word);
		json_node_text(node, "title", row->title);
		json_node_flag(node, "fits", remedy->fits);
		json_day_count(node, "more_rolls", remedy->more_rolls);
		if (remedy->kind == PLAN_REMEDY_chemistry)
			json_day_volume(node, "amount", remedy->amount);
		else
			json_node_whole(node, "amount", remedy->amount);
		if (remedy->kind == PLAN_REMEDY_reels)
			json_node_text(node, "format", format_row(remedy->format)->word);
		else
			json_node_null(node, "format");
		json_node_whole(node, "end_s", remedy->end_s);
	}
}

static void put_allowed(struct json_node root, const struct emission *emission)
{
	const struct report *report = emission->report;
	struct json_node list = json_node_list(root, "allowed");
	for (size_t i = 0; report && i < report->count; i++) {
		const struct diagnostic *finding = &report->items[i];
		if (!finding->allowed.data)
			continue;
		struct json_node node = json_node_object(list, NULL);
		json_node_text(node, "check", check_row(finding->check)->name);
		json_node_text(node, "message", finding->message);
		json_node_text(node, "reason", finding->allowed);
	}
}

static void fill(struct json_node root, const void *subject)
{
	const struct emission *emission = subject;
	const struct day_plan *plan = emission->plan;
	json_node_text(root, "format", TEXT(PLAN_FORMAT));
	json_day(root, emission);
	json_day_count(root, "rolls", plan->day->roll_count);
	put_summary(root, emission);
	struct json_node processes = json_node_list(root, "processes");
	for (size_t i = 0; i < plan->kind_count; i++)
		put_process(processes, emission, i);
	plan_json_resources(root, emission);
	plan_json_solutions(root, emission);
	struct json_node tasks = json_node_list(root, "tasks");
	for (size_t i = 0; i < plan->task_count; i++)
		put_task(tasks, emission, i);
	struct json_node loads = json_node_list(root, "loads");
	for (size_t i = 0; i < plan->load_count; i++)
		put_load(loads, emission, &plan->loads[i]);
	put_parties(root, emission);
	json_day_left(root, emission);
	put_remedies(root, emission);
	put_allowed(root, emission);
}

void emit_plan_json(const struct emission *emission, struct output *output)
{
	json_tree_write(output, emission->arena, fill, emission);
}
