/* The plan of a day as CommonMark and as one HTML file. */
#include "emit/day/plan_page.h"

#include <inttypes.h>

#include "emit/day/picture.h"
#include "emit/day/remarks.h"
#include "emit/day/wall.h"
#include "emit/sheet/words.h"

#include "embedded/timetable_css.h"

/* ---- the head ---- */

static size_t rolls_left(const struct day_plan *plan, enum plan_left_reason reason)
{
	size_t count = 0;
	for (size_t i = 0; i < plan->left_count; i++)
		count += plan->left[i].reason == reason;
	return count;
}

static void add_rolls(struct paper *paper, cmark_node *list)
{
	static const struct {
		enum plan_left_reason reason;
		const char *words;
	} left[] = { { LEFT_TOMORROW, "left for another day" },
		     { LEFT_SET_ASIDE, "set aside" },
		     { LEFT_NO_PROCESS, "for which the day runs nothing" },
		     { LEFT_TOO_LARGE, "that fit no load" } };
	const struct day_plan *plan = paper->plan;
	cmark_node *item = paper_fact(paper, list, "Rolls");
	document_strong(paper->document, item,
			text_format(paper->arena, "%zu of %zu", parts_rolls_today(plan), plan->day->roll_count));
	document_format(paper->document, item, " today, in %zu" NBSP "%s", plan->today_count,
			plan->today_count == 1 ? "load" : "loads");
	for (size_t i = 0; i < sizeof left / sizeof left[0]; i++) {
		size_t count = rolls_left(plan, left[i].reason);
		if (count > 0)
			document_format(paper->document, item, "; %zu %s", count, left[i].words);
	}
	document_string(paper->document, item, ".");
}

static void add_hours(struct paper *paper, cmark_node *list)
{
	const struct day_plan *plan = paper->plan;
	const struct day *day = plan->day;
	cmark_node *item = paper_fact(paper, list, "Hands");
	document_strong(paper->document, item, wall_span(paper->arena, plan, 0, plan->end_s));
	if (day->finish_s >= 0)
		document_format(paper->document, item, ", to be free by %.*s",
				TEXT_ARGUMENT(wall_time(paper->arena, plan, day->finish_s - day->start_s)));
	for (size_t i = 0; i < day->break_count; i++) {
		int64_t from_s = day->breaks[i].start_s - day->start_s;
		document_format(paper->document, item, "; break %.*s",
				TEXT_ARGUMENT(wall_span(paper->arena, plan, from_s, from_s + day->breaks[i].lasts_s)));
	}
	document_string(paper->document, item, ".");
	if (plan->today_count > 0)
		document_format(paper->document, paper_fact(paper, list, "All dry"), "%.*s.",
				TEXT_ARGUMENT(wall_time(paper->arena, plan, plan->all_dry_s)));
}

static void add_order(struct paper *paper, cmark_node *list)
{
	const struct day_plan *plan = paper->plan;
	if (plan->today_count == 0)
		return;
	cmark_node *item = paper_fact(paper, list, "Order");
	if (plan->is_order_proven) {
		document_string(paper->document, item, "no other order of the loads ends earlier.");
		return;
	}
	document_format(
		paper->document, item,
		"the best that was found. None ends before %.*s; whether one ends between that and %.*s was not "
		"found out.",
		TEXT_ARGUMENT(wall_time(paper->arena, plan, plan->end_bound_s)),
		TEXT_ARGUMENT(wall_time(paper->arena, plan, plan->end_s)));
}

static void add_dryer(struct paper *paper, cmark_node *list)
{
	const struct day_plan *plan = paper->plan;
	const struct dryer *dryer = plan->day->dryer;
	if (!dryer || plan->today_count == 0)
		return;
	cmark_node *item = paper_fact(paper, list, "Dryer");
	words_add_title(paper->sheet, item, &dryer->declared);
	document_format(paper->document, item, ": %zu" NBSP "%s at the fullest", plan->dryer_most,
			plan->dryer_most == 1 ? "roll" : "rolls");
	if (span_is_set(dryer->takes_rolls.span))
		document_format(paper->document, item, ", of %" PRId64 " places", dryer->takes_rolls.value);
	if (plan->dryer_waits > 0)
		document_format(paper->document, item, "; %zu %s for places, or %s in the open", plan->dryer_waits,
				plan->dryer_waits == 1 ? "load waits" : "loads wait",
				plan->dryer_waits == 1 ? "hangs" : "hang");
	document_string(paper->document, item, ".");
}

static void add_clock(struct paper *paper, cmark_node *list)
{
	const struct day *day = paper->plan->day;
	if (!wall_is_changed(day))
		return;
	int64_t by_s = day->clock_to_s - day->clock_from_s;
	document_format(paper->document, paper_fact(paper, list, "Clock"),
			"%s by %.*s at %02" PRId64 ":%02" PRId64 ". Times after that are those of the changed clock.",
			by_s > 0 ? "put forward" : "put back",
			TEXT_ARGUMENT(wall_duration(paper->arena, by_s < 0 ? -by_s : by_s)),
			day->clock_from_s / 3600 % 24, day->clock_from_s / 60 % 60);
}

static void add_banner(struct paper *paper)
{
	cmark_node *banner = paper_block(paper, NULL, DAY_MARK_banner);
	cmark_node *title = document_add_heading(paper->document, banner, 1, NULL);
	if (span_is_set(paper->plan->day->declared.title.span))
		words_add_title(paper->sheet, title, &paper->plan->day->declared);
	else
		document_text(paper->document, title, parts_day(paper->emission));
	cmark_node *kind = document_add(paper->document, banner, CMARK_NODE_PARAGRAPH, paper_mark(DAY_MARK_kind));
	document_format(paper->document, kind, "Plan of the day, %.*s",
			TEXT_ARGUMENT(wall_date(paper->arena, paper->plan->day)));
	cmark_node *list = document_add_list(paper->document, banner, paper_mark(DAY_MARK_facts));
	add_rolls(paper, list);
	add_hours(paper, list);
	add_order(paper, list);
	add_dryer(paper, list);
	add_clock(paper, list);
}

/* ---- renderings ---- */

static struct paper *build(const struct emission *emission)
{
	struct paper *paper = paper_start(emission);
	add_banner(paper);
	if (paper->plan->task_count > 0)
		paper_block(paper, NULL, DAY_MARK_picture);
	plan_page_loads(paper);
	plan_page_timetable(paper);
	plan_page_chemistry(paper);
	plan_page_left(paper);
	plan_page_parties(paper);
	remarks_add(paper);
	plan_page_care(paper);
	return paper;
}

static void draw(const struct paper *paper, const struct day_mark *mark, struct output *output)
{
	if (mark->id == DAY_MARK_picture)
		picture_draw(paper->emission, output);
}

void emit_plan_html(const struct emission *emission, struct output *output)
{
	const struct text style = { timetable_css, timetable_css_length };
	paper_write(build(emission), "plan of the day", style, draw, output);
}

void emit_plan_markdown(const struct emission *emission, struct output *output)
{
	output_write(output, document_markdown(build(emission)->document));
}
