#include "syntax/recovery.h"

#include <string.h>

#include "syntax/grammar.h"

static bool is_keyword(int kind)
{
	return kind >= W_WETSIDE;
}

static bool is_declaration_word(int kind)
{
	return is_keyword(kind) && kind <= W_ROLL;
}

static bool is_line_end(char byte)
{
	return byte == '\n' || byte == '\r';
}

static const char *place_of(const struct feed *feed, struct span span)
{
	return feed->file->bytes + (span.begin - feed->file->base);
}

static bool is_at_line_start(const struct feed *feed, struct span span)
{
	return span.begin == feed->file->base || is_line_end(place_of(feed, span)[-1]);
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

bool recovery_is_last_on_line(const struct feed *feed, struct span span)
{
	const char *at = past_blanks(feed, place_of(feed, span) + span.length);

	return at == file_end(feed) || strchr("\r\n#;}", byte_at(feed, at)) != NULL;
}

struct feed_token recovery_clause_end(const struct feed_token *token)
{
	return (struct feed_token){ .kind = END, .span = { token->span.begin, 0 } };
}

/* ---- braces that were forgotten --------------------------------------------------------------------------------- */

void recovery_note_close(struct feed *feed, const struct feed_token *brace, const struct feed_block *closed)
{
	struct feed_block *outer = feed->block_count == 0 ? NULL : &feed->blocks[feed->block_count - 1];

	if (outer == NULL) {
		feed->suspect = (struct span){ 0, 0 };
		return;
	}
	outer->has_lost_close = outer->has_lost_close || closed->has_lost_close;
	if (brace->is_first && brace->indent < closed->indent)
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

	if (!is_keyword(token->kind) || !token->is_first)
		return 0;
	for (size_t left = 0; left < feed->block_count; left++) {
		const struct feed_block *block = &feed->blocks[feed->block_count - 1 - left];

		if (recovery_may_begin(block, word))
			return left;
		if (token->indent > block->indent)
			return 0;
	}
	return 0;
}

/* The braces that are missing, each on a line of its own before that of the token, under what it closes. */
static void fix_open_blocks(struct feed *feed, struct diagnostic *finding, const struct feed_token *token, size_t open)
{
	struct text_builder braces = text_builder_start(feed->arena);
	uint32_t at = token->span.begin - (token->is_first ? (uint32_t)token->indent : 0);

	if (token->kind == END_OF_FILE && !is_at_line_start(feed, token->span))
		text_append_byte(&braces, '\n');
	for (size_t i = 1; i <= open; i++) {
		for (size_t j = 0; j < feed->blocks[feed->block_count - i].indent; j++)
			text_append_byte(&braces, ' ');
		text_append_string(&braces, "}\n");
	}
	report_fix(feed->report, finding, FIX_ASKS, (struct span){ at, 0 }, text_builder_text(&braces));
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
	feed->has_mistake |= open > 0;
	if (open == 0 || inner->has_lost_close)
		return open;
	finding = report_add(feed->report, CHECK_syntax, span_is_set(feed->suspect) ? feed->suspect : inner->brace,
			     "this `{` is not closed");
	if (!span_is_set(feed->suspect))
		fix_open_blocks(feed, finding, token, open);
	if (token->kind == END_OF_FILE)
		report_help(feed->report, finding, "a `}` is missing before the end of the file");
	else if (open == feed->block_count)
		report_note(feed->report, finding, token->span,
			    "a declaration at the start of a line begins here; clauses inside braces are indented");
	else
		report_note(feed->report, finding, token->span, "what begins here does not stand inside it");
	return open;
}

/* How far a brace is looked for. */
#define LINES_AHEAD 1000

/* True where the first line after a place that is not indented further than `indent` is a `}` so far to the right: the
 * brace that it closes is missing. */
static bool has_close_at(const struct feed *feed, struct span span, size_t indent)
{
	const char *line = line_end(feed, place_of(feed, span)) + 1;

	for (int count = 0; count < LINES_AHEAD && line < file_end(feed); count++) {
		const char *text = past_blanks(feed, line);
		const char *end = line_end(feed, text);

		if (text < end && (size_t)(text - line) <= indent)
			return byte_at(feed, text) == '}' && (size_t)(text - line) == indent;
		line = end + 1;
	}
	return false;
}

bool recovery_lacks_step_brace(const struct feed *feed, struct span span)
{
	return feed->follows_step && feed->block_count > 0 && feed->step_indent > feed->blocks[0].indent &&
	       feed->clause_indent > feed->step_indent && has_close_at(feed, span, feed->step_indent);
}

bool recovery_has_close(const struct feed *feed, struct span end)
{
	return has_close_at(feed, end, feed->clause_indent);
}

bool recovery_lacks_brace(const struct feed *feed, struct span end)
{
	return feed->block_count > 0 && feed->clause_indent > feed->blocks[feed->block_count - 1].indent &&
	       recovery_has_close(feed, end);
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
	case WORD_day:
		return NODE_day;
	default:
		return NODE_none;
	}
}

/* The names of a declaration that is given up, as far as they were read. A text without a word may be the file that it
 * uses. */
static void note_lost(struct feed *feed, int found)
{
	enum node_kind kind = node_kind_of(feed->clause_word);

	if (feed->block_count > 0)
		return;
	feed->wants_lost_name = kind != NODE_use && feed->clause_word != WORD_roll;
	if (feed->clause_word == WORD_roll) /* nothing names a roll */
		return;
	if (kind == NODE_use || *place_of(feed, feed->clause_start) == '"')
		add_lost(feed, NODE_use, (struct span){ 0, 0 });
	else if (kind != NODE_none)
		add_lost(feed, kind, feed->clause_name);
	else if (feed->clause_word != WORD_on && feed->clause_word != WORD_allow)
		add_lost(feed, NODE_none, feed->clause_start);
	if (kind != NODE_none && (found == NAME || is_keyword(found)))
		add_lost(feed, kind, feed->last);
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

/* A line that ends in a comma goes on, where that comma is not what is wrong: then it is a slip at the end of a clause.
 * A comma behind a comma is one too many of those that were right. */
static bool goes_on(const struct feed *feed)
{
	return feed->previous == COMMA && span_is_set(feed->before) && *place_of(feed, feed->before) == ',';
}

struct feed_token recovery_skip(struct feed *feed)
{
	bool is_line_open = goes_on(feed);

	for (bool starts_clause = feed->previous == END;;) {
		struct feed_token token = feed->has_pending ? feed->pending : feed_scan(feed);

		feed->has_pending = false;
		if (ends_skipping(feed, &token, starts_clause)) {
			feed_hold(feed, token);
			feed->is_skipping = false;
			return recovery_clause_end(&token);
		}
		starts_clause = token.kind == END;
		is_line_open = is_line_open && !(token.kind == END && *place_of(feed, token.span) == ';');
		note_skipped(feed, &token);
		if (token.kind == OPEN) {
			feed->skip_depth++;
		} else if (token.kind == CLOSE && feed->skip_depth > 0) {
			feed->skip_depth--;
		} else if (feed->block_count > 0 && feed->skip_depth == 0 &&
			   ((token.kind == END && !is_line_open) || token.kind == CLOSE)) {
			feed->is_skipping = false;
			return token;
		}
		is_line_open = token.kind == COMMA || (is_line_open && token.kind == END);
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
	feed->has_mistake = true;
	if (kind == OPEN)
		feed->block_count--;
	note_lost(feed, kind);
	if (kind == END_OF_FILE || (kind == CLOSE && !feed->is_stray_close))
		return;
	if (kind == END) {
		feed->is_cut = feed->last.length > 0 && is_line_end(*place_of(feed, feed->last));
		feed->is_skipping = feed->block_count == 0 || lacks_brace;
		feed->skip_depth = lacks_brace;
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
		feed->skip_depth = 1 + lacks_brace;
	} else if (lacks_brace) {
		feed->skip_depth = feed->last.begin == feed->clause_start.begin || has_close_on_line(feed, feed->last);
	}
}
