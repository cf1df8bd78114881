#include "support/position.h"

#include "support/utf8.h"

struct position position_of(const struct source_set *sources, uint32_t address)
{
	struct source_place place = source_locate(sources, address);
	struct position position = { .file = place.file, .line = place.line, .display_column = place.column };
	if (!place.file)
		return position;
	const char *here = place.file->bytes + (address - place.file->base);
	struct text line = source_line(sources, place.file, place.line);
	size_t length = (size_t)(here - line.data);
	position.offset = address - place.file->base + place.file->mark_length;
	position.byte_column = length + 1;
	position.code_point_column = position.utf16_column = 1;
	for (size_t at = 0; at < length;) {
		int32_t character;
		int taken = utf8_decode((struct text){ line.data + at, length - at }, &character);
		at += taken > 0 ? (size_t)taken : 1;
		position.code_point_column++;
		position.utf16_column += taken > 0 ? utf8_utf16_units(character) : 1;
	}
	return position;
}

struct position position_of_end(const struct source_set *sources, struct span span)
{
	const struct source_file *file = source_file_of(sources, span);
	if (!file)
		return (struct position){ 0 };
	uint32_t rest = file->base + file->length - span.begin;
	return position_of(sources, span.begin + (span.length < rest ? span.length : rest));
}
