#include "support/format.h"

#include <stdint.h>
#include <string.h>
#include <sys/types.h>

#define MOST_DIGITS 20
#define WIDEST 99

/* A conversion of a whole number: "%03ld" is { 3, 1, 0 }. */
struct whole {
	int width; /* filled up with zeros */
	int longs;
	bool is_size;
};

static int64_t signed_argument(struct whole whole, va_list *arguments)
{
	if (whole.is_size)
		return va_arg(*arguments, ssize_t);
	switch (whole.longs) {
	case 0:
		return va_arg(*arguments, int);
	case 1:
		return va_arg(*arguments, long);
	default:
		return va_arg(*arguments, long long);
	}
}

static uint64_t unsigned_argument(struct whole whole, va_list *arguments)
{
	if (whole.is_size)
		return va_arg(*arguments, size_t);
	switch (whole.longs) {
	case 0:
		return va_arg(*arguments, unsigned);
	case 1:
		return va_arg(*arguments, unsigned long);
	default:
		return va_arg(*arguments, unsigned long long);
	}
}

static void append_whole(struct text_builder *builder, uint64_t number, bool is_negative, int width)
{
	char digits[MOST_DIGITS];
	size_t first = MOST_DIGITS;
	do
		digits[--first] = (char)('0' + number % 10);
	while ((number /= 10) > 0);
	if (is_negative)
		text_append_byte(builder, '-');
	for (size_t i = MOST_DIGITS - first + is_negative; i < (size_t)width; i++)
		text_append_byte(builder, '0');
	text_append(builder, (struct text){ digits + first, MOST_DIGITS - first });
}

/* A whole number, where the format goes on with one; else null. */
static const char *append_number(struct text_builder *builder, const char *format, va_list *arguments)
{
	struct whole whole = { 0 };
	if (*format == '0')
		while (*format >= '0' && *format <= '9' && whole.width <= WIDEST)
			whole.width = whole.width * 10 + (*format++ - '0');
	if (whole.width > WIDEST)
		return NULL;
	for (; *format == 'l' && whole.longs < 2; format++)
		whole.longs++;
	if (*format == 'z' && whole.longs == 0) {
		whole.is_size = true;
		format++;
	}
	if (*format == 'd') {
		int64_t number = signed_argument(whole, arguments);
		uint64_t size = number < 0 ? 0 - (uint64_t)number : (uint64_t)number;
		append_whole(builder, size, number < 0, whole.width);
		return format + 1;
	}
	if (*format != 'u')
		return NULL;
	append_whole(builder, unsigned_argument(whole, arguments), false, whole.width);
	return format + 1;
}

/* As printf does, a text ends at a NUL that is in it. */
static void append_slice(struct text_builder *builder, va_list *arguments)
{
	int length = va_arg(*arguments, int);
	const char *data = va_arg(*arguments, const char *);
	if (length < 0)
		text_append_string(builder, data);
	else if (length > 0)
		text_append(builder, (struct text){ data, strnlen(data, (size_t)length) });
}

/* What follows a per cent sign; null, and nothing taken, where it is none of these. */
static const char *append_conversion(struct text_builder *builder, const char *format, va_list *arguments)
{
	switch (*format) {
	case '%':
		text_append_byte(builder, '%');
		return format + 1;
	case 'c':
		text_append_byte(builder, (char)va_arg(*arguments, int));
		return format + 1;
	case 's':
		text_append_string(builder, va_arg(*arguments, const char *));
		return format + 1;
	case '.':
		if (format[1] != '*' || format[2] != 's')
			return NULL;
		append_slice(builder, arguments);
		return format + 3;
	default:
		return append_number(builder, format, arguments);
	}
}

const char *format_append(struct text_builder *builder, const char *format, va_list *arguments)
{
	for (;;) {
		const char *place = format;
		while (*place != '\0' && *place != '%')
			place++;
		text_append(builder, (struct text){ format, (size_t)(place - format) });
		if (*place == '\0')
			return place;
		format = append_conversion(builder, place + 1, arguments);
		if (format == NULL)
			return place;
	}
}
