/* What is different in this run, in the words that every output shares. Texts hold names from the recipe as written:
 * whoever prints them escapes them. They live in the emission's arena. */
#ifndef EMIT_THIS_RUN_H
#define EMIT_THIS_RUN_H

#include "emit/emission.h"

/** All that was given for this run, in one line: "develop measured at 22.0 °C; developer has done 4 rolls; room
 * 19.0 °C; 2026-03-14". Empty where the run is as declared. */
struct text this_run_line(const struct emission *emission);

/** The time of a step as it is used: the declared one, or the one worked out for this run. */
struct text this_run_time(const struct emission *emission, size_t index);

/** Why the time used differs from the declared one: "declared 8:00 at 20.0 °C; measured 22.0 °C; done 4 rolls in 1 L:
 * 20 % longer". Empty where it does not. */
struct text this_run_reason(const struct emission *emission, size_t index);

/** The two parts of that which are known before the bath is measured: "declared 8:00 at 20.0 °C", and "done 4 rolls in
 * 1 L: 20 % longer", empty where nothing was done. */
struct text this_run_declared(const struct emission *emission, size_t index);
struct text this_run_done(const struct emission *emission, size_t index);

/** Rolls from thousandths: "12", "1.5". */
struct text this_run_rolls(struct arena *arena, int64_t milli_rolls);

#endif
