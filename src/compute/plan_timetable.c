/* From the schedule to the plan: what is done today and when, in the order of time. */
#include "compute/plan_draft.h"

#include <stdlib.h>

struct timetable {
	struct plan_draft *draft;
	struct day_plan *plan;
	size_t *draft_loads; /* by place in plan->loads: index into draft->loads */
	size_t task_capacity;
};

static const struct schedule_placement *placement(const struct plan_draft *draft, size_t job)
{
	return job == PLAN_NONE || !draft->schedule->jobs[job].is_done ? NULL : &draft->schedule->jobs[job];
}

/* Where a load that is done today has been put. */
static const struct schedule_placement *load_placement(const struct plan_draft *draft,
						       const struct plan_draft_load *load)
{
	return &draft->schedule->jobs[load->load_job];
}

static int64_t task_end(const struct plan_draft *draft, size_t job, size_t task)
{
	return draft->schedule->jobs[job].starts_s[task] + draft->problem.jobs[job].tasks[task].duration_s;
}

/* ---- loads ---- */

static int64_t start_of(const struct plan_draft *draft, const struct plan_draft_load *load)
{
	return load->is_left ? SCHEDULE_NEVER : load_placement(draft, load)->starts_s[0];
}

/* Those of today by their start, then the others as they would follow. Few enough to be put in by insertion: most come
 * in order. */
static void order_loads(struct timetable *timetable)
{
	const struct plan_draft *draft = timetable->draft;
	size_t *order = ARENA_ARRAY(draft->arena, size_t, draft->load_count);
	for (size_t i = 0; i < draft->load_count; i++) {
		int64_t start_s = start_of(draft, &draft->loads[i]);
		size_t place = i;
		while (place > 0 && start_of(draft, &draft->loads[order[place - 1]]) > start_s) {
			order[place] = order[place - 1];
			place--;
		}
		order[place] = i;
	}
	timetable->draft_loads = order;
}

static void set_times(const struct plan_draft *draft, const struct plan_draft_load *from, struct plan_load *load)
{
	const struct schedule_placement *placed = load_placement(draft, from);
	load->conditions = from->conditions;
	load->used = from->used;
	load->timeline = from->timeline;
	load->accounts = from->accounts;
	load->tempers_again = plan_temper_is_before_break(draft, from);
	load->start_s = placed->starts_s[0];
	load->pour_s = placed->starts_s[from->first_run_task];
	load->out_s = from->piece_count > 0 ? task_end(draft, from->load_job, from->hang_task - 1) : load->pour_s;
	load->hung_s = task_end(draft, from->load_job, from->hang_task);
	load->dry_s = load->hung_s;
}

static void list_loads(struct timetable *timetable)
{
	struct plan_draft *draft = timetable->draft;
	struct day_plan *plan = timetable->plan;
	plan->loads = ARENA_ARRAY(draft->arena, struct plan_load, draft->load_count);
	plan->load_count = draft->load_count;
	for (size_t i = 0; i < plan->load_count; i++) {
		const struct plan_draft_load *from = &draft->loads[timetable->draft_loads[i]];
		struct plan_load *load = &plan->loads[i];
		*load = (struct plan_load){
			.number = i + 1,
			.kind = from->kind,
			.area_milli_rolls = from->packed->area_milli_rolls,
			.is_today = !from->is_left,
		};
		plan_marks_give(draft, load, from->packed);
		if (!load->is_today)
			continue;
		plan->today_count++;
		set_times(draft, from, load);
	}
}

/* When the load's film goes into its tank; those of another day follow at the end. */
static int64_t loading_of(const struct timetable *timetable, size_t place)
{
	const struct plan_draft *draft = timetable->draft;
	const struct plan_draft_load *from = &draft->loads[timetable->draft_loads[place]];
	return from->is_left ? SCHEDULE_NEVER : load_placement(draft, from)->starts_s[from->load_task];
}

/* Places in plan->loads by the moment of loading. */
static size_t *order_by_loading(const struct timetable *timetable)
{
	size_t count = timetable->plan->load_count;
	size_t *order = ARENA_ARRAY(timetable->draft->arena, size_t, count);
	for (size_t i = 0; i < count; i++) {
		size_t place = i;
		while (place > 0 && loading_of(timetable, order[place - 1]) > loading_of(timetable, i)) {
			order[place] = order[place - 1];
			place--;
		}
		order[place] = i;
	}
	return order;
}

/* The tank of the day that is free for longest when a load goes into it. */
static void give_tanks(struct timetable *timetable)
{
	const struct plan_draft *draft = timetable->draft;
	const struct day *day = draft->day;
	const size_t *order = order_by_loading(timetable);
	int64_t *free_from_s = ARENA_ARRAY(draft->arena, int64_t, day->tank_count);
	for (size_t i = 0; i < timetable->plan->load_count; i++) {
		struct plan_load *load = &timetable->plan->loads[order[i]];
		const struct plan_draft_load *from = &draft->loads[timetable->draft_loads[order[i]]];
		const struct tank *tank = draft->kinds[load->kind].process->tank;
		size_t chosen = PLAN_NONE;
		for (size_t j = 0; j < day->tank_count; j++) {
			if (day->tanks[j].tank == tank && (chosen == PLAN_NONE || free_from_s[j] < free_from_s[chosen]))
				chosen = j;
		}
		if (chosen == PLAN_NONE)
			continue;
		load->tank = chosen;
		if (load->is_today)
			free_from_s[chosen] = task_end(draft, from->load_job, from->hang_task + 1);
	}
}

/* ---- the dryer ---- */

/* Rolls in the dryer at a moment, of loads placed so far. */
struct dryer_stay {
	int64_t from_s, to_s;
	int64_t rolls;
};

static int64_t rolls_at(const struct dryer_stay *stays, size_t count, int64_t at_s)
{
	int64_t rolls = 0;
	for (size_t i = 0; i < count; i++)
		rolls += stays[i].from_s <= at_s && at_s < stays[i].to_s ? stays[i].rolls : 0;
	return rolls;
}

/* The most at once from a moment on; it changes only where a stay begins. */
static int64_t most_from(const struct dryer_stay *stays, size_t count, int64_t from_s)
{
	int64_t most = rolls_at(stays, count, from_s);
	for (size_t i = 0; i < count; i++) {
		int64_t rolls = stays[i].from_s > from_s ? rolls_at(stays, count, stays[i].from_s) : 0;
		if (rolls > most)
			most = rolls;
	}
	return most;
}

/* The earliest moment from which a stay may begin that the schedule has begun later: as soon as there are places until
 * then. Places become free where another stay ends. */
static int64_t earliest_from(const struct dryer_stay *stays, size_t count, size_t own, int64_t hung_s, int64_t places)
{
	int64_t chosen_s = stays[own].from_s;
	for (size_t i = 0; i <= count; i++) {
		int64_t from_s = i < count ? stays[i].to_s : hung_s;
		bool has_room = from_s >= hung_s && from_s < chosen_s &&
				rolls_at(stays, count, from_s) + stays[own].rolls <= places;
		for (size_t j = 0; has_room && j < count; j++)
			has_room = stays[j].from_s <= from_s || stays[j].from_s >= stays[own].from_s ||
				   rolls_at(stays, count, stays[j].from_s) + stays[own].rolls <= places;
		if (has_room)
			chosen_s = from_s;
	}
	return chosen_s;
}

static int64_t dryer_places(const struct plan_draft *draft)
{
	return draft->dryer_resource == PLAN_NONE ? 0 : draft->problem.resources[draft->dryer_resource].amount;
}

/* Film whose taking down the schedule has placed. What waits on the line goes into the dryer as soon as it can. */
static void add_placed_stays(struct timetable *timetable, struct dryer_stay *stays, size_t *count)
{
	const struct plan_draft *draft = timetable->draft;
	struct day_plan *plan = timetable->plan;
	size_t *of_load = ARENA_ARRAY(draft->arena, size_t, plan->today_count);
	for (size_t i = 0; i < plan->today_count; i++) {
		struct plan_load *load = &plan->loads[i];
		size_t job = draft->loads[timetable->draft_loads[i]].dry_job;
		const struct schedule_placement *placed = placement(draft, job);
		of_load[i] = PLAN_NONE;
		if (!placed)
			continue;
		load->dry_s = task_end(draft, job, 0);
		load->hangs_in_the_open = draft->problem.jobs[job].claim_count == 0;
		if (load->hangs_in_the_open) {
			load->dry_s = load->hung_s + draft->problem.jobs[job].tasks[0].duration_s;
			plan->dryer_waits += draft->dryer_resource != PLAN_NONE;
			continue;
		}
		of_load[i] = (*count)++;
		stays[of_load[i]] =
			(struct dryer_stay){ placed->starts_s[0], task_end(draft, job, 1), (int64_t)load->place_count };
	}
	for (size_t i = 0; i < plan->today_count; i++) {
		struct plan_load *load = &plan->loads[i];
		if (of_load[i] == PLAN_NONE)
			continue;
		struct dryer_stay *stay = &stays[of_load[i]];
		int64_t from_s = earliest_from(stays, *count, of_load[i], load->hung_s, dryer_places(draft));
		load->dry_s -= stay->from_s - from_s;
		stay->from_s = from_s;
		plan->dryer_waits += from_s > load->hung_s;
	}
}

/* Film that is not taken down today goes into the dryer for the night where there is room, else hangs in the open. */
static void hang_overnight(struct timetable *timetable, struct dryer_stay *stays, size_t *count)
{
	const struct plan_draft *draft = timetable->draft;
	int64_t places =
		draft->dryer_resource == PLAN_NONE ? 0 : draft->problem.resources[draft->dryer_resource].amount;
	for (size_t i = 0; i < timetable->plan->today_count; i++) {
		const struct plan_draft_load *from = &draft->loads[timetable->draft_loads[i]];
		struct plan_load *load = &timetable->plan->loads[i];
		int64_t rolls = (int64_t)load->place_count;
		if (from->dry_s <= 0 || placement(draft, from->dry_job))
			continue;
		load->dry_s = load->hung_s + from->dry_s;
		load->hangs_in_the_open = most_from(stays, *count, load->hung_s) + rolls > places;
		if (load->hangs_in_the_open)
			timetable->plan->dryer_waits += places > 0;
		else
			stays[(*count)++] = (struct dryer_stay){ load->hung_s, SCHEDULE_NEVER, rolls };
	}
}

static void fill_dryer(struct timetable *timetable)
{
	struct day_plan *plan = timetable->plan;
	struct dryer_stay *stays = ARENA_ARRAY(timetable->draft->arena, struct dryer_stay, plan->today_count);
	size_t count = 0;
	add_placed_stays(timetable, stays, &count);
	hang_overnight(timetable, stays, &count);
	plan->dryer_most = (size_t)most_from(stays, count, INT64_MIN);
	for (size_t i = 0; i < plan->today_count; i++) {
		if (plan->loads[i].dry_s > plan->all_dry_s)
			plan->all_dry_s = plan->loads[i].dry_s;
	}
}

/* ---- tasks ---- */

static struct plan_task *add_task(struct timetable *timetable, enum plan_task_kind kind, int64_t start_s, int64_t end_s,
				  size_t load)
{
	struct day_plan *plan = timetable->plan;
	ARENA_RESERVE(timetable->draft->arena, plan->tasks, plan->task_count, timetable->task_capacity);
	struct plan_task *task = &plan->tasks[plan->task_count++];
	*task = (struct plan_task){
		.kind = kind,
		.start_s = start_s,
		.end_s = end_s,
		.needs_hands = plan_task_row(kind)->needs_hands,
		.load = load,
	};
	if (task->needs_hands && end_s > plan->end_s)
		plan->end_s = end_s;
	if (end_s > plan->last_s)
		plan->last_s = end_s;
	return task;
}

static void add_mixing(struct timetable *timetable, const struct plan_draft_load *from)
{
	const struct plan_draft *draft = timetable->draft;
	const struct schedule_placement *placed = placement(draft, from->mix_job);
	size_t i = 0;
	if (!placed)
		return;
	for (const struct plan_mix *mix = from->mixes; mix; mix = mix->next, i++) {
		int64_t end_s = placed->starts_s[i] + mix->hands_s;
		struct plan_task *task = add_task(timetable, PLAN_TASK_mix, placed->starts_s[i], end_s, PLAN_NONE);
		task->solution = mix->solution;
		task->fill = mix->fill;
		task->volume = mix->volume;
		if (mix->cool_s <= 0)
			continue;
		task = add_task(timetable, PLAN_TASK_cool, end_s, end_s + mix->cool_s, PLAN_NONE);
		task->solution = mix->solution;
		task->fill = mix->fill;
		task->volume = mix->volume;
	}
	if (i < draft->problem.jobs[from->mix_job].task_count &&
	    !draft->problem.jobs[from->mix_job].tasks[i].needs_hands)
		i++; /* what is left of the cooling, which each bath has told */
	for (const struct plan_test *test = from->tests; test; test = test->next, i++) {
		struct plan_task *task = add_task(timetable, PLAN_TASK_test, placed->starts_s[i],
						  task_end(draft, from->mix_job, i), PLAN_NONE);
		task->solution = test->solution;
		task->fill = test->fill;
	}
}

/* Tempering can begin when the bottles have been set out; when it does, is seen once all tasks are there. */
static void add_load(struct timetable *timetable, const struct plan_draft_load *from, size_t index)
{
	const struct plan_draft *draft = timetable->draft;
	const struct plan_load *load = &timetable->plan->loads[index];
	const struct schedule_placement *placed = load_placement(draft, from);
	int64_t rolls = (int64_t)load->place_count;
	int64_t ready_s = task_end(draft, from->load_job, 0);
	int64_t temper_s = day_time_s(draft->day, DAY_TIME_temper);
	size_t clean = from->hang_task + 1;
	add_task(timetable, PLAN_TASK_ready, placed->starts_s[0], ready_s, index);
	if (temper_s > 0)
		add_task(timetable, PLAN_TASK_temper, ready_s, ready_s + temper_s, index);
	add_task(timetable, PLAN_TASK_load, placed->starts_s[from->load_task],
		 task_end(draft, from->load_job, from->load_task), index)
		->rolls = rolls;
	for (size_t i = 0; i < from->piece_count; i++) {
		size_t task = from->first_run_task + i;
		add_task(timetable, from->pieces[i].is_free ? PLAN_TASK_run_free : PLAN_TASK_run,
			 placed->starts_s[task], task_end(draft, from->load_job, task), index);
	}
	add_task(timetable, PLAN_TASK_hang, placed->starts_s[from->hang_task], load->hung_s, index)->rolls = rolls;
	add_task(timetable, PLAN_TASK_clean, placed->starts_s[clean], task_end(draft, from->load_job, clean), index);
	if (day_time_s(draft->day, DAY_TIME_reels_dry) > 0)
		add_task(timetable, PLAN_TASK_reels_dry, task_end(draft, from->load_job, clean),
			 task_end(draft, from->load_job, clean) + day_time_s(draft->day, DAY_TIME_reels_dry), index)
			->rolls = rolls;
}

static void add_drying(struct timetable *timetable, const struct plan_draft_load *from, size_t index)
{
	const struct plan_draft *draft = timetable->draft;
	const struct plan_load *load = &timetable->plan->loads[index];
	const struct schedule_placement *placed = placement(draft, from->dry_job);
	int64_t rolls = (int64_t)load->place_count;
	if (from->dry_s <= 0)
		return;
	add_task(timetable, PLAN_TASK_dry, load->dry_s - from->dry_s, load->dry_s, index)->rolls = rolls;
	if (placed)
		add_task(timetable, PLAN_TASK_take_down, placed->starts_s[1], task_end(draft, from->dry_job, 1), index)
			->rolls = rolls;
}

/* By start; what begins at the same moment, as it follows from each other: mixing, the load, its drying. */
static int compare_tasks(const void *left, const void *right)
{
	const struct plan_task *a = left;
	const struct plan_task *b = right;
	if (a->start_s != b->start_s)
		return a->start_s < b->start_s ? -1 : 1;
	if (a->load != b->load)
		return a->load < b->load ? -1 : 1;
	if (a->kind != b->kind)
		return a->kind < b->kind ? -1 : 1;
	if (a->end_s != b->end_s)
		return a->end_s < b->end_s ? -1 : 1;
	return (a->fill > b->fill) - (a->fill < b->fill);
}

static void list_tasks(struct timetable *timetable)
{
	struct day_plan *plan = timetable->plan;
	const struct plan_draft *draft = timetable->draft;
	for (size_t i = 0; i < plan->today_count; i++) {
		const struct plan_draft_load *from = &draft->loads[timetable->draft_loads[i]];
		add_mixing(timetable, from);
		add_load(timetable, from, i);
		add_drying(timetable, from, i);
	}
	for (size_t i = 0; i < draft->problem.break_count; i++) {
		const struct schedule_break *rest = &draft->problem.breaks[i];
		if (rest->start_s < plan->end_s)
			add_task(timetable, PLAN_TASK_rest, rest->start_s, rest->start_s + rest->duration_s, PLAN_NONE);
	}
	plan_temper_place(plan);
	if (plan->task_count > 0)
		qsort(plan->tasks, plan->task_count, sizeof *plan->tasks, compare_tasks);
}

/* Whether a task of a kind, or any that takes the hands, ends at a moment. */
static bool ends_at(const struct day_plan *plan, int64_t at_s, enum plan_task_kind kind)
{
	for (size_t i = 0; i < plan->task_count; i++) {
		const struct plan_task *task = &plan->tasks[i];
		bool is_wanted = kind == PLAN_TASK_COUNT ? task->needs_hands || task->kind == PLAN_TASK_rest
							 : task->kind == kind;
		if (is_wanted && task->end_s == at_s && task->start_s < at_s)
			return true;
	}
	return false;
}

/* A load waits for its reels where it is loaded the moment others have dried, and the hands had nothing to do. */
static void count_waits_for_reels(struct day_plan *plan)
{
	for (size_t i = 0; i < plan->task_count; i++) {
		const struct plan_task *task = &plan->tasks[i];
		plan->reels_waits += task->kind == PLAN_TASK_load &&
				     ends_at(plan, task->start_s, PLAN_TASK_reels_dry) &&
				     !ends_at(plan, task->start_s, PLAN_TASK_COUNT);
	}
}

/* ---- chemistry, what is left ---- */

static void list_chemistry(struct plan_draft *draft)
{
	struct day_plan *plan = draft->plan;
	plan->chemistry = ARENA_ARRAY(draft->arena, struct plan_chemistry, draft->bath_count);
	for (size_t i = 0; i < draft->bath_count; i++) {
		const struct plan_bath *bath = &draft->baths[i];
		if (bath->mixes == 0 && bath->taken_from_hand == 0)
			continue;
		plan->chemistry[plan->chemistry_count++] = (struct plan_chemistry){
			.solution = bath->solution,
			.on_hand = bath->taken_from_hand,
			.mixed = bath->mixed,
			.mixes = bath->mixes,
			.done_milli_rolls = bath->film_milli_rolls + bath->test_milli_rolls,
			.left = bath->has_fill ? bath->volume : bath->left,
			.past_life = bath->past_life,
		};
	}
}

static void list_untested(struct timetable *timetable)
{
	const struct plan_draft *draft = timetable->draft;
	struct day_plan *plan = timetable->plan;
	size_t capacity = 0;
	for (size_t i = 0; i < plan->today_count; i++) {
		const struct plan_test *test = draft->loads[timetable->draft_loads[i]].untested;
		for (; test; test = test->next) {
			ARENA_RESERVE(draft->arena, plan->untested, plan->untested_count, capacity);
			plan->untested[plan->untested_count++] =
				(struct plan_untested){ test->solution, test->fill, i };
		}
	}
}

static int compare_rolls(const void *left, const void *right)
{
	const struct plan_left *a = left;
	const struct plan_left *b = right;
	return (a->roll > b->roll) - (a->roll < b->roll);
}

/* The load of each roll that is in one, by the roll's address, to be looked up below. */
static struct plan_left *list_places(const struct day_plan *plan, size_t *count, struct arena *arena)
{
	struct plan_left *places = ARENA_ARRAY(arena, struct plan_left, plan->day->roll_count);
	*count = 0;
	for (size_t i = 0; i < plan->load_count; i++) {
		for (size_t j = 0; j < plan->loads[i].place_count; j++)
			places[(*count)++] = (struct plan_left){ plan->loads[i].places[j].roll, LEFT_TOMORROW, i };
	}
	if (*count > 0)
		qsort(places, *count, sizeof *places, compare_rolls);
	return places;
}

static bool is_of_a_kind(const struct plan_draft *draft, const struct roll *roll)
{
	for (size_t i = 0; i < draft->kind_count; i++) {
		if (draft->kinds[i].run == roll->run)
			return true;
	}
	return false;
}

static void list_left(struct plan_draft *draft)
{
	struct day_plan *plan = draft->plan;
	size_t placed_count;
	struct plan_left *places = list_places(plan, &placed_count, draft->arena);
	plan->left = ARENA_ARRAY(draft->arena, struct plan_left, draft->day->roll_count);
	for (const struct roll *roll = draft->day->rolls; roll; roll = roll->next) {
		struct plan_left left = { roll, LEFT_TOO_LARGE, PLAN_NONE };
		const struct plan_left *place =
			placed_count == 0 ? NULL : bsearch(&left, places, placed_count, sizeof left, compare_rolls);
		if (place && plan->loads[place->load].is_today)
			continue;
		if (place)
			left = *place;
		else if (span_is_set(roll->set_aside.span))
			left.reason = LEFT_SET_ASIDE;
		else if (roll->run == ROLL_NO_RUN || !is_of_a_kind(draft, roll))
			left.reason = LEFT_NO_PROCESS;
		plan->left[plan->left_count++] = left;
	}
}

void plan_timetable_build(struct plan_draft *draft)
{
	struct day_plan *plan = draft->plan;
	struct timetable timetable = { .draft = draft, .plan = plan };
	plan->is_order_proven = draft->schedule->is_proven;
	plan->end_bound_s = draft->schedule->end_bound_s;
	order_loads(&timetable);
	list_loads(&timetable);
	give_tanks(&timetable);
	fill_dryer(&timetable);
	list_tasks(&timetable);
	count_waits_for_reels(plan);
	list_chemistry(draft);
	list_untested(&timetable);
	list_left(draft);
}
