#include "emit/escape/vtt.h"

#include "emit/escape/terminal.h"

static const char *reference_of(char byte)
{
	return byte == '&' ? "&amp;" : byte == '<' ? "&lt;" : byte == '>' ? "&gt;" : NULL;
}

void vtt_caption(struct output *output, struct arena *arena, struct text text)
{
	text = terminal_line(arena, text);
	size_t from = 0;
	for (size_t i = 0; i < text.length; i++) {
		const char *reference = reference_of(text.data[i]);
		if (!reference)
			continue;
		output_write(output, (struct text){ text.data + from, i - from });
		output_string(output, reference);
		from = i + 1;
	}
	output_write(output, (struct text){ text.data + from, text.length - from });
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
