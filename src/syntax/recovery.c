#include "syntax/recovery.h"

#include <string.h>

#include "syntax/grammar.h"

static bool is_keyword(int kind)
{
	return kind >= W_WETSIDE;
}

static bool is_declaration_word(int kind)
{
	return is_keyword(kind) && kind <= W_PROCESS;
}

static bool is_line_end(char byte)
{
	return byte == '\n' || byte == '\r';
}

static const char *place_of(const struct feed *feed, struct span span)
{
	return feed->file->bytes + (span.begin - feed->file->base);
}

static const char *line_start(const struct feed *feed, const char *at)
{
	while (at > feed->file->bytes && !is_line_end(at[-1]))
		at--;
	return at;
}

static bool is_at_line_start(const struct feed *feed, struct span span)
{
	const char *at = place_of(feed, span);

	return line_start(feed, at) == at;
}

static const char *file_end(const struct feed *feed)
{
	return feed->file->bytes + feed->file->length;
}

/* A byte of the file: NUL, of which it has none, stands where the scanner has ended the last token. */
static char byte_at(const struct feed *feed, const char *at)
{
	return *at == '\0' && at < file_end(feed) ? feed->held : *at;
}

static const char *past_blanks(const struct feed *feed, const char *at)
{
	while (at < file_end(feed) && (byte_at(feed, at) == ' ' || byte_at(feed, at) == '\t'))
		at++;
	return at;
}

static const char *line_end(const struct feed *feed, const char *at)
{
	while (at < file_end(feed) && !is_line_end(byte_at(feed, at)))
		at++;
	return at;
}

static bool is_first_on_line(const struct feed *feed, struct span span)
{
	const char *at = place_of(feed, span);

	return past_blanks(feed, line_start(feed, at)) == at;
}

size_t recovery_indent(const struct feed *feed, struct span span)
{
	const char *start = line_start(feed, place_of(feed, span));

	return (size_t)(past_blanks(feed, start) - start);
}

bool recovery_is_last_on_line(const struct feed *feed, struct span span)
{
	const char *at = past_blanks(feed, place_of(feed, span) + span.length);

	return at == line_end(feed, at) || strchr("#;}", byte_at(feed, at)) != NULL;
}

struct feed_token recovery_clause_end(const struct feed_token *token)
{
	return (struct feed_token){ .kind = END, .span = { token->span.begin, 0 } };
}

/* ---- braces that were forgotten --------------------------------------------------------------------------------- */

void recovery_note_close(struct feed *feed, struct span brace, const struct feed_block *closed)
{
	struct feed_block *outer = feed->block_count == 0 ? NULL : &feed->blocks[feed->block_count - 1];

	if (outer == NULL) {
		feed->suspect = (struct span){ 0, 0 };
		return;
	}
	outer->has_lost_close = outer->has_lost_close || closed->has_lost_close;
	if (brace.length > 0 && is_first_on_line(feed, brace) && recovery_indent(feed, brace) < closed->indent)
		feed->suspect = closed->brace;
}

void recovery_lose_close(struct feed *feed)
{
	if (feed->is_skipping && feed->skip_depth > 0)
		feed->skip_depth--;
	else if (feed->block_count > 0)
		feed->blocks[feed->block_count - 1].has_lost_close = true;
}

bool recovery_may_begin(const struct feed_block *block, enum word_id word)
{
	switch (block->clause_word) {
	case WORD_mix:
	case WORD_formula:
		return word == WORD_water || word == WORD_add || word == WORD_stir || word == WORD_stand ||
		       word == WORD_top || word == WORD_note;
	case WORD_time: /* figures only */
		return false;
	default:
		return (word_row(word)->contexts & (unsigned)block->context) != 0;
	}
}

/* The inner blocks that a clause has left behind: it fits in none of them but in the next one, and its line is not
 * indented further than those that opened them. */
static size_t blocks_left(const struct feed *feed, const struct feed_token *token)
{
	enum word_id word = (enum word_id)(token->kind - W_WETSIDE);

	if (!is_keyword(token->kind) || !is_first_on_line(feed, token->span))
		return 0;
	for (size_t left = 0; left < feed->block_count; left++) {
		const struct feed_block *block = &feed->blocks[feed->block_count - 1 - left];

		if (recovery_may_begin(block, word))
			return left;
		if (recovery_indent(feed, token->span) > block->indent)
			return 0;
	}
	return 0;
}

size_t recovery_open_blocks(struct feed *feed, const struct feed_token *token)
{
	const struct feed_block *inner;
	struct diagnostic *finding;
	bool starts_clause = feed->previous == END || feed->previous == OPEN;
	size_t open = 0;

	if (feed->block_count == 0)
		return 0;
	if (token->kind == END_OF_FILE ||
	    (starts_clause && is_declaration_word(token->kind) && is_at_line_start(feed, token->span)))
		open = feed->block_count;
	else if (starts_clause)
		open = blocks_left(feed, token);
	inner = &feed->blocks[feed->block_count - 1];
	if (open == 0 || inner->has_lost_close)
		return open;
	finding = report_add(feed->report, CHECK_syntax, span_is_set(feed->suspect) ? feed->suspect : inner->brace,
			     "this `{` is not closed");
	if (token->kind == END_OF_FILE)
		report_help(feed->report, finding, "a `}` is missing before the end of the file");
	else if (open == feed->block_count)
		report_note(feed->report, finding, token->span,
			    "a declaration at the start of a line begins here; clauses inside braces are indented");
	else
		report_note(feed->report, finding, token->span, "what begins here does not stand inside it");
	return open;
}

bool recovery_lacks_step_brace(const struct feed *feed, struct span span)
{
	const char *line = line_start(feed, place_of(feed, span));
	size_t indent;

	if (!span_is_set(feed->step) || feed->block_count == 0)
		return false;
	indent = recovery_indent(feed, feed->step);
	if (indent <= feed->blocks[feed->block_count - 1].indent)
		return false;
	while (line < file_end(feed)) { /* what is not indented further than the step must be the brace that is over */
		const char *text = past_blanks(feed, line);
		const char *end = line_end(feed, text);

		if (text < end && (size_t)(text - line) <= indent)
			return byte_at(feed, text) == '}' && (size_t)(text - line) == indent;
		line = end + 1;
	}
	return false;
}

/* ---- skipping --------------------------------------------------------------------------------------------------- */

static void add_lost(struct feed *feed, enum node_kind kind, struct span name)
{
	struct tree *tree = feed->tree;

	ARENA_RESERVE(feed->arena, tree->lost, tree->lost_count, tree->lost_capacity);
	tree->lost[tree->lost_count++] = (struct tree_lost){ kind, name };
}

static enum node_kind node_kind_of(enum word_id word)
{
	switch (word) {
	case WORD_use:
		return NODE_use;
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

/* The names of a declaration that is given up, as far as they were read. A text without a word may be the file that it
 * uses. */
static void note_lost(struct feed *feed)
{
	enum node_kind kind = node_kind_of(feed->clause_word);

	if (feed->block_count > 0)
		return;
	feed->wants_lost_name = kind != NODE_use;
	if (kind == NODE_use || *place_of(feed, feed->clause_start) == '"')
		add_lost(feed, NODE_use, (struct span){ 0, 0 });
	else if (kind != NODE_none)
		add_lost(feed, kind, feed->clause_name);
	else if (feed->clause_word != WORD_on && feed->clause_word != WORD_allow)
		add_lost(feed, NODE_none, feed->clause_start);
}

/* The names up to the first brace or text may be that of the declaration; a text may be the file that it uses. */
static void note_skipped(struct feed *feed, const struct feed_token *token)
{
	if (!feed->wants_lost_name)
		return;
	if (token->kind == NAME || is_keyword(token->kind))
		add_lost(feed, NODE_none, token->span);
	else if (token->kind == STRING && feed->clause_word == WORD_COUNT &&
		 recovery_is_last_on_line(feed, token->span))
		add_lost(feed, NODE_use, (struct span){ 0, 0 });
	feed->wants_lost_name = token->kind == NAME || is_keyword(token->kind);
}

/* Outside of all blocks what was given up ends where something begins at the start of a line; a declaration there ends
 * it always. */
static bool ends_skipping(const struct feed *feed, const struct feed_token *token, bool starts_clause)
{
	if (token->kind == END_OF_FILE)
		return true;
	if (!starts_clause || !is_at_line_start(feed, token->span))
		return false;
	return is_declaration_word(token->kind) || (feed->block_count == 0 && feed->skip_depth == 0 &&
						    token->kind != END && token->kind != OPEN && token->kind != CLOSE);
}

struct feed_token recovery_skip(struct feed *feed)
{
	for (bool starts_clause = feed->previous == END;;) {
		struct feed_token token = feed->has_pending ? feed->pending : feed_scan(feed);

		feed->has_pending = false;
		if (ends_skipping(feed, &token, starts_clause)) {
			feed_hold(feed, token);
			feed->is_skipping = false;
			return recovery_clause_end(&token);
		}
		starts_clause = token.kind == END;
		note_skipped(feed, &token);
		if (token.kind == OPEN) {
			feed->skip_depth++;
		} else if (token.kind == CLOSE && feed->skip_depth > 0) {
			feed->skip_depth--;
		} else if (feed->block_count > 0 && feed->skip_depth == 0 &&
			   (token.kind == END || token.kind == CLOSE)) {
			feed->is_skipping = false;
			return token;
		}
		feed->previous = token.kind;
	}
}

/* A second `{` by mistake: what stands in it is read as if it were not there. */
static bool is_doubled_brace(const struct feed *feed)
{
	return feed->block_count > 0 && feed->before.length == 1 && *place_of(feed, feed->before) == '{';
}

/* A brace that is missing before the rest of a line, with its `}`. */
static bool has_close_on_line(const struct feed *feed, struct span span)
{
	const char *at = place_of(feed, span);
	const char *end = line_end(feed, at);

	while (at < end && byte_at(feed, at) != '#' && byte_at(feed, at) != '{' && byte_at(feed, at) != '}')
		at++;
	return at < end && byte_at(feed, at) == '}';
}

void recovery_give_up(struct feed *feed, int kind)
{
	bool lacks_brace = feed->lacks_brace;

	feed->lacks_brace = false;
	if (kind == OPEN)
		feed->block_count--;
	note_lost(feed);
	if (kind == END_OF_FILE || (kind == CLOSE && !feed->is_stray_close))
		return;
	if (kind == END) {
		feed->is_cut = feed->last.length > 0 && is_line_end(*place_of(feed, feed->last));
		feed->is_skipping = feed->block_count == 0;
		feed->skip_depth = 0;
		return;
	}
	feed->skip_depth = 0;
	feed->is_skipping = true;
	if (kind == OPEN) {
		if (is_doubled_brace(feed)) {
			feed->is_skipping = false;
			feed_hold(feed, (struct feed_token){ .kind = END, .span = { feed->last.begin + 1, 0 } });
			return;
		}
		feed->skip_depth = 1;
	} else if (feed->last.begin == feed->clause_start.begin || has_close_on_line(feed, feed->last)) {
		feed->skip_depth = lacks_brace;
	}
}
