/* What the baths have done: in a few words under each load, as a table for the whole day. */
#include "emit/lists/lists.h"
#include "emit/sheet/words.h"
#include "emit/this_run.h"

static struct text rolls(struct paper *paper, int64_t milli_rolls)
{
	return this_run_rolls(paper->arena, milli_rolls);
}

/* To a tenth of a per cent. */
static int64_t shown_percent(int64_t percent)
{
	const int64_t tenth = PERCENT_ONE / 10;
	return (percent + tenth / 2) / tenth * tenth;
}

/* The time of the bath's first step as it is used: "3:45, 4 % longer". */
static struct text time_used(const struct paper *paper, const struct plan_load *load,
			     const struct plan_account *account)
{
	struct emission own = parts_of_load(paper->emission, load);
	for (size_t i = 0; own.timeline && i < own.process->step_count; i++) {
		if (own.process->steps[i].solution != account->solution)
			continue;
		struct text time = this_run_time(&own, i);
		if (shown_percent(account->lengthened_percent) == 0)
			return time;
		return text_format(paper->arena, "%.*s, %.*s longer", TEXT_ARGUMENT(time),
				   TEXT_ARGUMENT(quantity_print_percent(paper->arena,
									shown_percent(account->lengthened_percent))));
	}
	return TEXT("");
}

/* "Colour developer 13 of 24 rolls, 3:45 used, 2 % longer". */
void lists_add_baths(struct paper *paper, cmark_node *page, const struct plan_load *load)
{
	if (!load->accounts)
		return;
	cmark_node *line = document_add(paper->document, page, CMARK_NODE_PARAGRAPH, paper_mark(DAY_MARK_baths));
	document_strong(paper->document, line, TEXT("After this load the baths have done:"));
	for (const struct plan_account *account = load->accounts; account; account = account->next) {
		struct text done = rolls(paper, account->done_milli_rolls + account->load_milli_rolls);
		struct text time = time_used(paper, load, account);
		document_string(paper->document, line, account == load->accounts ? " " : "; ");
		document_text(paper->document, line, parts_title(paper->emission, &account->solution->declared));
		document_format(paper->document, line, " %.*s", TEXT_ARGUMENT(done));
		if (account->capacity_milli_rolls > 0)
			document_format(paper->document, line, " of %.*s",
					TEXT_ARGUMENT(rolls(paper, account->capacity_milli_rolls)));
		document_string(paper->document, line, NBSP "rolls");
		if (time.length > 0 && account->lengthened_percent > 0)
			document_format(paper->document, line, ", its time in this load %.*s", TEXT_ARGUMENT(time));
	}
	document_string(paper->document, line, ".");
}

static void add_account(struct paper *paper, cmark_node *rows, const struct plan_load *load,
			const struct plan_account *account)
{
	cmark_node *row = paper_add_row(paper, rows);
	paper_cell_text(paper, row, "load ", text_format(paper->arena, "%zu", load->number));
	cmark_node *name = paper_cell(paper, row, DAY_MARK_cell);
	document_strong(paper->document, name, parts_title(paper->emission, &account->solution->declared));
	document_format(paper->document, name, " %s" NBSP "%zu, %.*s", account->on_hand ? "fill" : "mix",
			account->fill + 1, TEXT_ARGUMENT(words_volume(paper->sheet, account->volume)));
	paper_part_with(paper, ": ");
	paper_cell_text(paper, row, "rolls done before ", rolls(paper, account->done_milli_rolls));
	paper_cell_text(paper, row, "this load ", rolls(paper, account->load_milli_rolls));
	paper_cell_text(paper, row, "after it ", rolls(paper, account->done_milli_rolls + account->load_milli_rolls));
	paper_cell_text(paper, row, "does ",
			account->capacity_milli_rolls > 0 ? rolls(paper, account->capacity_milli_rolls) : TEXT(""));
	paper_cell_text(paper, row, "time used ", time_used(paper, load, account));
}

void lists_add_accounts(struct paper *paper)
{
	const struct day_plan *plan = paper->plan;
	cmark_node *rows = NULL;
	for (size_t i = 0; i < plan->load_count; i++) {
		const struct plan_load *load = &plan->loads[i];
		const struct plan_account *account = lists_hold(paper->emission, load) ? load->accounts : NULL;
		for (; account; account = account->next) {
			if (!rows)
				rows = paper_table(paper, paper_part(paper, "Chemistry account"), DAY_TABLE_accounts);
			add_account(paper, rows, load, account);
		}
	}
}
