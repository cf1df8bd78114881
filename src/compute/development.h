/* How fast a step works at a temperature, by what the recipe declares for it: a table of times, a coefficient or an
 * activation energy. The rate is 1 at the step's working point. Temperatures in °C, times in s, nothing rounded. */
#ifndef COMPUTE_DEVELOPMENT_H
#define COMPUTE_DEVELOPMENT_H

#include "compute/cooling.h"
#include "model/recipe.h"

/** Molar gas constant, J/(mol K) (SI 2019). */
#define GAS_CONSTANT 8.314462618

/** True where the step declares how its time depends on temperature. */
bool development_has_rule(const struct step *step);

/** The window in which the bath's temperature counts over the whole step: `mean`, else `at`. Null where the step has
 * neither. Its nominal is the step's working point. */
const struct temperature_window *development_window(const struct step *step);

/** The window of what is poured: `pour at`, else `at`; its span is not set where the step has neither. */
const struct temperature_window *development_pour_window(const struct step *step);

/** The rate at a temperature, 1 at the working point. Table: times between two rows by straight lines over their
 * logarithms, never beyond the first or last row; coefficient c: r = e^(c·(T − T0)), as t = t0·e^(−c·(T − T0));
 * activation energy: Arrhenius. False where nothing is declared or a temperature lies outside the table. */
bool development_rate(const struct step *step, double temp_c, double *rate);

/** The slowest and the fastest rate between two temperatures. False where the rate is not known at both. */
bool development_rates_between(const struct step *step, double from_c, double to_c, double *slowest, double *fastest);

/** Effective development over a time in which the bath goes from `start_c` towards its surroundings by Newton's law
 * with rate constant `cooling`, as a share of the time: (1/t)·∫ r(T(t)) dt. False where the rate is not known all
 * along. */
bool development_effective(const struct step *step, double start_c, double surroundings_c, double cooling,
			   double time_s, double *share);

/** The start temperature from which effective development is `share` of the time. False where there is none: the rule
 * does not hold so far, or no liquid water is so cold or so warm. */
bool development_start_for(const struct step *step, double share, double surroundings_c, double cooling, double time_s,
			   double *start_c);

/** The surroundings, a water bath say, towards which effective development is `share` of the time. False as above. */
bool development_surroundings_for(const struct step *step, double share, struct cooling_start start, double cooling,
				  double time_s, double *surroundings_c);

/** The temperature of the whole step for which a measured pour temperature stands. Where the step has a pour
 * temperature of its own (`pour at`), the measured one is as far from that as the step will be from its working
 * point. */
int64_t development_measured(const struct step *step, int64_t measured);

#endif
