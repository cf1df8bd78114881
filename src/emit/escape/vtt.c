#include "emit/escape/vtt.h"

#include "emit/escape/terminal.h"

void vtt_caption(struct output *output, struct arena *arena, struct text text)
{
	text = terminal_line(arena, text);
	for (size_t i = 0; i < text.length; i++) {
		switch (text.data[i]) {
		case '&':
			output_string(output, "&amp;");
			break;
		case '<':
			output_string(output, "&lt;");
			break;
		case '>':
			output_string(output, "&gt;");
			break;
		default:
			output_write(output, (struct text){ text.data + i, 1 });
		}
	}
}

void vtt_comment(struct output *output, struct arena *arena, struct text text)
{
	text = terminal_line(arena, text);
	for (size_t i = 0; i < text.length; i++) {
		/* Without two hyphens before it, ">" ends nothing. */
		if (text.data[i] == '>' && i > 0 && text.data[i - 1] == '-')
			output_string(output, " ");
		output_write(output, (struct text){ text.data + i, 1 });
	}
}
