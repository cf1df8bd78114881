/* Two liquids of one kind blended for a figure between theirs: hot and cold water for a temperature, a strong and a
 * weak acid for a strength. Heat and strength are taken to go by volume, as the trade reckons (criss-cross rule);
 * worked examples with their printed answers stand in tests/reference/mixing_arithmetic.tsv. */
#ifndef COMPUTE_BLENDING_H
#define COMPUTE_BLENDING_H

#include "model/recipe.h"

/** Criss-cross rule: the share of the one that has `more` in the whole, (wanted - less) / (more - less), from 0 to 1.
 * False where no share gives what is wanted. */
bool blending_share(double more, double less, double wanted, double *share);

/** What two taps give. */
struct blending_taps {
	enum blending_reach { TAPS_REACH, TAPS_TOO_COLD, TAPS_TOO_HOT } reach;
	int64_t temp; /* of the water that comes out */
	int64_t hot;  /* volumes, which add up to the whole */
	int64_t cold;
};

/** Shares a volume out over the taps, the hot water to 1 mL, below 100 mL as it is printed. Where the working point
 * lies beyond a tap, the point of the window nearest to it is taken; where all of it does, the water is all from that
 * tap. */
struct blending_taps blending_taps(int64_t hot, int64_t cold, const struct temperature_window *wanted, int64_t volume);

/** The volume of a solution of so many per cent, weight in volume (1 % is 1 g in 100 mL), that carries a mass.
 * `percent` in the model's unit, above 0. */
int64_t blending_percent_volume(int64_t mass, int64_t percent);

/** Strengths of the acetic acid on sale, in the model's unit: glacial as US Army SS0513 reckons it (1 part of it and
 * 8/3 of water make 28 %), and that for photography. */
#define ACETIC_GLACIAL (995 * PERCENT_ONE / 10)
#define ACETIC_PHOTOGRAPHIC (28 * PERCENT_ONE)

/** The volume of an acid of one strength that holds as much as `volume` of another. */
int64_t blending_acid(int64_t volume, int64_t specified, int64_t in_hand);

#endif
