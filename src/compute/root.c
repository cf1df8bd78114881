#include "compute/root.h"

#include <math.h>

/* Far finer than any thermometer, and still above the rounding of doubles. */
#define NEAR_ENOUGH 1e-12
#define STEPS_MOST 200

/* A place and the function's value there. */
struct place {
	double x;
	double y;
};

/* Where the line through both is 0; the middle, where rounding puts that outside. */
static double crossing(struct place left, struct place right)
{
	double x = left.x - left.y * (right.x - left.x) / (right.y - left.y);
	return x > left.x && x < right.x ? x : left.x + (right.x - left.x) / 2;
}

/* Regula falsi by the Illinois rule: the value of an end that stays twice is halved, so that both ends move. */
static bool narrow(root_function *function, const void *data, struct place left, struct place right, double *root)
{
	int stayed = 0;
	for (int i = 0; i < STEPS_MOST && right.x - left.x > NEAR_ENOUGH; i++) {
		struct place next = { crossing(left, right), 0 };
		if (!function(next.x, data, &next.y))
			return false;
		*root = next.x;
		if (next.y == 0)
			return true;
		if (next.y < 0) {
			left = next;
			right.y /= stayed < 0 ? 2 : 1;
			stayed = -1;
		} else {
			right = next;
			left.y /= stayed > 0 ? 2 : 1;
			stayed = 1;
		}
	}
	return true;
}

bool root_find(root_function *function, const void *data, double low, double high, double *root)
{
	struct place left = { low, 0 };
	struct place right = { high, 0 };
	if (!(low <= high) || !function(low, data, &left.y) || !function(high, data, &right.y))
		return false;
	if (left.y == 0 || right.y == 0) {
		*root = left.y == 0 ? low : high;
		return true;
	}
	return left.y < 0 && right.y > 0 && narrow(function, data, left, right, root);
}
