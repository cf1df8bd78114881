/* A review to read and to keep beside the film, as CommonMark. */
#include <inttypes.h>

#include "emit/day/said.h"
#include "emit/document.h"
#include "emit/emission.h"
#include "emit/review/wording.h"

static cmark_node *add_paragraph(struct document *document)
{
	return document_add(document, document->root, CMARK_NODE_PARAGRAPH, NULL);
}

static void add_heading(struct document *document, int level, const char *words)
{
	document_string(document, document_add_heading(document, document->root, level, NULL), words);
}

static void add_fact(struct document *document, cmark_node *list, const char *label, struct text fact)
{
	cmark_node *item;

	if (fact.length == 0)
		return;
	item = document_add_item(document, list, NULL);
	document_format(document, item, "%s: ", label);
	document_text(document, item, fact);
}

static struct text load_words(const struct run_log *log, struct arena *arena)
{
	if (log->load_number == 0)
		return TEXT("");
	return text_format(arena, "%" PRId64 " of %" PRId64 ", %.*s%s%.*s", log->load_number, log->load_count,
			   TEXT_ARGUMENT(log->day), log->day_title.length > 0 ? ", " : "",
			   TEXT_ARGUMENT(log->day_title));
}

static void add_facts(struct document *document, const struct run_log *log)
{
	cmark_node *list = document_add_list(document, document->root, NULL);

	add_fact(document, list, "log", log->name);
	add_fact(document, list, "process", log->process);
	add_fact(document, list, "fingerprint", log->fingerprint);
	add_fact(document, list, "this run", log->this_run);
	add_fact(document, list, "load", load_words(log, document->arena));
	add_fact(document, list, "begun", log->started_stamp);
	add_fact(document, list, "ended", review_state(log, document->arena));
}

/* ---- steps ---- */

static void add_departures(struct document *document, cmark_node *item, const struct review_step *step)
{
	struct text departure;

	for (size_t i = 0; (departure = review_departure(step, i, document->arena)).length > 0; i++) {
		document_string(document, item, i == 0 ? " " : "; ");
		if (i == 0)
			document_strong(document, item, TEXT("Departure:"));
		document_string(document, item, i == 0 ? " " : "");
		document_text(document, item, departure);
	}
	document_string(document, item, step->has_departure ? "." : "");
}

static void add_sentence(struct document *document, cmark_node *item, const char *start, struct text words)
{
	if (words.length == 0)
		return;
	document_string(document, item, start);
	document_text(document, item, words);
	document_string(document, item, ".");
}

static void add_step(struct document *document, cmark_node *list, const struct review_step *step)
{
	const struct run_log_step *run = step->run;
	cmark_node *item = document_add_item(document, list, NULL);

	document_format(document, item, "%zu ", run->number);
	document_strong(document, item, run->name);
	if (run->bath.length > 0) {
		document_string(document, item, " in ");
		document_text(document, item, run->bath);
	}
	if (run->bottle > 0)
		document_format(document, item, " (bottle %" PRId64 ")", run->bottle);
	add_sentence(document, item, ": ", review_times(step, document->arena));
	if (run->begun_stamp.length > 0)
		add_sentence(document, item, " Begun ", run->begun_stamp);
	add_sentence(document, item, " Thermometer: ", review_temperature(step, document->arena));
	add_sentence(document, item, " Time: ", run->why);
	add_sentence(document, item, " Development: ", review_development(step, document->arena));
	add_departures(document, item, step);
}

/* ---- rolls ---- */

static void add_after(struct document *document, cmark_node *item, const char *before, struct text text)
{
	if (text.length == 0)
		return;
	document_string(document, item, before);
	document_text(document, item, text);
}

/* What was decided about the roll and why, in the words of the lists. */
static void add_said(struct document *document, cmark_node *item, const struct roll_words *words)
{
	struct text allowed = words->said[ROLL_WORDS_allowed], note = words->said[ROLL_WORDS_note];

	if (roll_words_have_decision(words) || allowed.length > 0 || note.length > 0)
		document_string(document, item, ":");
	said_add_decision(document, item, words, document_text);
	add_after(document, item, said_allowed(words), allowed);
	if (allowed.length > 0)
		said_end(document, item, allowed);
	add_after(document, item, " ", note);
}

static void add_roll(struct document *document, cmark_node *list, const struct run_log_roll *roll)
{
	cmark_node *item = document_add_item(document, list, NULL);

	document_format(document, item, "reel %" PRId64 ": ", roll->reel);
	document_strong(document, item, roll->label);
	add_after(document, item, ", ", roll->words.said[ROLL_WORDS_title]);
	add_after(document, item, ", ", roll->format);
	add_after(document, item, ", ", roll->conditions);
	add_after(document, item, ", ", roll->origin);
	add_after(document, item, ", ", roll->mark);
	add_said(document, item, &roll->words);
}

static void add_rolls(struct document *document, const struct run_log *log)
{
	cmark_node *list;

	if (log->rolls == NULL) {
		document_string(document, add_paragraph(document), "The log names no rolls.");
		return;
	}
	list = document_add_list(document, document->root, NULL);
	for (const struct run_log_roll *roll = log->rolls; roll != NULL; roll = roll->next)
		add_roll(document, list, roll);
}

/* Whether the film will keep; each kit says how its test is done. */
static void add_film_tests(struct document *document)
{
	static const char *const tests[] = { "retained silver", "residual hypo" };
	cmark_node *list = document_add_list(document, document->root, NULL);

	for (size_t i = 0; i < sizeof(tests) / sizeof(*tests); i++)
		document_format(
			document, document_add_item(document, list, NULL),
			"\xE2\x98\x90 %s, by the test kit's own instructions: result \xE2\x80\xA6\xE2\x80\xA6, by whom "
			"\xE2\x80\xA6\xE2\x80\xA6",
			tests[i]);
}

static void add_review(struct document *document, const struct review *review)
{
	const struct run_log *log = review->log;
	cmark_node *heading = document_add_heading(document, document->root, 1, NULL);
	cmark_node *list;

	document_string(document, heading, "Review: ");
	document_text(document, heading, log->title.length > 0 ? log->title : log->process);
	add_facts(document, log);
	document_format(document, add_paragraph(document), "%s",
			review->departures == 0 ? "No departures." : "There are departures; each stands at its step.");
	add_heading(document, 2, "Steps, planned beside done");
	list = document_add_list(document, document->root, NULL);
	for (size_t i = 0; i < log->step_count; i++)
		add_step(document, list, &review->steps[i]);
	add_heading(document, 2, "Rolls");
	add_rolls(document, log);
	add_film_tests(document);
}

/* A mix that was replaced is spent or lies elsewhere: a file has one of each bath on hand. */
static void add_replaced(struct document *document, const struct reviews *reviews)
{
	cmark_node *list = NULL;

	for (const struct review_bath *bath = reviews->baths; bath != NULL; bath = bath->next) {
		cmark_node *item;

		if (!bath->is_replaced)
			continue;
		if (list == NULL) {
			document_string(document, add_paragraph(document), "Another mix took the place of these:");
			list = document_add_list(document, document->root, NULL);
		}
		item = document_add_item(document, list, NULL);
		document_text(document, item, review_bath_words(bath, document->arena));
	}
}

static void add_on_hand(struct document *document, const struct reviews *reviews)
{
	struct text_builder lines = text_builder_start(document->arena);

	if (reviews->baths == NULL)
		return;
	add_heading(document, 1, "For the next day's file");
	for (const struct review_bath *bath = reviews->baths; bath != NULL; bath = bath->next) {
		if (bath->is_replaced)
			continue;
		text_append(&lines, review_on_hand(bath, document->arena));
		text_append_byte(&lines, '\n');
	}
	document_add_code(document, document->root, text_builder_text(&lines));
	add_replaced(document, reviews);
}

void emit_review_markdown(const struct emission *emission, struct output *output)
{
	struct document *document = document_create(emission->arena);

	for (size_t i = 0; i < emission->reviews->count; i++)
		add_review(document, &emission->reviews->items[i]);
	add_on_hand(document, emission->reviews);
	output_write(output, document_markdown(document));
}
