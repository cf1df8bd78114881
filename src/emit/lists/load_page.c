/* One load: its load list drawn as the column stands, its hang list as film hangs, what its baths have done. */
#include <inttypes.h>

#include "emit/day/remarks.h"
#include "emit/day/wall.h"
#include "emit/lists/lists.h"
#include "emit/lists/reel.h"
#include "emit/sheet/words.h"

/* A column has a row for each empty reel, up to so many; more than a tank ever takes are one row. */
#define EMPTY_ROWS_MOST 64

/* ---- heads ---- */

/* "Load 3 of 12", large, and below it which day, process and tank; how the list is read. */
static cmark_node *add_half(struct paper *paper, cmark_node *page, const struct plan_load *load, bool is_loading)
{
	const struct day_plan *plan = paper->plan;
	cmark_node *half = paper_block(paper, page, is_loading ? DAY_MARK_half_load : DAY_MARK_half_hang);
	cmark_node *head = paper_block(paper, half, DAY_MARK_half_head);
	cmark_node *name = document_add_heading(paper->document, head, 2, paper_mark(DAY_MARK_half_name));
	document_format(paper->document, name, "%s list, load" NBSP "%zu of" NBSP "%zu", is_loading ? "LOAD" : "HANG",
			load->number, plan->load_count);
	cmark_node *which = document_add(paper->document, head, CMARK_NODE_PARAGRAPH, paper_mark(DAY_MARK_which));
	document_text(paper->document, which, parts_day(paper->emission));
	document_format(paper->document, which, ", %.*s; ", TEXT_ARGUMENT(wall_date(paper->arena, plan->day)));
	document_text(paper->document, which, parts_title(paper->emission, &parts_process(plan, load)->declared));
	size_t tank = parts_tank_of(plan, load);
	if (tank < parts_tank_count(plan))
		document_format(paper->document, which, "; tank" NBSP "%zu", tank + 1);
	if (tank < parts_tank_count(plan) && is_loading)
		document_format(paper->document, which, ", %.*s",
				TEXT_ARGUMENT(parts_title(paper->emission, &parts_tank(plan, tank)->declared)));
	if (load->is_today) {
		const struct plan_task *task = parts_task(plan, load, is_loading ? PLAN_TASK_load : PLAN_TASK_hang);
		document_format(paper->document, which, "; from" NBSP "%.*s",
				TEXT_ARGUMENT(wall_time(paper->arena, plan, task ? task->start_s : load->start_s)));
	}
	if (is_loading)
		document_format(paper->document, which, "; fingerprint %.12s",
				parts_process(plan, load)->fingerprint.data);
	document_string(paper->document, which, ".");
	return half;
}

/* Stands behind a roll of which more is said. */
#define MORE "\xC2\xA0\xE2\x80\xA0"

static void add_how(struct paper *paper, cmark_node *half, const struct plan_load *load, const char *strong,
		    const char *words)
{
	bool has_more = false;
	for (size_t i = 0; i < load->place_count; i++)
		has_more = has_more || remarks_has(load->places[i].roll);
	cmark_node *how = document_add(paper->document, half, CMARK_NODE_PARAGRAPH, paper_mark(DAY_MARK_how));
	document_strong(paper->document, how, text_from(strong));
	document_string(paper->document, how, words);
	if (has_more)
		document_string(paper->document, how, MORE NBSP "more at the end.");
}

/* ---- the column ---- */

static void add_reel_cell(struct paper *paper, cmark_node *row, size_t bits, struct text words)
{
	cmark_node *cell = document_add(paper->document, row, CMARK_NODE_CUSTOM_INLINE,
					paper_numbered(paper, DAY_MARK_reel_cell, bits));
	document_span(paper->document, cell, paper_mark(DAY_MARK_reel), words);
}

static void add_flags(struct paper *paper, cmark_node *cell, const struct roll *roll)
{
	for (int i = 0; i < CONDITION_COUNT; i++)
		if ((roll->conditions & (condition_set)1 << i) != 0)
			document_format(paper->document, cell, ", %.*s",
					TEXT_ARGUMENT(condition_row((enum condition_id)i)->word));
	if (roll->is_precious)
		document_string(paper->document, cell, ", precious");
	if (remarks_has(roll))
		document_string(paper->document, cell, MORE);
}

static void add_reel(struct paper *paper, cmark_node *rows, const struct plan_load *load, size_t index, bool has_empty)
{
	const struct plan_place *place = &load->places[index];
	bool is_bottom = index == 0, is_last = index + 1 == load->place_count;
	cmark_node *row = paper_add_row(paper, rows);
	struct text words = text_format(paper->arena, "reel" NBSP "%zu%s", place->reel,
					is_bottom		? " (bottom)"
					: is_last && !has_empty ? " (top)"
								: "");
	add_reel_cell(paper, row, (is_bottom ? REEL_IS_BOTTOM : 0U) | (is_last && !has_empty ? REEL_IS_TOP : 0U),
		      words);
	paper_part_with(paper, ": ");
	cmark_node *roll = paper_cell(paper, row, DAY_MARK_cell);
	paper_strong(paper, roll, DAY_MARK_label, place->roll->label);
	document_format(paper->document, roll, " %.*s", TEXT_ARGUMENT(format_row(place->roll->format)->word));
	add_flags(paper, roll, place->roll);
	paper_part_with(paper, "; ");
	paper_cell_text(paper, row, "", place->roll->origin);
	paper_cell_text(paper, row, "mark: ", place->mark);
	paper_tick(paper, paper_cell(paper, row, DAY_MARK_cell), "mark");
	paper_part_with(paper, " ");
	paper_tick(paper, paper_cell(paper, row, DAY_MARK_cell), "order");
}

/* A row for one empty reel, or for all of them. */
static void add_empty(struct paper *paper, cmark_node *rows, bool is_top, size_t reels)
{
	cmark_node *row = paper_add_row(paper, rows);
	struct text words = reels == 1 ? TEXT("empty reel") : text_format(paper->arena, "%zu empty reels", reels);
	add_reel_cell(paper, row, REEL_IS_EMPTY | (is_top ? REEL_IS_TOP : 0U), words);
	for (int i = 0; i < 5; i++)
		paper_cell_text(paper, row, "", TEXT(""));
}

static void add_column(struct paper *paper, cmark_node *half, const struct plan_load *load, bool is_drawn)
{
	size_t empty = parts_empty_reels(paper->plan, load);
	size_t reels_of_row = empty > EMPTY_ROWS_MOST ? empty : 1;
	size_t count = load->place_count + empty / reels_of_row;
	cmark_node *rows = paper_table(paper, half, DAY_TABLE_stack);
	for (size_t i = 0; i < count; i++) {
		size_t index = is_drawn ? count - 1 - i : i;
		if (index < load->place_count)
			add_reel(paper, rows, load, index, empty > 0);
		else
			add_empty(paper, rows, index + 1 == count, reels_of_row);
	}
}

static void add_checklist(struct paper *paper, cmark_node *half)
{
	static const struct {
		const char *label;
		const char *const *sentences;
	} lists[] = { { "Before the light goes out", lists_before_dark }, { "Before light", lists_before_light } };
	cmark_node *list = document_add_list(paper->document, half, paper_mark(DAY_MARK_checklist));
	for (size_t i = 0; i < sizeof lists / sizeof lists[0]; i++) {
		cmark_node *label = document_add_item(paper->document, list, NULL);
		document_strong(paper->document, label, text_format(paper->arena, "%s:", lists[i].label));
		for (const char *const *sentence = lists[i].sentences; *sentence; sentence++) {
			cmark_node *item = document_add_item(paper->document, list, NULL);
			document_span(paper->document, item, paper_mark(DAY_MARK_tick), TEXT("☐"));
			document_format(paper->document, item, " %s", *sentence);
		}
	}
}

/* ---- the line ---- */

static void add_strip(struct paper *paper, cmark_node *wire, const struct plan_load *load, size_t turn)
{
	const struct plan_place *place = &load->places[load->place_count - turn];
	cmark_node *strip = document_add_item(paper->document, wire, paper_mark(DAY_MARK_strip));
	paper_part_with(paper, NULL);
	paper_piece(paper, strip, DAY_MARK_turn,
		    text_format(paper->arena, "hang" NBSP "%.*s", TEXT_ARGUMENT(lists_ordinal(paper->arena, turn))));
	paper_part_with(paper, ": ");
	paper_say_pending(paper, strip);
	paper_strong(paper, strip, DAY_MARK_label, place->roll->label);
	document_format(paper->document, strip, " %.*s", TEXT_ARGUMENT(format_row(place->roll->format)->word));
	if (remarks_has(place->roll))
		document_string(paper->document, strip, MORE);
	paper_part_with(paper, ", ");
	paper_piece(paper, strip, DAY_MARK_from,
		    text_format(paper->arena, "off reel" NBSP "%zu%s%.*s", place->reel,
				place->roll->origin.length > 0 ? ", " : "", TEXT_ARGUMENT(place->roll->origin)));
	paper_piece(paper, strip, DAY_MARK_code, place->mark);
	paper_say_pending(paper, strip);
	cmark_node *ticks = document_add(paper->document, strip, CMARK_NODE_CUSTOM_INLINE, paper_mark(DAY_MARK_ticks));
	paper_tick(paper, ticks, "mark");
	document_string(paper->document, ticks, " ");
	paper_tick(paper, ticks, "order");
}

static void add_wire(struct paper *paper, cmark_node *half, const struct plan_load *load)
{
	cmark_node *wire = document_add_list(paper->document, half, paper_mark(DAY_MARK_wire));
	for (size_t turn = 1; turn <= load->place_count; turn++)
		add_strip(paper, wire, load, turn);
}

void lists_add_load(struct paper *paper, const struct plan_load *load, bool is_drawn)
{
	cmark_node *page = paper_block(paper, NULL, DAY_MARK_load_page);
	cmark_node *loading = add_half(paper, page, load, true);
	add_how(paper, loading, load, is_drawn ? "▲ From the bottom up." : "In this order.",
		" Reel 1 goes in first and lies at the bottom of the tank.");
	add_column(paper, loading, load, is_drawn);
	add_checklist(paper, loading);
	cmark_node *hanging = add_half(paper, page, load, false);
	add_how(paper, hanging, load, is_drawn ? "► From left to right." : "In this order.",
		" The reel that went in last comes out first.");
	add_wire(paper, hanging, load);
	lists_add_baths(paper, page, load);
}
