/* What differs between two processes. */
#include "compute/difference.h"

#include <string.h>

#include "compute/matching.h"

/* ---- outlines ---- */

struct outline *difference_outline(const struct recipe *recipe, const struct process *process,
				   const struct timeline *timeline, struct arena *arena)
{
	struct outline *object = outline_run(recipe, process, arena);
	struct outline *step = outline_child(object, "steps")->first;

	for (size_t i = 0; step != NULL; i++, step = step->next) {
		const struct timeline_step *at = &timeline->steps[i];

		outline_add_derived_count(arena, step, "agitations", "agitations", (int64_t)at->agitation_count * 1000);
		outline_add_derived_time(arena, step, "total", "total", at->end_ms - at->pour_ms, false);
	}
	outline_add_derived_time(arena, object, "bath_time", "bath time", timeline->wet_min_ms,
				 timeline->wet_max_ms != timeline->wet_min_ms);
	outline_add_derived_time(arena, object, "time_with_drying", "with drying", timeline->total_min_ms,
				 timeline->total_max_ms != timeline->total_min_ms);
	return object;
}

/* ---- facts and things ---- */

struct comparing {
	struct comparison *comparison;
	struct difference_pair *pair;
	struct arena *arena;
};

static void compare_objects(struct comparing *comparing, struct difference_subject *subject);

enum outline_matter difference_matter(const struct difference *difference)
{
	return difference->old->matter < difference->new->matter ? difference->old->matter : difference->new->matter;
}

static void count(struct comparing *comparing, enum outline_matter matter)
{
	comparing->pair->counts[matter]++;
	comparing->comparison->counts[matter]++;
}

static void add_difference(struct comparing *comparing, struct difference_subject *subject, const struct outline *old,
			   const struct outline *new)
{
	struct difference *difference = ARENA_NEW(comparing->arena, struct difference);

	difference->old = old;
	difference->new = new;
	if (subject->last == NULL)
		subject->first = difference;
	else
		subject->last->next = difference;
	subject->last = difference;
	count(comparing, difference_matter(difference));
}

static struct difference_subject *subject_new(struct comparing *comparing, const struct outline *old,
					      const struct outline *new)
{
	struct difference_subject *subject = ARENA_NEW(comparing->arena, struct difference_subject);

	subject->old = old;
	subject->new = new;
	subject->thing = new != NULL ? new : old;
	return subject;
}

static void append_subject(struct comparing *comparing, struct difference_subject *subject)
{
	struct difference_pair *pair = comparing->pair;

	if (pair->last == NULL)
		pair->first = subject;
	else
		pair->last->next = subject;
	pair->last = subject;
}

static bool is_said(const struct difference_subject *subject)
{
	return subject->old == NULL || subject->new == NULL || subject->is_renamed || subject->is_moved ||
	       subject->first != NULL;
}

/* ---- lists ---- */

/* The order of a list whose items are used one after the other is part of the run. */
static bool is_in_order(const char *key)
{
	return strcmp(key, "steps") == 0 || strcmp(key, "parts") == 0;
}

/* Acts, allowances, tools and rolls are what they are called. */
static bool may_be_renamed(const char *key)
{
	static const char *const named[] = { "parts", "allows", "on_hand", "rolls" };

	for (size_t i = 0; i < sizeof(named) / sizeof(*named); i++)
		if (strcmp(key, named[i]) == 0)
			return false;
	return true;
}

static void compare_lists(struct comparing *comparing, const struct difference_subject *within,
			  const struct outline *old, const struct outline *new)
{
	struct matching matching = matching_of(old, new, may_be_renamed(new->key), comparing->arena);

	for (size_t j = 0; j < matching.new_count; j++) {
		size_t i = matching.of_new[j];
		bool is_new = i == MATCHING_NONE;
		struct difference_subject *subject =
			subject_new(comparing, is_new ? NULL : matching.old[i], matching.new[j]);

		subject->within = within;
		subject->after = j > 0 ? matching.new[j - 1]->name : TEXT("");
		subject->is_renamed = !is_new && !text_equal(subject->old->name, subject->new->name);
		subject->is_moved = !is_new && is_in_order(new->key) && matching.is_moved[i];
		compare_objects(comparing, subject);
	}
	for (size_t i = 0; i < matching.old_count; i++) {
		struct difference_subject *subject;

		if (matching.of_old[i] != MATCHING_NONE)
			continue;
		subject = subject_new(comparing, matching.old[i], NULL);
		subject->within = within;
		subject->after = i > 0 ? matching.old[i - 1]->name : TEXT("");
		compare_objects(comparing, subject);
	}
}

static bool is_list_of_things(const struct outline *outline)
{
	return outline->form == OUTLINE_LIST && !outline->is_fact;
}

static void compare_facts(struct comparing *comparing, struct difference_subject *subject)
{
	const struct outline *old = subject->old->first;
	const struct outline *new = subject->new->first;

	for (; old != NULL && new != NULL; old = old->next, new = new->next)
		if (old->is_fact && strcmp(old->key, "name") != 0 && old->matter != OUTLINE_ASIDE &&
		    !outline_equal(old, new))
			add_difference(comparing, subject, old, new);
}

/* Both objects have the same keys in the same order. */
static void compare_objects(struct comparing *comparing, struct difference_subject *subject)
{
	const struct outline *old = subject->old == NULL ? NULL : subject->old->first;
	const struct outline *new = subject->new == NULL ? NULL : subject->new->first;
	bool is_outermost = comparing->pair->old == subject->old && comparing->pair->new == subject->new;

	if (subject->thing == NULL)
		return; /* nothing on either side: nothing differs */
	if (old == NULL || new == NULL) {
		count(comparing, subject->thing->matter);
	} else {
		compare_facts(comparing, subject);
		if (subject->is_renamed || subject->is_moved)
			count(comparing, OUTLINE_RUN);
	}
	if (is_said(subject))
		append_subject(comparing, subject);
	for (; old != NULL && new != NULL; old = old->next, new = new->next)
		if (is_list_of_things(new))
			compare_lists(comparing, is_outermost ? NULL : subject, old, new);
}

/* ---- pairs ---- */

struct comparison *comparison_create(struct arena *arena)
{
	return ARENA_NEW(arena, struct comparison);
}

void comparison_add(struct comparison *comparison, struct arena *arena, const struct outline *old,
		    const struct outline *new, bool is_renamed)
{
	struct difference_pair *pair = ARENA_NEW(arena, struct difference_pair);
	struct comparing comparing = { comparison, pair, arena };
	struct difference_subject *subject = subject_new(&comparing, old, new);

	pair->old = old;
	pair->new = new;
	pair->is_renamed = is_renamed;
	if (comparison->last == NULL)
		comparison->first = pair;
	else
		comparison->last->next = pair;
	comparison->last = pair;
	if (is_renamed)
		count(&comparing, OUTLINE_RUN);
	compare_objects(&comparing, subject);
}

void comparison_add_lists(struct comparison *comparison, struct arena *arena, const struct outline *old,
			  const struct outline *new)
{
	struct matching matching = matching_of(old, new, true, arena);

	for (size_t j = 0; j < matching.new_count; j++) {
		size_t i = matching.of_new[j];

		if (i == MATCHING_NONE)
			comparison_add(comparison, arena, NULL, matching.new[j], false);
		else
			comparison_add(comparison, arena, matching.old[i], matching.new[j],
				       !text_equal(matching.old[i]->name, matching.new[j]->name));
	}
	for (size_t i = 0; i < matching.old_count; i++)
		if (matching.of_old[i] == MATCHING_NONE)
			comparison_add(comparison, arena, matching.old[i], NULL, false);
}

bool comparison_differs(const struct comparison *comparison)
{
	return comparison->counts[OUTLINE_RUN] + comparison->counts[OUTLINE_RECORD] > 0;
}
