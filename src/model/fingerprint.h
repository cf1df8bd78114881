/* The fingerprint of a process: what is run, without how it is written. */
#ifndef MODEL_FINGERPRINT_H
#define MODEL_FINGERPRINT_H

#include "model/recipe.h"

/** The rule by which values are listed; it changes when the list does. */
#define FINGERPRINT_RULE "wetside 1, fingerprint rule 1"

/** SHA-256 over the declared values of a resolved process and of all it names, in base units, in a fixed order; 64
 * hexadecimal digits in `arena`. Titles, notes, comments, file names, order of declarations and spelling of units do
 * not count. */
struct text fingerprint_of(const struct recipe *recipe, const struct process *process, struct arena *arena);

#endif
