#include "support/fix.h"

#include <string.h>

const char *fix_confidence_name(enum fix_confidence confidence)
{
	static const char *const names[] = { "safe", "asks", "gaps" };
	return names[confidence];
}

/* Without the blanks and line ends around it. */
static struct text trimmed(struct text text)
{
	while (text.length > 0 && strchr(" \t\r\n", text.data[0])) {
		text.data++;
		text.length--;
	}
	while (text.length > 0 && strchr(" \t\r\n", text.data[text.length - 1]))
		text.length--;
	return text;
}

struct text fix_words(struct arena *arena, const struct fix *fix)
{
	struct text text = trimmed(fix->text);
	if (text.length == 0)
		return fix->text.length > 0 ? TEXT("write an ordinary space") : TEXT("take it out");
	return text_format(arena, "write `%.*s`", TEXT_ARGUMENT(text));
}

static bool is_blank(char byte)
{
	return byte == ' ' || byte == '\t';
}

static bool is_line_end(const struct source_file *file, uint32_t at)
{
	return at == file->length || file->bytes[at] == '\n' || file->bytes[at] == '\r';
}

struct span fix_whole_clause(const struct source_set *sources, struct span clause)
{
	const struct source_file *file = source_file_of(sources, clause);
	if (!file)
		return clause;
	uint32_t begin = clause.begin - file->base, end = begin + clause.length;
	uint32_t before = begin, after = end;
	while (before > 0 && is_blank(file->bytes[before - 1]))
		before--;
	while (after < file->length && is_blank(file->bytes[after]))
		after++;
	bool is_first = before == 0 || file->bytes[before - 1] == '\n' || file->bytes[before - 1] == '\r';
	if (is_first && is_line_end(file, after)) { /* the whole line */
		begin = before;
		end = after;
		if (end < file->length && file->bytes[end] == '\r')
			end++;
		if (end < file->length && file->bytes[end] == '\n')
			end++;
	} else if (after < file->length && file->bytes[after] == ';') {
		for (end = after + 1; end < file->length && is_blank(file->bytes[end]);)
			end++;
	} else if (before > 0 && file->bytes[before - 1] == ';') {
		begin = before - 1;
	} else if (is_line_end(file, after) || file->bytes[after] == '#') {
		begin = is_first ? begin : before;
	}
	return (struct span){ file->base + begin, end - begin };
}

/* The line end that a file uses. */
static struct text line_end_of(const struct source_file *file)
{
	const char *feed = memchr(file->bytes, '\n', file->length);
	bool is_pair = feed && feed > file->bytes && feed[-1] == '\r';
	return is_pair ? TEXT("\r\n") : TEXT("\n");
}

struct text fix_apply(struct arena *arena, const struct source_file *file, const struct fix *const *fixes, size_t count)
{
	struct text_builder builder = text_builder_start(arena);
	struct text line_end = line_end_of(file);
	uint32_t at = 0;
	for (size_t i = 0; i < count; i++) {
		uint32_t begin = fixes[i]->span.begin - file->base;
		text_append(&builder, (struct text){ file->bytes + at, begin - at });
		for (size_t j = 0; j < fixes[i]->text.length; j++) {
			if (fixes[i]->text.data[j] == '\n')
				text_append(&builder, line_end);
			else
				text_append_byte(&builder, fixes[i]->text.data[j]);
		}
		at = begin + fixes[i]->span.length;
	}
	text_append(&builder, (struct text){ file->bytes + at, file->length - at });
	return text_builder_text(&builder);
}
