/* What is not developed on a day, what would help, and what to take care of. */
#include <inttypes.h>

#include "emit/day/left.h"
#include "emit/day/plan_page.h"
#include "emit/day/wall.h"
#include "emit/departure.h"
#include "emit/sheet/words.h"

/* ---- what would help ---- */

/* "8 more reels for 120". */
static struct text remedy_words(struct paper *paper, const struct plan_remedy *remedy)
{
	struct arena *arena = paper->arena;
	int64_t size = remedy->amount < 0 ? -remedy->amount : remedy->amount;
	switch (remedy->kind) {
	case PLAN_REMEDY_reels:
		return text_format(arena, "%" PRId64 " more reels for %.*s", size,
				   TEXT_ARGUMENT(format_row(remedy->format)->word));
	case PLAN_REMEDY_tank:
		return size == 1 ? TEXT("one more tank") : text_format(arena, "%" PRId64 " more tanks", size);
	case PLAN_REMEDY_dryer:
		return text_format(arena, "a dryer with %" PRId64 " more places", size);
	case PLAN_REMEDY_chemistry:
		return text_format(arena, "%.*s more of the baths mixed beforehand",
				   TEXT_ARGUMENT(words_volume(paper->sheet, size)));
	case PLAN_REMEDY_finish:
		return text_format(arena, "a finish %.*s later", TEXT_ARGUMENT(wall_duration(arena, size)));
	case PLAN_REMEDY_start:
		return text_format(arena, "a start %.*s earlier", TEXT_ARGUMENT(wall_duration(arena, size)));
	default:
		return plan_remedy_row(remedy->kind)->title;
	}
}

static void add_remedies(struct paper *paper, cmark_node *part)
{
	const struct day_plan *plan = paper->plan;
	if (plan->remedy_count == 0)
		return;
	document_string(paper->document, document_add_heading(paper->document, part, 3, NULL),
			"What would help, each alone");
	cmark_node *list = document_add_list(paper->document, part, NULL);
	for (size_t i = 0; i < plan->remedy_count; i++) {
		const struct plan_remedy *remedy = &plan->remedies[i];
		cmark_node *item = document_add_item(paper->document, list, NULL);
		document_strong(paper->document, item, remedy_words(paper, remedy));
		if (remedy->fits)
			document_string(paper->document, item, ": then all is done");
		else if (remedy->more_rolls > 0)
			document_format(paper->document, item, ": %zu" NBSP "%s more, not all", remedy->more_rolls,
					remedy->more_rolls == 1 ? "roll" : "rolls");
		else
			document_string(paper->document, item, ": no roll more");
		document_format(paper->document, item, ", hands free at %.*s.",
				TEXT_ARGUMENT(wall_time(paper->arena, plan, remedy->end_s)));
	}
}

void plan_page_left(struct paper *paper)
{
	if (paper->plan->left_count == 0)
		return;
	cmark_node *part = paper_part(paper, "Not on this day");
	left_table(paper, part);
	add_remedies(paper, part);
}

/* ---- care ---- */

static cmark_node *care_list(struct paper *paper, const char *heading)
{
	cmark_node *part = paper_block(paper, NULL, DAY_MARK_care);
	document_string(paper->document, document_add_heading(paper->document, part, 2, NULL), heading);
	return document_add_list(paper->document, part, NULL);
}

static size_t load_of_party(const struct day_plan *plan, const struct plan_party *party)
{
	for (size_t i = 0; i < plan->load_count; i++)
		for (size_t j = 0; plan->loads[i].kind == party->kind && j < plan->loads[i].place_count; j++)
			if (text_equal(plan->loads[i].places[j].roll->together, party->name))
				return plan->loads[i].number;
	return 0;
}

static void add_risks(struct paper *paper)
{
	const struct report *report = paper->emission->report;
	cmark_node *list = NULL;
	struct parts_party party;
	for (size_t i = 0; i < paper->plan->party_count;) {
		i = parts_party_at(paper->plan, i, &party);
		if (!party.first->is_together || party.load_count != 1 || party.roll_count < 2)
			continue;
		list = list ? list : care_list(paper, "Risks taken");
		cmark_node *item = document_add_item(paper->document, list, NULL);
		document_strong(paper->document, item, party.first->name);
		document_format(paper->document, item,
				": all %zu" NBSP "rolls are in load" NBSP "%zu, as asked for. If that load goes wrong, "
				"none of them is left.",
				party.roll_count, load_of_party(paper->plan, party.first));
	}
	for (size_t i = 0; report && i < report->count; i++) {
		const struct diagnostic *finding = &report->items[i];
		if (!finding->allowed.data)
			continue;
		list = list ? list : care_list(paper, "Risks taken");
		departure_add(paper->document, document_add_item(paper->document, list, NULL), finding);
	}
}

static void add_waste(struct paper *paper)
{
	const struct day_plan *plan = paper->plan;
	cmark_node *list = NULL;
	for (size_t i = 0; i < plan->chemistry_count; i++) {
		const struct solution *solution = plan->chemistry[i].solution;
		list = list ? list : care_list(paper, "Waste");
		cmark_node *item = document_add_item(paper->document, list, NULL);
		document_strong(paper->document, item, parts_title(paper->emission, &solution->declared));
		if (solution->waste == STREAM_unstated)
			document_string(paper->document, item, ": not said, ask the waste handler.");
		else if (solution->waste == STREAM_none)
			document_string(paper->document, item, ": no container declared as needed.");
		else
			document_format(paper->document, item, ": container “%.*s”.",
					TEXT_ARGUMENT(stream_row(solution->waste)->word));
	}
}

void plan_page_care(struct paper *paper)
{
	static const char *const cautions[] = {
#define CAUTION(words) words,
#include "emit/cautions.def"
#undef CAUTION
	};
	add_risks(paper);
	cmark_node *list = care_list(paper, "Cautions");
	for (size_t i = 0; i < sizeof cautions / sizeof cautions[0]; i++)
		document_string(paper->document, document_add_item(paper->document, list, NULL), cautions[i]);
	add_waste(paper);
}
