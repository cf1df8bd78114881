/* Slices of text and a builder that grows in an arena. A slice never owns its bytes and need not end in NUL. */
#ifndef SUPPORT_TEXT_H
#define SUPPORT_TEXT_H

#include <stdarg.h>
#include <stdbool.h>
#include <stddef.h>
#include <string.h>

#include "support/arena.h"

struct text {
	const char *data;
	size_t length;
};

/** A slice over a string literal. */
#define TEXT(literal) ((struct text){ (literal), sizeof(literal) - 1 })

/** The arguments for a `%.*s` conversion. */
#define TEXT_ARGUMENT(text) (int)(text).length, (text).data

/** A slice over a NUL-terminated string, which must outlive it. */
struct text text_from(const char *string);

/** True where both hold the same bytes. */
static inline bool text_equal(struct text a, struct text b)
{
	return a.length == b.length && (a.length == 0 || memcmp(a.data, b.data, a.length) == 0);
}

/** Orders by bytes, like memcmp; a prefix comes first. */
int text_compare(struct text a, struct text b);

/** A copy in `arena`, followed by a NUL that is not counted. */
struct text text_copy(struct arena *arena, struct text text);

/** A growing text in `arena`; `data` may move with each append. Start from text_builder_start. */
struct text_builder {
	struct arena *arena;
	char *data;
	size_t length;
	size_t capacity;
};

/** An empty builder whose bytes live in `arena`. */
struct text_builder text_builder_start(struct arena *arena);

/** Appends the bytes of a slice. */
void text_append(struct text_builder *builder, struct text text);

/** Appends a NUL-terminated string. */
void text_append_string(struct text_builder *builder, const char *string);

/** Appends one byte. */
void text_append_byte(struct text_builder *builder, char byte);

/** Appends printf-formatted text; the program never sets a locale, so figures are always written with a point. */
void text_append_format(struct text_builder *builder, const char *format, ...) __attribute__((format(printf, 2, 3)));

/** The same with an argument list. */
void text_append_format_list(struct text_builder *builder, const char *format, va_list arguments)
	__attribute__((format(printf, 2, 0)));

/** The text so far, with an uncounted NUL after it; valid until the next append. */
struct text text_builder_text(struct text_builder *builder);

/** printf into `arena`. */
struct text text_format(struct arena *arena, const char *format, ...) __attribute__((format(printf, 2, 3)));

/** printf into `arena` with an argument list. */
struct text text_format_list(struct arena *arena, const char *format, va_list arguments)
	__attribute__((format(printf, 2, 0)));

#endif
