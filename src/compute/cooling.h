/* Newton's law of cooling (or warming): T(t) = Ts + (T0 − Ts)·e^(−kt). The rate k of a vessel comes from its heat-loss
 * test. Temperatures in °C, times in s, k per s, nothing rounded. */
#ifndef COMPUTE_COOLING_H
#define COMPUTE_COOLING_H

#include "model/recipe.h"

/** k from three readings: k = ln((from − Ts) / (to − Ts)) / t. `to` must lie between `from` and the surroundings. */
double cooling_rate(double from_c, double to_c, double within_s, double surroundings_c);

/** The rate of a heat-loss test. False where none is declared or its figures contradict each other: no time, or no
 * movement towards the surroundings. */
bool cooling_rate_of_test(const struct heat_loss_test *test, double *rate);

/** The temperature after a time. */
double cooling_temp_c(double start_c, double surroundings_c, double rate, double time_s);

/** The mean temperature over a time: Ts + (T0 − Ts)·(1 − e^(−kt)) / (kt). */
double cooling_mean_c(double start_c, double surroundings_c, double rate, double time_s);

/** The start temperature that gives a mean over a time. */
double cooling_start_for_mean_c(double mean_c, double surroundings_c, double rate, double time_s);

/** A start that may depend on the surroundings, as that of a first bath does, poured into a tank that stands in them:
 * fixed_c + share × surroundings. */
struct cooling_start {
	double fixed_c;
	double share;
};

/** The start temperature in surroundings of a temperature. */
double cooling_start_c(struct cooling_start start, double surroundings_c);

/** The surroundings that give a mean over a time. */
double cooling_surroundings_for_mean_c(double mean_c, struct cooling_start start, double rate, double time_s);

/** The time until a temperature is reached; it must lie between the start and the surroundings. */
double cooling_time_s(double start_c, double end_c, double surroundings_c, double rate);

/** What the tank of a process cools towards: its water bath where it stands in one, else the declared room, else the
 * surroundings of its heat-loss test. The process must have a tank. */
double cooling_surroundings_c(const struct process *process);

#endif
