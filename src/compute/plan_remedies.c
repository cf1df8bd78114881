/* Which one thing, changed alone, lets more of a day fit: found by planning again with it. */
#include "compute/plan_draft.h"

#define HOUR_S 3600

/* Seven plans more than the one that is wanted: each is searched for less long. */
#define REMEDY_WORK 40000

static struct plan_change change_of(const struct plan_draft *draft)
{
	struct plan_change change = draft->change;
	change.work_most = REMEDY_WORK;
	return change;
}

static size_t rolls_today(const struct plan_draft *draft)
{
	size_t count = 0;
	for (size_t i = 0; i < draft->load_count; i++)
		count += draft->loads[i].is_left ? 0 : draft->loads[i].packed->count;
	return count;
}

static bool is_all_today(const struct plan_draft *draft)
{
	for (size_t i = 0; i < draft->load_count; i++) {
		if (draft->loads[i].is_left)
			return false;
	}
	return true;
}

/* When the hands are free, counted from the day's start as declared. */
static int64_t hands_end_s(const struct plan_draft *draft)
{
	int64_t end_s = 0;
	for (size_t i = 0; i < draft->problem.job_count; i++) {
		const struct schedule_job *job = &draft->problem.jobs[i];
		const struct schedule_placement *placed = &draft->schedule->jobs[i];
		for (size_t j = 0; placed->is_done && j < job->task_count; j++) {
			int64_t task_end_s = placed->starts_s[j] + job->tasks[j].duration_s;
			if (job->tasks[j].needs_hands && task_end_s > end_s)
				end_s = task_end_s;
		}
	}
	return end_s - draft->change.start_earlier_s;
}

/* Notes what a plan with a change would bring; null where it is nothing. */
static struct plan_remedy *note(struct plan_draft *draft, enum plan_remedy_kind kind, const struct plan_draft *tried,
				int64_t amount)
{
	size_t before = rolls_today(draft), after = rolls_today(tried);
	if (after <= before)
		return NULL;
	struct plan_remedy *remedy = &draft->plan->remedies[draft->plan->remedy_count++];
	*remedy = (struct plan_remedy){
		.kind = kind,
		.fits = is_all_today(tried),
		.more_rolls = after - before,
		.amount = amount,
		.format = FORMAT_COUNT,
		.end_s = hands_end_s(tried),
	};
	return remedy;
}

static struct plan_remedy *try_change(struct plan_draft *draft, enum plan_remedy_kind kind,
				      const struct plan_change *change, int64_t amount)
{
	return note(draft, kind, plan_draft_make(draft, change), amount);
}

/* The format that most rolls have: its reels are those that matter. */
static enum format_id usual_format(const struct plan_draft *draft)
{
	size_t counts[FORMAT_COUNT] = { 0 };
	int most = 0;
	for (size_t i = 0; i < draft->kind_count; i++) {
		for (size_t j = 0; j < draft->kinds[i].roll_count; j++)
			counts[draft->kinds[i].rolls[j]->format]++;
	}
	for (int format = 0; format < FORMAT_COUNT; format++) {
		if (plan_format_has_reels((enum format_id)format) &&
		    (counts[format] > counts[most] || !plan_format_has_reels((enum format_id)most)))
			most = format;
	}
	return (enum format_id)most;
}

static void try_reels(struct plan_draft *draft)
{
	struct plan_change change = change_of(draft);
	enum format_id format = usual_format(draft);
	size_t resource = draft->reel_resource[format];
	change.reel_sets = 2;
	if (resource == PLAN_NONE)
		return;
	struct plan_remedy *remedy =
		try_change(draft, PLAN_REMEDY_reels, &change, draft->problem.resources[resource].amount);
	if (remedy)
		remedy->format = format;
}

/* One more of the tank that most loads go through, with reels of its own where the day declares none. */
static void try_tank(struct plan_draft *draft)
{
	struct plan_change change = change_of(draft);
	size_t most = 0;
	for (size_t i = 0; i < draft->kind_count; i++) {
		const struct tank *tank = draft->kinds[i].process->tank;
		size_t loads = 0;
		for (size_t j = 0; j < draft->load_count; j++)
			loads += draft->kinds[draft->loads[j].kind].process->tank == tank;
		if (loads > most) {
			most = loads;
			change.tank = tank;
		}
	}
	if (change.tank)
		try_change(draft, PLAN_REMEDY_tank, &change, 1);
}

static void try_dryer(struct plan_draft *draft)
{
	struct plan_change change = change_of(draft);
	change.dryer_sets = 2;
	if (draft->dryer_resource != PLAN_NONE)
		try_change(draft, PLAN_REMEDY_dryer, &change, draft->problem.resources[draft->dryer_resource].amount);
}

static void try_chemistry(struct plan_draft *draft)
{
	struct plan_change change = change_of(draft);
	change.is_mixed_beforehand = true;
	const struct plan_draft *tried = plan_draft_make(draft, &change);
	int64_t volume = 0;
	for (size_t i = 0; i < tried->load_count; i++) {
		const struct plan_draft_load *load = &tried->loads[i];
		for (const struct plan_mix *mix = load->is_left ? NULL : load->mixes; mix; mix = mix->next)
			volume += mix->volume;
	}
	if (volume > 0)
		note(draft, PLAN_REMEDY_chemistry, tried, volume);
}

static void try_hours(struct plan_draft *draft)
{
	for (int64_t hours = 1; hours <= 2; hours++) {
		struct plan_change change = change_of(draft);
		change.finish_later_s = hours * HOUR_S;
		if (draft->problem.finish_s != SCHEDULE_NEVER)
			try_change(draft, PLAN_REMEDY_finish, &change, hours * HOUR_S);
	}
	struct plan_change change = change_of(draft);
	change.start_earlier_s = HOUR_S;
	if (draft->problem.finish_s != SCHEDULE_NEVER && draft->day->start_s >= HOUR_S)
		try_change(draft, PLAN_REMEDY_start, &change, HOUR_S);
}

/* Remedies at most: one of each kind, and a second hour at the finish. */
#define REMEDIES_MOST (PLAN_REMEDY_COUNT + 1)

void plan_remedies_find(struct plan_draft *draft)
{
	if (is_all_today(draft))
		return;
	draft->plan->remedies = ARENA_ARRAY(draft->arena, struct plan_remedy, REMEDIES_MOST);
	try_reels(draft);
	try_tank(draft);
	try_dryer(draft);
	try_chemistry(draft);
	try_hours(draft);
}
