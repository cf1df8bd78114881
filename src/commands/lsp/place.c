#include "commands/lsp/place.h"

#include <limits.h>
#include <string.h>

#include "support/utf8.h"

/* An editor counts a byte order mark as one character, which the source leaves out. */
static size_t mark_units(const struct source_file *file, size_t line, enum place_units units)
{
	if (file->mark_length == 0 || line != 1)
		return 0;
	return units == PLACE_UTF8 ? file->mark_length : 1;
}

static size_t line_length(const char *from, const char *end)
{
	const char *at = from;

	while (at < end && *at != '\n' && *at != '\r')
		at++;
	return (size_t)(at - from);
}

/* The bytes before so many units of a line. */
static size_t bytes_before(struct text line, size_t units_wanted, enum place_units units)
{
	size_t at = 0;
	size_t count = 0;

	while (at < line.length && count < units_wanted) {
		int32_t character;
		int taken = utf8_decode((struct text){ line.data + at, line.length - at }, &character);
		size_t bytes = taken > 0 ? (size_t)taken : 1;
		size_t size = units == PLACE_UTF8 ? bytes : taken > 0 ? utf8_utf16_units(character) : 1;

		if (count + size > units_wanted)
			break;
		count += size;
		at += bytes;
	}
	return at;
}

static size_t bounded(const struct json_value *value)
{
	int64_t whole = json_value_whole(value, 0);

	return whole < 0 ? 0 : whole > INT_MAX ? (size_t)INT_MAX : (size_t)whole;
}

size_t place_offset(struct text text, enum place_units units, const struct json_value *position)
{
	const char *at = text.data;
	const char *end = text.data + text.length;

	for (size_t line = bounded(json_value_at(position, "line")); line > 0; line--) {
		at += line_length(at, end);
		if (at == end)
			return text.length;
		at += at[0] == '\r' && at + 1 < end && at[1] == '\n' ? 2 : 1;
	}
	return (size_t)(at - text.data) + bytes_before((struct text){ at, line_length(at, end) },
						       bounded(json_value_at(position, "character")), units);
}

uint32_t place_address(const struct source_set *sources, const struct source_file *file, enum place_units units,
		       const struct json_value *position)
{
	size_t line = bounded(json_value_at(position, "line")) + 1;
	size_t character = bounded(json_value_at(position, "character"));
	size_t mark = mark_units(file, line, units);
	struct text text;

	source_locate(sources, file->base); /* the lines are known from here on */
	if (line > file->line_count)
		return file->base + file->length;
	text = source_line(sources, file, line);
	return file->lines[line - 1] + (uint32_t)bytes_before(text, character > mark ? character - mark : 0, units);
}

static void put(struct json_node node, struct position position, enum place_units units)
{
	size_t column = units == PLACE_UTF8 ? position.byte_column : position.utf16_column;
	size_t mark = position.file == NULL ? 0 : mark_units(position.file, position.line, units);

	json_node_whole(node, "line", position.line == 0 ? 0 : (int64_t)position.line - 1);
	json_node_whole(node, "character", (int64_t)(column == 0 ? 0 : column - 1 + mark));
}

void place_put_position(struct json_node parent, const char *key, const struct source_set *sources,
			enum place_units units, uint32_t address)
{
	put(json_node_object(parent, key), position_of(sources, address), units);
}

void place_put_range(struct json_node parent, const char *key, const struct source_set *sources, enum place_units units,
		     struct span span)
{
	struct json_node range = json_node_object(parent, key);

	put(json_node_object(range, "start"), position_of(sources, span.begin), units);
	put(json_node_object(range, "end"), position_of_end(sources, span), units);
}
