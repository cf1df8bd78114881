#include "emit/day/remarks.h"

static bool has_decision(const struct roll *roll)
{
	return roll->develop_as < FAMILY_COUNT || roll->decided_by.length > 0;
}

static bool has_remark(const struct roll *roll)
{
	return span_is_set(roll->title.span) || has_decision(roll) || roll->notes;
}

/* "made for C-22, developed as black-and-white-negative: no baths for it; decided by KM." */
static void add_decision(struct paper *paper, cmark_node *item, const struct roll *roll)
{
	if (roll->needs < FAMILY_COUNT)
		document_format(paper->document, item, " made for %.*s", TEXT_ARGUMENT(family_row(roll->needs)->word));
	else
		document_string(paper->document, item, " made for a process that nobody knows");
	if (roll->develop_as < FAMILY_COUNT) {
		document_format(paper->document, item,
				", developed as %.*s: ", TEXT_ARGUMENT(family_row(roll->develop_as)->word));
		document_prose(paper->document, item, roll->develop_reason.text);
	}
	if (roll->decided_by.length > 0) {
		document_string(paper->document, item, "; decided by ");
		document_text(paper->document, item, roll->decided_by);
	}
	document_string(paper->document, item, ".");
}

static void add_roll(struct paper *paper, cmark_node *list, const struct roll *roll)
{
	cmark_node *item = document_add_item(paper->document, list, NULL);
	document_strong(paper->document, item, roll->label);
	if (span_is_set(roll->title.span)) {
		document_string(paper->document, item, ", ");
		document_prose(paper->document, item, roll->title.text);
	}
	if (has_decision(roll) || roll->notes)
		document_string(paper->document, item, ":");
	if (has_decision(roll))
		add_decision(paper, item, roll);
	for (const struct note *note = roll->notes; note; note = note->next) {
		document_string(paper->document, item, " ");
		document_prose(paper->document, item, note->prose.text);
	}
}

/* True where a roll is in the load that was asked for, or none was. */
static bool is_told(const struct emission *emission, const struct roll *roll)
{
	const struct plan_load *load = emission->load;
	bool is_in = !load;
	for (size_t i = 0; load && i < load->place_count; i++)
		is_in = is_in || load->places[i].roll == roll;
	return is_in;
}

void remarks_add(struct paper *paper)
{
	cmark_node *list = NULL;
	for (const struct roll *roll = paper->plan->day->rolls; roll; roll = roll->next) {
		if (!has_remark(roll) || !is_told(paper->emission, roll))
			continue;
		if (!list)
			list = document_add_list(paper->document, paper_part(paper, "Said of single rolls"), NULL);
		add_roll(paper, list, roll);
	}
}
