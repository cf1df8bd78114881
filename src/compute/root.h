/* The root of a rising function. */
#ifndef COMPUTE_ROOT_H
#define COMPUTE_ROOT_H

#include <stdbool.h>

/** A function that rises; false where it is not defined. */
typedef bool root_function(double x, const void *data, double *y);

/** The place between `low` and `high` where a rising function is 0. False where there is none, or where the function is
 * not defined at one of the two. */
bool root_find(root_function *function, const void *data, double low, double high, double *root);

#endif
