/* The forecast as JSON: docs/schemas/forecast.schema.json describes every key. Temperatures of the forecast are rounded
 * to 0.01 K, as everywhere; what the recipe declares is exact. */
#include "compute/cooling.h"
#include "compute/reading.h"
#include "compute/rounding.h"
#include "emit/cues/wording.h"
#include "emit/forecast/remarks.h"
#include "emit/json_recipe.h"
#include "emit/this_run.h"

#define FORECAST_FORMAT "wetside-forecast/1"

struct subject {
	const struct emission *emission;
	const struct forecast *forecasts;
};

static void put_celsius(struct json_node node, const char *key, bool is_known, double temp_c)
{
	if (is_known)
		json_recipe_celsius(node, key, forecast_temperature(temp_c));
	else
		json_node_null(node, key);
}

static void put_seconds(struct json_node node, const char *key, double time_s)
{
	json_recipe_seconds(node, key, forecast_time(time_s));
}

/* A point of the curve is where it is, not to the second. */
static void put_instant(struct json_node node, const char *key, double time_s)
{
	json_recipe_seconds(node, key, rounding_whole(time_s * MILLISECONDS_PER_SECOND));
}

static void put_volume(struct json_node node, const char *key, const struct quantity *volume)
{
	if (span_is_set(volume->span))
		json_node_ratio(node, key, volume->value, VOLUME_PER_ML);
	else
		json_node_null(node, key);
}

static void put_tank(struct json_node root, const struct emission *emission)
{
	const struct tank *tank = emission->process->tank;
	double rate;
	if (!tank) {
		json_node_null(root, "tank");
		return;
	}
	struct json_node node = json_node_object(root, "tank");
	bool has_rate = cooling_rate_of_test(&tank->cools, &rate);
	json_node_text(node, "name", intern_text(emission->recipe->names, tank->declared.name));
	put_volume(node, "holds_ml", &tank->holds);
	put_volume(node, "absorbs_ml", &tank->absorbs);
	put_volume(node, "carries_ml_per_reel", &tank->carries);
	json_node_flag(node, "stands_in_water_bath", span_is_set(tank->bath.span));
	put_celsius(node, "surroundings_c", has_rate, has_rate ? cooling_surroundings_c(emission->process) : 0);
}

static void put_remarks(struct json_node node, const struct emission *emission, const struct remarks *remarks)
{
	struct json_node list = json_node_list(node, "remarks");
	for (size_t i = 0; i < remarks->count; i++)
		json_node_text(list, NULL, wording_plain(emission->arena, remarks->items[i]));
}

static void put_outside(struct json_node node, const struct forecast *forecast)
{
	struct json_node list = json_node_list(node, "outside");
	for (size_t i = 0; i < forecast->outside_count; i++) {
		struct json_node stretch = json_node_object(list, NULL);
		put_seconds(stretch, "from_s", forecast->outside[i].from_s);
		put_seconds(stretch, "to_s", forecast->outside[i].to_s);
	}
}

static void put_effective(struct json_node node, const struct forecast *forecast)
{
	if (!forecast->has_effective) {
		json_node_null(node, "effective");
		return;
	}
	struct json_node effective = json_node_object(node, "effective");
	put_seconds(effective, "effective_s", forecast->effective_s);
	put_seconds(effective, "wanted_s", forecast->wanted_s);
	json_node_ratio(effective, "percent", forecast_percent(forecast), PERCENT_ONE);
	json_node_flag(effective, "strays", forecast->strays);
}

/* What the process's thermometer shows, at one of its divisions; null where it needs no correction. */
static void put_reading(struct json_node node, const char *key, const struct emission *emission, bool is_known,
			double temp_c)
{
	const struct thermometer *thermometer = emission->process->thermometer;
	int64_t figure = is_known ? forecast_temperature(temp_c) : 0;
	struct temperature_window point = { .form = WINDOW_POINT, .nominal = figure, .low = figure, .high = figure };
	if (is_known && reading_is_corrected(thermometer))
		json_recipe_celsius(node, key, reading_window(thermometer, &point).nominal);
	else
		json_node_null(node, key);
}

static void put_exact(struct json_node node, const struct emission *emission, const struct forecast *forecast)
{
	const struct forecast_exact *given = &forecast->exact;
	bool has_pour = given->pour != FORECAST_POUR_none;
	struct json_node exact = json_node_object(node, "exact");
	json_node_text(exact, "by", given->is_by_development ? TEXT("development") : TEXT("mean"));
	put_celsius(exact, "pour_c", has_pour, given->pour_c);
	put_reading(exact, "pour_reading_c", emission, has_pour, given->pour_c);
	json_node_text(exact, "pour_is", forecast_pour_row(given->pour)->word);
	put_celsius(exact, "water_bath_c", given->has_bath, given->bath_c);
}

static void put_curve(struct json_node node, const struct forecast *forecast, const struct timeline_step *timed)
{
	double interval_s = forecast_interval_s(forecast, FORECAST_STRETCHES_MOST);
	size_t count = forecast_point_count(forecast, interval_s);
	struct json_node list = json_node_list(node, "curve");
	for (size_t i = 0; i < count; i++) {
		double since_s = forecast_point_s(forecast, interval_s, i);
		struct json_node point = json_node_object(list, NULL);
		put_instant(point, "at_s", (double)timed->start_ms / MILLISECONDS_PER_SECOND + since_s);
		put_instant(point, "since_start_s", since_s);
		put_celsius(point, "temperature_c", true, forecast_temp_c(forecast, since_s));
	}
}

static void put_course(struct json_node step, const struct subject *subject, size_t index)
{
	const struct forecast *forecast = &subject->forecasts[index];
	if (forecast->state != FORECAST_made) {
		json_node_null(step, "forecast");
		return;
	}
	struct json_node node = json_node_object(step, "forecast");
	put_celsius(node, "met_c", forecast->is_met, forecast->met_c);
	put_celsius(node, "start_c", true, forecast->start_c);
	put_celsius(node, "mid_c", true, forecast->mid_c);
	put_celsius(node, "end_c", true, forecast->end_c);
	put_celsius(node, "mean_c", true, forecast->mean_c);
	json_node_text(node, "fit", forecast_fit_row(forecast->fit)->word);
	put_outside(node, forecast);
	put_effective(node, forecast);
	json_node_flag(node, "wants_remedy", forecast_wants_remedy(forecast));
	put_exact(node, subject->emission, forecast);
	put_curve(node, forecast, &subject->emission->timeline->steps[index]);
}

static void put_step(struct json_node list, const struct subject *subject, size_t index)
{
	const struct emission *emission = subject->emission;
	const struct forecast *forecast = &subject->forecasts[index];
	const struct step *step = &emission->process->steps[index];
	const struct timeline_step *timed = &emission->timeline->steps[index];
	struct json_node node = json_node_object(list, NULL);
	json_recipe_step(node, emission, index);
	json_recipe_window(node, "window", &step->at);
	json_recipe_window(node, "pour_window", &step->pour_at);
	json_recipe_window(node, "mean_window", &step->mean);
	json_recipe_time(node, "time", &timed->time);
	json_recipe_seconds(node, "start_s", timed->start_ms);
	json_recipe_seconds(node, "time_end_s", timed->time_end_ms);
	put_celsius(node, "pour_c", forecast->has_pour, forecast->pour_c);
	json_node_flag(node, "is_measured", forecast->is_measured);
	json_node_text(node, "state", forecast_state_row(forecast->state)->word);
	put_course(node, subject, index);
	struct remarks remarks = remarks_of_step(emission, forecast, index);
	put_remarks(node, emission, &remarks);
}

static void fill(struct json_node root, const void *given)
{
	const struct subject *subject = given;
	const struct emission *emission = subject->emission;
	struct remarks remarks = remarks_of_run(emission, subject->forecasts);
	json_node_text(root, "format", TEXT(FORECAST_FORMAT));
	json_recipe_process(root, emission);
	json_node_text(root, "fingerprint", emission->process->fingerprint);
	json_recipe_text_or_null(root, "this_run", this_run_line(emission));
	put_tank(root, emission);
	put_remarks(root, emission, &remarks);
	struct json_node steps = json_node_list(root, "steps");
	for (size_t i = 0; i < emission->process->step_count; i++)
		if (subject->forecasts[i].state != FORECAST_no_bath)
			put_step(steps, subject, i);
}

void emit_forecast_json(const struct emission *emission, struct output *output)
{
	struct subject subject = { emission, forecast_run(emission->process, emission->timeline, emission->arena) };
	json_tree_write(output, emission->arena, fill, &subject);
}
