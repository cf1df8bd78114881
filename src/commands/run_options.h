/* Options that say what is different in this run: --at, --done, --room and the like. */
#ifndef COMMANDS_RUN_OPTIONS_H
#define COMMANDS_RUN_OPTIONS_H

#include "commands/invocation.h"
#include "model/conditions.h"

/** Takes one of them into the invocation's conditions. Returns 0, or 2 after one line on standard error. */
int run_option_take(struct invocation *invocation, enum option_id option, struct text argument);

#endif
