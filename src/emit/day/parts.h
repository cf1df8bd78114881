/* Parts of a day's plan that several of its products show: which tanks there are, which load is whose, what a roll is
 * called. Texts hold names from the recipe as written: whoever prints them escapes them. */
#ifndef EMIT_DAY_PARTS_H
#define EMIT_DAY_PARTS_H

#include "compute/day_plan.h"
#include "emit/emission.h"
#include "emit/sheet/sheet.h"

/** The emission of one load's run: its process with what the baths have done by then. Of a load that is left for
 * another day the process alone is known: `timeline` is null then. */
struct emission parts_of_load(const struct emission *emission, const struct plan_load *load);

/** The process of a load. */
const struct process *parts_process(const struct day_plan *plan, const struct plan_load *load);

/** How many tanks the day has: those that it names, else each that a process of it names. */
size_t parts_tank_count(const struct day_plan *plan);

/** One of them. */
const struct tank *parts_tank(const struct day_plan *plan, size_t index);

/** Which of them a load is in; parts_tank_count where nothing names one. */
size_t parts_tank_of(const struct day_plan *plan, const struct plan_load *load);

/** The name or title without markup of something declared, in the emission's arena. */
struct text parts_name(const struct emission *emission, const struct declared *declared);
struct text parts_title(const struct emission *emission, const struct declared *declared);

/** The name of the day: its title without markup, else its date with the weekday. */
struct text parts_day(const struct emission *emission);

/** How many rolls are in loads that are done on the day. */
size_t parts_rolls_today(const struct day_plan *plan);

/** How many more reels the tank of a load takes, those of the format of its last roll; 0 where nothing tells. */
size_t parts_empty_reels(const struct day_plan *plan, const struct plan_load *load);

/** A group or origin with all its rolls. */
struct parts_party {
	const struct plan_party *first; /* of its processes */
	size_t process_count, roll_count, load_count, least_loads;
};

/** The group or origin that begins at an index of the plan's parties. Returns the index behind it. */
size_t parts_party_at(const struct day_plan *plan, size_t index, struct parts_party *party);

/** A task of a load; null where it has none of that kind. */
const struct plan_task *parts_task(const struct day_plan *plan, const struct plan_load *load, enum plan_task_kind kind);

/** The task in which a fill was mixed; null where it stood in the cupboard. */
const struct plan_task *parts_mix_of(const struct day_plan *plan, const struct plan_account *account);

/** From when to when a load takes up its tank (from loading until it is rinsed), its reels (until they are dry) and
 * places in the dryer (until its rolls are taken down). `is_there` false: it does not. */
struct parts_stay {
	bool is_there;
	int64_t from_s, to_s;
};
struct parts_stay parts_in_tank(const struct day_plan *plan, const struct plan_load *load);
struct parts_stay parts_on_reels(const struct day_plan *plan, const struct plan_load *load);
struct parts_stay parts_in_dryer(const struct day_plan *plan, const struct plan_load *load);

/** The index of a load in its plan. */
size_t parts_load_index(const struct day_plan *plan, const struct plan_load *load);

#endif
