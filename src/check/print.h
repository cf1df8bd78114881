/* Figures for messages, in the run's scratch: a little finer than on a sheet, so that a value and the limit that it
 * misses do not read alike. */
#ifndef CHECK_PRINT_H
#define CHECK_PRINT_H

#include "check/run.h"

/** A temperature to 0.01 K: "38.15 °C", "38.0 °C". */
struct text print_temperature(const struct check_run *run, int64_t temperature);

/** A temperature beside a limit: "just under 37.85 °C" where both read alike. */
struct text print_temperature_beside(const struct check_run *run, int64_t temperature, int64_t limit);

/** A difference to 0.01 K. */
struct text print_difference(const struct check_run *run, int64_t difference);

/** A volume as on a sheet; below 1 L to 0.1 mL. */
struct text print_volume(const struct check_run *run, int64_t volume);

/** A volume that must not be less: to the next 0.1 mL up. */
struct text print_volume_at_least(const struct check_run *run, int64_t volume);

/** A mass to four figures, as a balance shows it. */
struct text print_mass(const struct check_run *run, int64_t mass);

/** Rolls, from 1/1000 roll: "8 rolls", "1 roll", "2.25 rolls". */
struct text print_rolls(const struct check_run *run, int64_t milli_rolls);

/** The name of a solution. */
struct text print_solution(const struct check_run *run, const struct solution *solution);

#endif
