/* The table of units (units.def) and of the quantities they measure. */
#ifndef SYNTAX_UNITS_H
#define SYNTAX_UNITS_H

#include <stddef.h>
#include <stdint.h>

#include "support/text.h"

enum quantity_kind {
	QUANTITY_COUNT, /* a bare number */
	QUANTITY_TEMPERATURE,
	QUANTITY_DIFFERENCE, /* of two temperatures */
	QUANTITY_DURATION,
	QUANTITY_VOLUME,
	QUANTITY_MASS,
	QUANTITY_LENGTH,
	QUANTITY_AREA,
	QUANTITY_PERCENT,
	QUANTITY_ENERGY,
	QUANTITY_KIND_COUNT
};

enum unit_id {
	UNIT_none,
#define UNIT(id, canonical, quantity, factor, offset, spellings) UNIT_##id,
#include "syntax/units.def"
#undef UNIT
	UNIT_COUNT
};

struct unit_row {
	struct text canonical;
	enum quantity_kind quantity;
	int64_t factor;	       /* base units (model/quantity.h) in one of this unit */
	int64_t offset;	       /* base units to add, for temperatures */
	const char *spellings; /* separated by spaces; an underscore stands for a space */
};

/** The row of a unit; not for UNIT_none. */
const struct unit_row *unit_row(enum unit_id unit);

/** Bytes of a spelling at most: "US fl oz" is the longest; room for one of its kind with a longer name. */
#define LONGEST_SPELLING 32

/** The unit of a spelling as it stands in a source ("fl  oz" counts as "fl oz"); UNIT_none where there is none. */
enum unit_id unit_find(struct text spelling);

/** A quantity in a reader's words, with its article: "a temperature". */
const char *quantity_kind_name(enum quantity_kind kind);

/** The units that fit a quantity, for a message: "°C or °F". */
struct text quantity_kind_units(struct arena *arena, enum quantity_kind kind);

/** True where a kind of quantity is written in one unit only. */
bool quantity_kind_has_one_unit(enum quantity_kind kind);

#endif
