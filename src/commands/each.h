/* A product of every process of a file, into one folder. */
#ifndef COMMANDS_EACH_H
#define COMMANDS_EACH_H

#include "commands/invocation.h"

struct speaker;

/** Compiles the one FILE and, where nothing stands in the way, writes the product of each of its processes, --jobs at a
 * time; every file appears whole or not at all. Returns the exit status. */
int each_run(const struct invocation *invocation, const struct speaker *speaker);

#endif
