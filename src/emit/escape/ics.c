#include "emit/escape/ics.h"

#include "support/utf8.h"

/* Octets in a line, without its end. */
#define LINE_MOST 75

/* The first octet of a character: all that are no continuation. */
static bool begins_character(char byte)
{
	return ((unsigned char)byte & 0xC0) != 0x80;
}

/* How much of a text goes on a line with so much room. */
static size_t piece(struct text text, size_t room)
{
	if (text.length <= room)
		return text.length;
	while (room > 0 && !begins_character(text.data[room]))
		room--;
	return room;
}

static void write_folded(struct output *output, struct text line)
{
	size_t room = LINE_MOST;
	while (line.length > 0) {
		size_t length = piece(line, room);
		output_write(output, (struct text){ line.data, length });
		output_string(output, "\r\n");
		line = (struct text){ line.data + length, line.length - length };
		if (line.length > 0)
			output_string(output, " ");
		room = LINE_MOST - 1; /* behind the space */
	}
}

void ics_line(struct output *output, struct arena *arena, const char *name, struct text value)
{
	write_folded(output, text_format(arena, "%s:%.*s", name, TEXT_ARGUMENT(value)));
}

void ics_text(struct output *output, struct arena *arena, const char *name, struct text value)
{
	struct text_builder line = text_builder_start(arena);
	size_t from = 0;
	text_append_format(&line, "%s:", name);
	for (size_t i = 0; i <= value.length; i++) {
		if (i < value.length && value.data[i] != '\n')
			continue;
		struct text shown = utf8_harmless(arena, (struct text){ value.data + from, i - from });
		for (size_t j = 0; j < shown.length; j++) {
			if (shown.data[j] == '\\' || shown.data[j] == ',' || shown.data[j] == ';')
				text_append_byte(&line, '\\');
			text_append_byte(&line, shown.data[j]);
		}
		if (i < value.length)
			text_append_string(&line, "\\n");
		from = i + 1;
	}
	write_folded(output, text_builder_text(&line));
}
