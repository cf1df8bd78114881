/* What a cue says, in the words that every output shares: cue list, sheet and timer.
 *
 * All texts are for people and hold names from the recipe as they are written there: whoever prints them escapes them.
 * They live in the emission's arena. Steps are given by their index. */
#ifndef EMIT_CUES_WORDING_H
#define EMIT_CUES_WORDING_H

#include "emit/emission.h"

/** What later times take for granted, for the head of every output; a complete sentence. */
#define WORDING_ASSUMES_EARLIEST "Times after a step that may last longer assume its earliest end."

/** A cue in a few words: "pour developer (bottle 2) at 38.0 °C", "agitate, 5 s", "tap 2", "drain soon", "drain",
 * "earliest end", "latest end"; "dip into last (bottle 5) at 20.0 °C", "lift out" for a bath in a vessel of its own. It
 * does not name the step, except where it names the bath. */
struct text wording_cue(const struct emission *emission, const struct cue *cue);

/** The same with ordinary spaces where figure and unit are kept together, for data that is searched. */
struct text wording_cue_plain(const struct emission *emission, const struct cue *cue);

/** Any text with ordinary spaces for no-break ones. */
struct text wording_plain(struct arena *arena, struct text text);

/** The step's name: "develop". */
struct text wording_step(const struct emission *emission, size_t step);

/** What the film stands in: a solution's or dryer's name, "water", "running water", "light", "air"; empty where nothing
 * was said. */
struct text wording_bath(const struct emission *emission, size_t step);

/** A bath that needs no name: "water", "running water", "light", "air"; empty for the others. */
struct text wording_plain_bath(enum bath_kind bath);

/** The bath with the number of its bottle: "developer (bottle 2)". */
struct text wording_bottle(const struct emission *emission, size_t step);

/** The temperature to pour at: "38.0 °C"; "102.0 °F (38.9 °C)" where °F was written; "15.0 to 40.0 °C" for a range;
 * and what to read on the process's thermometer where that one has a correction: "38.0 °C, read 38.2 °C on no-2". Empty
 * where none was declared. */
struct text wording_pour_temperature(const struct emission *emission, size_t step);

/** A temperature or window in the same words; empty where its span is not set. */
struct text wording_temperature(const struct emission *emission, const struct temperature_window *window);

/** A temperature with its limits on the scale that is read: "38.0 °C, not below 37.8, not above 38.2"; what the
 * process's thermometer shows where that one has a correction: "read 38.2 °C, not below 38.0, not above 38.4". Empty
 * where its span is not set. */
struct text wording_limits(const struct emission *emission, const struct temperature_window *window);

/** A point in time since the run's or the step's start, rounded to the second, as h:mm:ss: "0:03:30", "-0:00:20". */
struct text wording_clock(struct arena *arena, int64_t time_ms);

/** A span of time that may be a range: "14:30", "14:30 to 15:00", "at least 14:30" where `max_ms` is TIME_OPEN. */
struct text wording_total(struct arena *arena, int64_t min_ms, int64_t max_ms);

/** True where the step may last longer than its earliest end (a range or "at least"). */
bool wording_may_last_longer(const struct emission *emission, size_t step);

/** The index of the first step that may last longer, or the number of steps: the times of all steps after it assume
 * earliest ends. */
size_t wording_first_longer(const struct emission *emission);

#endif
