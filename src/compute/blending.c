#include "compute/blending.h"

#include <math.h>

#define WHOLE_ML_FROM (100 * VOLUME_PER_ML)
#define NANOGRAMS_PER_GRAM 1e9

bool blending_share(double more, double less, double wanted, double *share)
{
	if (more <= less || wanted < less || wanted > more)
		return false;
	*share = (wanted - less) / (more - less);
	return true;
}

static int64_t clamp(int64_t value, int64_t low, int64_t high)
{
	return value < low ? low : value > high ? high : value;
}

static int64_t measured(int64_t volume, int64_t whole)
{
	if (whole < WHOLE_ML_FROM)
		return clamp(quantity_round_volume(volume), 0, whole);
	return clamp((volume + VOLUME_PER_ML / 2) / VOLUME_PER_ML * VOLUME_PER_ML, 0, whole);
}

struct blending_taps blending_taps(int64_t hot, int64_t cold, const struct temperature_window *wanted, int64_t volume)
{
	struct blending_taps taps = { .reach = TAPS_REACH, .temp = clamp(wanted->nominal, cold, hot) };
	double share;
	if (hot < wanted->low)
		taps.reach = TAPS_TOO_COLD;
	else if (cold > wanted->high)
		taps.reach = TAPS_TOO_HOT;
	if (!blending_share((double)hot, (double)cold, (double)taps.temp, &share))
		share = hot < wanted->nominal ? 1 : 0;
	taps.hot = measured(llround(share * (double)volume), volume);
	taps.cold = volume - taps.hot;
	return taps;
}

int64_t blending_percent_volume(int64_t mass, int64_t percent)
{
	double mass_g = (double)mass / NANOGRAMS_PER_GRAM;
	double volume_ml = mass_g * 100 / ((double)percent / (double)PERCENT_ONE);
	return llround(volume_ml * (double)VOLUME_PER_ML);
}

int64_t blending_acid(int64_t volume, int64_t specified, int64_t in_hand)
{
	return llround((double)volume * (double)specified / (double)in_hand);
}
