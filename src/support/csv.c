#include "support/csv.h"

#include <string.h>

struct csv_reader csv_start(struct arena *arena, struct text bytes)
{
	return (struct csv_reader){ .arena = arena, .bytes = bytes };
}

static bool is_line_end(char byte)
{
	return byte == '\n' || byte == '\r';
}

static bool ends_field(const struct csv_reader *reader, size_t at)
{
	return at == reader->bytes.length || reader->bytes.data[at] == ',' || is_line_end(reader->bytes.data[at]);
}

static void note_problem(struct csv_row *row, enum csv_problem problem, size_t at)
{
	if (row->problem != CSV_FINE)
		return;
	row->problem = problem;
	row->problem_at = at;
}

/* Up to the comma or line end; a quote in it is a mistake. */
static size_t plain_end(const struct csv_reader *reader, struct csv_row *row, size_t at, enum csv_problem problem)
{
	for (; !ends_field(reader, at); at++)
		if (problem == CSV_AFTER_QUOTE || reader->bytes.data[at] == '"')
			note_problem(row, problem, at);
	return at;
}

/* The offset of the quote that closes a field, or the length where none does. */
static size_t closing_quote(const struct csv_reader *reader, size_t at, bool *has_doubled)
{
	const struct text bytes = reader->bytes;

	*has_doubled = false;
	while (at < bytes.length) {
		const char *quote = memchr(bytes.data + at, '"', bytes.length - at);

		if (quote == NULL)
			break;
		at = (size_t)(quote - bytes.data);
		if (at + 1 == bytes.length || bytes.data[at + 1] != '"')
			return at;
		*has_doubled = true;
		at += 2;
	}
	return bytes.length;
}

static struct text without_doubled(struct arena *arena, struct text text)
{
	struct text_builder builder = text_builder_start(arena);

	for (size_t i = 0; i < text.length; i++) {
		text_append_byte(&builder, text.data[i]);
		if (text.data[i] == '"' && i + 1 < text.length && text.data[i + 1] == '"')
			i++;
	}
	return text_builder_text(&builder);
}

/* A field in quotes; what follows its closing quote belongs to it, and is a mistake. Behind a quote that nothing closes
 * all others stand in pairs, so that no other one is open and nothing is looked through a third time. */
static struct csv_field quoted_field(struct csv_reader *reader, struct csv_row *row)
{
	struct csv_field field = { .begin = reader->at };
	size_t inner = reader->at + 1;
	bool has_doubled;
	size_t close = closing_quote(reader, inner, &has_doubled);

	if (close == reader->bytes.length) {
		note_problem(row, CSV_OPEN_QUOTE, reader->at);
		for (close = inner; close < reader->bytes.length && !is_line_end(reader->bytes.data[close]); close++)
			continue;
		reader->at = close;
	} else {
		reader->at = plain_end(reader, row, close + 1, CSV_AFTER_QUOTE);
	}
	field.length = reader->at - field.begin;
	field.text = (struct text){ reader->bytes.data + inner, close - inner };
	if (has_doubled && row->problem != CSV_OPEN_QUOTE)
		field.text = without_doubled(reader->arena, field.text);
	return field;
}

static struct csv_field next_field(struct csv_reader *reader, struct csv_row *row)
{
	struct csv_field field = { .begin = reader->at };

	if (reader->at < reader->bytes.length && reader->bytes.data[reader->at] == '"')
		return quoted_field(reader, row);
	reader->at = plain_end(reader, row, reader->at, CSV_STRAY_QUOTE);
	field.length = reader->at - field.begin;
	field.text = (struct text){ reader->bytes.data + field.begin, field.length };
	return field;
}

bool csv_next(struct csv_reader *reader, struct csv_row *row)
{
	const struct text bytes = reader->bytes;

	*row = (struct csv_row){ .begin = reader->at };
	if (reader->at >= bytes.length)
		return false;
	for (;;) {
		ARENA_RESERVE(reader->arena, row->fields, row->count, row->capacity);
		row->fields[row->count++] = next_field(reader, row);
		if (reader->at == bytes.length || bytes.data[reader->at] != ',')
			break;
		reader->at++;
	}
	row->length = reader->at - row->begin;
	if (reader->at < bytes.length && bytes.data[reader->at] == '\r' && reader->at + 1 < bytes.length &&
	    bytes.data[reader->at + 1] == '\n')
		reader->at++;
	reader->at++;
	return true;
}
