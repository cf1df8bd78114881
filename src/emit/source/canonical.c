/* The canonical form of a recipe: tokens and comments out, one clause a line. */
#include "emit/source/canonical.h"

#include "support/utf8.h"
#include "syntax/grammar.h"
#include "syntax/parse.h"

/* A list is folded to this width. A block that stood on one line may be a little wider: a step that is one sentence is
 * read as one. */
#define LIST_COLUMNS 100
#define BLOCK_COLUMNS 120
#define INDENT 2
#define CONTINUATION 4
/* Comments behind code begin at this column, or two blanks behind the code where that is longer: a column of the page
 * and not of the neighbours, so that no line moves because another was edited. */
#define COMMENT_COLUMN 47
#define COMMENT_GAP 2

struct printer {
	struct arena *arena;
	const struct source_file *file;
	const struct feed_token *tokens;
	size_t count;
	size_t *offsets; /* of each token's end, in columns, were the file one line */
	size_t *closes;	 /* of each `{`: the index of its `}` */
	const struct tree *tree;
	size_t comment; /* the next one to print */

	struct text_builder out;
	size_t column;
	bool *is_inline; /* of each open block */
	size_t depth;
	size_t depth_capacity;
	uint32_t last_end;    /* where what was last printed ends in the source */
	bool is_row;	      /* the clause begins with no word: it is a row of a table */
	bool is_clause_begun; /* on this line or before it */
};

static struct text bytes_of(const struct printer *printer, struct span span)
{
	return (struct text){ printer->file->bytes + (span.begin - printer->file->base), span.length };
}

/* ---- spelling ---- */

/* "1 week", "2 weeks": a unit that has a singular has it behind a 1. */
static struct text unit_spelling(const struct printer *printer, size_t index)
{
	struct text written = bytes_of(printer, printer->tokens[index].span);
	enum unit_id unit = unit_find(written);
	struct text canonical;
	struct text singular;

	if (unit == UNIT_none)
		return written; /* told as wrong-unit: what was meant is for the writer to say */
	canonical = unit_row(unit)->canonical;
	singular = (struct text){ canonical.data, canonical.length - 1 };
	if (index > 0 && canonical.length > 1 && canonical.data[canonical.length - 1] == 's' &&
	    unit_find(singular) == unit && text_equal(bytes_of(printer, printer->tokens[index - 1].span), TEXT("1")))
		return singular;
	return canonical;
}

static struct text without_blanks(const struct printer *printer, struct text text)
{
	struct text_builder builder = text_builder_start(printer->arena);

	for (size_t i = 0; i < text.length; i++)
		if (text.data[i] != ' ' && text.data[i] != '\t')
			text_append_byte(&builder, text.data[i]);
	return text_builder_text(&builder);
}

static struct text spelling(const struct printer *printer, size_t index)
{
	struct text written = bytes_of(printer, printer->tokens[index].span);

	switch (printer->tokens[index].kind) {
	case UNIT:
		return unit_spelling(printer, index);
	case RANGE:
		return TEXT("..");
	case PLUS_MINUS:
		return TEXT("±");
	case TIMES:
		return TEXT("x");
	case DILUTION:
		return without_blanks(printer, written);
	case NUMBER:
		if (written.data[0] == '\xE2') /* the minus sign U+2212 */
			return text_format(printer->arena, "-%.*s", (int)written.length - 3, written.data + 3);
		return written;
	case END:
		return TEXT(";");
	default:
		return written;
	}
}

static bool starts_with_digit(struct text text)
{
	return text.data[0] >= '0' && text.data[0] <= '9';
}

/* The `x` within the name of a format: 4 x 4x5, of 4x5. */
static bool is_tight_times(const struct printer *printer, size_t index)
{
	const struct feed_token *tokens = printer->tokens;

	return index >= 2 && index + 1 < printer->count && tokens[index].kind == TIMES &&
	       tokens[index + 1].kind == NUMBER && starts_with_digit(bytes_of(printer, tokens[index + 1].span)) &&
	       (tokens[index - 2].kind == TIMES || tokens[index - 2].kind == W_OF);
}

static bool wants_blank(const struct printer *printer, size_t index)
{
	int kind = printer->tokens[index].kind;

	if (index == 0 || kind == COMMA || kind == END || kind == END_OF_FILE)
		return false;
	return !is_tight_times(printer, index) && !is_tight_times(printer, index - 1);
}

/* ---- measuring ---- */

/* How wide everything is on one line, and where blocks end: what is printed on one line is known to fit before. */
static void measure(struct printer *printer)
{
	size_t *open = ARENA_ARRAY(printer->arena, size_t, printer->count + 1);
	size_t depth = 0;
	size_t column = 0;

	printer->offsets = ARENA_ARRAY(printer->arena, size_t, printer->count);
	printer->closes = ARENA_ARRAY(printer->arena, size_t, printer->count);
	for (size_t i = 0; i < printer->count; i++) {
		int kind = printer->tokens[i].kind;

		if (kind == OPEN)
			open[depth++] = i;
		else if (kind == CLOSE && depth > 0)
			printer->closes[open[--depth]] = i;
		column += wants_blank(printer, i);
		column += kind == END_OF_FILE ? 0 : utf8_columns(spelling(printer, i));
		printer->offsets[i] = column;
	}
}

/* Line ends in the source between two addresses. */
static size_t count_lines(const struct printer *printer, uint32_t from, uint32_t to)
{
	const char *bytes = printer->file->bytes;
	size_t lines = 0;

	for (size_t i = from - printer->file->base; i < to - printer->file->base; i++)
		lines += bytes[i] == '\n' || (bytes[i] == '\r' && bytes[i + 1] != '\n');
	return lines;
}

/* A block stays on one line where it stood on one, and that line is not too long. */
static bool may_stay_inline(const struct printer *printer, size_t open)
{
	size_t close = printer->closes[open];
	uint32_t begin = printer->tokens[open].span.begin;
	uint32_t end = printer->tokens[close].span.begin;

	if (close == open + 1)
		return printer->comment == printer->tree->comment_count ||
		       printer->tree->comments[printer->comment].begin > end;
	return printer->column + printer->offsets[close] - printer->offsets[open] <= BLOCK_COLUMNS &&
	       count_lines(printer, begin, end) == 0;
}

/* ---- printing ---- */

static bool is_within_line(const struct printer *printer)
{
	return printer->depth > 0 && printer->is_inline[printer->depth - 1];
}

static void end_line(struct printer *printer)
{
	if (printer->column > 0)
		text_append_byte(&printer->out, '\n');
	printer->column = 0;
}

static void append(struct printer *printer, struct text text)
{
	text_append(&printer->out, text);
	printer->column += utf8_columns(text);
}

static void fill_to(struct printer *printer, size_t column)
{
	while (printer->column < column)
		append(printer, TEXT(" "));
}

/* Begins a line for what stands at an address of the source. Runs of blank lines become one; none follows a `{`. */
static void begin_line(struct printer *printer, uint32_t address, bool may_be_apart)
{
	size_t indent = printer->depth * INDENT;

	end_line(printer);
	if (may_be_apart && printer->out.length > 0 && printer->out.data[printer->out.length - 2] != '{' &&
	    count_lines(printer, printer->last_end, address) > 1)
		text_append_byte(&printer->out, '\n');
	if (printer->is_clause_begun && !printer->is_row)
		indent += CONTINUATION;
	fill_to(printer, indent);
}

static void print_comment(struct printer *printer, struct span span)
{
	struct text text = bytes_of(printer, span);
	bool is_behind = printer->column > 0 && count_lines(printer, printer->last_end, span.begin) == 0;

	while (text.data[text.length - 1] == ' ' || text.data[text.length - 1] == '\t')
		text.length--;
	if (is_behind) {
		size_t column = printer->column + COMMENT_GAP;

		fill_to(printer, column < COMMENT_COLUMN ? COMMENT_COLUMN : column);
	} else {
		begin_line(printer, span.begin, true);
	}
	append(printer, text);
	printer->last_end = span.begin + span.length;
	end_line(printer);
}

static void print_comments(struct printer *printer, uint32_t before)
{
	const struct tree *tree = printer->tree;

	while (printer->comment < tree->comment_count && tree->comments[printer->comment].begin < before)
		print_comment(printer, tree->comments[printer->comment++]);
}

/* Columns from the end of a token to the next place where the clause may be folded. */
static size_t width_up_to_comma(const struct printer *printer, size_t index)
{
	size_t last = index + 1;

	while (last + 1 < printer->count && printer->tokens[last].kind != COMMA && printer->tokens[last].kind != OPEN &&
	       printer->tokens[last + 1].kind != END && printer->tokens[last + 1].kind != CLOSE &&
	       printer->tokens[last + 1].kind != END_OF_FILE)
		last++;
	return printer->offsets[last] - printer->offsets[index];
}

/* A list is folded behind a comma where its writer did so, and where it would be too long. */
static bool is_folded(const struct printer *printer, size_t index)
{
	const struct feed_token *tokens = printer->tokens;

	if (is_within_line(printer) || index == 0 || tokens[index - 1].kind != COMMA)
		return false;
	return printer->column == 0 ||
	       count_lines(printer, tokens[index - 1].span.begin, tokens[index].span.begin) > 0 ||
	       printer->column + width_up_to_comma(printer, index - 1) > LIST_COLUMNS;
}

static void begin_clause(struct printer *printer, size_t index)
{
	int kind = printer->tokens[index].kind;

	printer->is_row = kind == NUMBER || kind == CLOCK || kind == STRING;
	if (!is_within_line(printer)) {
		begin_line(printer, printer->tokens[index].span.begin, true);
	} else {
		if (printer->tokens[index - 1].kind == END)
			append(printer, TEXT(";"));
		append(printer, TEXT(" "));
	}
	printer->is_clause_begun = true;
}

static void open_block(struct printer *printer, size_t index)
{
	bool is_inline = is_within_line(printer) || may_stay_inline(printer, index);

	append(printer, TEXT(" {"));
	ARENA_RESERVE(printer->arena, printer->is_inline, printer->depth, printer->depth_capacity);
	printer->is_inline[printer->depth++] = is_inline;
	printer->is_clause_begun = false;
}

static void close_block(struct printer *printer, size_t index)
{
	bool was_inline = is_within_line(printer);

	printer->depth--;
	printer->is_clause_begun = false;
	printer->is_row = false;
	if (was_inline)
		append(printer, TEXT(" "));
	else
		begin_line(printer, printer->tokens[index].span.begin, false);
	append(printer, TEXT("}"));
	printer->is_clause_begun = true; /* the clause that the block belongs to */
}

static void print_token(struct printer *printer, size_t index)
{
	const struct feed_token *token = &printer->tokens[index];

	if (token->kind == END) {
		printer->is_clause_begun = false;
		return;
	}
	if (token->kind == OPEN) {
		open_block(printer, index);
	} else if (token->kind == CLOSE) {
		close_block(printer, index);
	} else {
		if (!printer->is_clause_begun)
			begin_clause(printer, index);
		else if (is_folded(printer, index))
			begin_line(printer, token->span.begin, false);
		else if (wants_blank(printer, index))
			append(printer, TEXT(" "));
		append(printer, spelling(printer, index));
	}
	printer->last_end = token->span.begin + token->span.length;
}

struct text canonical_form(struct source_set *sources, const struct source_file *file, struct arena *arena,
			   struct report *report)
{
	struct parse_tokens tokens;
	struct printer printer = { .arena = arena, .file = file, .last_end = file->base };

	printer.tree = parse_file_tokens(sources, file, arena, report, &tokens);
	if (!tokens.is_whole)
		return (struct text){ NULL, 0 };
	printer.tokens = tokens.items;
	printer.count = tokens.count;
	printer.out = text_builder_start(arena);
	measure(&printer);
	for (size_t i = 0; i + 1 < printer.count; i++) {
		print_comments(&printer, printer.tokens[i].span.begin);
		print_token(&printer, i);
	}
	print_comments(&printer, file->base + file->length);
	end_line(&printer);
	return text_builder_text(&printer.out);
}
