/* Lines, units, soft keywords, recovery: what stands between the scanner and the grammar. */
#include "syntax/feed.h"

#include "syntax/grammar.h"
#include "syntax/scanner.h"

int scanner_next(yyscan_t scanner);

static struct text feed_text(const struct feed *feed, struct span span)
{
	return (struct text){ feed->file->bytes + (span.begin - feed->file->base), span.length };
}

static bool is_keyword(int kind)
{
	return kind >= W_WETSIDE;
}

static bool is_declaration_word(int kind)
{
	return is_keyword(kind) && kind <= W_PROCESS;
}

static bool is_at_line_start(const struct feed *feed, struct span span)
{
	const char *at = feed->file->bytes + (span.begin - feed->file->base);

	return span.begin == feed->file->base || at[-1] == '\n' || at[-1] == '\r';
}

static void feed_find_unit(struct feed *feed, struct feed_token *token)
{
	token->unit = unit_find(feed_text(feed, token->span));
	if (token->unit != UNIT_none) {
		token->kind = UNIT;
	} else if (token->kind == UNIT) { /* looks like one: fl oz, °R */
		struct text text = feed_text(feed, token->span);

		feed->complained = token->span;
		report_help(feed->report,
			    report_add(feed->report, CHECK_wrong_unit, token->span, "`%.*s` is not a unit",
				       TEXT_ARGUMENT(text)),
			    text.data[0] == 'f' ? "say which fluid ounce: US fl oz or UK fl oz"
						: "temperatures are in °C or °F");
		token->unit = text.data[0] == 'f' ? UNIT_us_fluid_ounce : UNIT_celsius;
	}
}

/* The scanner's next token, with names told apart into units, keywords and names. */
static struct feed_token feed_scan(struct feed *feed)
{
	struct feed_token token = { .kind = scanner_next(feed->scanner) };

	if (token.kind == END_OF_FILE) {
		token.span = (struct span){ feed->file->base + feed->file->length, 0 };
		return token;
	}
	token.span = feed->span;
	if (token.kind == UNIT) {
		feed_find_unit(feed, &token);
	} else if (token.kind == NAME) {
		struct text text = feed_text(feed, token.span);
		enum word_id word;

		if (feed->previous == NUMBER) {
			feed_find_unit(feed, &token);
			if (token.kind == UNIT)
				return token;
			if (text.length == 1 && text.data[0] == 'x') {
				token.kind = TIMES;
				return token;
			}
		}
		word = word_find(&feed->words, text);
		if (word != WORD_COUNT)
			token.kind = W_WETSIDE + (int)word;
	}
	return token;
}

static bool ends_nothing(const struct feed *feed, const struct feed_token *token)
{
	if (token->kind != END || feed_text(feed, token->span).data[0] == ';')
		return false;
	return feed->previous == END || feed->previous == OPEN || feed->previous == COMMA || feed->previous == 0;
}

static enum word_context context_of(enum word_id word, enum word_context outer)
{
	switch (word) {
	case WORD_tank:
		return IN_TANK;
	case WORD_graduate:
		return IN_GRADUATE;
	case WORD_heater:
		return IN_HEATER;
	case WORD_dryer:
		return IN_DRYER;
	case WORD_thermometer:
		return IN_THERMOMETER;
	case WORD_solution:
		return IN_SOLUTION;
	case WORD_film:
		return IN_FILM;
	case WORD_process:
		return IN_PROCESS;
	case WORD_step:
		return IN_STEP;
	default:
		return outer;
	}
}

enum word_context feed_context(const struct feed *feed)
{
	return feed->block_count == 0 ? IN_FILE : feed->blocks[feed->block_count - 1].context;
}

/* Keeps account of braces and clause starts for a token that goes to the grammar. */
static struct feed_token feed_give(struct feed *feed, struct feed_token token)
{
	if (feed->previous == END || feed->previous == OPEN || feed->previous == 0) {
		feed->clause_start = token.span;
		feed->clause_name = (struct span){ 0, 0 };
		feed->clause_word = is_keyword(token.kind) ? (enum word_id)(token.kind - W_WETSIDE) : WORD_COUNT;
	} else if (!span_is_set(feed->clause_name)) {
		feed->clause_name = token.span;
	}
	if (token.kind == OPEN) {
		enum word_context context = context_of(feed->clause_word, feed_context(feed));

		ARENA_RESERVE(feed->arena, feed->blocks, feed->block_count, feed->block_capacity);
		feed->blocks[feed->block_count++] =
			(struct feed_block){ token.span, context, feed->clause_word, feed->clause_name };
	} else if (token.kind == CLOSE) {
		feed->is_stray_close = feed->block_count == 0;
		if (!feed->is_stray_close) { /* back in the clause that opened the block */
			feed->block_count--;
			feed->clause_word = feed->blocks[feed->block_count].clause_word;
			feed->clause_name = feed->blocks[feed->block_count].clause_name;
		}
	}
	feed->previous = token.kind;
	feed->before = feed->last;
	feed->last = token.span;
	return token;
}

static void feed_hold(struct feed *feed, struct feed_token token)
{
	feed->pending = token;
	feed->has_pending = true;
}

static struct feed_token clause_end_before(const struct feed_token *token)
{
	return (struct feed_token){ .kind = END, .span = { token->span.begin, 0 } };
}

static void feed_add_lost(struct feed *feed, enum node_kind kind, struct span name)
{
	struct tree *tree = feed->tree;

	ARENA_RESERVE(feed->arena, tree->lost, tree->lost_count, tree->lost_capacity);
	tree->lost[tree->lost_count++] = (struct tree_lost){ kind, name };
}

/* Reads on to the end of a clause that was given up, past any braces it opens. A declaration at the start of a line
 * ends it too. */
static struct feed_token feed_skip(struct feed *feed)
{
	for (bool was_end = false;;) {
		struct feed_token token = feed_scan(feed);

		if (token.kind == END_OF_FILE ||
		    (was_end && is_declaration_word(token.kind) && is_at_line_start(feed, token.span))) {
			feed_hold(feed, token);
			token = clause_end_before(&token);
			feed->is_skipping = false;
			return token;
		}
		was_end = token.kind == END;
		if (feed->wants_lost_name && (token.kind == NAME || is_keyword(token.kind)))
			feed_add_lost(feed, NODE_none, token.span);
		feed->wants_lost_name = false;
		if (token.kind == OPEN) {
			feed->skip_depth++;
		} else if (token.kind == CLOSE && feed->skip_depth > 0) {
			feed->skip_depth--;
		} else if (feed->skip_depth == 0 &&
			   (token.kind == END || (token.kind == CLOSE && feed->block_count > 0))) {
			feed->is_skipping = false;
			return token;
		}
		feed->previous = token.kind;
	}
}

/* True where a brace was forgotten: a declaration, or the end of the file, in the middle of a block. */
static bool feed_finds_open_brace(struct feed *feed, const struct feed_token *token)
{
	struct diagnostic *finding;

	if (feed->block_count == 0)
		return false;
	if (token->kind != END_OF_FILE &&
	    !(is_declaration_word(token->kind) && (feed->previous == END || feed->previous == OPEN) &&
	      is_at_line_start(feed, token->span)))
		return false;
	finding = report_add(feed->report, CHECK_syntax, feed->blocks[0].brace, "this `{` is not closed");
	if (token->kind == END_OF_FILE)
		report_help(feed->report, finding, "a `}` is missing before the end of the file");
	else
		report_note(feed->report, finding, token->span,
			    "a declaration at the start of a line begins here; clauses inside braces are indented");
	return true;
}

struct feed_token feed_next(struct feed *feed)
{
	struct feed_token token;

	if (feed->braces_to_close > 0) {
		feed->braces_to_close--;
		return feed_give(feed, (struct feed_token){ .kind = CLOSE, .span = { feed->pending.span.begin, 0 } });
	}
	if (feed->is_skipping) {
		token = feed_skip(feed);
		return feed_give(feed, token);
	}
	if (feed->has_pending) {
		token = feed->pending;
		if (feed->previous == CLOSE) /* a brace that was forgotten has just been closed */
			return feed_give(feed, clause_end_before(&token));
		feed->has_pending = false;
	} else {
		do {
			token = feed_scan(feed);
		} while (ends_nothing(feed, &token));
	}
	if (feed_finds_open_brace(feed, &token)) {
		feed_hold(feed, token);
		feed->braces_to_close = feed->block_count;
		feed->braces_to_close--;
		return feed_give(feed, (struct feed_token){ .kind = CLOSE, .span = { token.span.begin, 0 } });
	}
	return feed_give(feed, token);
}

static enum node_kind node_kind_of(enum word_id word)
{
	switch (word) {
	case WORD_tank:
		return NODE_tank;
	case WORD_graduate:
		return NODE_graduate;
	case WORD_heater:
		return NODE_heater;
	case WORD_dryer:
		return NODE_dryer;
	case WORD_thermometer:
		return NODE_thermometer;
	case WORD_solution:
		return NODE_solution;
	case WORD_film:
		return NODE_film;
	case WORD_process:
		return NODE_process;
	default:
		return NODE_none;
	}
}

static void feed_note_lost(struct feed *feed)
{
	enum node_kind kind = node_kind_of(feed->clause_word);

	if (feed->block_count > 0)
		return;
	if (kind != NODE_none && span_is_set(feed->clause_name))
		feed_add_lost(feed, kind, feed->clause_name);
	feed->wants_lost_name = feed->clause_word == WORD_COUNT;
}

void feed_skip_clause(struct feed *feed, int kind)
{
	feed_note_lost(feed);
	if (kind == END || kind == END_OF_FILE || (kind == CLOSE && !feed->is_stray_close))
		return;
	feed->skip_depth = 0;
	if (kind == OPEN) {
		feed->block_count--;
		feed->skip_depth = 1;
	}
	feed->is_skipping = true;
}
