/* When film bears light, and when light may come on. Private to compute/. */
#ifndef COMPUTE_LIGHT_H
#define COMPUTE_LIGHT_H

#include "compute/timeline.h"

/** Marks the step in which the process's family first bears light (families.def): black-and-white negative after two
 * minutes of fix, added up over its fixes, or at the end of its monobath or bleach-fix; C-41 at the end of bleach or
 * bleach-fix (from memory); E-6 after one minute of reversal bath; slide processes with an exposing step when that
 * begins; any other family, or a process without the step of its family's rule, at the end of the fix. No step is
 * marked where the process does not get so far.
 *
 * Marks too where light may come on in this run: then, or where the recipe first puts it on if that is later. */
void light_mark(const struct process *process, struct timeline *timeline);

#endif
