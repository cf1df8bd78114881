#include "model/log_line.h"

#include <string.h>

#include "model/run_log.h"
#include "support/utf8.h"

struct log_line log_line_split(struct text bytes)
{
	struct log_line line = { .count = 0 };

	while (line.count < FIELDS_MOST) {
		const char *tab = bytes.length == 0 ? NULL : memchr(bytes.data, '\t', bytes.length);
		size_t length = tab == NULL ? bytes.length : (size_t)(tab - bytes.data);

		line.fields[line.count++] = (struct text){ bytes.data, length };
		if (tab == NULL)
			break;
		bytes = (struct text){ tab + 1, bytes.length - length - 1 };
	}
	return line;
}

struct text log_line_field(const struct log_line *line, size_t index)
{
	return index < line->count ? line->fields[index] : TEXT("");
}

struct text log_line_said(const struct log_line *line, size_t index)
{
	struct text text = log_line_field(line, index);

	return text_equal(text, TEXT("-")) ? TEXT("") : text;
}

struct text log_line_words(struct arena *arena, const struct log_line *line, size_t index)
{
	return utf8_harmless(arena, log_line_said(line, index));
}

/* No log of a run holds a larger count; sums and shares of such are within 64 bits. */
#define COUNT_MOST ((int64_t)1000000 * 1000000 * 1000)

bool log_figure(struct text text, int decimals, int64_t *value)
{
	bool is_negative = text.length > 0 && text.data[0] == '-';
	size_t i = is_negative ? 1 : 0, digits = 0;
	int64_t count = 0;
	int places = -1;

	for (; i < text.length && places < decimals; i++) {
		char byte = text.data[i];

		if (byte == '.' && places < 0) {
			places = 0;
			continue;
		}
		if (byte < '0' || byte > '9' || ++digits > 18)
			return false;
		count = count * 10 + (byte - '0');
		places += places >= 0;
	}
	for (; i < text.length; i++)
		if (text.data[i] < '0' || text.data[i] > '9')
			return false;
	for (places = places < 0 ? 0 : places; places < decimals; places++) {
		if (count > INT64_MAX / 10)
			return false;
		count *= 10;
	}
	*value = is_negative ? -count : count;
	return digits > 0 && count <= COUNT_MOST;
}

bool log_line_decimal(const struct log_line *line, size_t index, int decimals, int64_t *value)
{
	return log_figure(log_line_field(line, index), decimals, value);
}

bool log_line_optional(const struct log_line *line, size_t index, int decimals, int64_t *value)
{
	*value = RUN_LOG_NONE;
	return log_line_said(line, index).length == 0 || log_line_decimal(line, index, decimals, value);
}
