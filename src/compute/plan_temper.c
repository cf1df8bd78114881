/* When the baths of a load come to temperature: just before the pour, since they drift. Film may lie in its tank for as
 * long as one likes; tempered baths may not stand through a break. */
#include "compute/plan_draft.h"

/* Through a break that is shorter than tempering takes they are let stand: common practice, no source. */
static bool is_long(const struct plan_draft *draft, const struct schedule_break *rest)
{
	return rest->duration_s > day_time_s(draft->day, DAY_TIME_temper);
}

int64_t plan_temper_wait_most_s(const struct plan_draft *draft)
{
	int64_t most_s = SCHEDULE_NEVER;
	for (size_t i = 0; i < draft->problem.break_count; i++) {
		const struct schedule_break *rest = &draft->problem.breaks[i];
		if (is_long(draft, rest) && rest->duration_s <= most_s)
			most_s = rest->duration_s - 1;
	}
	return most_s;
}

/* Baths for which there is no time to come to temperature behind the break have to do so before it: while the film is
 * loaded, or at the latest when the hands leave. */
bool plan_temper_is_before_break(const struct plan_draft *draft, const struct plan_draft_load *load)
{
	int64_t temper_s = day_time_s(draft->day, DAY_TIME_temper);
	bool is_done = load->load_job != PLAN_NONE && draft->schedule->jobs[load->load_job].is_done;
	if (!is_done || load->piece_count == 0)
		return false;
	const int64_t *starts_s = draft->schedule->jobs[load->load_job].starts_s;
	int64_t pour_s = starts_s[load->first_run_task];
	for (size_t i = 0; i < draft->problem.break_count; i++) {
		const struct schedule_break *rest = &draft->problem.breaks[i];
		int64_t end_s = rest->start_s + rest->duration_s;
		if (is_long(draft, rest) && rest->start_s > starts_s[load->load_task] && end_s <= pour_s &&
		    pour_s - temper_s < end_s)
			return true;
	}
	return false;
}

int64_t plan_temper_later_most_s(const struct plan_draft *draft)
{
	int64_t sum_s = 0;
	for (size_t i = 0; i < draft->load_count; i++) {
		const struct plan_draft_load *load = &draft->loads[i];
		if (plan_temper_is_before_break(draft, load))
			sum_s += day_time_s(draft->day, DAY_TIME_temper) +
				 day_time_s(draft->day, DAY_TIME_load) * (int64_t)load->packed->count;
	}
	return sum_s;
}

/* The moment, or the last one before it, at which the hands begin something or have nothing to do: whoever is about to
 * load puts the bottles into the water first. */
static int64_t hands_free_by(const struct day_plan *plan, int64_t at_s)
{
	for (size_t i = 0; i < plan->task_count; i++) {
		const struct plan_task *task = &plan->tasks[i];
		bool is_taken = task->needs_hands || task->kind == PLAN_TASK_rest;
		if (is_taken && task->start_s < at_s && at_s < task->end_s)
			return task->start_s;
	}
	return at_s;
}

void plan_temper_place(struct day_plan *plan)
{
	for (size_t i = 0; i < plan->task_count; i++) {
		struct plan_task *task = &plan->tasks[i];
		if (task->kind != PLAN_TASK_temper)
			continue;
		int64_t lasts_s = task->end_s - task->start_s;
		task->start_s = hands_free_by(plan, plan->loads[task->load].pour_s - lasts_s);
		task->end_s = task->start_s + lasts_s;
	}
}
