/* Washing: what is left after an exchange of water, and how much tempered water it takes. Both laws of exchange hold
 * for water that is well mixed with what film and tank carry; their volumes are in mL, nothing is rounded. */
#ifndef COMPUTE_WASH_H
#define COMPUTE_WASH_H

#include "compute/timeline.h"
#include "model/recipe.h"

/** The share left after n fill-and-dump changes: (C / (V + C))^n, with C carried over each time and V filled. */
double wash_left_by_changes(double carried_ml, double filled_ml, double changes);

/** The share left after running water: e^(−Qt/V), with Q the flow a minute through a vessel of V. */
double wash_left_by_flow(double flow_ml_per_min, double vessel_ml, double minutes);

/** The water that a step asks for while it lasts (its earliest end), in the model's unit: flow × time, or changes ×
 * what the tank holds; the larger where both are declared, 0 where neither is. */
int64_t wash_water(const struct process *process, size_t step);

/** What is missing at the end of a step when a heater with a store gives its water, in the model's unit: the store
 * starts full, runs down by what earlier washes took and fills up again between them. 0 where the heater keeps up. The
 * process has a heater. */
int64_t wash_shortage(const struct process *process, const struct timeline *timeline, size_t step);

/** The flow, as volume a minute, that takes so much water in a time above 0. */
int64_t wash_flow_for(int64_t water, int64_t time_ms);

#endif
