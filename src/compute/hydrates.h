/* Forms of a chemical that hold different amounts of water (hydrates.def), and what one weighs in place of another. */
#ifndef COMPUTE_HYDRATES_H
#define COMPUTE_HYDRATES_H

#include <stdbool.h>

#include "model/vocabulary.h"

/** The mass of form `in_hand` that holds as much salt as `mass` of form `specified`, in the same unit:
 * mass × M(in hand) / M(specified). False where the chemical has no such form. */
bool hydrate_mass(enum chemical_id chemical, struct text specified, struct text in_hand, int64_t mass, int64_t *result);

/** The number of forms of a chemical; 0 where it is sold in one only. */
size_t hydrate_count(enum chemical_id chemical);

/** The word for a form, by its index in the order of the table. */
struct text hydrate_word(enum chemical_id chemical, size_t index);

#endif
