/* Why a process takes no fewer loads, in words that a person can follow. */
#ifndef EMIT_DAY_BOUND_H
#define EMIT_DAY_BOUND_H

#include "emit/day/parts.h"

/** Complete sentences, in the emission's arena: "Fewer than 10 loads are impossible: …". Where the number of loads is
 * not proven, the gap. Empty where there are no loads. */
struct text bound_words(const struct emission *emission, const struct plan_kind *kind);

/** The word of the format whose reels bound the loads. */
struct text bound_format(const struct plan_kind *kind);

#endif
