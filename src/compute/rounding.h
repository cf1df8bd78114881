/* The way out of doubles: rounding to whole units of the model, once. */
#ifndef COMPUTE_ROUNDING_H
#define COMPUTE_ROUNDING_H

#include <math.h>
#include <stdint.h>

/** Largest value handed out: sums of several still fit 64 bits. No declared figure comes near it. */
#define ROUNDING_MOST 1000000000000000000LL

/** Rounds half away from zero. What lies beyond ±ROUNDING_MOST is that; what is no number is 0. */
static inline int64_t rounding_whole(double value)
{
	if (value >= (double)ROUNDING_MOST)
		return ROUNDING_MOST;
	if (value <= -(double)ROUNDING_MOST)
		return -ROUNDING_MOST;
	return isnan(value) ? 0 : llround(value);
}

#endif
