/* What the grammar could not read, said in a reader's words. */
#include "syntax/syntax_error.h"

#include "support/suggest.h"
#include "syntax/grammar.h"
#include "syntax/recovery.h"

/* Tokens that are no keyword, as a reader would call them. */
static const char *token_name(int kind)
{
	switch (kind) {
	case END_OF_FILE:
		return "the end of the file";
	case END:
		return "the end of the clause";
	case OPEN:
		return "`{`";
	case CLOSE:
		return "`}`";
	case COMMA:
		return "`,`";
	case RANGE:
		return "`..`";
	case PLUS_MINUS:
		return "`±`";
	case TIMES:
		return "`x`";
	case NAME:
		return "a name";
	case STRING:
		return "a text in quotes";
	case NUMBER:
		return "a figure";
	case UNIT:
		return "a unit";
	case CLOCK:
		return "a time";
	case DATE:
		return "a date";
	case ODD:
		return "a character without meaning";
	default:
		return "a dilution such as 1+9";
	}
}

static bool is_word(int kind)
{
	return kind >= W_WETSIDE;
}

static struct text word_of(int kind)
{
	return word_row((enum word_id)(kind - W_WETSIDE))->spelling;
}

static unsigned contexts_of(int kind)
{
	return word_row((enum word_id)(kind - W_WETSIDE))->contexts;
}

static bool fits_kind(const int *fits, size_t count, int kind)
{
	for (size_t i = 0; i < count; i++)
		if (fits[i] == kind)
			return true;
	return false;
}

static struct text found_text(const struct feed *feed, int found, struct span span)
{
	if (found == END_OF_FILE || found == END || span.length == 0)
		return text_from(token_name(found));
	return text_format(feed->arena, "`%.*s`", TEXT_ARGUMENT(source_text(feed->sources, span)));
}

/* "a name, `as` or `in`"; keywords are left out where a name fits, since each of them may be one. */
static struct text fitting_list(struct feed *feed, const int *fits, size_t count)
{
	struct text_builder builder = text_builder_start(feed->arena);
	bool skip_words = fits_kind(fits, count, NAME);
	size_t shown = 0;
	size_t total = 0;

	for (size_t i = 0; i < count; i++)
		total += !(skip_words && is_word(fits[i]));
	for (size_t i = 0; i < count; i++) {
		if (skip_words && is_word(fits[i]))
			continue;
		if (shown > 0)
			text_append_string(&builder, shown + 1 == total ? " or " : ", ");
		if (is_word(fits[i]))
			text_append_format(&builder, "`%.*s`", TEXT_ARGUMENT(word_of(fits[i])));
		else
			text_append_string(&builder, token_name(fits[i]));
		shown++;
	}
	return text_builder_text(&builder);
}

/* The keyword that may have been meant; false where none is near. */
static bool suggest_word(struct feed *feed, struct diagnostic *finding, struct span span, const int *fits, size_t count)
{
	struct suggestion_list list;

	suggest_start(&list, source_text(feed->sources, span));
	for (size_t i = 0; i < count; i++)
		if (is_word(fits[i]))
			suggest_offer(&list, word_of(fits[i]));
	return report_suggest(feed->report, finding, span, &list, SUGGESTION_OF_LANGUAGE);
}

static bool suggest_unit(struct feed *feed, struct diagnostic *finding, struct span span)
{
	struct suggestion_list list;

	suggest_start(&list, source_text(feed->sources, span));
	for (int unit = UNIT_none + 1; unit < UNIT_COUNT; unit++)
		suggest_offer(&list, unit_row((enum unit_id)unit)->canonical);
	return report_suggest(feed->report, finding, span, &list, SUGGESTION_OF_RECIPE);
}

/* The blocks in which a keyword may stand, for a clause in the wrong one. */
static struct text places_of(struct feed *feed, int kind)
{
	struct text_builder builder = text_builder_start(feed->arena);
	unsigned contexts = contexts_of(kind);

	for (unsigned bit = IN_FILE; bit <= IN_ROLL; bit <<= 1) {
		if ((contexts & bit) == 0)
			continue;
		if (builder.length > 0)
			text_append_string(&builder, " or ");
		text_append_string(&builder, bit == IN_FILE ? "at the top level" : "in ");
		if (bit != IN_FILE)
			text_append_string(&builder, word_context_name((enum word_context)bit));
	}
	return text_builder_text(&builder);
}

static void complain_step_brace(struct feed *feed, struct diagnostic *finding)
{
	feed->lacks_brace = true;
	report_help(feed->report, finding, "a `{` is missing at the end of the step before");
	if (span_is_set(feed->step_end))
		report_fix(feed->report, finding, FIX_ASKS,
			   (struct span){ feed->step_end.begin + feed->step_end.length, 0 }, TEXT(" {"));
}

static void report_clause_start(struct feed *feed, int found, struct span span, const int *fits, size_t count)
{
	enum word_context context = feed_context(feed);
	const char *block = context == IN_FILE ? "a file" : word_context_name(context);
	struct text token = found_text(feed, found, span);
	struct diagnostic *finding;
	struct text help = { "", 0 };

	if (found == CLOSE) {
		finding = report_add(feed->report, CHECK_syntax, span, "this `}` closes nothing");
		report_fix(feed->report, finding, FIX_ASKS, span, TEXT(""));
		return;
	}
	finding = report_add(feed->report, CHECK_syntax, span, "%.*s begins no clause of %s", TEXT_ARGUMENT(token),
			     block);
	if (context == IN_PROCESS && is_word(found) && (contexts_of(found) & IN_STEP) != 0 &&
	    recovery_lacks_step_brace(feed, span)) {
		complain_step_brace(feed, finding);
		return;
	}
	if (context == IN_FILE && is_word(found) && span_is_set(feed->last_close) &&
	    recovery_may_begin(&feed->closed, (enum word_id)(found - W_WETSIDE))) {
		report_note(feed->report, finding, feed->last_close, "this `}` closed the block in which it fits");
	}
	if ((found == NAME || is_word(found)) && suggest_word(feed, finding, span, fits, count))
		return;
	if (is_word(found) && (contexts_of(found) & (unsigned)context) == 0)
		help = text_format(feed->arena, "it stands %.*s", TEXT_ARGUMENT(places_of(feed, found)));
	if (help.length == 0)
		help = text_format(feed->arena, "here may stand %.*s", TEXT_ARGUMENT(fitting_list(feed, fits, count)));
	report_help(feed->report, finding, "%.*s", TEXT_ARGUMENT(help));
}

/* `runing water`: the word that is wrong stands before the one that does not fit. */
static bool report_running(struct feed *feed, int found)
{
	struct suggestion_list list;
	struct diagnostic *finding;

	if (found != W_WATER)
		return false;
	suggest_start(&list, source_text(feed->sources, feed->before));
	suggest_offer(&list, word_of(W_RUNNING));
	if (list.count == 0)
		return false;
	finding = report_add(feed->report, CHECK_syntax, feed->before, "`%.*s` does not fit here",
			     TEXT_ARGUMENT(list.wrong));
	return report_suggest(feed->report, finding, feed->before, &list, SUGGESTION_OF_LANGUAGE);
}

/* What fits in the block that the clause may open: a keyword, or the figures of a table of times. */
static bool begins_inner_clause(const struct feed *feed, int found)
{
	enum word_context context = feed_context(feed);
	enum word_context inner = feed_context_within(feed->clause_word, context);

	if (feed->clause_word == WORD_time)
		return found == NUMBER;
	return is_word(found) && inner != context && (contexts_of(found) & (unsigned)inner) != 0;
}

/* True where the token is wrong in itself, or stands behind a character that is, and that was said. */
static bool was_said(const struct feed *feed, struct span span)
{
	return feed->complained.begin == span.begin ||
	       (feed->complained.begin < span.begin && feed->complained.begin >= feed->before.begin &&
		span_is_set(feed->complained));
}

/* The clause ends, or goes on, where its block should begin. */
static void complain_brace(struct feed *feed, struct diagnostic *finding, int found, struct span span)
{
	if (found == END) {
		feed->lacks_brace = recovery_lacks_brace(feed, span);
		if (recovery_has_close(feed, span))
			report_fix(feed->report, finding, FIX_ASKS,
				   (struct span){ feed->before.begin + feed->before.length, 0 }, TEXT(" {"));
	} else if (begins_inner_clause(feed, found)) {
		feed->lacks_brace = true;
		report_help(feed->report, finding, "a `{` is missing before it");
		report_fix(feed->report, finding, FIX_ASKS, (struct span){ span.begin, 0 }, TEXT("{ "));
	}
}

void syntax_error_report(struct feed *feed, int found, struct span span, const int *fits, size_t fit_count)
{
	struct diagnostic *finding;
	struct text token;

	if (was_said(feed, span))
		return;
	if (span.begin == feed->clause_start.begin && found != END && found != END_OF_FILE) {
		if (feed->follows_cut && recovery_is_last_on_line(feed, span))
			return; /* what was wanted stands one line too low */
		report_clause_start(feed, found, span, fits, fit_count);
		return;
	}
	if (report_running(feed, found))
		return;
	token = found_text(feed, found, span);
	finding = report_add(feed->report, CHECK_syntax, span, "%.*s does not fit here; wanted %.*s",
			     TEXT_ARGUMENT(token), TEXT_ARGUMENT(fitting_list(feed, fits, fit_count)));
	if (found == OPEN && feed->clause_word == WORD_time && recovery_lacks_step_brace(feed, span)) {
		complain_step_brace(feed, finding);
		return;
	}
	if ((found == NAME || is_word(found)) &&
	    (suggest_word(feed, finding, span, fits, fit_count) ||
	     (fits_kind(fits, fit_count, UNIT) && suggest_unit(feed, finding, span))))
		return;
	if (fits_kind(fits, fit_count, OPEN))
		complain_brace(feed, finding, found, span);
}
