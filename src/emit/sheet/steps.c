/* The steps: what a person at the sink reads while the clock runs. */
#include <inttypes.h>

#include "emit/sheet/agitation.h"
#include "emit/sheet/words.h"

static const char *const trouble[] = {
#define TROUBLE(action, words) [ACTION_##action] = words,
#include "emit/sheet/trouble.def"
#undef TROUBLE
};

static cmark_node *add_strong(struct sheet *sheet, cmark_node *parent, enum sheet_mark_id mark, struct text text)
{
	cmark_node *strong = document_add(sheet->document, parent, CMARK_NODE_STRONG, sheet_mark(mark));
	document_text(sheet->document, strong, text);
	return strong;
}

static void add_heading(struct sheet *sheet, cmark_node *block, size_t index)
{
	const struct step *step = &sheet->process->steps[index];
	struct text name = words_step(sheet, step);
	cmark_node *heading = document_add_heading(sheet->document, block, 3, NULL);
	document_span(sheet->document, heading, sheet_mark(MARK_number), text_format(sheet->arena, "%zu", index + 1));
	document_format(sheet->document, heading, " %.*s", TEXT_ARGUMENT(name));
	struct text role = role_row(step->role)->title;
	if (words_share_stem(role, name) || words_alike(role, words_bath(sheet, step)))
		return;
	document_string(sheet->document, heading, ", ");
	document_span(sheet->document, heading, sheet_mark(MARK_role), role);
}

/* ☐ 3:30 · ☐ at least 6:30 · ☐ 0:30 to 1:00 */
static void add_time(struct sheet *sheet, cmark_node *list, const struct step *step)
{
	cmark_node *item = document_add_item(sheet->document, list, sheet_mark(MARK_time));
	document_span(sheet->document, item, sheet_mark(MARK_tick), TEXT("☐"));
	const struct time_window *time = &step->time;
	if (!span_is_set(time->span)) {
		document_string(sheet->document, item, " until done");
		return;
	}
	document_string(sheet->document, item, time->form == TIME_AT_LEAST ? " at least " : " ");
	add_strong(sheet, item, MARK_figure, quantity_print_duration(sheet->arena, time->low_ms));
	if (time->form != TIME_RANGE)
		return;
	document_string(sheet->document, item, " to ");
	add_strong(sheet, item, MARK_figure, quantity_print_duration(sheet->arena, time->high_ms));
}

static void add_bath(struct sheet *sheet, cmark_node *list, const struct step *step)
{
	struct text bath = words_bath(sheet, step);
	if (bath.length == 0)
		return;
	cmark_node *item = document_add_item(sheet->document, list, sheet_mark(MARK_bath));
	if (step->bottle > 0) {
		struct text bottle = text_format(sheet->arena, "Bottle" NBSP "%" PRIu32, step->bottle);
		add_strong(sheet, item, MARK_bottle, bottle);
		document_string(sheet->document, item, " ");
	}
	if (step->bath == BATH_SOLUTION)
		words_add_title(sheet, item, &step->solution->declared);
	else if (step->bath == BATH_DRYER)
		words_add_title(sheet, item, &step->dryer->declared);
	else
		document_text(sheet->document, item, bath);
}

static void add_window(struct sheet *sheet, cmark_node *list, const struct step *step)
{
	if (!span_is_set(step->at.span))
		return;
	cmark_node *item = document_add_item(sheet->document, list, sheet_mark(MARK_window));
	add_strong(sheet, item, MARK_working, words_point(sheet, &step->at));
	struct text limits = words_limits(sheet, &step->at);
	if (limits.length > 0)
		document_format(sheet->document, item, ", %.*s", TEXT_ARGUMENT(limits));
	document_text(sheet->document, item, words_fahrenheit(sheet, &step->at));
}

/* ---- what else there is to do ---- */

static void append_figures(struct sheet *sheet, struct text_builder *words, const struct step *step)
{
	if (span_is_set(step->pour_at.span)) {
		struct text window = words_window(sheet, &step->pour_at);
		text_append_format(words, "Pour at %.*s. ", TEXT_ARGUMENT(window));
	}
	if (span_is_set(step->mean.span)) {
		struct text window = words_window(sheet, &step->mean);
		text_append_format(words, "Mean over the step: %.*s. ", TEXT_ARGUMENT(window));
	}
	if (step->measures)
		text_append_string(words, "Measure the temperature and write it down. ");
	if (span_is_set(step->expose.span)) {
		struct text each = words_duration(sheet, step->expose.value);
		text_append_format(words, "Expose each side %.*s. ", TEXT_ARGUMENT(each));
	}
	if (span_is_set(step->lights_span) && step->lights_after.value > 0) {
		struct text after = words_duration(sheet, step->lights_after.value);
		text_append_format(words, "Lights on after %.*s. ", TEXT_ARGUMENT(after));
	} else if (span_is_set(step->lights_span)) {
		text_append_string(words, "Lights on. ");
	}
	if (span_is_set(step->flow.span)) {
		struct text flow = words_volume(sheet, step->flow.value);
		text_append_format(words, "Flow %.*s a" NBSP "minute. ", TEXT_ARGUMENT(flow));
	}
	if (span_is_set(step->changes.span))
		text_append_format(words, "Fill and dump %" PRId64 NBSP "times. ", step->changes.value);
}

static void append_time_table(struct sheet *sheet, struct text_builder *words, const struct step *step)
{
	if (!step->times)
		return;
	text_append_string(words, step->times_are_makers ? "The maker's times: " : "Times: ");
	for (const struct time_row *row = step->times; row; row = row->next) {
		struct text at = words_temperature(sheet, row->temperature.value, row->temperature.unit);
		struct text lasts = quantity_print_duration(sheet->arena, row->time.value);
		text_append_format(words, "%.*s" NBSP "%.*s%s", TEXT_ARGUMENT(at), TEXT_ARGUMENT(lasts), row->next ? ", " : ". ");
	}
}

static struct text more_words(struct sheet *sheet, const struct step *step)
{
	struct text_builder words = text_builder_start(sheet->arena);
	append_figures(sheet, &words, step);
	append_time_table(sheet, &words, step);
	return text_builder_text(&words);
}

/* ---- the clock of one step ---- */

static struct text step_clock(struct sheet *sheet, size_t index, int64_t time_ms)
{
	return words_clock(sheet, time_ms - sheet->timeline->steps[index].start_ms);
}

static void add_drain(struct sheet *sheet, cmark_node *item, size_t index)
{
	const struct timeline_step *at = &sheet->timeline->steps[index];
	struct text drain = step_clock(sheet, index, at->drain_ms);
	struct text words = text_format(sheet->arena, "Drain at" NBSP "%.*s", TEXT_ARGUMENT(drain));
	const char *end = ". ";
	if (at->latest_end_ms != TIMELINE_NEVER) {
		int64_t latest_ms = at->latest_end_ms - (at->time_end_ms - at->drain_ms);
		struct text latest = step_clock(sheet, index, latest_ms);
		words = text_format(sheet->arena, "Drain between" NBSP "%.*s and" NBSP "%.*s", TEXT_ARGUMENT(drain),
				    TEXT_ARGUMENT(latest));
	} else if (sheet->process->steps[index].time.form == TIME_AT_LEAST) {
		end = " or later. ";
	}
	add_strong(sheet, item, MARK_key, words);
	document_string(sheet->document, item, end);
}

static void add_light(struct sheet *sheet, cmark_node *item, size_t index)
{
	struct text light = step_clock(sheet, index, sheet->timeline->steps[index].light_ms);
	struct text words = text_format(sheet->arena, "Light allowed from" NBSP "%.*s", TEXT_ARGUMENT(light));
	add_strong(sheet, item, MARK_key, words);
	document_string(sheet->document, item, ". ");
}

static void add_run_clock(struct sheet *sheet, cmark_node *item, size_t index)
{
	const struct timeline_step *at = &sheet->timeline->steps[index];
	struct text from = words_clock(sheet, at->pour_ms);
	struct text to = words_clock(sheet, at->end_ms);
	document_format(sheet->document, item, "Run clock" NBSP "%.*s to" NBSP "%.*s.", TEXT_ARGUMENT(from), TEXT_ARGUMENT(to));
}

static void add_clock(struct sheet *sheet, cmark_node *block, size_t index)
{
	const struct timeline_step *at = &sheet->timeline->steps[index];
	struct sheet_mark *mark = ARENA_NEW(sheet->arena, struct sheet_mark);
	*mark = (struct sheet_mark){ MARK_strip, index };
	cmark_node *item = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, mark);
	if (at->start_ms > at->pour_ms) {
		struct text before = words_clock(sheet, at->start_ms - at->pour_ms);
		document_format(sheet->document, item, "Pour %.*s before the clock starts. ", TEXT_ARGUMENT(before));
	}
	document_text(sheet->document, item, agitation_words(sheet, index));
	bool is_drained = at->is_poured && at->end_ms > at->pour_ms;
	bool is_lit_first = at->light_ms != TIMELINE_NEVER && at->light_ms < at->drain_ms;
	if (is_lit_first)
		add_light(sheet, item, index);
	if (is_drained)
		add_drain(sheet, item, index);
	if (!is_lit_first && at->light_ms != TIMELINE_NEVER)
		add_light(sheet, item, index);
	document_text(sheet->document, item, more_words(sheet, &sheet->process->steps[index]));
	add_run_clock(sheet, item, index);
}

/* Between a developer and the next one a wash is part of the development: what it does not wash out goes on working. */
static bool is_wash_in_development(const struct process *process, size_t index)
{
	if (role_row(process->steps[index].role)->action != ACTION_WASHES)
		return false;
	bool has_before = false, has_after = false;
	for (size_t i = 0; i < process->step_count; i++) {
		bool develops = role_row(process->steps[i].role)->action == ACTION_DEVELOPS;
		has_before = has_before || (develops && i < index);
		has_after = has_after || (develops && i > index);
	}
	return has_before && has_after;
}

static void add_wrong(struct sheet *sheet, cmark_node *block, size_t index)
{
	const char *words = trouble[role_row(sheet->process->steps[index].role)->action];
	if (is_wash_in_development(sheet->process, index))
		words = "Never cut it short: development goes on until it is washed out.";
	cmark_node *item = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_wrong));
	add_strong(sheet, item, MARK_label, TEXT("If it goes wrong:"));
	document_format(sheet->document, item, " %s", words);
}

static void add_notes(struct sheet *sheet, cmark_node *block, const struct note *note)
{
	for (; note; note = note->next)
		if (note->prose.text.length > 0) {
			cmark_node *item = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_note));
			document_prose(sheet->document, item, note->prose.text);
		}
}

static cmark_node *build_step(struct sheet *sheet, size_t index)
{
	const struct step *step = &sheet->process->steps[index];
	cmark_node *block = document_add(sheet->document, NULL, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_step));
	add_heading(sheet, block, index);
	cmark_node *list = document_add_list(sheet->document, block, sheet_mark(MARK_head));
	add_time(sheet, list, step);
	add_bath(sheet, list, step);
	add_window(sheet, list, step);
	cmark_node *words = document_add(sheet->document, block, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_words));
	add_clock(sheet, words, index);
	add_notes(sheet, words, step->notes);
	add_wrong(sheet, words, index);
	return block;
}

void sheet_steps(struct sheet *sheet, struct sheet_blocks *blocks)
{
	sheet_heading(sheet, blocks, "Steps");
	for (size_t i = 0; i < sheet->process->step_count; i++)
		sheet_block(sheet, blocks, build_step(sheet, i));
}
