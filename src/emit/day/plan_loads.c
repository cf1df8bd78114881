/* Loads and tasks of a day, each a row. */
#include <inttypes.h>

#include "emit/day/bound.h"
#include "emit/day/plan_page.h"
#include "emit/day/wall.h"
#include "emit/sheet/words.h"

/* ---- loads ---- */

static void add_load(struct paper *paper, cmark_node *rows, const struct plan_load *load)
{
	const struct process *process = parts_process(paper->plan, load);
	cmark_node *row = paper_add_row(paper, rows);
	cmark_node *number = paper_cell(paper, row, DAY_MARK_figure_cell);
	document_strong(paper->document, number, text_format(paper->arena, "%zu", load->number));
	paper_part_with(paper, ": ");
	paper_cell_text(paper, row, "", parts_title(paper->emission, &process->declared));
	paper_cell_text(paper, row, "rolls ", text_format(paper->arena, "%zu", load->place_count));
	if (!load->is_today) {
		paper_cell_text(paper, row, "", TEXT("another day"));
		for (int i = 0; i < 4; i++)
			paper_cell_text(paper, row, "", TEXT(""));
		return;
	}
	const struct plan_task *loading = parts_task(paper->plan, load, PLAN_TASK_load);
	paper_cell_text(paper, row, "load in the dark ",
			wall_time(paper->arena, paper->plan, loading ? loading->start_s : load->start_s));
	paper_cell_text(paper, row, "first pour ", wall_time(paper->arena, paper->plan, load->pour_s));
	paper_cell_text(paper, row, "last bath over ", wall_time(paper->arena, paper->plan, load->out_s));
	paper_cell_text(paper, row, "hung ", wall_time(paper->arena, paper->plan, load->hung_s));
	paper_cell_text(paper, row, "dry ", wall_time(paper->arena, paper->plan, load->dry_s));
}

/* Why there are no fewer loads, a sentence for each process. */
static void add_bounds(struct paper *paper, cmark_node *part)
{
	cmark_node *list = document_add_list(paper->document, part, NULL);
	for (size_t i = 0; i < paper->plan->kind_count; i++) {
		const struct plan_kind *kind = &paper->plan->kinds[i];
		const struct packing *packing = kind->packing;
		if (kind->roll_count == 0)
			continue;
		cmark_node *item = document_add_item(paper->document, list, NULL);
		document_strong(paper->document, item, parts_title(paper->emission, &kind->process->declared));
		document_format(paper->document, item, ", %zu" NBSP "%s in %zu" NBSP "%s: ", kind->roll_count,
				kind->roll_count == 1 ? "roll" : "rolls", packing->load_count,
				packing->load_count == 1 ? "load" : "loads");
		document_text(paper->document, item, bound_words(paper->emission, kind));
		if (kind->leading && packing->fill_count > 0)
			document_format(paper->document, item, " %.*s is filled %zu %s%s.",
					TEXT_ARGUMENT(parts_title(paper->emission, &kind->leading->declared)),
					packing->fill_count, packing->fill_count == 1 ? "time" : "times",
					packing->is_proven_fills ? "; with so many loads fewer are impossible" : "");
	}
}

void plan_page_loads(struct paper *paper)
{
	if (paper->plan->load_count == 0)
		return;
	cmark_node *part = paper_part(paper, "Loads");
	cmark_node *rows = paper_table(paper, part, DAY_TABLE_loads);
	for (size_t i = 0; i < paper->plan->load_count; i++)
		add_load(paper, rows, &paper->plan->loads[i]);
	add_bounds(paper, part);
}

/* ---- tasks ---- */

/* "mix Colour developer, 3 L", "load in the dark, 8 rolls". */
static struct text task_words(struct paper *paper, const struct plan_task *task)
{
	struct text_builder words = text_builder_start(paper->arena);
	bool names_bath = task->kind == PLAN_TASK_cool;
	if (names_bath && task->solution)
		text_append_format(&words, "%.*s ",
				   TEXT_ARGUMENT(parts_title(paper->emission, &task->solution->declared)));
	text_append(&words, plan_task_row(task->kind)->title);
	if (!names_bath && task->solution)
		text_append_format(&words, "%s%.*s", task->kind == PLAN_TASK_mix ? " " : ": ",
				   TEXT_ARGUMENT(parts_title(paper->emission, &task->solution->declared)));
	if (task->volume > 0)
		text_append_format(&words, ", %.*s", TEXT_ARGUMENT(words_volume(paper->sheet, task->volume)));
	if (task->rolls > 0)
		text_append_format(&words, ", %" PRId64 NBSP "%s", task->rolls, task->rolls == 1 ? "roll" : "rolls");
	if (task->kind == PLAN_TASK_temper && paper->plan->loads[task->load].tempers_again)
		text_append(&words, TEXT("; read them after the break and temper again before the pour"));
	return text_builder_text(&words);
}

static void add_task(struct paper *paper, cmark_node *rows, const struct plan_task *task)
{
	const struct day_plan *plan = paper->plan;
	cmark_node *row = paper_add_row(paper, rows);
	cmark_node *time = paper_cell(paper, row, DAY_MARK_figure_cell);
	document_strong(paper->document, time, wall_span(paper->arena, plan, task->start_s, task->end_s));
	paper_part_with(paper, " ");
	paper_cell_text(paper, row, "load ",
			task->load < plan->load_count ? text_format(paper->arena, "%zu", plan->loads[task->load].number)
						      : TEXT(""));
	struct text words = task_words(paper, task);
	paper_cell_text(paper, row, "", task->needs_hands ? words : TEXT(""));
	paper_cell_text(paper, row, "by itself: ", task->needs_hands ? TEXT("") : words);
}

void plan_page_timetable(struct paper *paper)
{
	if (paper->plan->task_count == 0)
		return;
	cmark_node *rows = paper_table(paper, paper_part(paper, "Timetable"), DAY_TABLE_timetable);
	for (size_t i = 0; i < paper->plan->task_count; i++)
		add_task(paper, rows, &paper->plan->tasks[i]);
}
