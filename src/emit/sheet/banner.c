/* What heads the sheet: which run this is, and what holds for all of it. */
#include "compute/day_plan.h"
#include "emit/sheet/clock.h"
#include "emit/sheet/ladder.h"
#include "emit/sheet/words.h"
#include "emit/this_run.h"

static cmark_node *add_fact(struct sheet *sheet, cmark_node *list, enum sheet_mark_id mark, const char *label)
{
	cmark_node *item = document_add_item(sheet->document, list, sheet_mark(mark));
	cmark_node *strong = document_add(sheet->document, item, CMARK_NODE_STRONG, sheet_mark(MARK_label));
	document_format(sheet->document, strong, "%s:", label);
	document_string(sheet->document, item, " ");
	return item;
}

static struct text time_range(struct sheet *sheet, int64_t min_ms, int64_t max_ms)
{
	struct text min = words_clock(sheet, min_ms);
	if (max_ms == TIME_OPEN)
		return text_format(sheet->arena, "at least" NBSP "%.*s", TEXT_ARGUMENT(min));
	struct text max = words_clock(sheet, max_ms);
	if (text_equal(min, max))
		return min;
	return text_format(sheet->arena, "%.*s to" NBSP "%.*s", TEXT_ARGUMENT(min), TEXT_ARGUMENT(max));
}

/* How much the drying adds, at the least and at the most. */
static struct text drying(struct sheet *sheet)
{
	const struct timeline *timeline = sheet->timeline;
	int64_t min_ms = 0, max_ms = 0;
	for (size_t i = 0; i < timeline->step_count; i++) {
		const struct timeline_step *at = &timeline->steps[i];
		if (role_row(sheet->process->steps[i].role)->action != ACTION_DRIES)
			continue;
		int64_t longest = at->latest_end_ms == TIMELINE_NEVER ? at->end_ms : at->latest_end_ms;
		min_ms += at->end_ms - at->pour_ms;
		max_ms = at->time.form == TIME_AT_LEAST || max_ms == TIME_OPEN ? TIME_OPEN
									       : max_ms + longest - at->pour_ms;
	}
	if (min_ms == max_ms && min_ms % (60 * 60 * MILLISECONDS_PER_SECOND) == 0 && min_ms > 0)
		return quantity_print_keeping(sheet->arena, min_ms);
	return min_ms > 0 ? time_range(sheet, min_ms, max_ms) : TEXT("");
}

static void add_times(struct sheet *sheet, cmark_node *list)
{
	const struct timeline *timeline = sheet->timeline;
	cmark_node *item = add_fact(sheet, list, MARK_main_fact, "In the baths");
	sheet_strong(sheet, item, MARK_figure, time_range(sheet, timeline->wet_min_ms, timeline->wet_max_ms));
	struct text dry = drying(sheet);
	if (dry.length > 0)
		document_format(sheet->document, item, ", then drying %.*s", TEXT_ARGUMENT(dry));
}

static void add_tank(struct sheet *sheet, cmark_node *list)
{
	const struct tank *tank = sheet->process->tank;
	if (!tank)
		return;
	cmark_node *item = add_fact(sheet, list, MARK_main_fact, "Tank");
	struct text holds = words_volume(sheet, tank->holds.value);
	sheet_strong(sheet, item, MARK_figure, holds);
	document_string(sheet->document, item, ", ");
	words_add_title(sheet, item, &tank->declared);
	if (span_is_set(tank->bath.span)) {
		struct text bath = words_window(sheet, &tank->bath);
		document_format(sheet->document, item, ", in a water bath at %.*s", TEXT_ARGUMENT(bath));
	}
}

static void add_push(struct sheet *sheet, cmark_node *list)
{
	int64_t push = sheet->process->push.value;
	if (push == 0)
		return;
	int64_t size = push < 0 ? -push : push;
	cmark_node *item = add_fact(sheet, list, MARK_main_fact, push < 0 ? "Pull" : "Push");
	struct text stops = words_thousandths(sheet, size);
	stops = text_format(sheet->arena, "%.*s" NBSP "%s", TEXT_ARGUMENT(stops), size == 1000 ? "stop" : "stops");
	sheet_strong(sheet, item, MARK_figure, stops);
}

static void add_films(struct sheet *sheet, cmark_node *list)
{
	const struct process *process = sheet->process;
	if (process->film_count == 0)
		return;
	cmark_node *item = add_fact(sheet, list, MARK_COUNT, "Film");
	for (size_t i = 0; i < process->film_count; i++) {
		document_string(sheet->document, item, i > 0 ? ", " : "");
		words_add_title(sheet, item, &process->films[i]->declared);
	}
}

/* "2:00 of step 3, Fix": a moment of a step's time, or the step where it is its start. */
static struct text moment_words(struct sheet *sheet, size_t step, int64_t at_ms)
{
	const struct timeline_step *at = &sheet->timeline->steps[step];
	struct text name = words_step(sheet, &sheet->process->steps[step]);

	if (at_ms <= at->start_ms)
		return text_format(sheet->arena, "step" NBSP "%zu, %.*s", step + 1, TEXT_ARGUMENT(name));
	struct text within = words_clock(sheet, at_ms - at->start_ms);
	return text_format(sheet->arena, "%.*s of step" NBSP "%zu, %.*s", TEXT_ARGUMENT(within), step + 1,
			   TEXT_ARGUMENT(name));
}

/* Where the recipe waits for longer, what the film asks for is said too: it is what counts where a lid came off. */
static void add_borne(struct sheet *sheet, cmark_node *item, int64_t light_ms)
{
	const struct timeline *timeline = sheet->timeline;

	for (size_t i = 0; i < timeline->step_count; i++) {
		int64_t borne_ms = timeline->steps[i].bears_light_ms;
		if (borne_ms == TIMELINE_NEVER || borne_ms == light_ms)
			continue;
		struct text moment = moment_words(sheet, i, borne_ms);
		document_format(sheet->document, item, "; film bears light from %.*s", TEXT_ARGUMENT(moment));
	}
}

static void add_light(struct sheet *sheet, cmark_node *list)
{
	const struct timeline *timeline = sheet->timeline;
	size_t i = 0;
	while (i < timeline->step_count && timeline->steps[i].light_ms == TIMELINE_NEVER)
		i++;
	cmark_node *item = add_fact(sheet, list, MARK_COUNT, "Light");
	if (i == timeline->step_count) {
		document_string(sheet->document, item, "keep the lid on until the last bath is over.");
		return;
	}
	int64_t light_ms = timeline->steps[i].light_ms;
	struct text moment = moment_words(sheet, i, light_ms);
	struct text run = words_clock(sheet, light_ms);
	cmark_node *strong = document_add(sheet->document, item, CMARK_NODE_STRONG, sheet_mark(MARK_key));
	document_format(sheet->document, strong, "lid on until %.*s", TEXT_ARGUMENT(moment));
	document_format(sheet->document, item, " (run" NBSP "%.*s)", TEXT_ARGUMENT(run));
	add_borne(sheet, item, light_ms);
	document_string(sheet->document, item,
			". Off too soon: lid on, finish, write the time. "
			"Power cut: developer by a watch, later baths can wait.");
}

/* A step that counts its time by another rule says so itself. */
static void add_clock_rule(struct sheet *sheet, cmark_node *list)
{
	const char *rule = clock_rule(sheet);
	if (!rule)
		return;
	cmark_node *item = add_fact(sheet, list, MARK_COUNT, "Clock");
	document_format(sheet->document, item, "%s.", rule);
	const struct tank *tank = sheet->process->tank;
	if (tank && tank->fill.value > 0) {
		struct text fill = words_duration(sheet, tank->fill.value);
		struct text drain = words_duration(sheet, tank->drain.value);
		document_format(sheet->document, item, " The tank fills in %.*s, drains in %.*s.", TEXT_ARGUMENT(fill),
				TEXT_ARGUMENT(drain));
	}
}

static void add_thermometer(struct sheet *sheet, cmark_node *list)
{
	const struct thermometer *thermometer = sheet->process->thermometer;
	if (!thermometer)
		return;
	cmark_node *item = add_fact(sheet, list, MARK_COUNT, "Thermometer");
	words_add_thermometer(sheet, item, thermometer);
}

static void add_differences(struct sheet *sheet, cmark_node *list)
{
	const struct process *process = sheet->process;
	if (process->parent == 0)
		return;
	cmark_node *item = add_fact(sheet, list, MARK_COUNT, "Differs");
	struct text parent = intern_text(sheet->emission->recipe->names, process->parent);
	document_format(sheet->document, item, "from %.*s in", TEXT_ARGUMENT(parent));
	size_t named = 0;
	for (size_t i = 0; i < process->step_count; i++) {
		if (process->steps[i].is_from_parent)
			continue;
		struct text step = words_step(sheet, &process->steps[i]);
		document_format(sheet->document, item, "%s step" NBSP "%zu, %.*s", named++ > 0 ? ";" : "", i + 1,
				TEXT_ARGUMENT(step));
	}
	document_string(sheet->document, item, named > 0 ? "." : " no step.");
}

static void add_this_run(struct sheet *sheet, cmark_node *list)
{
	struct text line = this_run_line(sheet->emission);
	if (line.length > 0)
		document_format(sheet->document, add_fact(sheet, list, MARK_COUNT, "This run"), "%.*s.",
				TEXT_ARGUMENT(line));
}

/* The rolls of the load, as they are wound on: the first lies at the bottom. */
static void add_rolls(struct sheet *sheet, cmark_node *list)
{
	const struct plan_load *load = sheet->emission->load;
	if (!load || load->place_count == 0)
		return;
	cmark_node *item = add_fact(sheet, list, MARK_COUNT, "Rolls, from the bottom");
	for (size_t i = 0; i < load->place_count; i++) {
		document_format(sheet->document, item, "%s%zu" NBSP, i > 0 ? ", " : "", load->places[i].reel);
		document_strong(sheet->document, item, load->places[i].roll->label);
	}
	document_string(sheet->document, item, ".");
}

static void add_kind(struct sheet *sheet, cmark_node *block)
{
	if (!span_is_set(sheet->process->family_span))
		return;
	const struct family_row *family = family_row(sheet->process->family);
	if (words_alike(family->word, family->makes) && words_share_stem(sheet->title, family->makes))
		return; /* the title says it */
	cmark_node *kind = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_kind));
	if (words_alike(family->word, family->makes)) {
		document_text(sheet->document, kind, family->makes);
		return;
	}
	document_strong(sheet->document, kind, family->word);
	document_format(sheet->document, kind, ", %.*s", TEXT_ARGUMENT(family->makes));
}

void sheet_banner(struct sheet *sheet, struct sheet_blocks *blocks)
{
	cmark_node *block = document_add(sheet->document, NULL, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_banner));
	cmark_node *title = document_add_heading(sheet->document, block, 1, NULL);
	words_add_title(sheet, title, &sheet->process->declared);
	add_kind(sheet, block);
	cmark_node *list = document_add_list(sheet->document, block, sheet_mark(MARK_facts));
	add_times(sheet, list);
	add_push(sheet, list);
	add_tank(sheet, list);
	add_films(sheet, list);
	add_light(sheet, list);
	add_clock_rule(sheet, list);
	add_thermometer(sheet, list);
	add_differences(sheet, list);
	add_this_run(sheet, list);
	add_rolls(sheet, list);
	ladder_add(sheet, block);
	sheet_block(sheet, blocks, SHEET_SINK, block);
}
