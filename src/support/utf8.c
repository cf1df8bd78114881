#include "support/utf8.h"

#include <string.h>
#include <utf8proc.h>

#define BEYOND_ONE_UNIT 0x10000 /* characters from here on take two UTF-16 units */

#define TAB_STOP 8

int utf8_decode(struct text text, int32_t *character)
{
	*character = -1;
	if (text.length == 0)
		return 0;
	/* Four bytes are enough for any character. */
	utf8proc_ssize_t length = text.length < 4 ? (utf8proc_ssize_t)text.length : 4;
	utf8proc_ssize_t taken = utf8proc_iterate((const utf8proc_uint8_t *)text.data, length, character);
	return taken > 0 ? (int)taken : -1;
}

static struct text after(struct text text, size_t bytes)
{
	return (struct text){ text.data + bytes, text.length - bytes };
}

size_t utf8_first_invalid(struct text text)
{
	size_t place = 0;
	while (place < text.length) {
		if ((unsigned char)text.data[place] < 0x80) {
			place++;
			continue;
		}
		int32_t character;
		int taken = utf8_decode(after(text, place), &character);
		if (taken < 0)
			return place;
		place += (size_t)taken;
	}
	return place;
}

int utf8_width(int32_t character)
{
	if (character < 0)
		return 1;
	if (character >= 0x20 && character < 0x7F)
		return 1;
	return utf8proc_charwidth(character);
}

size_t utf8_utf16_units(int32_t character)
{
	return character < BEYOND_ONE_UNIT ? 1 : 2;
}

size_t utf8_columns(struct text text)
{
	size_t columns = 0;
	for (size_t place = 0; place < text.length;) {
		int32_t character;
		int taken = utf8_decode(after(text, place), &character);
		columns += (size_t)utf8_width(character);
		place += taken > 0 ? (size_t)taken : 1;
	}
	return columns;
}

/* Format characters that have a shape of their own: signs put around or under digits. */
static bool is_visible_format(int32_t character)
{
	return (character >= 0x0600 && character <= 0x0605) || character == 0x06DD || character == 0x0890 ||
	       character == 0x0891 || character == 0x08E2 || character == 0x110BD || character == 0x110CD;
}

/* Letters and marks that Unicode draws as nothing. */
static bool is_blank_letter(int32_t character)
{
	return character == 0x034F || character == 0x115F || character == 0x1160 || character == 0x17B4 ||
	       character == 0x17B5 || (character >= 0x180B && character <= 0x180F) || character == 0x2800 ||
	       character == 0x3164 || character == 0xFFA0 || (character >= 0xE0100 && character <= 0xE01EF);
}

/* U+FDD0 to U+FDEF and the last two of each plane: no characters, and parse errors in HTML. */
static bool is_noncharacter(int32_t character)
{
	return (character & 0xFFFE) == 0xFFFE || (character >= 0xFDD0 && character <= 0xFDEF);
}

bool utf8_is_hidden(int32_t character)
{
	if (character == '\t' || character == '\n' || character == '\r')
		return false;
	if (character >= 0x20 && character < 0x7F)
		return false;
	switch (utf8proc_category(character)) {
	case UTF8PROC_CATEGORY_CC:
	case UTF8PROC_CATEGORY_CS:
	case UTF8PROC_CATEGORY_ZL:
	case UTF8PROC_CATEGORY_ZP:
		return true;
	case UTF8PROC_CATEGORY_CF:
		return !is_visible_format(character);
	default:
		return is_blank_letter(character) || is_noncharacter(character);
	}
}

/* True for ASCII, and where nothing but characters before U+0300, which are the first to combine, and of U+2010 to
 * U+203F (quotes, dashes, the ellipsis) stand beside it: none of these decomposes or is composed with another. */
static bool is_surely_normal(struct text text)
{
	for (size_t i = 0; i < text.length; i++) {
		unsigned char lead = (unsigned char)text.data[i];
		if (lead < 0x80)
			continue;
		size_t more = lead >= 0xC2 && lead <= 0xCB ? 1 : lead == 0xE2 ? 2 : 0;
		if (more == 0 || more >= text.length - i)
			return false;
		if (more == 2 && ((unsigned char)text.data[i + 1] != 0x80 || (unsigned char)text.data[i + 2] < 0x90))
			return false;
		for (; more > 0; more--)
			if (((unsigned char)text.data[++i] & 0xC0) != 0x80)
				return false;
	}
	return true;
}

static struct text mapped(struct arena *arena, struct text text, utf8proc_option_t options)
{
	const utf8proc_uint8_t *bytes = (const utf8proc_uint8_t *)text.data;
	utf8proc_ssize_t length = (utf8proc_ssize_t)text.length;
	utf8proc_ssize_t wanted = utf8proc_decompose(bytes, length, NULL, 0, options);
	if (wanted < 0)
		return text; /* not UTF-8 */
	utf8proc_int32_t *characters = ARENA_ARRAY(arena, utf8proc_int32_t, (size_t)wanted + 1);
	utf8proc_decompose(bytes, length, characters, wanted, options);
	utf8proc_ssize_t written = utf8proc_reencode(characters, wanted, options);
	if (written < 0)
		return text;
	return (struct text){ (const char *)characters, (size_t)written };
}

struct text utf8_normal(struct arena *arena, struct text text)
{
	return is_surely_normal(text) ? text : mapped(arena, text, UTF8PROC_STABLE | UTF8PROC_COMPOSE);
}

struct text utf8_folded(struct arena *arena, struct text text)
{
	return mapped(arena, text, UTF8PROC_STABLE | UTF8PROC_COMPOSE | UTF8PROC_CASEFOLD | UTF8PROC_IGNORE);
}

static void append_tab(struct text_builder *builder, size_t *column)
{
	do {
		text_append_byte(builder, ' ');
		(*column)++;
	} while (*column % TAB_STOP != 0);
}

/* How many bytes at the start are ASCII that is printed as it stands. */
static size_t printable_ascii(struct text text)
{
	size_t length = 0;
	while (length < text.length && text.data[length] >= 0x20 && text.data[length] < 0x7F)
		length++;
	return length;
}

struct text utf8_harmless(struct arena *arena, struct text text)
{
	struct text_builder builder = text_builder_start(arena);
	size_t column = 0;
	for (size_t place = 0; place < text.length;) {
		int32_t character;
		size_t printable = printable_ascii(after(text, place));
		text_append(&builder, (struct text){ text.data + place, printable });
		column += printable;
		place += printable;
		if (place == text.length)
			break;
		int taken = utf8_decode(after(text, place), &character);
		size_t bytes = taken > 0 ? (size_t)taken : 1;
		if (character == '\t') {
			append_tab(&builder, &column);
		} else if (taken < 0 || character < 0x20 || character == 0x7F) {
			text_append_format(&builder, "<0x%02X>", (unsigned)(unsigned char)text.data[place]);
			column += 6;
		} else if (utf8_is_hidden(character)) {
			size_t before = builder.length;
			text_append_format(&builder, "<U+%04X>", (unsigned)character);
			column += builder.length - before;
		} else {
			text_append(&builder, (struct text){ text.data + place, bytes });
			column += (size_t)utf8_width(character);
		}
		place += bytes;
	}
	return text_builder_text(&builder);
}
