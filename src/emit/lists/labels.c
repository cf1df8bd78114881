/* Stickers for rolls and for bottles. */
#include <inttypes.h>

#include "emit/day/left.h"
#include "emit/lists/lists.h"
#include "emit/sheet/words.h"
#include "emit/this_run.h"

static void add_line(struct paper *paper, cmark_node *sticker, struct text text)
{
	paper_piece(paper, sticker, DAY_MARK_line, text);
}

static cmark_node *start_sticker(struct paper *paper, cmark_node *list)
{
	paper_part_with(paper, NULL);
	return document_add_item(paper->document, list, paper_mark(DAY_MARK_sticker));
}

static void add_label(struct paper *paper, cmark_node *sticker, struct text label)
{
	paper_say_pending(paper, sticker);
	paper_strong(paper, sticker, DAY_MARK_label, label);
	paper_part_with(paper, ": ");
}

/* A line that ends in something to fill in by hand. */
static void add_fill_in(struct paper *paper, cmark_node *sticker, struct text text)
{
	paper_say_pending(paper, sticker);
	cmark_node *line = document_add(paper->document, sticker, CMARK_NODE_CUSTOM_INLINE, paper_mark(DAY_MARK_line));
	document_text(paper->document, line, text);
	document_span(paper->document, line, paper_mark(DAY_MARK_fill_in), TEXT("........"));
	paper_part_with(paper, "; ");
}

/* Whoever holds the negatives later sees from the sleeve that they are not what the film was made for. */
static struct text made_for(struct arena *arena, const struct roll *roll)
{
	if (roll->needs >= FAMILY_COUNT)
		return TEXT("made for an unknown process");
	return text_format(arena, "made for %.*s", TEXT_ARGUMENT(family_row(roll->needs)->word));
}

static void add_roll(struct paper *paper, cmark_node *list, const struct plan_load *load,
		     const struct plan_place *place)
{
	struct arena *arena = paper->arena;
	const struct roll *roll = place->roll;
	cmark_node *sticker = start_sticker(paper, list);
	add_label(paper, sticker, roll->label);
	add_line(paper, sticker,
		 text_format(arena, "load" NBSP "%zu, reel" NBSP "%zu, %.*s", load->number, place->reel,
			     TEXT_ARGUMENT(format_row(roll->format)->word)));
	add_line(paper, sticker, roll->origin);
	add_line(paper, sticker, place->mark);
	add_line(paper, sticker, parts_title(paper->emission, &parts_process(paper->plan, load)->declared));
	if (roll->develop_as < FAMILY_COUNT)
		add_line(paper, sticker, made_for(arena, roll));
}

/* A roll that goes back to the shelf, with its reason. */
static void add_left(struct paper *paper, cmark_node *list, const struct plan_left *left)
{
	const struct roll *roll = left->roll;
	cmark_node *sticker = start_sticker(paper, list);
	add_label(paper, sticker, roll->label);
	add_line(paper, sticker,
		 text_format(paper->arena, "not developed, %.*s", TEXT_ARGUMENT(format_row(roll->format)->word)));
	add_line(paper, sticker, roll->origin);
	add_line(paper, sticker, roll->mark);
	paper_say_pending(paper, sticker);
	left_reason(paper, document_add(paper->document, sticker, CMARK_NODE_CUSTOM_INLINE, paper_mark(DAY_MARK_line)),
		    left);
}

static void add_hazards(struct paper *paper, cmark_node *sticker, const struct solution *solution)
{
	struct text_builder codes = text_builder_start(paper->arena);
	for (const struct hazard *hazard = solution->hazards; hazard; hazard = hazard->next)
		text_append_format(&codes, "%s%.*s", codes.length > 0 ? ", " : "", TEXT_ARGUMENT(hazard->code));
	if (codes.length > 0)
		add_line(paper, sticker,
			 text_format(paper->arena, "hazards %.*s", TEXT_ARGUMENT(text_builder_text(&codes))));
	else if (!solution->hazards_none)
		add_line(paper, sticker, TEXT("hazards: read the safety data sheet"));
}

static void add_bottle(struct paper *paper, cmark_node *list, const struct lists_bottle *bottle)
{
	const struct solution *solution = bottle->account->solution;
	struct arena *arena = paper->arena;
	cmark_node *sticker = start_sticker(paper, list);
	if (bottle->number > 0)
		paper_strong(paper, sticker, DAY_MARK_big, text_format(arena, "%" PRIu32, bottle->number));
	paper_part_with(paper, bottle->number > 0 ? " " : NULL);
	add_label(paper, sticker, parts_title(paper->emission, &solution->declared));
	add_line(paper, sticker, parts_title(paper->emission, &parts_process(paper->plan, bottle->load)->declared));
	add_line(paper, sticker,
		 text_format(arena, "%.*s, %s" NBSP "%zu",
			     TEXT_ARGUMENT(words_volume(paper->sheet, bottle->account->volume)),
			     bottle->account->on_hand ? "fill" : "mix", bottle->account->fill + 1));
	struct text mixed = lists_mixed(paper->emission, bottle);
	if (mixed.length > 0)
		add_line(paper, sticker, text_format(arena, "mixed %.*s", TEXT_ARGUMENT(mixed)));
	else
		add_fill_in(paper, sticker, TEXT("mixed "));
	add_fill_in(paper, sticker,
		    text_format(arena, "rolls done %.*s, then ",
				TEXT_ARGUMENT(this_run_rolls(arena, bottle->account->done_milli_rolls))));
	add_hazards(paper, sticker, solution);
	if (solution->waste < STREAM_COUNT)
		add_line(paper, sticker,
			 text_format(arena, "waste: container “%.*s”",
				     TEXT_ARGUMENT(stream_row(solution->waste)->word)));
}

void lists_add_labels(struct paper *paper)
{
	const struct day_plan *plan = paper->plan;
	size_t bottle_count;
	const struct lists_bottle *bottles = lists_bottles(paper->emission, &bottle_count);
	cmark_node *list = document_add_list(paper->document, paper_part(paper, "Labels for rolls"),
					     paper_mark(DAY_MARK_stickers));
	for (size_t i = 0; i < plan->load_count; i++)
		for (size_t j = 0; lists_hold(paper->emission, &plan->loads[i]) && j < plan->loads[i].place_count; j++)
			add_roll(paper, list, &plan->loads[i], &plan->loads[i].places[j]);
	for (size_t i = 0; !paper->emission->load && i < plan->left_count; i++)
		add_left(paper, list, &plan->left[i]);
	if (bottle_count == 0)
		return;
	list = document_add_list(paper->document, paper_part(paper, "Labels for bottles"),
				 paper_mark(DAY_MARK_bottle_stickers));
	for (size_t i = 0; i < bottle_count; i++)
		add_bottle(paper, list, &bottles[i]);
}
