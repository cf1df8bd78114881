/* The checks of group "chemistry" about a bath that is already mixed: how old it is, and whether it may be used
 * again. */
#include "check/checks.h"
#include "check/print.h"
#include "compute/keeping.h"
#include "model/date.h"

/* A developer past its life loses the film; another bath may still do, and a test shows it. */
void check_expired(struct check_run *run)
{
	const struct solution *solution = run->solution;
	const struct on_hand *on_hand = solution->on_hand;
	int64_t last_day;
	struct diagnostic *finding;

	if (on_hand == NULL || !run->conditions->has_date || !keeping_last_day(solution, on_hand, &last_day) ||
	    run->conditions->date <= last_day)
		return;
	finding =
		check_add(run, on_hand->span, "%.*s was good until %.*s; the day of the run is %.*s",
			  TEXT_ARGUMENT(print_solution(run, solution)), TEXT_ARGUMENT(date_print(run->arena, last_day)),
			  TEXT_ARGUMENT(date_print(run->arena, run->conditions->date)));
	if (role_develops(solution->role)) {
		check_help(run, finding, "mix it fresh");
		return;
	}
	report_raise(run->report, finding, SEVERITY_WARNING);
	check_help(run, finding, "test it on film that does not matter, or mix it fresh");
}

void check_one_shot_reused(struct check_run *run)
{
	const struct solution *solution = run->solution;
	int64_t done = used_done_milli_rolls(run->recipe, run->conditions, solution);
	const struct on_hand *on_hand = solution->on_hand;
	struct diagnostic *finding;

	if (solution->use != USE_ONE_SHOT || done == 0)
		return;
	finding = check_add(run, solution->use_span, "%.*s is used once, and has done %.*s",
			    TEXT_ARGUMENT(print_solution(run, solution)), TEXT_ARGUMENT(print_rolls(run, done)));
	check_help(run, finding, "mix it fresh, or say `reuse` if its maker does");
	if (on_hand != NULL)
		check_note(run, finding, on_hand->span, "the bath in hand is declared here");
}
