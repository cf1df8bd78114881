#include "emit/day/remarks.h"

#include "emit/day/said.h"

static bool has_decision(const struct roll *roll)
{
	return roll->develop_as < FAMILY_COUNT || roll->decided_by.length > 0;
}

bool remarks_has(const struct roll *roll)
{
	return has_decision(roll) || roll->allowances || roll->notes;
}

/* " allowed: brittle-or-shrunk: steel reel, by hand." */
static void add_allowed(struct paper *paper, cmark_node *item, const struct roll *roll, const char *start)
{
	const struct allowance *last = NULL;
	for (const struct allowance *allowance = roll->allowances; allowance; allowance = allowance->next) {
		document_format(paper->document, item, "%s%.*s: ", last ? "; " : start,
				TEXT_ARGUMENT(check_row(allowance->check)->name));
		document_prose(paper->document, item, allowance->reason.text);
		last = allowance;
	}
	if (last)
		said_end(paper->document, item, last->reason.text);
}

static void add_roll(struct paper *paper, cmark_node *list, const struct roll *roll)
{
	cmark_node *item = document_add_item(paper->document, list, NULL);
	document_strong(paper->document, item, roll->label);
	if (span_is_set(roll->title.span)) {
		document_string(paper->document, item, ", ");
		document_prose(paper->document, item, roll->title.text);
	}
	if (remarks_has(roll))
		document_string(paper->document, item, ":");
	struct roll_words words = said_of_roll(paper->arena, roll);
	words.said[ROLL_WORDS_develop_reason] = roll->develop_reason.text; /* with its markup */
	said_add_decision(paper->document, item, &words, document_prose);
	add_allowed(paper, item, roll, said_allowed(&words));
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
		bool has_remark = span_is_set(roll->title.span) || remarks_has(roll);
		if (!has_remark || !is_told(paper->emission, roll))
			continue;
		if (!list)
			list = document_add_list(paper->document, paper_part(paper, "Said of single rolls"), NULL);
		add_roll(paper, list, roll);
	}
}
