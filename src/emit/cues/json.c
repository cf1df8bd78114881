/* Cues as JSON: docs/schemas/cues.schema.json describes every key. Times are exact, in seconds. */
#include "compute/day_plan.h"
#include "emit/cues/wording.h"
#include "emit/day/json_day.h"
#include "emit/json_recipe.h"
#include "emit/this_run.h"
#include "model/date.h"

#define CUES_FORMAT "wetside-cues/1"

static void put_totals(struct json_node root, const struct timeline *timeline)
{
	struct json_node node = json_node_object(root, "totals");
	json_recipe_seconds(node, "wet_min_s", timeline->wet_min_ms);
	json_recipe_seconds_or_null(node, "wet_max_s", timeline->wet_max_ms, TIME_OPEN);
	json_recipe_seconds(node, "total_min_s", timeline->total_min_ms);
	json_recipe_seconds_or_null(node, "total_max_s", timeline->total_max_ms, TIME_OPEN);
}

/* The time of this run, and why it is not the declared one. */
static void put_used(struct json_node step, const struct emission *emission, size_t index)
{
	const struct used_time *used = &emission->used[index];
	struct json_node node;

	if (!used->is_for_temperature && !used->is_for_done) {
		json_node_null(step, "used_time");
		return;
	}
	node = json_node_object(step, "used_time");
	json_recipe_seconds(node, "low_s", used->time.low_ms);
	json_recipe_seconds_or_null(node, "high_s", used->time.high_ms, TIME_OPEN);
	if (used->is_for_temperature)
		json_node_ratio(node, "measured_c", used->reading, TEMPERATURE_PER_KELVIN);
	else
		json_node_null(node, "measured_c");
	json_node_ratio(node, "done_rolls", used->done_milli_rolls, 1000);
	json_node_ratio(node, "lengthened_percent", used->lengthened_percent, PERCENT_ONE);
	json_node_text(node, "reason", this_run_reason(emission, index));
}

static void put_step(struct json_node list, const struct emission *emission, size_t index)
{
	const struct step *step = &emission->process->steps[index];
	const struct timeline_step *timed = &emission->timeline->steps[index];
	struct json_node node = json_node_object(list, NULL);
	json_recipe_step(node, emission, index);
	json_recipe_window(node, "window", &step->at);
	json_recipe_window(node, "pour_window", &step->pour_at);
	json_recipe_window(node, "mean_window", &step->mean);
	json_recipe_time(node, "time", &step->time);
	put_used(node, emission, index);
	json_node_text(node, "time_starts",
		       step->starts == TIME_STARTS_WHEN_FULL ? TEXT("when-full") : TEXT("at-first-pour"));
	json_node_flag(node, "includes_draining", step->includes_draining);
	json_node_flag(node, "is_poured", timed->is_poured);
	json_node_flag(node, "is_wet", timed->is_wet);
	json_recipe_seconds(node, "pour_s", timed->pour_ms);
	json_recipe_seconds(node, "full_s", timed->full_ms);
	json_recipe_seconds(node, "start_s", timed->start_ms);
	json_recipe_seconds(node, "time_end_s", timed->time_end_ms);
	json_recipe_seconds(node, "drain_s", timed->drain_ms);
	json_recipe_seconds(node, "end_s", timed->end_ms);
	json_recipe_seconds_or_null(node, "latest_end_s", timed->latest_end_ms, TIMELINE_NEVER);
	json_recipe_seconds_or_null(node, "light_s", timed->light_ms, TIMELINE_NEVER);
}

static void put_cue(struct json_node list, const struct emission *emission, const struct cue *cue, bool assumes)
{
	const struct timeline_step *timed = &emission->timeline->steps[cue->step];
	struct json_node node = json_node_object(list, NULL);
	json_recipe_seconds(node, "at_s", cue->at_ms);
	json_recipe_seconds(node, "since_pour_s", cue->at_ms - timed->pour_ms);
	json_recipe_seconds(node, "since_start_s", cue->at_ms - timed->start_ms);
	json_node_whole(node, "step", (int64_t)cue->step + 1);
	json_node_text(node, "step_name", wording_step(emission, cue->step));
	json_node_text(node, "kind", cue_row(cue->kind)->word);
	json_recipe_seconds_or_null(node, "until_s", cue->until_ms, cue->at_ms);
	if (cue->count > 0)
		json_node_whole(node, "count", cue->count);
	else
		json_node_null(node, "count");
	json_node_flag(node, "rings", cue_row(cue->kind)->is_signal);
	json_node_flag(node, "assumes_earliest_end", assumes);
	json_node_text(node, "text", wording_cue_plain(emission, cue));
}

/* Which load of a day's plan it is, and its rolls as they are wound on. */
static void put_load(struct json_node root, const struct emission *emission)
{
	const struct plan_load *load = emission->load;
	struct json_node node = json_node_object(root, "load");
	json_node_whole(node, "number", (int64_t)load->number);
	json_node_whole(node, "of", (int64_t)emission->plan->load_count);
	json_node_text(node, "day", date_print(emission->arena, emission->plan->day->date));
	json_recipe_text_or_null(node, "title", emission->plan->day->declared.title.text);
	json_node_whole(node, "pour_s", load->pour_s);
	struct json_node rolls = json_node_list(node, "rolls");
	for (size_t i = 0; i < load->place_count; i++) {
		const struct plan_place *place = &load->places[i];
		struct json_node roll = json_node_object(rolls, NULL);
		json_node_whole(roll, "reel", (int64_t)place->reel);
		json_node_text(roll, "label", place->roll->label);
		json_node_text(roll, "format", format_row(place->roll->format)->word);
		json_recipe_text_or_null(roll, "mark", place->mark);
		json_recipe_text_or_null(roll, "origin", place->roll->origin);
		json_day_conditions(roll, place->roll);
		json_day_said(roll, place->roll);
	}
}

static void fill(struct json_node root, const void *subject)
{
	const struct emission *emission = subject;
	const struct timeline *timeline = emission->timeline;
	json_node_text(root, "format", TEXT(CUES_FORMAT));
	json_recipe_process(root, emission);
	json_node_text(root, "fingerprint", emission->process->fingerprint);
	json_recipe_text_or_null(root, "this_run", this_run_line(emission));
	if (emission->load)
		put_load(root, emission);
	json_node_text(root, "assumes", TEXT(WORDING_ASSUMES_EARLIEST));
	put_totals(root, timeline);
	struct json_node steps = json_node_list(root, "steps");
	for (size_t i = 0; i < timeline->step_count; i++)
		put_step(steps, emission, i);
	struct json_node cues = json_node_list(root, "cues");
	size_t first_longer = wording_first_longer(emission);
	for (size_t i = 0; i < timeline->cue_count; i++)
		put_cue(cues, emission, &timeline->cues[i], timeline->cues[i].step > first_longer);
}

void emit_cues_json(const struct emission *emission, struct output *output)
{
	json_tree_write(output, emission->arena, fill, emission);
}
