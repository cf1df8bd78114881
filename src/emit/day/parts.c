#include "emit/day/parts.h"

#include "emit/day/wall.h"
#include "emit/sheet/words.h"

/* What the plan knows of the load's baths and of the day, with what was asked for on the command line. */
static const struct conditions *conditions_of(const struct emission *emission, const struct plan_load *load)
{
	struct conditions *own = ARENA_NEW(emission->arena, struct conditions);

	*own = *emission->conditions;
	if (!load->conditions)
		return own;
	own->done = load->conditions->done;
	own->has_date = load->conditions->has_date;
	own->date = load->conditions->date;
	if (load->conditions->has_room) {
		own->has_room = true;
		own->room = load->conditions->room;
	}
	return own;
}

struct emission parts_of_load(const struct emission *emission, const struct plan_load *load)
{
	struct emission own = *emission;
	own.process = parts_process(emission->plan, load);
	own.timeline = load->timeline;
	own.conditions = conditions_of(emission, load);
	own.used = load->used;
	own.load = load;
	return own;
}

const struct process *parts_process(const struct day_plan *plan, const struct plan_load *load)
{
	return plan->kinds[load->kind].process;
}

/* ---- tanks ---- */

/* True where an earlier process names the same tank. */
static bool is_named_before(const struct day_plan *plan, size_t kind)
{
	for (size_t i = 0; i < kind; i++)
		if (plan->kinds[i].process->tank == plan->kinds[kind].process->tank)
			return true;
	return false;
}

/* The tank that is the index-th of those that processes name; counts them where `index` is beyond. */
static size_t walk_tanks(const struct day_plan *plan, size_t index, const struct tank **tank)
{
	size_t count = 0;
	for (size_t i = 0; i < plan->kind_count; i++) {
		if (!plan->kinds[i].process->tank || is_named_before(plan, i))
			continue;
		if (count == index)
			*tank = plan->kinds[i].process->tank;
		count++;
	}
	return count;
}

size_t parts_tank_count(const struct day_plan *plan)
{
	const struct tank *none;
	return plan->day->tank_count > 0 ? plan->day->tank_count : walk_tanks(plan, SIZE_MAX, &none);
}

const struct tank *parts_tank(const struct day_plan *plan, size_t index)
{
	const struct tank *tank = NULL;
	if (plan->day->tank_count > 0)
		return plan->day->tanks[index].tank;
	walk_tanks(plan, index, &tank);
	return tank;
}

size_t parts_tank_of(const struct day_plan *plan, const struct plan_load *load)
{
	size_t count = parts_tank_count(plan);
	if (plan->day->tank_count > 0)
		return load->tank < count ? load->tank : count;
	for (size_t i = 0; i < count; i++)
		if (parts_tank(plan, i) == parts_process(plan, load)->tank)
			return i;
	return count;
}

static int64_t takes_of(const struct tank *tank, enum format_id format)
{
	for (const struct takes *takes = tank->takes; takes; takes = takes->next)
		if (takes->format == format)
			return takes->count;
	return 0;
}

/* A column: shares of formats add up. In 1/720720 of the column, which every number up to 16 divides. */
#define COLUMN 720720

/* What one roll takes of it: something, however many there could be. */
static int64_t share_of(int64_t takes)
{
	return takes < COLUMN ? COLUMN / takes : 1;
}

size_t parts_empty_reels(const struct day_plan *plan, const struct plan_load *load)
{
	size_t index = parts_tank_of(plan, load);
	const struct tank *tank = index < parts_tank_count(plan) ? parts_tank(plan, index) : NULL;
	int64_t room = COLUMN;
	if (!tank || load->place_count == 0)
		return 0;
	for (size_t i = 0; i < load->place_count; i++) {
		int64_t takes = takes_of(tank, load->places[i].roll->format);
		if (takes == 0)
			return 0;
		room -= share_of(takes);
	}
	int64_t takes = takes_of(tank, load->places[load->place_count - 1].roll->format);
	return room > 0 ? (size_t)(room / share_of(takes)) : 0;
}

/* ---- words ---- */

struct text parts_name(const struct emission *emission, const struct declared *declared)
{
	return intern_text(emission->recipe->names, declared->name);
}

struct text parts_title(const struct emission *emission, const struct declared *declared)
{
	return words_title(sheet_start(emission), declared);
}

struct text parts_day(const struct emission *emission)
{
	const struct day *day = emission->plan->day;
	if (!span_is_set(day->declared.title.span))
		return wall_date(emission->arena, day);
	return parts_title(emission, &day->declared);
}

/* ---- loads ---- */

size_t parts_rolls_today(const struct day_plan *plan)
{
	size_t count = 0;
	for (size_t i = 0; i < plan->load_count; i++)
		count += plan->loads[i].is_today ? plan->loads[i].place_count : 0;
	return count;
}

size_t parts_load_index(const struct day_plan *plan, const struct plan_load *load)
{
	return (size_t)(load - plan->loads);
}

static bool is_of_one_name(const struct plan_party *a, const struct plan_party *b)
{
	return a->is_together == b->is_together && text_equal(a->name, b->name);
}

size_t parts_party_at(const struct day_plan *plan, size_t index, struct parts_party *party)
{
	*party = (struct parts_party){ .first = &plan->parties[index] };
	for (; index < plan->party_count && is_of_one_name(&plan->parties[index], party->first); index++) {
		party->process_count++;
		party->roll_count += plan->parties[index].roll_count;
		party->load_count += plan->parties[index].load_count;
		party->least_loads += plan->parties[index].least_loads;
	}
	return index;
}

const struct plan_task *parts_task(const struct day_plan *plan, const struct plan_load *load, enum plan_task_kind kind)
{
	for (size_t i = 0; i < plan->task_count; i++)
		if (plan->tasks[i].kind == kind && plan->tasks[i].load == parts_load_index(plan, load))
			return &plan->tasks[i];
	return NULL;
}

const struct plan_task *parts_mix_of(const struct day_plan *plan, const struct plan_account *account)
{
	for (size_t i = 0; !account->on_hand && i < plan->task_count; i++) {
		const struct plan_task *task = &plan->tasks[i];
		if (task->kind == PLAN_TASK_mix && task->solution == account->solution && task->fill == account->fill)
			return task;
	}
	return NULL;
}

static struct parts_stay stay(const struct plan_task *from, const struct plan_task *to)
{
	if (!from || !to)
		return (struct parts_stay){ false, 0, 0 };
	return (struct parts_stay){ true, from->start_s, to->end_s };
}

/* The last of the kinds given that a load has a task of. */
static const struct plan_task *last_task(const struct day_plan *plan, const struct plan_load *load,
					 enum plan_task_kind wanted, enum plan_task_kind instead)
{
	const struct plan_task *task = parts_task(plan, load, wanted);
	return task ? task : parts_task(plan, load, instead);
}

struct parts_stay parts_in_tank(const struct day_plan *plan, const struct plan_load *load)
{
	return stay(parts_task(plan, load, PLAN_TASK_load), last_task(plan, load, PLAN_TASK_clean, PLAN_TASK_hang));
}

struct parts_stay parts_on_reels(const struct day_plan *plan, const struct plan_load *load)
{
	return stay(parts_task(plan, load, PLAN_TASK_load),
		    last_task(plan, load, PLAN_TASK_reels_dry, PLAN_TASK_clean));
}

struct parts_stay parts_in_dryer(const struct day_plan *plan, const struct plan_load *load)
{
	if (!plan->day->dryer || load->hangs_in_the_open)
		return (struct parts_stay){ false, 0, 0 };
	return stay(parts_task(plan, load, PLAN_TASK_dry), last_task(plan, load, PLAN_TASK_take_down, PLAN_TASK_dry));
}
