#include "support/text.h"

#include <stdint.h>
#include <stdio.h>
#include <string.h>

#include "support/format.h"

struct text text_from(const char *string)
{
	return (struct text){ string, strlen(string) };
}

int text_compare(struct text a, struct text b)
{
	size_t common = a.length < b.length ? a.length : b.length;
	int order = common == 0 ? 0 : memcmp(a.data, b.data, common);
	if (order != 0)
		return order;
	return (a.length > b.length) - (a.length < b.length);
}

struct text text_copy(struct arena *arena, struct text text)
{
	char *copy = ARENA_ARRAY(arena, char, text.length + 1);
	if (text.length > 0)
		memcpy(copy, text.data, text.length);
	return (struct text){ copy, text.length };
}

struct text_builder text_builder_start(struct arena *arena)
{
	return (struct text_builder){ .arena = arena };
}

static void grow(struct text_builder *builder, size_t more)
{
	size_t wanted = builder->length + more + 1;
	if (more >= SIZE_MAX - builder->length)
		wanted = SIZE_MAX; /* the arena refuses */
	if (wanted < 64)
		wanted = 64;
	builder->data = arena_grow(builder->arena, builder->data, builder->length, &builder->capacity, wanted, 1);
}

/* Room for `more` bytes and a NUL. */
static inline void reserve(struct text_builder *builder, size_t more)
{
	if (more >= builder->capacity - builder->length)
		grow(builder, more);
}

void text_append(struct text_builder *builder, struct text text)
{
	if (text.length == 0)
		return;
	reserve(builder, text.length);
	memcpy(builder->data + builder->length, text.data, text.length);
	builder->length += text.length;
}

void text_append_string(struct text_builder *builder, const char *string)
{
	text_append(builder, text_from(string));
}

void text_append_byte(struct text_builder *builder, char byte)
{
	reserve(builder, 1);
	builder->data[builder->length++] = byte;
}

/* Most texts fit into the room that there is, so it is formatted once. */
static void append_by_printf(struct text_builder *builder, const char *format, va_list arguments)
{
	va_list again;
	va_copy(again, arguments);
	reserve(builder, 0);
	size_t room = builder->capacity - builder->length;
	int length = vsnprintf(builder->data + builder->length, room, format, arguments);
	if (length > 0 && (size_t)length >= room) {
		reserve(builder, (size_t)length);
		vsnprintf(builder->data + builder->length, (size_t)length + 1, format, again);
	}
	va_end(again);
	if (length > 0)
		builder->length += (size_t)length;
}

void text_append_format_list(struct text_builder *builder, const char *format, va_list arguments)
{
	va_list rest;
	va_copy(rest, arguments);
	format = format_append(builder, format, &rest);
	if (*format != '\0')
		append_by_printf(builder, format, rest);
	va_end(rest);
}

void text_append_format(struct text_builder *builder, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	text_append_format_list(builder, format, arguments);
	va_end(arguments);
}

struct text text_builder_text(struct text_builder *builder)
{
	reserve(builder, 0);
	builder->data[builder->length] = '\0';
	return (struct text){ builder->data, builder->length };
}

struct text text_format(struct arena *arena, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	struct text text = text_format_list(arena, format, arguments);
	va_end(arguments);
	return text;
}

struct text text_format_list(struct arena *arena, const char *format, va_list arguments)
{
	struct text_builder builder = text_builder_start(arena);
	text_append_format_list(&builder, format, arguments);
	return text_builder_text(&builder);
}
