#include "emit/json_recipe.h"

#include "emit/cues/wording.h"

void json_recipe_seconds(struct json_node node, const char *key, int64_t time_ms)
{
	json_node_ratio(node, key, time_ms, MILLISECONDS_PER_SECOND);
}

void json_recipe_seconds_or_null(struct json_node node, const char *key, int64_t time_ms, int64_t none)
{
	if (time_ms == none)
		json_node_null(node, key);
	else
		json_recipe_seconds(node, key, time_ms);
}

void json_recipe_text_or_null(struct json_node node, const char *key, struct text text)
{
	if (text.length == 0)
		json_node_null(node, key);
	else
		json_node_text(node, key, text);
}

void json_recipe_celsius(struct json_node node, const char *key, int64_t temperature)
{
	json_node_ratio(node, key, temperature, TEMPERATURE_PER_KELVIN);
}

void json_recipe_process(struct json_node root, const struct emission *emission)
{
	const struct process *process = emission->process;
	struct json_node node = json_node_object(root, "process");
	json_node_text(node, "name", intern_text(emission->recipe->names, process->declared.name));
	json_recipe_text_or_null(node, "title", process->declared.title.text);
	if (span_is_set(process->family_span))
		json_node_text(node, "family", family_row(process->family)->word);
	else
		json_node_null(node, "family");
	json_recipe_text_or_null(node, "varies", intern_text(emission->recipe->names, process->parent));
}

void json_recipe_window(struct json_node parent, const char *key, const struct temperature_window *window)
{
	static const char *const forms[] = {
		[WINDOW_POINT] = "point", [WINDOW_TOLERANCE] = "tolerance", [WINDOW_RANGE] = "range"
	};
	if (!span_is_set(window->span)) {
		json_node_null(parent, key);
		return;
	}
	struct json_node node = json_node_object(parent, key);
	json_node_text(node, "form", text_from(forms[window->form]));
	json_recipe_celsius(node, "nominal_c", window->nominal);
	json_recipe_celsius(node, "low_c", window->low);
	json_recipe_celsius(node, "high_c", window->high);
	json_node_text(node, "written_in", unit_row(window->unit)->canonical);
}

void json_recipe_time(struct json_node parent, const char *key, const struct time_window *time)
{
	static const char *const forms[] = {
		[TIME_EXACT] = "exact", [TIME_AT_LEAST] = "at-least", [TIME_RANGE] = "range"
	};
	if (!span_is_set(time->span)) {
		json_node_null(parent, key);
		return;
	}
	struct json_node node = json_node_object(parent, key);
	json_node_text(node, "form", text_from(forms[time->form]));
	json_recipe_seconds(node, "low_s", time->low_ms);
	json_recipe_seconds_or_null(node, "high_s", time->high_ms, TIME_OPEN);
}

void json_recipe_step(struct json_node node, const struct emission *emission, size_t index)
{
	const struct step *step = &emission->process->steps[index];
	json_node_whole(node, "number", (int64_t)index + 1);
	json_node_text(node, "name", wording_step(emission, index));
	json_node_text(node, "role", role_row(step->role)->word);
	json_recipe_text_or_null(node, "bath", wording_bath(emission, index));
	if (step->bottle > 0)
		json_node_whole(node, "bottle", step->bottle);
	else
		json_node_null(node, "bottle");
}
