#include "emit/lists/lists.h"

#include "emit/day/left.h"
#include "emit/day/remarks.h"
#include "emit/day/wall.h"
#include "emit/lists/reel.h"
#include "emit/sheet/words.h"
#include "model/date.h"

#include "embedded/lists_css.h"

/* trade practice, no source */
const char *const lists_before_dark[] = {
	"Each thing found by touch, in its place: column, reels, lid, cap, scissors, opener.",
	"Reels bone dry.",
	"Telephone, watch and standby lamps out of the room. No screen of any brightness in the dark.",
	"Door locked.",
	NULL,
};

const char *const lists_before_light[] = { "Column in, lid locked.", NULL };

bool lists_hold(const struct emission *emission, const struct plan_load *load)
{
	return emission->load ? load == emission->load : load->is_today;
}

size_t lists_roll_count(const struct emission *emission)
{
	const struct day_plan *plan = emission->plan;
	size_t count = emission->load ? 0 : plan->left_count;
	for (size_t i = 0; i < plan->load_count; i++)
		count += lists_hold(emission, &plan->loads[i]) ? plan->loads[i].place_count : 0;
	return count;
}

struct text lists_ordinal(struct arena *arena, size_t number)
{
	static const char *const ends[] = { "th", "st", "nd", "rd" };
	bool is_plain = number % 10 > 3 || (number % 100 > 10 && number % 100 < 14);
	return text_format(arena, "%zu%s", number, ends[is_plain ? 0 : number % 10]);
}

/* ---- bottles ---- */

static uint32_t bottle_number(const struct process *process, const struct solution *solution)
{
	for (size_t i = 0; i < process->step_count; i++)
		if (process->steps[i].solution == solution)
			return process->steps[i].bottle;
	return 0;
}

static bool is_listed(const struct lists_bottle *bottles, size_t count, const struct plan_account *account)
{
	for (size_t i = 0; i < count; i++)
		if (bottles[i].account->solution == account->solution && bottles[i].account->fill == account->fill)
			return true;
	return false;
}

static bool stands_before(const struct lists_bottle *a, const struct lists_bottle *b)
{
	if (a->load->kind != b->load->kind)
		return a->load->kind < b->load->kind;
	if (a->number != b->number)
		return a->number < b->number;
	return a->account->fill < b->account->fill;
}

struct lists_bottle *lists_bottles(const struct emission *emission, size_t *count)
{
	const struct day_plan *plan = emission->plan;
	struct lists_bottle *bottles = NULL;
	size_t listed = 0;
	size_t capacity = 0;
	for (size_t i = 0; i < plan->load_count; i++) {
		const struct plan_load *load = &plan->loads[i];
		const struct plan_account *account = lists_hold(emission, load) ? load->accounts : NULL;
		for (; account; account = account->next) {
			if (is_listed(bottles, listed, account))
				continue;
			struct lists_bottle bottle = { load, account,
						       bottle_number(parts_process(plan, load), account->solution),
						       parts_mix_of(plan, account) };
			ARENA_RESERVE(emission->arena, bottles, listed, capacity);
			size_t place = listed++;
			for (; place > 0 && stands_before(&bottle, &bottles[place - 1]); place--)
				bottles[place] = bottles[place - 1];
			bottles[place] = bottle;
		}
	}
	*count = listed;
	return bottles;
}

struct text lists_mixed(const struct emission *emission, const struct lists_bottle *bottle)
{
	const struct on_hand *on_hand = bottle->account->on_hand;
	if (bottle->mix) {
		struct text stamp = wall_stamp(emission->arena, emission->plan->day, bottle->mix->end_s);
		return text_format(emission->arena, "%.10s %.5s", stamp.data, stamp.data + 11);
	}
	if (on_hand && span_is_set(on_hand->mixed))
		return date_print(emission->arena, on_hand->mixed_on);
	return TEXT("");
}

/* ---- the whole ---- */

static void add_banner(struct paper *paper)
{
	const struct day_plan *plan = paper->plan;
	cmark_node *banner = paper_block(paper, NULL, DAY_MARK_banner);
	cmark_node *title = document_add_heading(paper->document, banner, 1, NULL);
	if (span_is_set(plan->day->declared.title.span))
		words_add_title(paper->sheet, title, &plan->day->declared);
	else
		document_text(paper->document, title, parts_day(paper->emission));
	cmark_node *kind = document_add(paper->document, banner, CMARK_NODE_PARAGRAPH, paper_mark(DAY_MARK_kind));
	document_format(paper->document, kind, "Lists, %.*s", TEXT_ARGUMENT(wall_date(paper->arena, plan->day)));
	cmark_node *list = document_add_list(paper->document, banner, paper_mark(DAY_MARK_facts));
	cmark_node *rolls = paper_fact(paper, list, "Rolls");
	document_format(paper->document, rolls, "%zu on these lists, each of them once.",
			lists_roll_count(paper->emission));
	document_string(
		paper->document, paper_fact(paper, list, "Two lists for each load"),
		"the load list goes into the dark with the column, the hang list to the line. The roll that was "
		"loaded last hangs first. Tick the mark and the order of each roll on both.");
}

static struct paper *build(const struct emission *emission, bool is_drawn)
{
	struct paper *paper = paper_start(emission);
	add_banner(paper);
	for (size_t i = 0; i < paper->plan->load_count; i++)
		if (lists_hold(emission, &paper->plan->loads[i]))
			lists_add_load(paper, &paper->plan->loads[i], is_drawn);
	lists_add_accounts(paper);
	lists_add_labels(paper);
	if (!emission->load && paper->plan->left_count > 0)
		left_table(paper, paper_part(paper, "Left over"));
	remarks_add(paper);
	return paper;
}

/* ---- renderings ---- */

static void draw(const struct paper *paper, const struct day_mark *mark, struct output *output)
{
	(void)paper;
	if (mark->id == DAY_MARK_reel_cell)
		reel_draw(mark->number, output);
}

void emit_lists_html(const struct emission *emission, struct output *output)
{
	const struct text style = { lists_css, lists_css_length };
	paper_write(build(emission, true), "load and hang lists", style, draw, output);
}

void emit_lists_markdown(const struct emission *emission, struct output *output)
{
	output_write(output, document_markdown(build(emission, false)->document));
}
