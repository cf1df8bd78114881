/* How long a mixed bath keeps. */
#ifndef COMPUTE_KEEPING_H
#define COMPUTE_KEEPING_H

#include "model/recipe.h"

/** The last day on which a bath in hand is good, in days since 1970-01-01: the day it was mixed and the life declared
 * for a full bottle, or for a part full one where it has done film or less is left than its kits or formula make.
 * False where no date or no life is declared. */
bool keeping_last_day(const struct solution *solution, const struct on_hand *on_hand, int64_t *day);

#endif
