/* Questions about the sequence of a process's baths, and words for its parts, as several checks ask them. */
#ifndef CHECK_SEQUENCE_H
#define CHECK_SEQUENCE_H

#include "check/run.h"

/** A set of what baths do to film, one bit each. */
#define ACTION_BIT(name) (1u << ACTION_##name)
#define ACTIONS_DEVELOP (ACTION_BIT(DEVELOPS) | ACTION_BIT(DEVELOPS_AND_FIXES))
#define ACTIONS_FIX (ACTION_BIT(FIXES) | ACTION_BIT(BLEACHES_AND_FIXES) | ACTION_BIT(DEVELOPS_AND_FIXES))

/** No such step. */
#define SEQUENCE_NONE SIZE_MAX

/** True where the step's bath does one of `actions`; false where its role is not known. */
bool sequence_acts(const struct step *step, unsigned actions);

/** The row of the process's family; null where it is not known. */
const struct family_row *sequence_family(const struct process *process);

/** True where the family is known and of this kind. */
bool sequence_family_is(const struct process *process, enum family_kind kind);

/** True where the family makes slides. */
bool sequence_is_slide(const struct process *process);

/** True where the family and every step were understood, so that a bath not found is really missing. */
bool sequence_is_complete(const struct check_run *run);

/** The first step from `from` up to and without `end` whose bath does one of `actions`, or SEQUENCE_NONE. */
size_t sequence_find(const struct process *process, size_t from, size_t end, unsigned actions);

/** The last such step before `end`, or SEQUENCE_NONE. */
size_t sequence_find_last(const struct process *process, size_t end, unsigned actions);

/** The developer that a fixing bath spoils because it comes before it; SEQUENCE_NONE where it spoils none. A fixing
 * bath spoils the next developer where nothing was developed yet, or where no bleach between them turns silver into
 * halide again. None in a rescue, whose film comes developed. */
size_t sequence_fixed_before(const struct process *process, size_t index);

/** The classes of chemicals in a step's bath, those of the stocks it is diluted from included; 0 without a solution. */
class_set sequence_classes(const struct check_run *run, const struct step *step);

/** True where one of the process's films has this emulsion; `film` is set to the first one. */
bool sequence_has_emulsion(const struct process *process, enum emulsion emulsion, const struct film **film);

/** A step's name, as written. */
struct text sequence_name(const struct check_run *run, const struct step *step);

/** Where to point when a step is meant for its bath: the bath, or the step's name where none is written. */
struct span sequence_bath_span(const struct step *step);

/** The least time of a step in ms; 0 where none is declared. */
int64_t sequence_least_time(const struct step *step);

/** A duration for print, in the run's scratch. */
struct text sequence_duration(const struct check_run *run, int64_t duration_ms);

#endif
