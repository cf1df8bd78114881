/* Lines, units, soft keywords: what stands between the scanner and the grammar. What a mistake costs: recovery.c. */
#include "syntax/recovery.h"

#include <string.h>

#include "syntax/grammar.h"
#include "syntax/scanner.h"

int scanner_next(yyscan_t scanner);

struct text feed_text(const struct feed *feed, struct span span)
{
	return (struct text){ feed->file->bytes + (span.begin - feed->file->base), span.length };
}

static bool is_keyword(int kind)
{
	return kind >= W_WETSIDE;
}

/* A measure that is not the same everywhere, without whose it is: "fl oz", "pint". */
static bool lacks_whose(struct text text)
{
	char whose[3 + LONGEST_SPELLING] = "US ";

	if (text.length > LONGEST_SPELLING)
		return false;
	memcpy(whose + 3, text.data, text.length);
	return unit_find((struct text){ whose, 3 + text.length }) != UNIT_none;
}

/* Tells a unit behind a number from a name. What only looks like one is reported and passed on as what was meant. */
static void feed_find_unit(struct feed *feed, struct feed_token *token)
{
	struct text text = feed_text(feed, token->span);
	bool is_measure;

	token->unit = unit_find(text);
	if (token->unit != UNIT_none) {
		token->kind = UNIT;
		return;
	}
	is_measure = lacks_whose(text);
	if (token->kind != UNIT && !is_measure)
		return;
	token->kind = UNIT;
	token->unit = is_measure ? UNIT_us_fluid_ounce : UNIT_celsius;
	feed->complained = token->span;
	if (feed->is_skipping)
		return;
	struct diagnostic *finding =
		report_add(feed->report, CHECK_wrong_unit, token->span, "`%.*s` is not a unit", TEXT_ARGUMENT(text));
	if (is_measure) {
		report_help(feed->report, finding, "say whose: US %.*s or UK %.*s", TEXT_ARGUMENT(text),
			    TEXT_ARGUMENT(text));
		report_fix(feed->report, finding, FIX_ASKS, (struct span){ token->span.begin, 0 }, TEXT("US "));
		report_fix(feed->report, finding, FIX_ASKS, (struct span){ token->span.begin, 0 }, TEXT("UK "));
	} else {
		report_help(feed->report, finding, "temperatures are in °C or °F");
	}
}

/* Keeps account of lines: every line end is a token. */
static void feed_keep_line(struct feed *feed, struct feed_token *token)
{
	token->is_first = feed->is_line_new;
	if (feed->is_line_new)
		feed->indent = token->span.begin - feed->line_begin;
	token->indent = feed->indent;
	feed->is_line_new = token->kind == END && feed_text(feed, token->span).data[0] != ';';
	if (feed->is_line_new)
		feed->line_begin = token->span.begin + token->span.length;
}

/* Tokens are filled in where they are wanted, not handed back: most of the work on one would be to copy it. */
static void feed_read(struct feed *feed, struct feed_token *token)
{
	*token = (struct feed_token){ .kind = scanner_next(feed->scanner) };
	if (token->kind == END_OF_FILE) {
		token->span = (struct span){ feed->file->base + feed->file->length, 0 };
		return;
	}
	token->span = feed->span;
	feed_keep_line(feed, token);
	if (token->kind == UNIT) {
		feed_find_unit(feed, token);
	} else if (token->kind == NAME) {
		struct text text = feed_text(feed, token->span);
		enum word_id word;

		if (feed->previous == NUMBER) {
			feed_find_unit(feed, token);
			if (token->kind == UNIT)
				return;
			if (text.length == 1 && text.data[0] == 'x') {
				token->kind = TIMES;
				return;
			}
		}
		word = word_find(text);
		if (word != WORD_COUNT)
			token->kind = W_WETSIDE + (int)word;
	}
}

struct feed_token feed_scan(struct feed *feed)
{
	struct feed_token token;

	feed_read(feed, &token);
	return token;
}

static bool starts_clause(const struct feed *feed)
{
	return feed->previous == END || feed->previous == OPEN || feed->previous == 0;
}

/* A line end that is no clause end. */
static bool ends_nothing(const struct feed *feed, const struct feed_token *end)
{
	return (starts_clause(feed) || feed->previous == COMMA) && feed_text(feed, end->span).data[0] != ';';
}

enum word_context feed_context_within(enum word_id word, enum word_context outer)
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
	case WORD_day:
		return IN_DAY;
	case WORD_roll:
		return IN_ROLL;
	default:
		return outer;
	}
}

enum word_context feed_context(const struct feed *feed)
{
	return feed->block_count == 0 ? IN_FILE : feed->blocks[feed->block_count - 1].context;
}

static void feed_start_clause(struct feed *feed, const struct feed_token *token)
{
	feed->clause_start = token->span;
	feed->clause_indent = token->indent;
	feed->clause_name = (struct span){ 0, 0 };
	feed->clause_word = is_keyword(token->kind) ? (enum word_id)(token->kind - W_WETSIDE) : WORD_COUNT;
	feed->follows_cut = feed->is_cut;
	feed->is_cut = false;
	if (token->kind != END && token->indent <= feed->step_indent)
		feed->follows_step = false;
}

static void feed_open_block(struct feed *feed, struct span brace)
{
	enum word_context context = feed_context_within(feed->clause_word, feed_context(feed));

	ARENA_RESERVE(feed->arena, feed->blocks, feed->block_count, feed->block_capacity);
	feed->blocks[feed->block_count++] = (struct feed_block){ .brace = brace,
								 .context = context,
								 .clause_word = feed->clause_word,
								 .clause_name = feed->clause_name,
								 .indent = feed->clause_indent };
}

/* Back in the clause that opened the block. */
static void feed_close_block(struct feed *feed, const struct feed_token *brace)
{
	struct feed_block block;

	feed->is_stray_close = feed->block_count == 0;
	if (feed->is_stray_close)
		return;
	block = feed->blocks[--feed->block_count];
	feed->clause_word = block.clause_word;
	feed->clause_name = block.clause_name;
	feed->last_close = brace->span;
	feed->closed = block;
	recovery_note_close(feed, brace, &block);
}

/* Keeps account of braces and clause starts for a token that goes to the grammar. */
static void feed_give(struct feed *feed, const struct feed_token *token)
{
	if (token->kind == END && feed->clause_word == WORD_step) {
		feed->follows_step = true;
		feed->step_indent = feed->previous == CLOSE ? feed->closed.indent : feed->clause_indent;
		feed->step_end = feed->previous == CLOSE ? (struct span){ 0, 0 } : feed->last;
	}
	if (starts_clause(feed))
		feed_start_clause(feed, token);
	else if (!span_is_set(feed->clause_name) && (token->kind == NAME || is_keyword(token->kind)))
		feed->clause_name = token->span;
	if (token->kind == OPEN)
		feed_open_block(feed, token->span);
	else if (token->kind == CLOSE)
		feed_close_block(feed, token);
	feed->previous = token->kind;
	feed->before = feed->last;
	feed->last = token->span;
	if (feed->keeps_given) {
		ARENA_RESERVE(feed->arena, feed->given, feed->given_count, feed->given_capacity);
		feed->given[feed->given_count++] = *token;
	}
}

/* What fits nowhere comes before the end, so that the grammar says what would. */
static void feed_ask(struct feed *feed, struct feed_token *end)
{
	struct feed_fitting *fitting = feed->fitting;

	fitting->is_asked = true;
	fitting->context = feed_context(feed);
	fitting->clause_word = feed->clause_word;
	fitting->last = feed->last;
	end->kind = ODD;
}

bool feed_take_fitting(struct feed *feed, int found, const int *fits, size_t fit_count)
{
	struct feed_fitting *fitting = feed->fitting;

	if (fitting == NULL || !fitting->is_asked || fitting->is_known || found != ODD)
		return false;
	fitting->is_known = true;
	for (size_t i = 0; i < fit_count; i++) {
		if (is_keyword(fits[i]))
			fitting->words[fits[i] - W_WETSIDE] = true;
		fitting->name |= fits[i] == NAME;
		fitting->unit |= fits[i] == UNIT;
	}
	return true;
}

void feed_hold(struct feed *feed, struct feed_token token)
{
	feed->pending = token;
	feed->has_pending = true;
}

/* Only the first word of a line and the end of the file can tell that a brace was forgotten. */
static bool may_lack_brace(const struct feed *feed, const struct feed_token *token)
{
	return token->kind == END_OF_FILE || (token->is_first && is_keyword(token->kind) && starts_clause(feed));
}

/* What comes where nothing is skipped and no brace is to be closed. */
static void feed_go_on(struct feed *feed, struct feed_token *token)
{
	size_t open;

	if (feed->has_pending) {
		*token = feed->pending;
		if (feed->previous == CLOSE) { /* a brace that was forgotten has just been closed */
			*token = recovery_clause_end(token);
			return;
		}
		feed->has_pending = false;
	} else {
		do {
			feed_read(feed, token);
		} while (token->kind == END && ends_nothing(feed, token));
	}
	if (!may_lack_brace(feed, token))
		return;
	if (token->kind == END_OF_FILE && feed->fitting != NULL && !feed->fitting->is_asked) {
		feed_ask(feed, token);
		return;
	}
	open = recovery_open_blocks(feed, token);
	if (open > 0) {
		feed_hold(feed, *token);
		feed->braces_to_close = open - 1;
		*token = (struct feed_token){ .kind = CLOSE, .span = { token->span.begin, 0 } };
	}
}

void feed_next(struct feed *feed, struct feed_token *token)
{
	if (feed->braces_to_close > 0) {
		feed->braces_to_close--;
		*token = (struct feed_token){ .kind = CLOSE, .span = { feed->pending.span.begin, 0 } };
	} else if (feed->is_skipping) {
		*token = recovery_skip(feed);
	} else {
		feed_go_on(feed, token);
	}
	feed_give(feed, token);
}
