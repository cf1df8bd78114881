/* The steps: what a person at the sink reads while the clock runs. */
#include <inttypes.h>

#include "compute/development.h"
#include "emit/sheet/clock.h"
#include "emit/sheet/times.h"
#include "emit/sheet/words.h"

static const char *const trouble[] = {
#define TROUBLE(action, words) [ACTION_##action] = words,
#include "emit/sheet/trouble.def"
#undef TROUBLE
};

static void add_heading(struct sheet *sheet, cmark_node *block, size_t index)
{
	const struct step *step = &sheet->process->steps[index];
	struct text name = words_step(sheet, step);
	cmark_node *heading = document_add_heading(sheet->document, block, 2, NULL);
	document_span(sheet->document, heading, sheet_mark(MARK_number), text_format(sheet->arena, "%zu", index + 1));
	document_format(sheet->document, heading, " %.*s", TEXT_ARGUMENT(name));
	struct text role = role_row(step->role)->title;
	if (words_share_stem(role, name) || words_hold(name, role) || words_hold(words_bath(sheet, step), role))
		return; /* said already */
	document_string(sheet->document, heading, ", ");
	document_span(sheet->document, heading, sheet_mark(MARK_role), role);
}

/* ☐ 3:30 · ☐ at least 6:30 · ☐ 0:30 to 1:00; on a page the strip is drawn below it. */
static void add_time(struct sheet *sheet, cmark_node *list, size_t index)
{
	const struct time_window *time = &sheet->timeline->steps[index].time;
	struct sheet_mark *mark = ARENA_NEW(sheet->arena, struct sheet_mark);
	*mark = (struct sheet_mark){ .id = MARK_time, .number = index };
	cmark_node *item = document_add_item(sheet->document, list, mark);
	document_span(sheet->document, item, sheet_mark(MARK_tick), TEXT("☐"));
	if (!span_is_set(time->span)) {
		document_string(sheet->document, item, " until done");
		return;
	}
	document_string(sheet->document, item, time->form == TIME_AT_LEAST ? " at least " : " ");
	sheet_strong(sheet, item, MARK_figure, quantity_print_duration(sheet->arena, time->low_ms));
	if (time->form != TIME_RANGE)
		return;
	document_string(sheet->document, item, " to ");
	sheet_strong(sheet, item, MARK_figure, quantity_print_duration(sheet->arena, time->high_ms));
}

static void add_bath(struct sheet *sheet, cmark_node *list, const struct step *step)
{
	struct text bath = words_bath(sheet, step);
	if (bath.length == 0 || step->bath == BATH_LIGHT)
		return; /* nothing, or nothing that its role does not say */
	cmark_node *item = document_add_item(sheet->document, list, sheet_mark(MARK_bath));
	if (step->bottle > 0) {
		struct text bottle = text_format(sheet->arena, "Bottle" NBSP "%" PRIu32, step->bottle);
		sheet_strong(sheet, item, MARK_bottle, bottle);
		document_string(sheet->document, item, " ");
	}
	if (step->bath == BATH_SOLUTION)
		words_add_title(sheet, item, &step->solution->declared);
	else if (step->bath == BATH_DRYER)
		words_add_title(sheet, item, &step->dryer->declared);
	else
		document_text(sheet->document, item, bath);
}

/* What the thermometer shall say at the pour is the large figure: a tired hand pours by that. */
static void add_window(struct sheet *sheet, cmark_node *list, const struct step *step)
{
	const struct temperature_window *window = development_pour_window(step);
	if (!span_is_set(window->span))
		return;
	cmark_node *item = document_add_item(sheet->document, list, sheet_mark(MARK_window));
	if (window == &step->pour_at)
		document_string(sheet->document, item, "pour at ");
	sheet_strong(sheet, item, MARK_working, words_point(sheet, window));
	struct text limits = words_limits(sheet, window);
	if (limits.length > 0)
		document_format(sheet->document, item, ", %.*s", TEXT_ARGUMENT(limits));
	document_text(sheet->document, item, words_fahrenheit(sheet, window));
	if (window == &step->pour_at && span_is_set(step->at.span))
		document_format(sheet->document, item, "; in the tank %.*s",
				TEXT_ARGUMENT(words_window(sheet, &step->at)));
}

static void add_run_clock(struct sheet *sheet, cmark_node *list, size_t index)
{
	const struct timeline_step *at = &sheet->timeline->steps[index];
	struct text from = words_clock(sheet, at->pour_ms);
	struct text to = words_clock(sheet, at->end_ms);
	cmark_node *item = document_add_item(sheet->document, list, sheet_mark(MARK_run));
	document_format(sheet->document, item, "run" NBSP "%.*s to" NBSP "%.*s", TEXT_ARGUMENT(from),
			TEXT_ARGUMENT(to));
}

/* The water right after a developer is part of its development, where there is another one to come: what it does not
 * wash out goes on working. */
static bool is_water_in_development(const struct process *process, size_t index)
{
	enum role_action action = role_row(process->steps[index].role)->action;
	if (index == 0 || (action != ACTION_WASHES && action != ACTION_RINSES) ||
	    !role_develops(process->steps[index - 1].role))
		return false;
	size_t next = index + 1;
	while (next < process->step_count && !role_develops(process->steps[next].role))
		next++;
	return next < process->step_count;
}

static void add_wrong(struct sheet *sheet, cmark_node *block, size_t index)
{
	const char *words = trouble[role_row(sheet->process->steps[index].role)->action];
	if (is_water_in_development(sheet->process, index))
		words = "Never cut it short: the film still develops.";
	cmark_node *item = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_wrong));
	sheet_strong(sheet, item, MARK_label, TEXT("If it goes wrong:"));
	document_format(sheet->document, item, " %s", words);
}

static void add_notes(struct sheet *sheet, cmark_node *block, const struct note *note)
{
	for (; note; note = note->next)
		if (note->prose.text.length > 0) {
			cmark_node *item =
				document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_note));
			document_prose(sheet->document, item, note->prose.text);
		}
}

static cmark_node *build_step(struct sheet *sheet, size_t index)
{
	const struct step *step = &sheet->process->steps[index];
	cmark_node *block = document_add(sheet->document, NULL, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_step));
	add_heading(sheet, block, index);
	cmark_node *list = document_add_list(sheet->document, block, sheet_mark(MARK_head));
	add_time(sheet, list, index);
	add_bath(sheet, list, step);
	add_window(sheet, list, step);
	add_run_clock(sheet, list, index);
	cmark_node *words = document_add(sheet->document, block, CMARK_NODE_CUSTOM_BLOCK, sheet_mark(MARK_words));
	clock_add(sheet, words, index);
	add_notes(sheet, words, step->notes);
	add_wrong(sheet, block, index);
	times_add(sheet, block, index);
	return block;
}

void sheet_steps(struct sheet *sheet, struct sheet_blocks *blocks)
{
	for (size_t i = 0; i < sheet->process->step_count; i++)
		sheet_block(sheet, blocks, SHEET_SINK, build_step(sheet, i));
}
