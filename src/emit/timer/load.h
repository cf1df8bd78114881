/* The load of a day's plan that a timer is for, and its rolls. Private to the timer. */
#ifndef EMIT_TIMER_LOAD_H
#define EMIT_TIMER_LOAD_H

#include "emit/emission.h"

/** Writes the shell function plan_rolls: which load it is, and a call for each roll; it does nothing where the run is of
 * no plan. */
void load_put(const struct emission *emission, struct output *output);

#endif
