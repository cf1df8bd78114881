#include "support/fix.h"

#include <string.h>

const char *fix_confidence_name(enum fix_confidence confidence)
{
	static const char *const names[] = { "safe", "asks", "gaps" };
	return names[confidence];
}

/* Without the blanks, line ends and `;` around it. */
static struct text trimmed(struct text text)
{
	while (text.length > 0 && strchr(" \t\r\n;", text.data[0])) {
		text.data++;
		text.length--;
	}
	while (text.length > 0 && strchr(" \t\r\n;", text.data[text.length - 1]))
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

/* The place before a byte and the blanks that lead to it. */
static uint32_t before_blanks(const struct source_file *file, uint32_t at)
{
	while (at > 0 && is_blank(file->bytes[at - 1]))
		at--;
	return at;
}

struct fix *fix_added_clause(struct arena *arena, const struct source_set *sources, struct span block,
			     struct text clause, enum fix_confidence confidence)
{
	const struct source_file *file = source_file_of(sources, block);
	if (!file || block.length == 0 || file->bytes[block.begin - file->base + block.length - 1] != '}')
		return NULL;
	struct fix *fix = ARENA_NEW(arena, struct fix);
	uint32_t brace = block.begin - file->base + block.length - 1;
	uint32_t at = before_blanks(file, brace);
	bool is_first = at == 0 || file->bytes[at - 1] == '\n' || file->bytes[at - 1] == '\r';
	fix->confidence = confidence;
	fix->span = (struct span){ file->base + at, 0 };
	if (is_first)
		fix->text =
			text_format(arena, "%.*s  %.*s\n", (int)(brace - at), file->bytes + at, TEXT_ARGUMENT(clause));
	else if (strchr("{;", file->bytes[at - 1]))
		fix->text = text_format(arena, " %.*s%s", TEXT_ARGUMENT(clause), at == brace ? " " : "");
	else
		fix->text = text_format(arena, "; %.*s%s", TEXT_ARGUMENT(clause), at == brace ? " " : "");
	return fix;
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
