/* Unicode, thinly over utf8proc: validity, width, normal form, and what must not be printed raw. */
#ifndef SUPPORT_UTF8_H
#define SUPPORT_UTF8_H

#include <stdbool.h>
#include <stdint.h>

#include "support/text.h"

/** Decodes the character at the start of `text`; returns its length in bytes, 0 at the end, and -1 for a byte that is
 * no UTF-8 (then treat one byte as the character). */
int utf8_decode(struct text text, int32_t *character);

/** Offset of the first byte that is not valid UTF-8, or the length where all is well. */
size_t utf8_first_invalid(struct text text);

/** Columns a character takes on a terminal (0, 1 or 2). */
int utf8_width(int32_t character);

/** UTF-16 code units a character takes (1 or 2). */
size_t utf8_utf16_units(int32_t character);

/** Columns a text takes on a terminal; tabs are not expanded. */
size_t utf8_columns(struct text text);

/** True for controls, direction changers and other characters that are not to be seen (not for the space, tab or line
 * end). */
bool utf8_is_hidden(int32_t character);

/** The text in Unicode normal form C; ASCII, and what is no UTF-8, comes back as it is. */
struct text utf8_normal(struct arena *arena, struct text text);

/** The same for all names that a file system may take for one: without what tells capitals, compositions and characters
 * that are not to be seen apart. What is no UTF-8 comes back as it is. */
struct text utf8_folded(struct arena *arena, struct text text);

/** One line for people: hidden characters, line ends and bytes that are no UTF-8 become visible, as <U+202E> or <0x1B>;
 * tabs become spaces up to the next stop of 8 columns, as source_locate counts them. */
struct text utf8_harmless(struct arena *arena, struct text text);

#endif
