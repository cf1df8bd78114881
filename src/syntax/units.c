#include "syntax/units.h"

#include <limits.h>

#include "syntax/slots.h"

/* A spelling: by its place among those of its unit, since a pointer would cost the loader a relocation. */
struct unit_slot {
	unsigned char unit; /* enum unit_id; UNIT_none: free */
	unsigned char place;
	unsigned char length;
};

_Static_assert(UNIT_COUNT <= UCHAR_MAX, "a slot holds a unit in one byte");

#include "syntax/unit_slots.h"

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

enum unit_id unit_find(struct text spelling)
{
	char normal[LONGEST_SPELLING];
	struct text wanted = { normal, normalise(spelling, normal) };
	if (wanted.length == 0)
		return UNIT_none;
	for (unsigned slot = slot_first(wanted); unit_slots[slot].unit != UNIT_none; slot = slot_next(slot)) {
		const struct unit_slot *found = &unit_slots[slot];
		if (text_equal((struct text){ rows[found->unit].spellings + found->place, found->length }, wanted))
			return (enum unit_id)found->unit;
	}
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
