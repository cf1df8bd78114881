#include "emit/escape/csv.h"

#include <inttypes.h>
#include <string.h>

#include "support/utf8.h"

struct csv_row csv_row_start(struct output *output, struct arena *arena)
{
	return (struct csv_row){ output, arena, false };
}

static void separate(struct csv_row *row)
{
	if (row->has_cells)
		output_string(row->output, ",");
	row->has_cells = true;
}

static bool holds_any(struct text text, const char *bytes)
{
	for (size_t i = 0; i < text.length; i++)
		if (text.data[i] != '\0' && strchr(bytes, text.data[i]))
			return true;
	return false;
}

static bool is_line_or_tab(char byte)
{
	return byte == '\n' || byte == '\r' || byte == '\t';
}

/* Line ends and tabs stay, what lies between them is made harmless. */
static struct text harmless_cell(struct arena *arena, struct text text)
{
	struct text_builder cell = text_builder_start(arena);
	size_t from = 0;
	for (size_t i = 0; i <= text.length; i++) {
		if (i < text.length && !is_line_or_tab(text.data[i]))
			continue;
		text_append(&cell, utf8_harmless(arena, (struct text){ text.data + from, i - from }));
		if (i < text.length)
			text_append_byte(&cell, text.data[i]);
		from = i + 1;
	}
	return text_builder_text(&cell);
}

/* True where nothing has to be shown as an escape, which is nearly always so. */
static bool is_harmless(struct text text)
{
	for (size_t i = 0; i < text.length;) {
		struct text rest = { text.data + i, text.length - i };
		int32_t character;
		int length = utf8_decode(rest, &character);
		if (length < 0 || utf8_is_hidden(character))
			return false;
		i += (size_t)length;
	}
	return true;
}

/* Each quote twice. */
static void write_doubled(struct output *output, struct text text)
{
	size_t from = 0;
	for (size_t i = 0; i < text.length; i++) {
		if (text.data[i] != '"')
			continue;
		output_write(output, (struct text){ text.data + from, i + 1 - from });
		from = i;
	}
	if (from < text.length)
		output_write(output, (struct text){ text.data + from, text.length - from });
}

void csv_row_text(struct csv_row *row, struct text text)
{
	separate(row);
	if (!is_harmless(text))
		text = harmless_cell(row->arena, text);
	bool is_formula = text.length > 0 && holds_any((struct text){ text.data, 1 }, "=+-@\t\r");
	bool is_quoted = holds_any(text, ",\"\r\n\t");
	if (is_quoted)
		output_string(row->output, "\"");
	if (is_formula)
		output_string(row->output, "'");
	write_doubled(row->output, text);
	if (is_quoted)
		output_string(row->output, "\"");
}

void csv_row_figure(struct csv_row *row, struct text figure)
{
	separate(row);
	output_write(row->output, figure);
}

void csv_row_decimal(struct csv_row *row, int64_t thousandths)
{
	uint64_t size = thousandths < 0 ? (uint64_t)0 - (uint64_t)thousandths : (uint64_t)thousandths;
	const char *sign = thousandths < 0 ? "-" : "";
	uint64_t fraction = size % 1000;
	int digits = 3;
	for (; digits > 0 && fraction % 10 == 0; fraction /= 10)
		digits--;
	struct text whole = text_format(row->arena, "%s%" PRIu64, sign, size / 1000);
	if (digits > 0)
		whole = text_format(row->arena, "%.*s.%0*" PRIu64, TEXT_ARGUMENT(whole), digits, fraction);
	csv_row_figure(row, whole);
}

void csv_row_empty(struct csv_row *row)
{
	separate(row);
}

void csv_row_end(struct csv_row *row)
{
	output_string(row->output, "\r\n");
}
