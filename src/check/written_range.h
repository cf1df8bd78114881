/* Ranges as they are written, for a finding that says how they should be. */
#ifndef CHECK_WRITTEN_RANGE_H
#define CHECK_WRITTEN_RANGE_H

#include "check/run.h"

/** Helps with a range that holds nothing and offers it as a fix: its two ends the other way round, or the one figure
 * that both are. The help is that text between `before` and `after`. */
void written_range_help(struct check_run *run, struct diagnostic *finding, struct span range, bool is_reversed,
			const char *before, const char *after);

#endif
