#include "emit/sheet/clock.h"

#include <inttypes.h>

#include "emit/sheet/agitation.h"
#include "emit/sheet/words.h"
#include "emit/this_run.h"

/* ---- from when to when ---- */

static size_t rule_of(const struct step *step)
{
	size_t start = step->starts == TIME_STARTS_AT_POUR ? 0 : 2;
	return start + (step->includes_draining ? 0 : 1);
}

/* A dip takes no time to fill and drain, so that all rules count alike. */
static bool follows_a_rule(const struct sheet *sheet, size_t index)
{
	return sheet->timeline->steps[index].is_poured && !role_dips(sheet->process->steps[index].role);
}

/* By the number of the rule. */
static const char *const rules[] = {
	"from the first pour, draining included",
	"from the first pour, draining not included",
	"from the full tank, draining included",
	"from the full tank, draining not included",
};

#define RULE_COUNT (sizeof rules / sizeof rules[0])

/* The rule that most of the poured steps follow; RULE_COUNT where nothing is poured. */
static size_t usual_rule(const struct sheet *sheet)
{
	size_t counts[RULE_COUNT] = { 0 };
	for (size_t i = 0; i < sheet->process->step_count; i++)
		if (follows_a_rule(sheet, i))
			counts[rule_of(&sheet->process->steps[i])]++;
	size_t usual = RULE_COUNT;
	for (size_t i = 0; i < RULE_COUNT; i++)
		if (counts[i] > 0 && (usual == RULE_COUNT || counts[i] > counts[usual]))
			usual = i;
	return usual;
}

const char *clock_rule(const struct sheet *sheet)
{
	size_t usual = usual_rule(sheet);
	return usual < RULE_COUNT ? rules[usual] : NULL;
}

/* ---- what else there is to do ---- */

static void append_figures(struct sheet *sheet, struct text_builder *words, const struct step *step)
{
	if (span_is_set(step->mean.span)) {
		struct text window = words_window(sheet, &step->mean);
		text_append_format(words, "Mean over the step: %.*s. ", TEXT_ARGUMENT(window));
	}
	if (step->measures)
		text_append_string(words, "Measure the temperature. ");
	if (span_is_set(step->expose.span)) {
		struct text each = words_duration(sheet, step->expose.value);
		text_append_format(words, "Expose each side %.*s. ", TEXT_ARGUMENT(each));
	}
	if (span_is_set(step->flow.span)) {
		struct text flow = words_volume(sheet, step->flow.value);
		text_append_format(words, "Flow %.*s a" NBSP "minute. ", TEXT_ARGUMENT(flow));
	}
	if (span_is_set(step->changes.span))
		text_append_format(words, "Fill and dump %" PRId64 NBSP "times. ", step->changes.value);
}

static struct text more_words(struct sheet *sheet, const struct step *step)
{
	struct text_builder words = text_builder_start(sheet->arena);
	append_figures(sheet, &words, step);
	return text_builder_text(&words);
}

/* ---- the clock of one step ---- */

static struct text step_clock(struct sheet *sheet, size_t index, int64_t time_ms)
{
	return words_clock(sheet, time_ms - sheet->timeline->steps[index].start_ms);
}

/* "Drain at 3:15", "Drain from 6:15" where longer does no harm, "Drain between 0:15 and 0:45"; what is dipped is lifted
 * out. */
static void add_drain(struct sheet *sheet, cmark_node *item, size_t index)
{
	const struct timeline_step *at = &sheet->timeline->steps[index];
	struct text drain = step_clock(sheet, index, at->drain_ms);
	bool is_open = at->time.form == TIME_AT_LEAST;
	const char *act = role_dips(sheet->process->steps[index].role) ? "Lift out" : "Drain";
	struct text words =
		text_format(sheet->arena, "%s %s" NBSP "%.*s", act, is_open ? "from" : "at", TEXT_ARGUMENT(drain));
	if (at->latest_end_ms != TIMELINE_NEVER) {
		int64_t latest_ms = at->latest_end_ms - (at->time_end_ms - at->drain_ms);
		struct text latest = step_clock(sheet, index, latest_ms);
		words = text_format(sheet->arena, "%s between" NBSP "%.*s and" NBSP "%.*s", act, TEXT_ARGUMENT(drain),
				    TEXT_ARGUMENT(latest));
	}
	sheet_strong(sheet, item, MARK_key, words);
	document_string(sheet->document, item, ". ");
}

/* When light may come on, and when the recipe puts it on. */
static void add_light(struct sheet *sheet, cmark_node *item, size_t index)
{
	const struct step *step = &sheet->process->steps[index];
	const struct timeline_step *at = &sheet->timeline->steps[index];
	int64_t on_ms = timeline_lights_on(step, at);
	bool is_on = on_ms != TIMELINE_NEVER;
	if (at->light_ms != TIMELINE_NEVER && !(is_on && on_ms == at->light_ms)) {
		struct text light = step_clock(sheet, index, at->light_ms);
		sheet_strong(sheet, item, MARK_key,
			     text_format(sheet->arena, "Light allowed from" NBSP "%.*s", TEXT_ARGUMENT(light)));
		document_string(sheet->document, item, ". ");
	}
	if (is_on && step->lights_after.value == 0) {
		sheet_strong(sheet, item, MARK_key, TEXT("Lights on"));
		document_string(sheet->document, item, ". ");
	} else if (is_on) {
		struct text light = step_clock(sheet, index, on_ms);
		sheet_strong(sheet, item, MARK_key,
			     text_format(sheet->arena, "Lights on from" NBSP "%.*s", TEXT_ARGUMENT(light)));
		document_string(sheet->document, item, ". ");
	}
}

/* By which rule the step's time counts, where it is not the one said at the head of the sheet. */
static void add_rule(struct sheet *sheet, cmark_node *item, size_t index)
{
	const struct timeline_step *at = &sheet->timeline->steps[index];
	size_t rule = rule_of(&sheet->process->steps[index]);
	if (!follows_a_rule(sheet, index) || rule == usual_rule(sheet))
		return;
	document_format(sheet->document, item, "Clock %s. ", rules[rule]);
	if (at->start_ms > at->pour_ms) {
		struct text before = words_clock(sheet, at->start_ms - at->pour_ms);
		document_format(sheet->document, item, "Pour" NBSP "%.*s before. ", TEXT_ARGUMENT(before));
	}
}

void clock_add(struct sheet *sheet, cmark_node *block, size_t index)
{
	const struct timeline_step *at = &sheet->timeline->steps[index];
	cmark_node *item = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_clock));
	add_rule(sheet, item, index);
	struct text reason = this_run_reason(sheet->emission, index);
	if (reason.length > 0)
		document_format(sheet->document, item, "Time for this run, %.*s. ", TEXT_ARGUMENT(reason));
	agitation_add(sheet, item, index);
	bool is_drained = at->is_poured && at->end_ms > at->pour_ms;
	bool is_lit_first = at->light_ms != TIMELINE_NEVER && at->light_ms < at->drain_ms;
	if (is_lit_first)
		add_light(sheet, item, index);
	if (is_drained)
		add_drain(sheet, item, index);
	if (!is_lit_first)
		add_light(sheet, item, index);
	document_text(sheet->document, item, more_words(sheet, &sheet->process->steps[index]));
	document_trim(sheet->document, item);
}
