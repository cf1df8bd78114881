/* The functions behind the rows of checks.def, one for each that looks at a solution, a process, a step, a roll or a
 * day. Called by check/run with the subject in the run: steps in order, run->step and run->step_index set. A roll comes
 * with the process that develops it, if any, a day with none. */
#ifndef CHECK_CHECKS_H
#define CHECK_CHECKS_H

#include "check/run.h"

#define CHECK_FUNCTION_SOURCE(id)
#define CHECK_FUNCTION_SOLUTION(id) void check_##id(struct check_run *run);
#define CHECK_FUNCTION_PROCESS(id) void check_##id(struct check_run *run);
#define CHECK_FUNCTION_STEP(id) void check_##id(struct check_run *run);
#define CHECK_FUNCTION_ROLL(id) void check_##id(struct check_run *run);
#define CHECK_FUNCTION_DAY(id) void check_##id(struct check_run *run);
#define CHECK(id, severity, subject, may_allow, needs, summary) CHECK_FUNCTION_##subject(id)
#include "support/checks.def"
#undef CHECK

#endif
