/* Cues as JSON: docs/schemas/cues.schema.json describes every key. Times are exact, in seconds. */
#include "emit/cues/wording.h"
#include "emit/this_run.h"
#include "emit/escape/json_tree.h"

#define CUES_FORMAT "wetside-cues/1"

static void put_seconds(struct json_node node, const char *key, int64_t time_ms)
{
	json_node_ratio(node, key, time_ms, MILLISECONDS_PER_SECOND);
}

static void put_seconds_or_null(struct json_node node, const char *key, int64_t time_ms, int64_t none)
{
	if (time_ms == none)
		json_node_null(node, key);
	else
		put_seconds(node, key, time_ms);
}

static void put_text_or_null(struct json_node node, const char *key, struct text text)
{
	if (text.length == 0)
		json_node_null(node, key);
	else
		json_node_text(node, key, text);
}

static void put_process(struct json_node root, const struct emission *emission)
{
	const struct process *process = emission->process;
	struct json_node node = json_node_object(root, "process");
	json_node_text(node, "name", intern_text(emission->recipe->names, process->declared.name));
	put_text_or_null(node, "title", process->declared.title.text);
	if (span_is_set(process->family_span))
		json_node_text(node, "family", family_row(process->family)->word);
	else
		json_node_null(node, "family");
	put_text_or_null(node, "varies", intern_text(emission->recipe->names, process->parent));
}

static void put_totals(struct json_node root, const struct timeline *timeline)
{
	struct json_node node = json_node_object(root, "totals");
	put_seconds(node, "wet_min_s", timeline->wet_min_ms);
	put_seconds_or_null(node, "wet_max_s", timeline->wet_max_ms, TIME_OPEN);
	put_seconds(node, "total_min_s", timeline->total_min_ms);
	put_seconds_or_null(node, "total_max_s", timeline->total_max_ms, TIME_OPEN);
}

static void put_window(struct json_node step, const char *key, const struct temperature_window *window)
{
	static const char *const forms[] = {
		[WINDOW_POINT] = "point", [WINDOW_TOLERANCE] = "tolerance", [WINDOW_RANGE] = "range"
	};
	if (!span_is_set(window->span)) {
		json_node_null(step, key);
		return;
	}
	struct json_node node = json_node_object(step, key);
	json_node_text(node, "form", text_from(forms[window->form]));
	json_node_ratio(node, "nominal_c", window->nominal, TEMPERATURE_PER_KELVIN);
	json_node_ratio(node, "low_c", window->low, TEMPERATURE_PER_KELVIN);
	json_node_ratio(node, "high_c", window->high, TEMPERATURE_PER_KELVIN);
	json_node_text(node, "written_in", unit_row(window->unit)->canonical);
}

static void put_time(struct json_node step, const struct time_window *time)
{
	static const char *const forms[] = {
		[TIME_EXACT] = "exact", [TIME_AT_LEAST] = "at-least", [TIME_RANGE] = "range"
	};
	if (!span_is_set(time->span)) {
		json_node_null(step, "time");
		return;
	}
	struct json_node node = json_node_object(step, "time");
	json_node_text(node, "form", text_from(forms[time->form]));
	put_seconds(node, "low_s", time->low_ms);
	put_seconds_or_null(node, "high_s", time->high_ms, TIME_OPEN);
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
	put_seconds(node, "low_s", used->time.low_ms);
	put_seconds_or_null(node, "high_s", used->time.high_ms, TIME_OPEN);
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
	json_node_whole(node, "number", (int64_t)index + 1);
	json_node_text(node, "name", wording_step(emission, index));
	json_node_text(node, "role", role_row(step->role)->word);
	put_text_or_null(node, "bath", wording_bath(emission, index));
	if (step->bottle > 0)
		json_node_whole(node, "bottle", step->bottle);
	else
		json_node_null(node, "bottle");
	put_window(node, "window", &step->at);
	put_window(node, "pour_window", &step->pour_at);
	put_window(node, "mean_window", &step->mean);
	put_time(node, &step->time);
	put_used(node, emission, index);
	json_node_text(node, "time_starts",
		       step->starts == TIME_STARTS_WHEN_FULL ? TEXT("when-full") : TEXT("at-first-pour"));
	json_node_flag(node, "includes_draining", step->includes_draining);
	json_node_flag(node, "is_poured", timed->is_poured);
	json_node_flag(node, "is_wet", timed->is_wet);
	put_seconds(node, "pour_s", timed->pour_ms);
	put_seconds(node, "full_s", timed->full_ms);
	put_seconds(node, "start_s", timed->start_ms);
	put_seconds(node, "time_end_s", timed->time_end_ms);
	put_seconds(node, "drain_s", timed->drain_ms);
	put_seconds(node, "end_s", timed->end_ms);
	put_seconds_or_null(node, "latest_end_s", timed->latest_end_ms, TIMELINE_NEVER);
	put_seconds_or_null(node, "light_s", timed->light_ms, TIMELINE_NEVER);
}

static void put_cue(struct json_node list, const struct emission *emission, const struct cue *cue, bool assumes)
{
	const struct timeline_step *timed = &emission->timeline->steps[cue->step];
	struct json_node node = json_node_object(list, NULL);
	put_seconds(node, "at_s", cue->at_ms);
	put_seconds(node, "since_pour_s", cue->at_ms - timed->pour_ms);
	put_seconds(node, "since_start_s", cue->at_ms - timed->start_ms);
	json_node_whole(node, "step", (int64_t)cue->step + 1);
	json_node_text(node, "step_name", wording_step(emission, cue->step));
	json_node_text(node, "kind", cue_row(cue->kind)->word);
	put_seconds_or_null(node, "until_s", cue->until_ms, cue->at_ms);
	if (cue->count > 0)
		json_node_whole(node, "count", cue->count);
	else
		json_node_null(node, "count");
	json_node_flag(node, "rings", cue_row(cue->kind)->is_signal);
	json_node_flag(node, "assumes_earliest_end", assumes);
	json_node_text(node, "text", wording_cue_plain(emission, cue));
}

static void fill(struct json_node root, const void *subject)
{
	const struct emission *emission = subject;
	const struct timeline *timeline = emission->timeline;
	json_node_text(root, "format", TEXT(CUES_FORMAT));
	put_process(root, emission);
	json_node_text(root, "fingerprint", emission->process->fingerprint);
	put_text_or_null(root, "this_run", this_run_line(emission));
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
