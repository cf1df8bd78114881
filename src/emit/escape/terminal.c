#include "emit/escape/terminal.h"

#include "support/utf8.h"

/* However deep the indent, a line holds this much. */
#define LEAST_COLUMNS 20

#define NO_BREAK_SPACE 0xA0
#define LINE_SEPARATOR 0x2028
#define PARAGRAPH_SEPARATOR 0x2029
#define NEXT_LINE 0x85

static bool ends_line(int32_t character)
{
	return character == '\n' || character == '\r' || character == '\t' || character == '\v' || character == '\f' ||
	       character == NEXT_LINE || character == LINE_SEPARATOR || character == PARAGRAPH_SEPARATOR;
}

/* The character at the start of `text`; a byte that is no UTF-8 counts as one character of its own. */
static size_t next_character(struct text text, int32_t *character)
{
	int length = utf8_decode(text, character);
	if (length > 0)
		return (size_t)length;
	*character = -1;
	return 1;
}

static struct text text_after(struct text text, size_t offset)
{
	return (struct text){ text.data + offset, text.length - offset };
}

/* True where nothing has to be changed, which is nearly always so. */
static bool is_harmless(struct text text)
{
	for (size_t i = 0; i < text.length;) {
		int32_t character;
		size_t length = next_character(text_after(text, i), &character);
		if (character < 0 || ends_line(character) || utf8_is_hidden(character))
			return false;
		i += length;
	}
	return true;
}

struct text terminal_line(struct arena *arena, struct text text)
{
	if (is_harmless(text))
		return text;
	struct text_builder line = text_builder_start(arena);
	while (text.length > 0) {
		int32_t character;
		size_t length = next_character(text, &character);
		if (ends_line(character))
			text_append_byte(&line, ' ');
		else
			text_append(&line, (struct text){ text.data, length });
		text = text_after(text, length);
	}
	return utf8_harmless(arena, text_builder_text(&line));
}

/* How many bytes of `text` go on a line of `room` columns. */
static size_t fitting(struct text text, size_t room)
{
	size_t taken = 0, break_at = 0, columns = 0;
	while (taken < text.length) {
		struct text rest = text_after(text, taken);
		int32_t character;
		size_t length = next_character(rest, &character);
		size_t width = character < 0 ? 1 : (size_t)utf8_width(character);
		if (character == ' ')
			break_at = taken;
		if (columns + width > room)
			return break_at > 0 ? break_at : taken;
		columns += width;
		taken += length;
	}
	return taken;
}

/* A no-break space has done its work once the lines are broken. */
static void write_spaced(struct output *output, struct text text)
{
	while (text.length > 0) {
		int32_t character;
		size_t length = next_character(text, &character);
		if (character == NO_BREAK_SPACE)
			output_string(output, " ");
		else
			output_write(output, (struct text){ text.data, length });
		text = text_after(text, length);
	}
}

void terminal_wrap(struct output *output, struct text text, size_t indent, size_t width)
{
	size_t room = width >= indent + LEAST_COLUMNS ? width - indent : LEAST_COLUMNS;
	for (;;) {
		size_t taken = fitting(text, room);
		write_spaced(output, (struct text){ text.data, taken });
		output_string(output, "\n");
		text = text_after(text, taken);
		while (text.length > 0 && text.data[0] == ' ')
			text = text_after(text, 1);
		if (text.length == 0)
			return;
		output_format(output, "%*s", (int)indent, "");
	}
}
