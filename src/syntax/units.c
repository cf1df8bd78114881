#include "syntax/units.h"

#include <limits.h>
#include <string.h>

static const struct unit_row rows[] = {
	[UNIT_none] = { { "", 0 }, QUANTITY_COUNT, 1, 0, "" },
#define UNIT(id, canonical, quantity, factor, offset, spellings)                                                       \
	[UNIT_##id] = { { canonical, sizeof(canonical) - 1 }, QUANTITY_##quantity, factor, offset, spellings },
#include "syntax/units.def"
#undef UNIT
};

const struct unit_row *unit_row(enum unit_id unit)
{
	return &rows[unit];
}

/* A spelling as the table writes it: each run of blanks one underscore, none behind a degree sign. Returns its
 * length, 0 where it is too long. */
static size_t normalise(struct text spelling, char *normal)
{
	size_t length = 0;
	bool is_blank = false;
	for (size_t i = 0; i < spelling.length; i++) {
		is_blank = spelling.data[i] == ' ' || spelling.data[i] == '\t';
		if (is_blank && (length == 0 || normal[length - 1] == '_' || normal[length - 1] == '\xB0'))
			continue;
		if (length == LONGEST_SPELLING)
			return 0;
		normal[length++] = is_blank ? '_' : spelling.data[i];
	}
	return is_blank && length > 0 ? length - 1 : length;
}

_Static_assert(UNIT_COUNT <= UCHAR_MAX, "a slot holds a unit in one byte");

static unsigned spelling_hash(const char *spelling, size_t length)
{
	unsigned first = (unsigned char)spelling[0];
	unsigned middle = (unsigned char)spelling[length / 2];
	unsigned last = (unsigned char)spelling[length - 1];
	return (first * 7u + middle * 61u + last * 131u + (unsigned)length * 17u) % 512u;
}

/* The slot of a spelling: the one that holds it, or the free one where it belongs. */
static unsigned slot_of(const struct unit_index *index, const char *spelling, size_t length)
{
	unsigned slot = spelling_hash(spelling, length);
	while (index->slots[slot].spelling &&
	       (index->slots[slot].length != length || memcmp(index->slots[slot].spelling, spelling, length) != 0))
		slot = (slot + 1) % 512u;
	return slot;
}

void unit_index_build(struct unit_index *index)
{
	*index = (struct unit_index){ { { NULL, 0, 0 } } };
	for (unsigned unit = 1; unit < UNIT_COUNT; unit++) {
		for (const char *at = rows[unit].spellings; *at != '\0';) {
			size_t length = strcspn(at, " ");
			struct unit_slot *slot = &index->slots[slot_of(index, at, length)];
			if (!slot->spelling)
				*slot = (struct unit_slot){ at, (unsigned char)length, (unsigned char)unit };
			at += length;
			at += strspn(at, " ");
		}
	}
}

enum unit_id unit_index_find(const struct unit_index *index, struct text spelling)
{
	char normal[LONGEST_SPELLING];
	size_t length = normalise(spelling, normal);
	if (length == 0)
		return UNIT_none;
	return (enum unit_id)index->slots[slot_of(index, normal, length)].unit;
}

static bool has_spelling(const char *spellings, const char *wanted, size_t length)
{
	while (*spellings != '\0') {
		size_t word = strcspn(spellings, " ");
		if (word == length && memcmp(spellings, wanted, length) == 0)
			return true;
		spellings += word;
		spellings += strspn(spellings, " ");
	}
	return false;
}

enum unit_id unit_find(struct text spelling)
{
	char normal[LONGEST_SPELLING];
	size_t length = normalise(spelling, normal);
	if (length == 0)
		return UNIT_none;
	for (size_t i = 1; i < UNIT_COUNT; i++)
		if (has_spelling(rows[i].spellings, normal, length))
			return (enum unit_id)i;
	return UNIT_none;
}

const char *quantity_kind_name(enum quantity_kind kind)
{
	static const char *const names[] = {
		[QUANTITY_COUNT] = "a number without a unit",
		[QUANTITY_TEMPERATURE] = "a temperature",
		[QUANTITY_DIFFERENCE] = "a temperature difference",
		[QUANTITY_DURATION] = "a time",
		[QUANTITY_VOLUME] = "a volume",
		[QUANTITY_MASS] = "a mass",
		[QUANTITY_LENGTH] = "a length",
		[QUANTITY_AREA] = "an area",
		[QUANTITY_PERCENT] = "a percentage",
		[QUANTITY_ENERGY] = "an energy per mole",
	};
	return names[kind];
}

static bool fits(enum unit_id unit, enum quantity_kind kind)
{
	enum quantity_kind own = rows[unit].quantity;
	return own == kind || (kind == QUANTITY_DIFFERENCE && own == QUANTITY_TEMPERATURE);
}

bool quantity_kind_has_one_unit(enum quantity_kind kind)
{
	size_t count = 0;
	for (size_t i = 1; i < UNIT_COUNT; i++)
		count += fits((enum unit_id)i, kind);
	return count == 1;
}

struct text quantity_kind_units(struct arena *arena, enum quantity_kind kind)
{
	size_t count = 0;
	for (size_t i = 1; i < UNIT_COUNT; i++)
		count += fits((enum unit_id)i, kind);
	if (count == 0)
		return TEXT("no unit");
	struct text_builder builder = text_builder_start(arena);
	size_t written = 0;
	for (size_t i = 1; i < UNIT_COUNT; i++) {
		if (!fits((enum unit_id)i, kind))
			continue;
		if (written > 0)
			text_append_string(&builder, written + 1 == count ? " or " : ", ");
		text_append(&builder, rows[i].canonical);
		written++;
	}
	return text_builder_text(&builder);
}
