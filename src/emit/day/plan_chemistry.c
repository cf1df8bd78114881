/* What a day takes of its baths, and what belongs together. */
#include <inttypes.h>

#include "emit/day/plan_page.h"
#include "emit/day/wall.h"
#include "emit/sheet/words.h"
#include "emit/this_run.h"
#include "model/date.h"

/* "mixed 2 times: 3 L at 09:00, 3 L at 14:30". */
static void add_mixes(struct paper *paper, cmark_node *item, const struct plan_chemistry *chemistry)
{
	const struct day_plan *plan = paper->plan;
	size_t listed = 0;
	for (size_t i = 0; i < plan->task_count; i++) {
		const struct plan_task *task = &plan->tasks[i];
		if (task->kind != PLAN_TASK_mix || task->solution != chemistry->solution)
			continue;
		document_format(paper->document, item, "%s%.*s at %.*s", listed++ > 0 ? ", " : ": ",
				TEXT_ARGUMENT(words_volume(paper->sheet, task->volume)),
				TEXT_ARGUMENT(wall_time(paper->arena, plan, task->start_s)));
	}
}

/* Whole kits, where the volume is one of kits. */
static void add_kits(struct paper *paper, cmark_node *item, const struct plan_chemistry *chemistry)
{
	int64_t makes = chemistry->solution->kit_makes.value;
	if (!span_is_set(chemistry->solution->kit_makes.span) || makes <= 0)
		return;
	int64_t kits = (chemistry->mixed + makes - 1) / makes;
	document_format(paper->document, item, " (%" PRId64 NBSP "%s of %.*s)", kits, kits == 1 ? "kit" : "kits",
			TEXT_ARGUMENT(words_volume(paper->sheet, makes)));
}

static void add_bath(struct paper *paper, cmark_node *list, const struct plan_chemistry *chemistry)
{
	cmark_node *item = document_add_item(paper->document, list, NULL);
	document_strong(paper->document, item, parts_title(paper->emission, &chemistry->solution->declared));
	document_string(paper->document, item, ": ");
	if (chemistry->on_hand > 0)
		document_format(paper->document, item, "%.*s from the cupboard%s",
				TEXT_ARGUMENT(words_volume(paper->sheet, chemistry->on_hand)),
				chemistry->mixes > 0 ? "; " : "");
	if (chemistry->mixes > 0) {
		document_strong(paper->document, item, words_volume(paper->sheet, chemistry->mixed));
		add_kits(paper, item, chemistry);
		document_format(paper->document, item, " to mix, in %zu %s", chemistry->mixes,
				chemistry->mixes == 1 ? "mix" : "mixes");
		add_mixes(paper, item, chemistry);
	}
	if (chemistry->left > 0)
		document_format(paper->document, item,
				". When the day is over, %.*s is left and has done %.*s" NBSP "rolls.",
				TEXT_ARGUMENT(words_volume(paper->sheet, chemistry->left)),
				TEXT_ARGUMENT(this_run_rolls(paper->arena, chemistry->done_milli_rolls)));
	else
		document_string(paper->document, item, ". When the day is over, nothing of it is kept.");
	if (chemistry->past_life)
		document_format(paper->document, item,
				" The %.*s in the cupboard, mixed %.*s, is past its life and is not used.",
				TEXT_ARGUMENT(words_volume(paper->sheet, chemistry->past_life->volume.value)),
				TEXT_ARGUMENT(date_print(paper->arena, chemistry->past_life->mixed_on)));
}

void plan_page_chemistry(struct paper *paper)
{
	if (paper->plan->chemistry_count == 0)
		return;
	cmark_node *part = paper_part(paper, "Chemistry");
	cmark_node *list = document_add_list(paper->document, part, NULL);
	for (size_t i = 0; i < paper->plan->chemistry_count; i++)
		add_bath(paper, list, &paper->plan->chemistry[i]);
}

/* ---- what belongs together ---- */

static struct text how_shared(struct paper *paper, const struct parts_party *party)
{
	bool is_together = party->first->is_together;
	if (party->load_count == 1)
		return is_together ? TEXT("kept together, as asked for: a risk taken") : TEXT("in one load");
	if (party->load_count == party->process_count)
		return text_format(paper->arena, "%sin one load of each of %zu processes",
				   is_together ? "kept together, as asked for, " : "", party->process_count);
	if (is_together)
		return TEXT("does not fit into one load");
	if (party->load_count > party->least_loads)
		return text_format(paper->arena, "shared out over %zu more than it needs by itself",
				   party->load_count - party->least_loads);
	return TEXT("in as few as it needs by itself");
}

void plan_page_parties(struct paper *paper)
{
	cmark_node *rows = NULL;
	struct parts_party party;
	for (size_t i = 0; i < paper->plan->party_count;) {
		i = parts_party_at(paper->plan, i, &party);
		if (!rows)
			rows = paper_table(paper, paper_part(paper, "What belongs together"), DAY_TABLE_parties);
		cmark_node *row = paper_add_row(paper, rows);
		document_strong(paper->document, paper_cell(paper, row, DAY_MARK_cell), party.first->name);
		paper_part_with(paper, ": ");
		paper_cell_text(paper, row, "rolls ", text_format(paper->arena, "%zu", party.roll_count));
		paper_cell_text(paper, row, "loads ", text_format(paper->arena, "%zu", party.load_count));
		paper_cell_text(paper, row, "", how_shared(paper, &party));
	}
}
