#include "check/written_range.h"

#include <string.h>

struct ends {
	struct text first;
	struct text second;
};

static struct text without_blanks(struct text text)
{
	while (text.length > 0 && (text.data[0] == ' ' || text.data[0] == '\t')) {
		text.data++;
		text.length--;
	}
	while (text.length > 0 && (text.data[text.length - 1] == ' ' || text.data[text.length - 1] == '\t'))
		text.length--;
	return text;
}

/* The digits at the start of a figure: a unit begins behind them. */
static size_t digits_of(struct text figure)
{
	size_t length = 0;
	while (length < figure.length && strchr("0123456789.:-", figure.data[length]))
		length++;
	return length;
}

/* The length of the sign of a range at the start of a text; 0 where there is none. */
static size_t sign_length(struct text text)
{
	static const char *const signs[] = { "..", "…", "–" };
	for (size_t i = 0; i < sizeof(signs) / sizeof(*signs); i++) {
		size_t length = strlen(signs[i]);
		if (length <= text.length && memcmp(text.data, signs[i], length) == 0)
			return length;
	}
	return 0;
}

/* The two ends of a range, each with the unit that they may share. */
static struct ends ends_of(const struct check_run *run, struct span range)
{
	struct text text = source_text(run->recipe->sources, range);
	size_t at = 0, sign = 0;
	while (at < text.length && sign == 0) {
		sign = sign_length((struct text){ text.data + at, text.length - at });
		at += sign == 0;
	}
	struct text first = without_blanks((struct text){ text.data, at });
	struct text second = without_blanks((struct text){ text.data + at + sign, text.length - at - sign });
	size_t digits = digits_of(second);
	if (digits_of(first) == first.length && digits < second.length)
		first = text_format(run->report->arena, "%.*s%.*s", TEXT_ARGUMENT(first), (int)(second.length - digits),
				    second.data + digits);
	return (struct ends){ first, second };
}

void written_range_help(struct check_run *run, struct diagnostic *finding, struct span range, bool is_reversed,
			const char *before, const char *after)
{
	struct ends ends = ends_of(run, range);
	struct text right = ends.first;
	if (is_reversed)
		right = text_format(run->report->arena, "%.*s .. %.*s", TEXT_ARGUMENT(ends.second),
				    TEXT_ARGUMENT(ends.first));
	check_help(run, finding, "%s%.*s%s", before, TEXT_ARGUMENT(right), after);
	check_fix(run, finding, range, right);
}
