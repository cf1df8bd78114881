#include "emit/escape/shell.h"

#include <stdbool.h>

#include "emit/escape/terminal.h"

struct text shell_word(struct arena *arena, struct text text)
{
	struct text line = terminal_line(arena, text);
	struct text_builder word = text_builder_start(arena);
	text_append_byte(&word, '\'');
	for (size_t i = 0; i < line.length; i++) {
		if (line.data[i] == '\'')
			text_append_string(&word, "'\\''");
		else
			text_append_byte(&word, line.data[i]);
	}
	text_append_byte(&word, '\'');
	return text_builder_text(&word);
}

struct text shell_comment(struct arena *arena, struct text text)
{
	return terminal_line(arena, text);
}

static bool is_letter_or_digit(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte >= '0' && byte <= '9');
}

/* What stands behind it in the name of a log and of its lock has room in the 255 bytes of a file's name. */
#define FILE_NAME_MOST 200

struct text shell_file_name(struct arena *arena, struct text text)
{
	struct text_builder name = text_builder_start(arena);
	for (size_t i = 0; i < text.length && i < FILE_NAME_MOST; i++) {
		char byte = text.data[i];
		bool may_stand = is_letter_or_digit(byte) || (i > 0 && (byte == '-' || byte == '.'));
		text_append_byte(&name, may_stand ? byte : '_');
	}
	if (text.length == 0)
		text_append_byte(&name, '_');
	return text_builder_text(&name);
}
