#include "model/hazards.h"

#include <stdbool.h>

struct hazard_row {
	struct text code, statement;
};

static const struct hazard_row ROWS[] = {
#define HAZARD(code, statement) { { (code), sizeof(code) - 1 }, { (statement), sizeof(statement) - 1 } },
#include "model/hazards.def"
#undef HAZARD
};

#define ROW_COUNT (sizeof(ROWS) / sizeof(ROWS[0]))

static const struct text NOTHING = { "", 0 };

/* Codes are of one length and alike in front: the last digit tells most of them apart. */
static bool is_code(struct text code, struct text other)
{
	return code.length == other.length && code.length > 0 &&
	       code.data[code.length - 1] == other.data[code.length - 1] && text_equal(code, other);
}

struct text hazard_text(struct text code)
{
	for (size_t i = 0; i < ROW_COUNT; i++) {
		if (is_code(ROWS[i].code, code))
			return ROWS[i].statement;
	}
	return NOTHING;
}

size_t hazard_count(void)
{
	return ROW_COUNT;
}

struct text hazard_code(size_t index)
{
	return index < ROW_COUNT ? ROWS[index].code : NOTHING;
}

static char upper(char byte)
{
	return byte >= 'a' && byte <= 'z' ? (char)(byte - 'a' + 'A') : byte;
}

/* Equal but for capitals, leading zeros of the number and hyphens: "h302", "EUH31", "EUH-031". */
static bool is_near(struct text written, struct text code)
{
	size_t i = 0;
	size_t k = 0;
	while (k < code.length) {
		if (i < written.length && written.data[i] == '-') {
			i++;
			continue;
		}
		if (i < written.length && upper(written.data[i]) == upper(code.data[k])) {
			i++;
			k++;
			continue;
		}
		if (code.data[k] != '0' || k == 0 || (code.data[k - 1] >= '1' && code.data[k - 1] <= '9'))
			return false;
		k++;
	}
	return i == written.length;
}

struct text hazard_nearest(struct text code)
{
	for (size_t i = 0; i < ROW_COUNT; i++) {
		if (is_near(code, ROWS[i].code))
			return ROWS[i].code;
	}
	return NOTHING;
}
