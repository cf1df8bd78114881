/* Work on several files or processes at a time, in child processes: what they say comes in the order of the work, as if
 * it had been done one after the other. */
#ifndef COMMANDS_JOBS_H
#define COMMANDS_JOBS_H

#include "commands/invocation.h"

/** Does one piece of work and returns its exit status. What it changes in memory is seen by nobody else. */
typedef int job_work(size_t index, void *data);

/** What a piece of work is about, for a message: a file, a process. */
typedef struct text job_subject(size_t index, void *data);

struct jobs {
	job_work *work;
	job_subject *subject;
	void *data;
	size_t count;
};

/** Does all pieces, --jobs of them at a time; one after the other and without children where that is 1. Returns the
 * worst status; 2 too where a child was ended by a signal or standard output took no more, after a line on standard
 * error. */
int jobs_run(const struct invocation *invocation, const struct jobs *jobs);

#endif
