#include "compute/hydrates.h"

#include "compute/rounding.h"

struct hydrate_row {
	enum chemical_id chemical;
	struct text word;
	double g_per_mol;
};

static const struct hydrate_row ROWS[] = {
#define HYDRATE(chemical, word, g_per_mol) { CHEMICAL_##chemical, { (word), sizeof(word) - 1 }, (g_per_mol) },
#include "compute/hydrates.def"
#undef HYDRATE
};

#define ROW_COUNT (sizeof(ROWS) / sizeof(ROWS[0]))

static const struct hydrate_row *find(enum chemical_id chemical, struct text word)
{
	for (size_t i = 0; i < ROW_COUNT; i++) {
		if (ROWS[i].chemical == chemical && text_equal(ROWS[i].word, word))
			return &ROWS[i];
	}
	return NULL;
}

bool hydrate_mass(enum chemical_id chemical, struct text specified, struct text in_hand, int64_t mass, int64_t *result)
{
	const struct hydrate_row *from = find(chemical, specified);
	const struct hydrate_row *to = find(chemical, in_hand);
	if (!from || !to)
		return false;
	*result = rounding_whole((double)mass * to->g_per_mol / from->g_per_mol);
	return true;
}

size_t hydrate_count(enum chemical_id chemical)
{
	size_t count = 0;
	for (size_t i = 0; i < ROW_COUNT; i++)
		count += ROWS[i].chemical == chemical;
	return count;
}

struct text hydrate_word(enum chemical_id chemical, size_t index)
{
	for (size_t i = 0; i < ROW_COUNT; i++) {
		if (ROWS[i].chemical == chemical && index-- == 0)
			return ROWS[i].word;
	}
	return (struct text){ "", 0 };
}
