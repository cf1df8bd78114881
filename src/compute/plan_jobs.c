/* A day as a problem for the schedule. Each load is up to three jobs: mixing and testing what it needs (at the earliest
 * once the load two before it hangs: what is mixed too early grows old), the load itself from setting out to a clean
 * tank, and its drying, which may go on after the hands are free for the day. */
#include "compute/plan_draft.h"

/* A roll done is worth so much more than anything that serves it, and an urgent one so many times that. */
#define ROLL_VALUE 1000
#define URGENT_TIMES 10

/* What has dried in a tank or on a reel is hard to rinse off: common practice, no source. */
#define CLEANED_WITHIN_S 3600

struct jobs {
	struct plan_draft *draft;
	struct schedule_job *jobs;
	size_t job_count;
	struct schedule_resource *resources;
	size_t resource_count;
};

static size_t add_resource(struct jobs *jobs, int64_t amount)
{
	jobs->resources[jobs->resource_count] = (struct schedule_resource){ amount };
	return jobs->resource_count++;
}

/* ---- what there is so many of ---- */

static void list_tanks(struct jobs *jobs)
{
	struct plan_draft *draft = jobs->draft;
	draft->tank_resource = ARENA_ARRAY(draft->arena, size_t, draft->kind_count);
	for (size_t i = 0; i < draft->kind_count; i++) {
		const struct tank *tank = draft->kinds[i].process->tank;
		size_t same = 0;
		while (draft->kinds[same].process->tank != tank)
			same++;
		draft->tank_resource[i] =
			same < i ? draft->tank_resource[same] : add_resource(jobs, plan_tanks(draft, tank));
	}
}

/* Where the day declares no reels, there are as many as its tanks take. */
static int64_t reels_of_tanks(const struct plan_draft *draft, enum format_id format)
{
	int64_t count = 0;
	for (size_t i = 0; i < draft->kind_count; i++) {
		const struct tank *tank = draft->kinds[i].process->tank;
		size_t same = 0;
		while (draft->kinds[same].process->tank != tank)
			same++;
		for (const struct takes *takes = tank && same == i ? tank->takes : NULL; takes; takes = takes->next) {
			if (takes->format == format)
				count += takes->count * plan_tanks(draft, tank);
		}
	}
	return count * draft->change.reel_sets;
}

static void list_reels(struct jobs *jobs)
{
	struct plan_draft *draft = jobs->draft;
	for (int i = 0; i < FORMAT_COUNT; i++) {
		enum format_id format = (enum format_id)i;
		int64_t count = plan_reels(draft, format);
		draft->reel_resource[i] = PLAN_NONE;
		if (!plan_format_has_reels(format))
			continue;
		if (count < 0)
			count = reels_of_tanks(draft, format);
		if (count > 0)
			draft->reel_resource[i] = add_resource(jobs, count);
	}
}

static void list_resources(struct jobs *jobs)
{
	struct plan_draft *draft = jobs->draft;
	const struct dryer *dryer = draft->day->dryer;
	size_t most = draft->kind_count + FORMAT_COUNT + 1 + draft->chain_count;
	jobs->resources = ARENA_ARRAY(draft->arena, struct schedule_resource, most);
	list_tanks(jobs);
	list_reels(jobs);
	draft->dryer_resource = PLAN_NONE;
	if (dryer && dryer->takes_rolls.value > 0)
		draft->dryer_resource = add_resource(jobs, dryer->takes_rolls.value * draft->change.dryer_sets);
	draft->chain_resource = ARENA_ARRAY(draft->arena, size_t, draft->chain_count);
	for (size_t i = 0; i < draft->chain_count; i++)
		draft->chain_resource[i] = add_resource(jobs, 1);
}

/* ---- one job ---- */

static struct schedule_task task(int64_t duration_s, bool needs_hands)
{
	return (struct schedule_task){
		.duration_s = duration_s,
		.needs_hands = needs_hands,
		.may_be_in_break = !needs_hands,
		.wait_most_s = SCHEDULE_NEVER,
	};
}

static size_t add_job(struct jobs *jobs, const struct schedule_task *tasks, size_t task_count, int64_t value)
{
	jobs->jobs[jobs->job_count] = (struct schedule_job){
		.tasks = tasks,
		.task_count = task_count,
		.value = value,
		.done_task = task_count - 1,
	};
	return jobs->job_count++;
}

/* A job may follow at most so many others. */
#define AFTER_MOST 3

static void add_after(struct jobs *jobs, size_t job, size_t after, size_t after_task)
{
	struct schedule_job *later = &jobs->jobs[job];
	size_t *list = ARENA_ARRAY(jobs->draft->arena, size_t, 2 * AFTER_MOST);
	if (after == PLAN_NONE)
		return;
	for (size_t i = 0; i < later->after_count; i++) {
		list[i] = later->after[i];
		list[AFTER_MOST + i] = later->after_task[i];
	}
	list[later->after_count] = after;
	list[AFTER_MOST + later->after_count] = after_task;
	later->after = list;
	later->after_task = list + AFTER_MOST;
	later->after_count++;
}

/* Mixes follow each other as they were accounted for: a later one may draw on what an earlier one made. */
static void mix_in_order(struct jobs *jobs, const struct plan_draft_load *load)
{
	const struct plan_draft *draft = jobs->draft;
	size_t before = load->before;
	size_t last = 0;
	while (before != PLAN_NONE && !(draft->loads[before].mix_job != PLAN_NONE && draft->loads[before].mixes))
		before = draft->loads[before].before;
	if (before == PLAN_NONE)
		return;
	for (const struct plan_mix *mix = draft->loads[before].mixes->next; mix; mix = mix->next)
		last++;
	add_after(jobs, load->mix_job, draft->loads[before].mix_job, last);
}

/* Several mixes cool at the same time; what is left of it when the last has been stirred is waited for. */
static void add_mix_job(struct jobs *jobs, struct plan_draft_load *load)
{
	struct plan_draft *draft = jobs->draft;
	size_t count = 0, most = 1;
	int64_t cools_s = 0;
	for (const struct plan_mix *mix = load->mixes; mix; mix = mix->next)
		most++;
	for (const struct plan_test *test = load->tests; test; test = test->next)
		most++;
	struct schedule_task *tasks = ARENA_ARRAY(draft->arena, struct schedule_task, most);
	for (const struct plan_mix *mix = load->mixes; mix; mix = mix->next) {
		tasks[count++] = task(mix->hands_s, true);
		cools_s = cools_s > mix->hands_s ? cools_s - mix->hands_s : 0;
		if (mix->cool_s > cools_s)
			cools_s = mix->cool_s;
	}
	if (cools_s > 0)
		tasks[count++] = task(cools_s, false);
	for (const struct plan_test *test = load->tests; test; test = test->next)
		tasks[count++] = task(day_time_s(draft->day, DAY_TIME_test), true);
	if (count == 0)
		return;
	load->mix_job = add_job(jobs, tasks, count, 1);
	jobs->jobs[load->mix_job].is_urgent = load->urgent_rolls > 0;
	mix_in_order(jobs, load);
	if (load->two_before != PLAN_NONE) {
		const struct plan_draft_load *two_before = &draft->loads[load->two_before];
		add_after(jobs, load->mix_job, two_before->load_job, two_before->hang_task);
	}
}

static int64_t longest_break_s(const struct day *day)
{
	int64_t longest_s = 0;
	for (size_t i = 0; i < day->break_count; i++) {
		if (day->breaks[i].lasts_s > longest_s)
			longest_s = day->breaks[i].lasts_s;
	}
	return longest_s;
}

/* Baths come to temperature while the film is loaded; the rest of it is waited for, which no break is for where none is
 * to lie before the pour. */
static size_t list_load_tasks(const struct plan_draft *draft, struct plan_draft_load *load, struct schedule_task *tasks)
{
	const struct day *day = draft->day;
	int64_t rolls = (int64_t)load->packed->count;
	int64_t load_s = day_time_s(day, DAY_TIME_load) * rolls;
	int64_t temper_s = day_time_s(day, DAY_TIME_temper);
	size_t count = 0;
	tasks[count++] = task(day_time_s(day, DAY_TIME_ready), true);
	load->load_task = count;
	tasks[count++] = task(load_s, true);
	int64_t wait_most_s = draft->pours_soon ? plan_temper_wait_most_s(draft) : SCHEDULE_NEVER;
	if (temper_s > load_s) {
		tasks[count] = task(temper_s - load_s, false);
		tasks[count].may_be_in_break = wait_most_s == SCHEDULE_NEVER;
		tasks[count++].wait_most_s = wait_most_s;
	}
	load->first_run_task = count;
	for (size_t i = 0; i < load->piece_count; i++) {
		const struct plan_piece *piece = &load->pieces[i];
		tasks[count] = task(piece->end_s - piece->start_s, !piece->is_free);
		tasks[count].wait_most_s = i > 0 ? 0 : wait_most_s;
		count++;
	}
	load->hang_task = count;
	tasks[count] = task(day_time_s(day, DAY_TIME_hang) * rolls, true);
	if (load->piece_count > 0)
		tasks[count].wait_most_s = 0;
	count++;
	tasks[count] = task(day_time_s(day, DAY_TIME_clean), true);
	tasks[count++].wait_most_s = CLEANED_WITHIN_S + longest_break_s(day);
	return count;
}

static void claim(struct schedule_job *job, struct schedule_claim *claims, size_t resource, int64_t amount, size_t from,
		  size_t to, int64_t after_s)
{
	claims[job->claim_count++] = (struct schedule_claim){ resource, amount, from, to, after_s };
	job->claims = claims;
}

/* Reels are wet until some time after they were rinsed with the tank. */
static void claim_for_load(const struct jobs *jobs, const struct plan_draft_load *load, struct schedule_job *job)
{
	const struct plan_draft *draft = jobs->draft;
	const struct plan_kind *kind = &draft->kinds[load->kind];
	struct schedule_claim *claims = ARENA_ARRAY(draft->arena, struct schedule_claim, FORMAT_COUNT + 2);
	int64_t of_format[FORMAT_COUNT] = { 0 };
	size_t clean = load->hang_task + 1;
	claim(job, claims, draft->tank_resource[load->kind], 1, load->load_task, clean, 0);
	if (load->piece_count > 0)
		claim(job, claims, draft->chain_resource[load->chain], 1, load->first_run_task,
		      load->first_run_task + load->piece_count - 1, 0);
	for (size_t i = 0; i < load->packed->count; i++)
		of_format[kind->rolls[load->packed->rolls[i]]->format]++;
	for (int format = 0; format < FORMAT_COUNT; format++) {
		if (of_format[format] > 0 && draft->reel_resource[format] != PLAN_NONE)
			claim(job, claims, draft->reel_resource[format], of_format[format], load->load_task, clean,
			      day_time_s(draft->day, DAY_TIME_reels_dry));
	}
}

static void add_load_job(struct jobs *jobs, struct plan_draft_load *load)
{
	struct plan_draft *draft = jobs->draft;
	struct schedule_task *tasks = ARENA_ARRAY(draft->arena, struct schedule_task, load->piece_count + 5);
	int64_t rolls = (int64_t)load->packed->count;
	size_t count = list_load_tasks(draft, load, tasks);
	load->load_job = add_job(jobs, tasks, count, ROLL_VALUE * (rolls + (URGENT_TIMES - 1) * load->urgent_rolls));
	struct schedule_job *job = &jobs->jobs[load->load_job];
	job->is_urgent = load->urgent_rolls > 0;
	job->done_task = load->hang_task;
	claim_for_load(jobs, load, job);
	if (load->mix_job != PLAN_NONE)
		add_after(jobs, load->load_job, load->mix_job, jobs->jobs[load->mix_job].task_count - 1);
	if (load->before != PLAN_NONE) {
		const struct plan_draft_load *before = &draft->loads[load->before];
		add_after(jobs, load->load_job, before->load_job,
			  before->piece_count > 0 ? before->first_run_task + before->returned_piece
						  : before->hang_task);
	}
	if (load->first != PLAN_NONE)
		add_after(jobs, load->load_job, draft->loads[load->first].load_job,
			  draft->loads[load->first].hang_task);
}

/* A load that is larger than the dryer hangs in the open. */
static void add_dry_job(struct jobs *jobs, struct plan_draft_load *load)
{
	struct plan_draft *draft = jobs->draft;
	int64_t rolls = (int64_t)load->packed->count;
	int64_t take_down_s = day_time_s(draft->day, DAY_TIME_take_down) * rolls;
	struct schedule_task *tasks = ARENA_ARRAY(draft->arena, struct schedule_task, 2);
	if (load->dry_s <= 0)
		return;
	tasks[0] = task(load->dry_s, false);
	tasks[1] = task(take_down_s, true);
	load->dry_job = add_job(jobs, tasks, 2, 1);
	if (draft->dryer_resource != PLAN_NONE && rolls <= jobs->resources[draft->dryer_resource].amount)
		claim(&jobs->jobs[load->dry_job], ARENA_NEW(draft->arena, struct schedule_claim), draft->dryer_resource,
		      rolls, 0, 1, 0);
	add_after(jobs, load->dry_job, load->load_job, load->hang_task);
}

/* ---- the day ---- */

static int64_t day_start_s(const struct plan_draft *draft)
{
	return draft->day->start_s - draft->change.start_earlier_s;
}

static void list_breaks(struct plan_draft *draft)
{
	const struct day *day = draft->day;
	struct schedule_break *breaks = ARENA_ARRAY(draft->arena, struct schedule_break, day->break_count);
	int64_t earliest_s = 0;
	size_t count = 0;
	for (size_t i = 0; i < day->break_count; i++) {
		int64_t start_s = day->breaks[i].start_s - day_start_s(draft);
		int64_t end_s = start_s + day->breaks[i].lasts_s;
		if (start_s < earliest_s)
			start_s = earliest_s;
		if (end_s <= start_s)
			continue;
		breaks[count++] = (struct schedule_break){ start_s, end_s - start_s };
		earliest_s = end_s;
	}
	draft->problem.breaks = breaks;
	draft->problem.break_count = count;
}

/* The hands' time from the day's start to its finish, without breaks. */
static int64_t hands_time_s(const struct schedule_problem *problem)
{
	int64_t time_s = problem->finish_s;
	for (size_t i = 0; i < problem->break_count && problem->finish_s != SCHEDULE_NEVER; i++) {
		int64_t end_s = problem->breaks[i].start_s + problem->breaks[i].duration_s;
		if (end_s > problem->finish_s)
			end_s = problem->finish_s;
		if (end_s > problem->breaks[i].start_s)
			time_s -= end_s - problem->breaks[i].start_s;
	}
	return time_s;
}

static int64_t hands_s(const struct schedule_job *job)
{
	int64_t sum_s = 0;
	for (size_t i = 0; i < job->task_count; i++)
		sum_s += job->tasks[i].needs_hands ? job->tasks[i].duration_s : 0;
	return sum_s;
}

static void forget_jobs(struct plan_draft_load *load, const struct plan_draft_load *end)
{
	for (; load < end; load++)
		load->mix_job = load->load_job = load->dry_job = PLAN_NONE;
}

/* Jobs of the loads of one chain, as many as one pair of hands could do before the finish: the others are left without
 * a search. */
static void add_chain(struct jobs *jobs, size_t first, size_t end, int64_t time_s)
{
	struct plan_draft *draft = jobs->draft;
	for (size_t i = first; i < end; i++) {
		struct plan_draft_load *load = &draft->loads[i];
		size_t job_count = jobs->job_count;
		forget_jobs(load, load + 1);
		if (load->is_left)
			continue;
		if (!draft->change.is_mixed_beforehand)
			add_mix_job(jobs, load);
		add_load_job(jobs, load);
		if (draft->problem.finish_s != SCHEDULE_NEVER) {
			for (size_t j = job_count; j < jobs->job_count; j++)
				time_s -= hands_s(&jobs->jobs[j]);
			if (time_s < 0) {
				jobs->job_count = job_count;
				forget_jobs(load, &draft->loads[end]);
				return;
			}
		}
		add_dry_job(jobs, load);
	}
}

void plan_jobs_build(struct plan_draft *draft)
{
	const struct day *day = draft->day;
	struct schedule_problem *problem = &draft->problem;
	struct jobs jobs = {
		.draft = draft,
		.jobs = ARENA_ARRAY(draft->arena, struct schedule_job, 3 * draft->load_count),
	};
	problem->finish_s =
		day->finish_s < 0 ? SCHEDULE_NEVER : day->finish_s + draft->change.finish_later_s - day_start_s(draft);
	if (problem->finish_s < 0)
		problem->finish_s = 0;
	list_breaks(draft);
	list_resources(&jobs);
	for (size_t first = 0; first < draft->load_count;) {
		size_t end = first + 1;
		while (end < draft->load_count && draft->loads[end].chain == draft->loads[first].chain)
			end++;
		add_chain(&jobs, first, end, hands_time_s(problem));
		first = end;
	}
	problem->jobs = jobs.jobs;
	problem->job_count = jobs.job_count;
	problem->resources = jobs.resources;
	problem->resource_count = jobs.resource_count;
}
