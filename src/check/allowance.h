/* Where an `allow` may stand for a finding to be covered by it. */
#ifndef CHECK_ALLOWANCE_H
#define CHECK_ALLOWANCE_H

#include "check/run.h"

/** The nearest `allow` of the row being run: on the step, its solution, the process, what the process is run in and
 * on (tank, vessels, films), on the roll, its stock, the day, or at the top of a file. One at the top of a file covers
 * what lies in that file (`span`) and what its processes and days do. Null where there is none or the row cannot be
 * allowed. */
const struct allowance *allowance_find(const struct check_run *run, struct span span);

/** The `allow` of a check in a list; null where there is none. */
const struct allowance *allowance_in_list(const struct allowance *list, enum check_id check);

#endif
