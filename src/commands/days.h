/* A day's products, and those of one of its loads: `plan`, `lists`, and `sheet`, `cues`, `timer` with --load. */
#ifndef COMMANDS_DAYS_H
#define COMMANDS_DAYS_H

#include "commands/invocation.h"
#include "emit/sound/speaker.h"

/** True where --load (or --day) makes the product one of a load. */
bool days_is_of_load(const struct invocation *invocation);

/** Plans the day that was asked for and writes the command's product of it; `speaker` speaks a sound track's cues,
 * null: nobody. Returns the exit status. */
int days_run(const struct invocation *invocation, const struct speaker *speaker);

#endif
