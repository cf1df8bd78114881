/* A look at a file's bytes before it is scanned, and at texts for what cannot be seen in them. */
#include "syntax/screen.h"

#include "support/utf8.h"

/* Bytes that are looked at together: a compiler makes one or two vectors of them, since their number is fixed and the
 * loop over them has one way out. */
#define TOGETHER 32

/* True outside of 0x20 to 0x7E, but for what lays a text out. */
static bool is_odd(unsigned char byte)
{
	return ((unsigned char)(byte - 0x20) >= 0x5f) & (byte != '\n') & (byte != '\t') & (byte != '\r');
}

static bool is_plain(const char *bytes)
{
	unsigned char odd = 0;

	for (size_t i = 0; i < TOGETHER; i++)
		odd |= is_odd((unsigned char)bytes[i]);
	return odd == 0;
}

/* Plain text is the rule, so plain bytes are passed over first. */
static size_t screen_next_odd(const char *bytes, size_t at, size_t length)
{
	while (length - at >= TOGETHER && is_plain(bytes + at))
		at += TOGETHER;
	while (at < length && !is_odd((unsigned char)bytes[at]))
		at++;
	return at;
}

bool screen_file(const struct source_file *file, struct report *report, bool *has_hidden)
{
	const char *bytes = file->bytes;

	for (size_t at = screen_next_odd(bytes, 0, file->length); at < file->length;) {
		int32_t character = 0;
		int length = utf8_decode((struct text){ file->bytes + at, file->length - at }, &character);
		struct span span = { file->base + (uint32_t)at, length < 1 ? 1 : (uint32_t)length };

		if (bytes[at] == 0) {
			report_help(report, report_add(report, CHECK_syntax, span, "a NUL byte"),
				    "this is not a text file, or it is not in UTF-8");
			return false;
		}
		if (length < 1) {
			report_help(report,
				    report_add(report, CHECK_syntax, span, "the byte 0x%02X is not valid UTF-8",
					       (unsigned char)bytes[at]),
				    "save the file in UTF-8");
			return false;
		}
		*has_hidden = *has_hidden || utf8_is_hidden(character);
		at = screen_next_odd(bytes, at + (size_t)length, file->length);
	}
	return true;
}

/* U+200C and U+200D: some scripts cannot be spelt without them. */
static bool is_joiner(int32_t character)
{
	return character == 0x200C || character == 0x200D;
}

void screen_text(struct text text, struct span span, struct report *report)
{
	for (size_t at = screen_next_odd(text.data, 0, text.length); at < text.length;) {
		int32_t character = 0;
		int length = utf8_decode((struct text){ text.data + at, text.length - at }, &character);
		size_t bytes = length < 1 ? 1 : (size_t)length;

		if (utf8_is_hidden(character)) {
			struct span place = { span.begin + (uint32_t)at, (uint32_t)bytes };
			struct diagnostic *finding =
				report_add(report, CHECK_hidden_character, place,
					   "the character U+%04X cannot be seen, or changes the direction of the text",
					   (unsigned)character);

			report_fix(report, finding, is_joiner(character) ? FIX_ASKS : FIX_SAFE, place, TEXT(""));
		}
		at = screen_next_odd(text.data, at + bytes, text.length);
	}
}
