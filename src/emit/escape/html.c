#include "emit/escape/html.h"

#include "support/utf8.h"

static const char *reference(int32_t character)
{
	switch (character) {
	case '&':
		return "&amp;";
	case '<':
		return "&lt;";
	case '>':
		return "&gt;";
	case '"':
		return "&quot;";
	case '\'':
		return "&#39;";
	default:
		return NULL;
	}
}

/* Controls and noncharacters are parse errors in HTML, even as references. */
static bool is_allowed(int32_t character)
{
	if (character < 0x20)
		return character == '\t' || character == '\n';
	if (character >= 0x7F && character < 0xA0)
		return false;
	return (character & 0xFFFE) != 0xFFFE && !(character >= 0xFDD0 && character <= 0xFDEF);
}

void html_text(struct output *output, struct text text)
{
	size_t written = 0;
	for (size_t place = 0; place < text.length;) {
		int32_t character;
		int taken = utf8_decode((struct text){ text.data + place, text.length - place }, &character);
		size_t bytes = taken > 0 ? (size_t)taken : 1;
		const char *instead = taken > 0 && is_allowed(character) ? reference(character) : "\xEF\xBF\xBD";
		if (instead) {
			output_write(output, (struct text){ text.data + written, place - written });
			output_string(output, instead);
			written = place + bytes;
		}
		place += bytes;
	}
	output_write(output, (struct text){ text.data + written, text.length - written });
}

void html_attribute(struct output *output, const char *name, struct text value)
{
	output_format(output, " %s=\"", name);
	html_text(output, value);
	output_string(output, "\"");
}

static unsigned digit_value(char digit)
{
	return (unsigned)(digit <= '9' ? digit - '0' : digit - 'a' + 10);
}

/* Three digits of four bits make two of six. */
void html_base64_of_hex(struct output *output, struct text digits)
{
	static const char alphabet[] = "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789+/";
	for (size_t i = 0; i < digits.length; i += 3) {
		unsigned bits = 0;
		for (size_t j = i; j < i + 3; j++)
			bits = bits << 4 | (j < digits.length ? digit_value(digits.data[j]) : 0);
		char pair[2] = { alphabet[bits >> 6], alphabet[bits & 63] };
		output_write(output, (struct text){ pair, i + 1 < digits.length ? 2 : 1 });
	}
	for (size_t bytes = digits.length / 2; bytes % 3 != 0; bytes++)
		output_string(output, "=");
}
