/* The findings of each process, kept before all are sorted by their place: a product tells of its departures. */
#ifndef COMMANDS_KEPT_H
#define COMMANDS_KEPT_H

#include "commands/compile.h"

struct kept_findings {
	uint32_t process; /* name */
	struct diagnostic *items;
	size_t count;
};

struct kept {
	struct arena *arena;
	struct kept_findings *processes; /* in the order in which they were compiled */
	size_t count, capacity;
	size_t next; /* where the one that is asked for is looked for first */
};

/** Keeps the findings of a process that has just been checked. */
void kept_add(struct kept *kept, const struct compilation *compilation, const struct compiled *compiled);

/** The findings of one process as a report; processes are best asked for in the order in which they were added. */
struct report kept_report(struct kept *kept, const struct compilation *compilation, const struct process *process);

#endif
