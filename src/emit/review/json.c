/* A review as JSON: docs/schemas/review.schema.json describes every key. */
#include "emit/emission.h"
#include "emit/escape/json_tree.h"
#include "emit/json_recipe.h"
#include "emit/review/wording.h"

#define REVIEW_FORMAT "wetside-review/1"

static void put_figure(struct json_node node, const char *key, int64_t figure, int64_t per)
{
	if (figure == RUN_LOG_NONE)
		json_node_null(node, key);
	else
		json_node_ratio(node, key, figure, per);
}

static void put_development(struct json_node parent, const struct review_step *step)
{
	struct json_node node;

	if (!step->has_effective) {
		json_node_null(parent, "development");
		return;
	}
	node = json_node_object(parent, "development");
	json_node_ratio(node, "effective_s", step->effective_ms, MILLISECONDS_PER_SECOND);
	json_node_ratio(node, "wanted_s", step->wanted_ms, MILLISECONDS_PER_SECOND);
	json_node_ratio(node, "stray_percent", step->stray_percent, PERCENT_ONE);
	json_node_ratio(node, "working_c", step->run->development.working_milli_c, 1000);
	json_node_flag(node, "is_measured", step->is_measured);
	json_node_text(node, "judgement",
		       step->is_spoilt ? TEXT("spoilt")
		       : step->strays  ? TEXT("strays")
				       : TEXT("right"));
}

static void put_step(struct json_node list, const struct review_step *step, struct arena *arena)
{
	const struct run_log_step *run = step->run;
	struct json_node node = json_node_object(list, NULL);
	struct json_node departures;
	struct text departure;

	json_node_whole(node, "number", (int64_t)run->number);
	json_node_text(node, "name", run->name);
	json_recipe_text_or_null(node, "bath", run->bath);
	json_node_whole(node, "bottle", run->bottle);
	json_recipe_text_or_null(node, "begun", run->begun_stamp);
	put_figure(node, "planned_drain_s", run->plan.drain_cs, 100);
	put_figure(node, "planned_end_s", run->plan.end_cs, 100);
	put_figure(node, "drained_s", run->drained_cs, 100);
	put_figure(node, "over_s", run->over_cs, 100);
	put_figure(node, "off_s", step->has_off ? step->off_cs : RUN_LOG_NONE, 100);
	json_node_text(node, "verdict", review_verdict_row(step->verdict)->word);
	json_recipe_text_or_null(node, "reading", run->reading);
	put_figure(node, "measured_c", run->measured_milli_c, 1000);
	json_node_flag(node, "is_outside", step->is_outside);
	json_recipe_text_or_null(node, "time_reason", run->why);
	put_development(node, step);
	departures = json_node_list(node, "departures");
	for (size_t i = 0; (departure = review_departure(step, i, arena)).length > 0; i++)
		json_node_text(departures, NULL, departure);
}

static void put_rolls(struct json_node node, const struct run_log *log)
{
	struct json_node list = json_node_list(node, "rolls");

	for (const struct run_log_roll *roll = log->rolls; roll != NULL; roll = roll->next) {
		struct json_node item = json_node_object(list, NULL);

		json_node_whole(item, "reel", roll->reel);
		json_node_text(item, "label", roll->label);
		json_node_text(item, "format", roll->format);
		json_recipe_text_or_null(item, "origin", roll->origin);
		json_recipe_text_or_null(item, "together", roll->together);
		json_recipe_text_or_null(item, "mark", roll->mark);
		json_recipe_text_or_null(item, "conditions", roll->conditions);
		for (int id = 0; id < ROLL_WORDS_COUNT; id++)
			json_recipe_text_or_null(item, roll_words_row((enum roll_words_id)id)->key,
						 roll->words.said[id]);
	}
}

static void put_review(struct json_node list, const struct review *review, struct arena *arena)
{
	const struct run_log *log = review->log;
	struct json_node node = json_node_object(list, NULL);
	struct json_node steps;

	json_node_text(node, "log", log->name);
	json_node_text(node, "process", log->process);
	json_node_text(node, "kind", review_kind_word(review));
	json_recipe_text_or_null(node, "title", log->title);
	json_recipe_text_or_null(node, "fingerprint", log->fingerprint);
	json_recipe_text_or_null(node, "this_run", log->this_run);
	json_recipe_text_or_null(node, "day", log->day);
	json_recipe_text_or_null(node, "day_title", log->day_title);
	json_node_whole(node, "load", log->load_number);
	json_recipe_text_or_null(node, "begun", log->started_stamp);
	json_recipe_text_or_null(node, "last", log->last_stamp);
	json_node_text(node, "end", review_end_word(log));
	json_node_whole(node, "speed", log->speed);
	json_node_whole(node, "resumed", (int64_t)log->resumed_times);
	json_node_whole(node, "unread_lines", (int64_t)log->unread_count);
	json_node_flag(node, "is_last_line_cut_off", log->is_last_cut_off);
	steps = json_node_list(node, "steps");
	for (size_t i = 0; i < log->step_count; i++)
		put_step(steps, &review->steps[i], arena);
	put_rolls(node, log);
}

/* The baths that are on hand after all, or those that others have taken the place of. */
static void put_baths(struct json_node root, const char *key, const struct emission *emission, bool are_replaced)
{
	struct json_node list = json_node_list(root, key);

	for (const struct review_bath *bath = emission->reviews->baths; bath != NULL; bath = bath->next) {
		struct json_node node;

		if (bath->is_replaced != are_replaced)
			continue;
		node = json_node_object(list, NULL);
		json_node_text(node, "solution", bath->name);
		json_recipe_text_or_null(node, "mixed", bath->mixed);
		json_node_ratio(node, "volume_ml", bath->volume_tenth_ml, 10);
		json_node_ratio(node, "done_rolls", bath->done_milli_rolls, 1000);
		json_node_text(node, "line", review_on_hand(bath, emission->arena));
	}
}

static void fill(struct json_node root, const void *subject)
{
	const struct emission *emission = subject;
	const struct reviews *reviews = emission->reviews;
	struct json_node list;

	json_node_text(root, "format", TEXT(REVIEW_FORMAT));
	list = json_node_list(root, "runs");
	for (size_t i = 0; i < reviews->count; i++)
		put_review(list, &reviews->items[i], emission->arena);
	put_baths(root, "on_hand", emission, false);
	put_baths(root, "replaced", emission, true);
}

void emit_review_json(const struct emission *emission, struct output *output)
{
	json_tree_write(output, emission->arena, fill, emission);
}
