/* A review in words, as every format of it says them. Texts may hold what stood in the log: whoever prints them makes
 * them harmless. They live in the arena given. */
#ifndef EMIT_REVIEW_WORDING_H
#define EMIT_REVIEW_WORDING_H

#include "compute/review.h"

/** How a log ends, as data has it: "finished", "stopped", "cut-off". */
struct text review_end_word(const struct run_log *log);

/** What a log is, as data has it: "run"; "rehearsal", which did no film; "copy" of another log that has got as far. */
struct text review_kind_word(const struct review *review);

/** "finished", "stopped by hand", "cut off", with what else is to be known: resumed, damaged, a rehearsal. */
struct text review_state(const struct run_log *log, struct arena *arena);

/** Planned beside done: "drain planned at 3:15, done at 3:16.4, 1.4 s later: as planned". */
struct text review_times(const struct review_step *step, struct arena *arena);

/** What was measured: "measured 38.1 C (true 37.9 °C), inside 37.8 to 38.2 °C"; empty where nothing was. */
struct text review_temperature(const struct review_step *step, struct arena *arena);

/** "developed as 3:31 at 38.0 °C, 0.5 % more than the 3:30 wanted"; empty where it is not known. */
struct text review_development(const struct review_step *step, struct arena *arena);

/** One departure of a step by its number, from 0; empty where there are no more. */
struct text review_departure(const struct review_step *step, size_t index, struct arena *arena);

/** All departures of a run in one line: "develop: TOO SHORT; …". Empty where there are none. */
struct text review_departures(const struct review *review, struct arena *arena);

/** A bath as it stands: "colour-developer 3 L mixed 2026-03-12 done 16 rolls". */
struct text review_bath_words(const struct review_bath *bath, struct arena *arena);

/** The line of a bath for the next day's recipe: "on hand colour-developer 3 L mixed 2026-03-12 done 16 rolls". */
struct text review_on_hand(const struct review_bath *bath, struct arena *arena);

/** A temperature of the log: "37.9 °C". */
struct text review_celsius(int64_t milli_c, struct arena *arena);

/** The first step that develops, or null. */
const struct review_step *review_first_development(const struct review *review);

#endif
