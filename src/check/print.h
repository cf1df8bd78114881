/* Figures for messages, in the run's scratch: a little finer than on a sheet, so that a value and the limit that it misses
 * do not read alike. */
#ifndef CHECK_PRINT_H
#define CHECK_PRINT_H

#include "check/run.h"

/** A temperature to 0.01 K: "38.15 °C", "38.0 °C". */
struct text print_temperature(const struct check_run *run, int64_t temperature);

/** A difference to 0.01 K. */
struct text print_difference(const struct check_run *run, int64_t difference);

/** A volume as on a sheet. */
struct text print_volume(const struct check_run *run, int64_t volume);

/** Rolls, from 1/1000 roll: "8 rolls", "1 roll", "2.25 rolls". */
struct text print_rolls(const struct check_run *run, int64_t milli_rolls);

/** The name of a solution. */
struct text print_solution(const struct check_run *run, const struct solution *solution);

#endif
