/* A look at a file's bytes before it is scanned, and at texts for what cannot be seen in them. */
#include "syntax/screen.h"

#include <limits.h>
#include <stdint.h>
#include <string.h>

#include "support/utf8.h"

#define EACH_BYTE(value) (UINT64_MAX / UCHAR_MAX * (value))

/* True where eight bytes are all from 0x20 to 0x7E. */
static bool is_plain(const char *bytes)
{
	uint64_t word;

	memcpy(&word, bytes, sizeof word);
	uint64_t below = (word - EACH_BYTE(0x20)) & ~word;
	uint64_t deleted = word ^ EACH_BYTE(0x7f);

	return ((word | below | ((deleted - EACH_BYTE(1)) & ~deleted)) & EACH_BYTE(0x80)) == 0;
}

/* Plain text is the rule, so plain bytes are passed over first. */
static size_t screen_next_odd(const char *bytes, size_t at, size_t length)
{
	while (at < length) {
		if (length - at >= 8 && is_plain(bytes + at))
			at += 8;
		else if ((bytes[at] >= 0x20 && bytes[at] < 0x7f) || bytes[at] == '\n' || bytes[at] == '\t' ||
			 bytes[at] == '\r')
			at++;
		else
			break;
	}
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
