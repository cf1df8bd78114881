/* The help texts, made from the tables of commands, options and emitters. */
#ifndef COMMANDS_HELP_H
#define COMMANDS_HELP_H

#include "commands/invocation.h"

/** Help on a command, or on the program where `command` is null, to standard output. Returns the exit status. */
int help_print(const struct invocation *invocation);

/** Name, version and licence to standard output. Returns the exit status. */
int help_print_version(const struct invocation *invocation);

/** Writes gathered text to standard output; returns 0, or 2 after one line on standard error. */
int help_write(const struct invocation *invocation, struct text text);

#endif
