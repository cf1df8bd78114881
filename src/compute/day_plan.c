/* The plan of a day, piece by piece: see compute/plan_draft.h. */
#include "compute/day_plan.h"

#include "compute/plan_draft.h"

static const struct plan_task_row task_rows[PLAN_TASK_COUNT] = {
#define PLAN_TASK(id, word, title, needs_hands)                                                                        \
	{ { word, sizeof(word) - 1 }, { title, sizeof(title) - 1 }, needs_hands },
#include "compute/plan_tasks.def"
#undef PLAN_TASK
};

static const struct plan_remedy_row remedy_rows[PLAN_REMEDY_COUNT] = {
#define PLAN_REMEDY(id, word, title) { { word, sizeof(word) - 1 }, { title, sizeof(title) - 1 } },
#include "compute/plan_remedies.def"
#undef PLAN_REMEDY
};

const struct plan_task_row *plan_task_row(enum plan_task_kind kind)
{
	return &task_rows[kind];
}

const struct plan_remedy_row *plan_remedy_row(enum plan_remedy_kind kind)
{
	return &remedy_rows[kind];
}

/* What is left, is left by the schedule; what runs follows from it. */
static void note_left(struct plan_draft *draft)
{
	for (size_t i = 0; i < draft->load_count; i++) {
		struct plan_draft_load *load = &draft->loads[i];
		load->is_left = load->load_job == PLAN_NONE || !draft->schedule->jobs[load->load_job].is_done;
	}
}

/* Which rolls go together depends on the reels, on nothing else that a change concerns. */
static void pack_kinds(struct plan_draft *draft, const struct plan_draft *base)
{
	bool is_packed = base->load_count > 0 && draft->change.reel_sets == base->change.reel_sets;
	draft->kinds = ARENA_ARRAY(base->arena, struct plan_kind, base->kind_count);
	for (size_t i = 0; i < base->kind_count; i++)
		draft->kinds[i] = base->kinds[i];
	if (!is_packed)
		plan_kinds_pack(draft);
}

/* Hours of the loads that are not left; of others, none. */
static void place_jobs(struct plan_draft *draft)
{
	plan_jobs_build(draft);
	draft->schedule = schedule_solve(&draft->problem, draft->arena);
}

static size_t count_urgent(const struct plan_draft *draft, const struct schedule *placed)
{
	size_t count = 0;
	for (size_t i = 0; i < draft->problem.job_count; i++)
		count += draft->problem.jobs[i].is_urgent && placed->jobs[i].is_done;
	return count;
}

/* The same with every break before a load's baths come to temperature, or behind its pour, where that leaves no load
 * for another day. It may end so much later as loading and tempering behind the break take. */
static void place_breaks_first(struct plan_draft *draft)
{
	struct schedule *placed = draft->schedule;
	int64_t later_most_s = plan_temper_later_most_s(draft);
	if (draft->pours_soon || draft->is_soon_tried || later_most_s == 0)
		return;
	draft->pours_soon = draft->is_soon_tried = true;
	place_jobs(draft);
	const struct schedule *soon = draft->schedule;
	if (soon->value >= placed->value && count_urgent(draft, soon) >= count_urgent(draft, placed) &&
	    soon->end_s <= placed->end_s + later_most_s)
		return;
	draft->pours_soon = false;
	plan_jobs_build(draft);
	draft->schedule = placed;
}

static struct schedule *place(struct plan_draft *draft)
{
	place_jobs(draft);
	place_breaks_first(draft);
	note_left(draft);
	return draft->schedule;
}

/* Whether a mix takes the hands for a load that is left. */
static bool mixes_for_tomorrow(const struct plan_draft *draft)
{
	for (size_t i = 0; i < draft->load_count; i++) {
		const struct plan_draft_load *load = &draft->loads[i];
		if (load->is_left && load->mix_job != PLAN_NONE && draft->schedule->jobs[load->mix_job].is_done)
			return true;
	}
	return false;
}

/* Chemistry and hours of loads whose order is known. Each time that something is mixed for nothing today, the others
 * are placed without the loads that are left; they stay what was found to be the most. */
static void schedule(struct plan_draft *draft)
{
	for (size_t i = 0; i < draft->load_count; i++)
		draft->loads[i].is_left = false;
	plan_chemistry_open(draft);
	plan_chemistry_walk(draft);
	draft->problem = (struct schedule_problem){ .work_most = draft->change.work_most };
	bool is_proven = place(draft)->is_proven;
	while (mixes_for_tomorrow(draft)) {
		struct schedule *placed = place(draft);
		placed->is_proven = is_proven = is_proven && placed->is_proven;
	}
}

/* Baths that grow too old in the course of a day are few: so many times a day is planned again for them. */
#define RENEWALS_MOST 20

struct plan_draft *plan_draft_make(const struct plan_draft *base, const struct plan_change *change)
{
	struct plan_draft *draft = ARENA_NEW(base->arena, struct plan_draft);
	*draft = *base;
	draft->change = *change;
	draft->loads = NULL;
	draft->load_count = draft->chain_count = 0;
	draft->renewals = NULL;
	plan_chemistry_open(draft);
	pack_kinds(draft, base);
	plan_order_loads(draft);
	schedule(draft);
	for (int round = 0; round < RENEWALS_MOST && plan_life_renew(draft); round++)
		schedule(draft);
	return draft;
}

/* The day as declared. What is mixed is told for the loads of today alone, so their chemistry is walked again where
 * others are left: it comes out the same for them, since those come after them. */
struct day_plan *day_plan_outline(struct recipe *recipe, const struct day *day, const struct conditions *conditions,
				  struct arena *arena)
{
	struct plan_draft base = { .recipe = recipe, .day = day, .conditions = conditions, .arena = arena };
	const struct plan_change none = { .reel_sets = 1, .dryer_sets = 1 };
	base.change = none;
	base.scratch = ARENA_NEW(arena, struct report);
	report_init(base.scratch, arena);
	if (!conditions)
		base.conditions = ARENA_NEW(arena, struct conditions);
	plan_kinds_find(&base);
	struct plan_draft *draft = plan_draft_make(&base, &none);
	plan_chemistry_open(draft);
	plan_chemistry_walk(draft);
	draft->plan = ARENA_NEW(arena, struct day_plan);
	*draft->plan = (struct day_plan){
		.draft = draft,
		.recipe = recipe,
		.day = day,
		.kinds = draft->kinds,
		.kind_count = draft->kind_count,
	};
	plan_timetable_build(draft);
	plan_parties_find(draft);
	return draft->plan;
}

void day_plan_find_remedies(struct day_plan *plan)
{
	plan_remedies_find(plan->draft);
}

struct day_plan *day_plan_build(struct recipe *recipe, const struct day *day, const struct conditions *conditions,
				struct arena *arena)
{
	struct day_plan *plan = day_plan_outline(recipe, day, conditions, arena);
	day_plan_find_remedies(plan);
	return plan;
}
