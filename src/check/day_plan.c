/* The checks of a day that ask what its plan comes to: what is risked, what is waited for, what is left. */
#include <inttypes.h>

#include "check/checks.h"
#include "check/print.h"
#include "compute/day_plan.h"

static bool is_noted(const struct day_plan *plan, size_t index)
{
	for (size_t i = 0; i < index; i++) {
		if (plan->untested[i].solution == plan->untested[index].solution)
			return true;
	}
	return false;
}

/* The plan makes the test a task of the day. What is left is a day, or a bath, that does without: it says so with
 * `allow`, or gives the test no time. */
void check_untested_bath(struct check_run *run)
{
	const struct day_plan *plan = run->plan;
	struct span no_time = run->day->times[DAY_TIME_test].span;
	for (size_t i = 0; plan && i < plan->untested_count; i++) {
		const struct plan_untested *untested = &plan->untested[i];
		if (is_noted(plan, i))
			continue;
		run->solution = untested->solution;
		struct diagnostic *finding =
			check_add(run, span_is_set(no_time) ? no_time : run->day->declared.name_span,
				  "film meets a new mix of %.*s, in load %zu, before anything has tested it",
				  TEXT_ARGUMENT(print_solution(run, untested->solution)), untested->load + 1);
		check_help(
			run, finding,
			"give the test its time, `test 5 min`: a control strip, a sacrificial roll or a leader snip");
		check_note(run, finding, untested->solution->declared.name_span, "the bath is declared here");
		run->solution = NULL;
	}
}

/* Where the load lies in the kind's order: the first one tries out the baths. */
static bool is_first_of_kind(const struct day_plan *plan, size_t load)
{
	for (size_t i = 0; i < load; i++) {
		if (plan->loads[i].kind == plan->loads[load].kind)
			return false;
	}
	return true;
}

static size_t count_group(const struct plan_load *load, struct text group)
{
	size_t count = 0;
	for (size_t i = 0; i < load->place_count; i++)
		count += text_equal(load->places[i].roll->together, group);
	return count;
}

/* An origin is spread by the packing, so that only a group that is kept together can be whole in an untried load. It is
 * said once, at its first roll there. */
void check_all_in_one_load(struct check_run *run)
{
	const struct day_plan *plan = run->plan;
	for (size_t i = 0; plan && i < plan->load_count; i++) {
		const struct plan_load *load = &plan->loads[i];
		for (size_t j = 0; is_first_of_kind(plan, i) && j < load->place_count; j++) {
			const struct roll *roll = load->places[j].roll;
			size_t count = count_group(load, roll->together);
			bool is_said = j > 0 && text_equal(load->places[j - 1].roll->together, roll->together);
			if (roll->together.length == 0 || is_said || count < 2)
				continue;
			run->roll = roll;
			struct diagnostic *finding =
				check_add(run, roll->together_span,
					  "all %zu rolls of `%.*s` are in load %zu, before any load has come out right",
					  count, TEXT_ARGUMENT(roll->together), load->number);
			check_help(run, finding, "let them be spread, or say with `allow` why they are kept together");
			run->roll = NULL;
		}
	}
}

/* The plan gives a mark of its own to each roll that has none; two that were marked alike it cannot tell apart. */
void check_no_roll_mark(struct check_run *run)
{
	const struct day_plan *plan = run->plan;
	for (size_t i = 0; plan && i < plan->load_count; i++) {
		const struct plan_load *load = &plan->loads[i];
		for (size_t j = 1; j < load->place_count; j++) {
			const struct roll *roll = load->places[j].roll;
			size_t same = 0;
			while (same < j && !text_equal(load->places[same].mark, load->places[j].mark))
				same++;
			if (same == j)
				continue;
			struct diagnostic *finding = check_add(
				run, roll->mark_span,
				"`%.*s` and `%.*s` are in load %zu with the same mark: nothing tells them apart",
				TEXT_ARGUMENT(load->places[same].roll->label), TEXT_ARGUMENT(roll->label),
				load->number);
			check_help(run, finding, "mark one of them otherwise, or leave the mark to the load list");
			check_note(run, finding, load->places[same].roll->mark_span, "the other one");
		}
	}
}

void check_past_finish(struct check_run *run)
{
	const struct day_plan *plan = run->plan;
	size_t rolls = 0, left = plan ? plan->load_count - plan->today_count : 0;
	if (left == 0)
		return;
	for (size_t i = plan->today_count; i < plan->load_count; i++)
		rolls += plan->loads[i].place_count;
	struct diagnostic *finding =
		check_add(run, run->day->finish_span,
			  "%zu of %zu loads %s not done by then: %zu roll%s left for another day", left,
			  plan->load_count, left == 1 ? "is" : "are", rolls, rolls == 1 ? " is" : "s are");
	check_help(run, finding, "`wetside plan` lists what is left, and which one thing would let more of it fit");
}

void check_dryer_full(struct check_run *run)
{
	const struct day_plan *plan = run->plan;
	if (!plan || plan->dryer_waits == 0)
		return;
	struct diagnostic *finding =
		check_add(run, run->day->dryer_name.span, "%zu load%s for want of places, or hang%s in the open",
			  plan->dryer_waits, plan->dryer_waits == 1 ? " waits" : "s wait",
			  plan->dryer_waits == 1 ? "s" : "");
	check_help(run, finding, "have a line ready, free of dust, for %s", plan->dryer_waits == 1 ? "it" : "them");
	if (span_is_set(run->day->dryer->takes_rolls.span))
		check_note(run, finding, run->day->dryer->takes_rolls.span, "so many rolls it takes");
}

/* A wet reel is never loaded; that the hands wait for it is worth a hint, where somebody has counted the reels. */
void check_reels_wet(struct check_run *run)
{
	const struct day_plan *plan = run->plan;
	if (!plan || plan->reels_waits == 0 || !span_is_set(run->day->reels_span))
		return;
	struct diagnostic *finding = check_add(run, run->day->reels_span,
					       "%zu load%s until they are dry, with nothing else to do for the hands",
					       plan->reels_waits, plan->reels_waits == 1 ? " waits" : "s wait");
	check_help(run, finding, "have a second set of reels, or a way to dry these sooner");
}
