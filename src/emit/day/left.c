#include "emit/day/left.h"

#include "emit/sheet/words.h"

void left_reason(struct paper *paper, cmark_node *parent, const struct plan_left *left)
{
	const struct roll *roll = left->roll;
	switch (left->reason) {
	case LEFT_TOMORROW:
		document_format(paper->document, parent, "another day, load" NBSP "%zu: not done before the finish",
				paper->plan->loads[left->load].number);
		return;
	case LEFT_SET_ASIDE:
		document_string(paper->document, parent, "set aside: ");
		document_prose(paper->document, parent, roll->set_aside.text);
		return;
	case LEFT_NO_PROCESS:
		if (roll->needs < FAMILY_COUNT)
			document_format(paper->document, parent, "needs %.*s; the day runs nothing for it",
					TEXT_ARGUMENT(family_row(roll->needs)->word));
		else
			document_string(paper->document, parent,
					"its process is not known; the day runs nothing for it");
		return;
	default:
		document_string(paper->document, parent, "fits no load: too large for its tank, or for its baths");
	}
}

void left_table(struct paper *paper, cmark_node *part)
{
	cmark_node *rows = paper_table(paper, part, DAY_TABLE_left);
	for (size_t i = 0; i < paper->plan->left_count; i++) {
		const struct plan_left *left = &paper->plan->left[i];
		cmark_node *row = paper_add_row(paper, rows);
		cmark_node *label = paper_cell(paper, row, DAY_MARK_cell);
		document_strong(paper->document, label, left->roll->label);
		document_format(paper->document, label, " %.*s", TEXT_ARGUMENT(format_row(left->roll->format)->word));
		paper_part_with(paper, ", ");
		paper_cell_text(paper, row, "", left->roll->origin);
		left_reason(paper, paper_cell(paper, row, DAY_MARK_cell), left);
	}
}
