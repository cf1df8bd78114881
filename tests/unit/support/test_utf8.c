#include <stdlib.h>
#include <string.h>
#include <utf8proc.h>

#include "arena_fixture.h"
#include "support/utf8.h"

static void test_characters_of_every_length(void **state)
{
	(void)state;
	const struct {
		struct text text;
		int length;
		int32_t character;
	} cases[] = {
		{ TEXT("C"), 1, 'C' },
		{ TEXT("\xC2\xB0"), 2, 0xB0 },
		{ TEXT("\xE2\x84\x83"), 3, 0x2103 },
		{ TEXT("\xF0\x9F\x8E\x9E"), 4, 0x1F39E },
		{ TEXT("\0"), 1, 0 },
	};
	for (size_t i = 0; i < sizeof(cases) / sizeof(*cases); i++) {
		int32_t character;
		assert_int_equal(utf8_decode(cases[i].text, &character), cases[i].length);
		assert_int_equal(character, cases[i].character);
	}
	int32_t character;
	assert_int_equal(utf8_decode(TEXT(""), &character), 0);
}

/* RFC 3629: no overlong forms, no surrogates, nothing above U+10FFFF. */
static void test_bytes_that_are_no_utf8(void **state)
{
	(void)state;
	const struct text cases[] = {
		TEXT("\x80"),
		TEXT("\xC2"),
		TEXT("\xC0\x80"),
		TEXT("\xE0\x80\xAF"),
		TEXT("\xED\xA0\x80"),
		TEXT("\xF4\x90\x80\x80"),
		TEXT("\xF0\x9F\x8E"),
		TEXT("\xFF"),
		TEXT("\xC2 "),
		TEXT("\xE2\x84"),
		TEXT("\xF8\x88\x80\x80"),
	};
	for (size_t i = 0; i < sizeof(cases) / sizeof(*cases); i++) {
		int32_t character;
		assert_int_equal(utf8_decode(cases[i], &character), -1);
		struct text inside = text_format(&arena, "38 °C %.*s", TEXT_ARGUMENT(cases[i]));
		assert_int_equal(utf8_first_invalid(inside), 7);
	}
	assert_int_equal(utf8_first_invalid(TEXT("38 °C ± 0.2 K")), sizeof("38 °C ± 0.2 K") - 1);
	assert_int_equal(utf8_first_invalid(TEXT("")), 0);
}

/* Widths: Unicode Standard Annex 11; combining marks take no column. */
static void test_columns(void **state)
{
	(void)state;
	assert_int_equal(utf8_columns(TEXT("38 °C ± 0.2")), 11);
	assert_int_equal(utf8_columns(TEXT("現像")), 4);
	assert_int_equal(utf8_columns(TEXT("e\xCC\x81")), 1);
	assert_int_equal(utf8_columns(TEXT("\xFF")), 1);
	assert_int_equal(utf8_columns(TEXT("")), 0);
	assert_int_equal(utf8_width('a'), 1);
	assert_int_equal(utf8_width(0x200B), 0);
	assert_int_equal(utf8_width(0x1F39E), 1);
	assert_int_equal(utf8_width(0x1F600), 2);
}

static void test_hidden_characters(void **state)
{
	(void)state;
	static const int32_t hidden[] = { 0x00,	  0x07,	  0x1B,	  0x7F,	  0x85,	  0xAD,	  0x34F,
					  0x61C,  0x180E, 0x200B, 0x200D, 0x200E, 0x202A, 0x202E,
					  0x2028, 0x2029, 0x2066, 0x2069, 0x3164, 0xFEFF, 0xE0041 };
	static const int32_t seen[] = { ' ', '\t', '\n', 'a', 0xA0, 0xB0, 0xB1, 0x301, 0x2212, 0x600, 0x73FE, 0x1F39E };
	for (size_t i = 0; i < sizeof(hidden) / sizeof(*hidden); i++)
		if (!utf8_is_hidden(hidden[i]))
			fail_msg("U+%04X should be hidden", (unsigned)hidden[i]);
	for (size_t i = 0; i < sizeof(seen) / sizeof(*seen); i++)
		if (utf8_is_hidden(seen[i]))
			fail_msg("U+%04X should not be hidden", (unsigned)seen[i]);
}

/* Unicode Standard Annex 15: composed forms, hangul, order of marks; compatibility forms stay. */
static void test_normal_form(void **state)
{
	(void)state;
	struct text plain = TEXT("bleach-fix");
	assert_ptr_equal(utf8_normal(&arena, plain).data, plain.data);
	assert_text(utf8_normal(&arena, TEXT("re\xCC\x81ve\xCC\x81lateur")), "révélateur");
	assert_text(utf8_normal(&arena, TEXT("\xE1\x84\x92\xE1\x85\xA1\xE1\x86\xAB")), "\xED\x95\x9C");
	assert_text(utf8_normal(&arena, TEXT("a\xCC\x81\xCC\xA3")), "\xE1\xBA\xA1\xCC\x81");
	assert_text(utf8_normal(&arena, TEXT("\xE2\x84\xAB")), "\xC3\x85");
	assert_text(utf8_normal(&arena, TEXT("cm²")), "cm²");
	assert_text(utf8_normal(&arena, TEXT("\xC3(")), "\xC3(");
}

/* Each character behind a letter and before an accent, against utf8proc itself. */
static void test_normal_form_of_every_character(void **state)
{
	(void)state;
	for (utf8proc_int32_t character = 1; character < 0x3100; character++) {
		char bytes[16] = "a";
		size_t length = 1 + (size_t)utf8proc_encode_char(character, (utf8proc_uint8_t *)bytes + 1);
		for (int accents = 0; accents < 2; accents++) {
			utf8proc_uint8_t *expected = utf8proc_NFC((const utf8proc_uint8_t *)bytes);
			assert_text(utf8_normal(&arena, (struct text){ bytes, length }), (const char *)expected);
			free(expected);
			memcpy(bytes + length, "\xCC\x81", 3); /* U+0301 */
			length += 2;
		}
	}
}

static void test_harmless_text(void **state)
{
	(void)state;
	assert_text(utf8_harmless(&arena, TEXT("38 °C")), "38 °C");
	assert_text(utf8_harmless(&arena, TEXT("a\x1B[31mb")), "a<0x1B>[31mb");
	assert_text(utf8_harmless(&arena, TEXT("a\0b\nc\rd\x7F")), "a<0x00>b<0x0A>c<0x0D>d<0x7F>");
	assert_text(utf8_harmless(&arena, TEXT("x\xE2\x80\xAEy")), "x<U+202E>y");
	assert_text(utf8_harmless(&arena, TEXT("\xC2\x85")), "<U+0085>");
	assert_text(utf8_harmless(&arena, TEXT("\xFF\xC3(")), "<0xFF><0xC3>(");
	assert_text(utf8_harmless(&arena, TEXT("\tab\tc")), "        ab      c");
	assert_text(utf8_harmless(&arena, TEXT("")), "");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_characters_of_every_length),
		ARENA_TEST(test_bytes_that_are_no_utf8),
		ARENA_TEST(test_columns),
		ARENA_TEST(test_hidden_characters),
		ARENA_TEST(test_normal_form),
		ARENA_TEST(test_normal_form_of_every_character),
		ARENA_TEST(test_harmless_text),
	};
	RUN_TESTS(tests);
}
