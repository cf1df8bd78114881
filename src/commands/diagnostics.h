/* Where findings go, and in which format: text for a person on standard error; JSON or SARIF for a program, on standard
 * output where they are what the command is for, on standard error beside a product. */
#ifndef COMMANDS_DIAGNOSTICS_H
#define COMMANDS_DIAGNOSTICS_H

#include "commands/invocation.h"
#include "emit/findings/findings.h"

/** Sorts the findings of one main file and prints them, in a format that is not one document of the whole run. Returns
 * 0, or 2 after one line on standard error. */
int diagnostics_print(const struct invocation *invocation, const struct source_set *sources, struct report *report);

/** Ends a run: writes the formats that are one document. `is_complete` says that every file could be read. Returns 0,
 * or 2 after one line on standard error. */
int diagnostics_end(const struct invocation *invocation, const struct findings *files, size_t count, bool is_complete);

/** True where findings go to standard output. */
bool diagnostics_take_standard_output(const struct invocation *invocation);

#endif
