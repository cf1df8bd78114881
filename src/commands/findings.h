/* Findings on standard error, for a person: place, line, caret, what is wrong, what would be right. */
#ifndef COMMANDS_FINDINGS_H
#define COMMANDS_FINDINGS_H

#include "commands/invocation.h"
#include "support/diagnostic.h"
#include "support/source.h"

/** Whether messages are coloured: as --color says, else where they are read on a terminal. */
bool findings_wants_color(const struct invocation *invocation);

/** Prints a sorted report, at most `max_errors` findings (0: all), and a line that counts them. Findings covered by an
 * `allow` are left out. */
void findings_print(const struct invocation *invocation, const struct source_set *sources, const struct report *report);

#endif
