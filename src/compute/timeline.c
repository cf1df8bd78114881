/* The timeline: where each step's instants fall. Agitation is in agitation.c, light in light.c. */
#include "compute/timeline.h"

#include <stdlib.h>

#include "compute/agitation.h"
#include "compute/light.h"
#include "support/limits.h"

static const struct cue_row cue_rows[CUE_KIND_COUNT] = {
#define CUE(id, word, title, is_signal) { { word, sizeof(word) - 1 }, { title, sizeof(title) - 1 }, is_signal },
#include "compute/cues.def"
#undef CUE
};

const struct cue_row *cue_row(enum cue_kind kind)
{
	return &cue_rows[kind];
}

int64_t timeline_seconds(int64_t time_ms)
{
	int64_t shifted = time_ms + MILLISECONDS_PER_SECOND / 2;

	return shifted >= 0 ? shifted / MILLISECONDS_PER_SECOND
			    : -((MILLISECONDS_PER_SECOND - 1 - shifted) / MILLISECONDS_PER_SECOND);
}

static bool is_wet_bath(enum bath_kind bath)
{
	return bath == BATH_SOLUTION || bath == BATH_WATER || bath == BATH_RUNNING_WATER;
}

/* Reels lowered into a full tank wait for no pour; nor do stabiliser and wetting agent, which have a vessel of their
 * own. */
static bool takes_tank_time(const struct process *process, const struct step *step)
{
	return process->tank != NULL && process->tank->emptying != REELS_LOWERED &&
	       role_row(step->role)->action != ACTION_ENDS;
}

/* A step that is poured takes the tank's time to fill and to drain; draining that is part of a step shorter than it
 * begins with the step. */
static void place_step(const struct process *process, const struct step *step, int64_t at_ms,
		       struct timeline_step *place)
{
	int64_t fill_ms = 0;
	int64_t drain_ms = 0;
	int64_t low_ms = place->time.low_ms;

	place->is_wet = is_wet_bath(step->bath);
	place->is_poured = place->is_wet;
	if (place->is_poured && takes_tank_time(process, step)) {
		fill_ms = process->tank->fill.value;
		drain_ms = process->tank->drain.value;
	}
	place->pour_ms = at_ms;
	place->full_ms = at_ms + fill_ms;
	place->start_ms = step->starts == TIME_STARTS_WHEN_FULL ? place->full_ms : at_ms;
	place->time_end_ms = place->start_ms + low_ms;
	place->drain_ms = place->time_end_ms;
	if (step->includes_draining)
		place->drain_ms -= drain_ms < low_ms ? drain_ms : low_ms;
	place->end_ms = step->includes_draining ? place->time_end_ms : place->drain_ms + drain_ms;
	place->latest_end_ms = place->time.form == TIME_RANGE && place->time.high_ms > low_ms
				       ? place->end_ms + (place->time.high_ms - low_ms)
				       : TIMELINE_NEVER;
	place->bears_light_ms = TIMELINE_NEVER;
	place->light_ms = TIMELINE_NEVER;
}

static int64_t later_of(int64_t a, int64_t b)
{
	return a > b ? a : b;
}

/* The wet time so far: from the first pour to the last drain, without drying in between. */
struct wet_time {
	int64_t min_ms;
	int64_t max_ms;
	int64_t waiting_ms; /* of steps since the last drain */
	int64_t waiting_slack_ms;
	bool has_begun;
};

/* How much longer than its shortest a step may last; TIME_OPEN where there is no end to it. */
static int64_t slack_of(const struct time_window *time)
{
	switch (time->form) {
	case TIME_AT_LEAST:
		return TIME_OPEN;
	case TIME_RANGE:
		return later_of(0, time->high_ms - time->low_ms);
	case TIME_EXACT:
		break;
	}
	return 0;
}

static int64_t plus(int64_t a, int64_t b)
{
	return a == TIME_OPEN || b == TIME_OPEN ? TIME_OPEN : a + b;
}

static bool is_drying(const struct step *step)
{
	return step->bath == BATH_AIR || step->bath == BATH_DRYER;
}

/* A step without a pour counts where another is poured after it. */
static void add_wet_time(struct wet_time *wet, const struct step *step, const struct timeline_step *place)
{
	if (place->is_wet || (wet->has_begun && !is_drying(step))) {
		wet->waiting_ms += place->end_ms - place->pour_ms;
		wet->waiting_slack_ms = plus(wet->waiting_slack_ms, slack_of(&place->time));
	}
	if (!place->is_wet)
		return;
	wet->has_begun = true;
	wet->min_ms += wet->waiting_ms;
	wet->max_ms = plus(wet->max_ms, plus(wet->waiting_ms, wet->waiting_slack_ms));
	wet->waiting_ms = 0;
	wet->waiting_slack_ms = 0;
}

static void place_steps(const struct process *process, const struct used_time *used, struct arena *arena,
			struct timeline *timeline)
{
	int64_t at_ms = 0;
	int64_t slack_ms = 0;
	struct wet_time wet = { 0 };
	size_t agitations_left = limit_value(LIMIT_AGITATIONS);

	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];
		struct timeline_step *place = &timeline->steps[i];

		place->time = used == NULL ? step->time : used[i].time;
		place_step(process, step, at_ms, place);
		agitation_build(step, place, agitations_left, arena);
		agitations_left -= place->agitation_count;
		at_ms = place->end_ms;
		slack_ms = plus(slack_ms, slack_of(&place->time));
		add_wet_time(&wet, step, place);
	}
	timeline->wet_min_ms = wet.min_ms;
	timeline->wet_max_ms = wet.max_ms;
	timeline->total_min_ms = at_ms;
	timeline->total_max_ms = plus(at_ms, slack_ms);
}

static void add_cue(struct timeline *timeline, size_t step, enum cue_kind kind, int64_t at_ms, int64_t until_ms,
		    int64_t count)
{
	timeline->cues[timeline->cue_count++] = (struct cue){ at_ms, step, kind, until_ms, count };
}

static void add_agitation_cues(struct timeline *timeline, const struct step *step, size_t index)
{
	const struct timeline_step *place = &timeline->steps[index];

	for (size_t i = 0; i < place->agitation_count; i++) {
		const struct interval *agitation = &place->agitations[i];

		add_cue(timeline, index, CUE_agitation_start, agitation->start_ms, agitation->end_ms, (int64_t)i + 1);
		add_cue(timeline, index, CUE_agitation_end, agitation->end_ms, agitation->end_ms, (int64_t)i + 1);
		if (place->taps != NULL)
			add_cue(timeline, index, CUE_taps, place->taps[i].start_ms, place->taps[i].end_ms, step->taps);
	}
}

static void add_cues(struct timeline *timeline, const struct step *step, size_t index)
{
	const struct timeline_step *place = &timeline->steps[index];
	int64_t pour_ms = place->pour_ms;
	bool is_drained = place->is_poured;

	if (step->measures)
		add_cue(timeline, index, CUE_measure, pour_ms, pour_ms, 0);
	if (place->is_poured)
		add_cue(timeline, index, CUE_pour, pour_ms, pour_ms, 0);
	if (place->is_poured && place->full_ms > pour_ms)
		add_cue(timeline, index, CUE_full, place->full_ms, place->full_ms, 0);
	if (!place->is_poured || place->start_ms > pour_ms)
		add_cue(timeline, index, CUE_start, place->start_ms, place->start_ms, 0);
	if (step->bath == BATH_LIGHT)
		add_cue(timeline, index, CUE_expose, pour_ms, place->time_end_ms, 0);
	add_agitation_cues(timeline, step, index);
	if (place->light_ms != TIMELINE_NEVER)
		add_cue(timeline, index, CUE_light, place->light_ms, place->light_ms, 0);
	if (is_drained && place->drain_ms - place->start_ms >= 2 * DRAIN_SOON_MS)
		add_cue(timeline, index, CUE_drain_soon, place->drain_ms - DRAIN_SOON_MS, place->drain_ms, 0);
	if (is_drained)
		add_cue(timeline, index, CUE_drain, place->drain_ms, place->end_ms, 0);
	add_cue(timeline, index, CUE_end, place->end_ms, place->end_ms, 0);
	if (place->latest_end_ms != TIMELINE_NEVER)
		add_cue(timeline, index, CUE_latest_end, place->latest_end_ms, place->latest_end_ms, 0);
}

static int compare_cues(const void *left, const void *right)
{
	const struct cue *a = left;
	const struct cue *b = right;

	if (a->at_ms != b->at_ms)
		return a->at_ms < b->at_ms ? -1 : 1;
	if (a->step != b->step)
		return a->step < b->step ? -1 : 1;
	if (a->kind != b->kind)
		return a->kind < b->kind ? -1 : 1;
	return a->count < b->count ? -1 : a->count > b->count;
}

/* Steps come one after the other, so the cues are nearly in order: most need no move, and few a long one. Where many
 * do, they are sorted as anything is. */
static void sort_cues(struct cue *cues, size_t count)
{
	size_t moves_left = 8 * count;

	for (size_t i = 1; i < count; i++) {
		struct cue cue = cues[i];
		size_t place = i;

		for (; place > 0 && compare_cues(&cues[place - 1], &cue) > 0 && moves_left > 0; moves_left--, place--)
			cues[place] = cues[place - 1];
		cues[place] = cue;
	}
	if (moves_left == 0)
		qsort(cues, count, sizeof *cues, compare_cues);
}

/* Cues a step can have besides those of its agitations. */
#define CUES_PER_STEP 11
#define CUES_PER_AGITATION 3

static void list_cues(const struct process *process, struct arena *arena, struct timeline *timeline)
{
	size_t most = 0;

	for (size_t i = 0; i < timeline->step_count; i++)
		most += CUES_PER_STEP + CUES_PER_AGITATION * timeline->steps[i].agitation_count;
	timeline->cues = ARENA_ARRAY(arena, struct cue, most);
	for (size_t i = 0; i < timeline->step_count; i++)
		add_cues(timeline, &process->steps[i], i);
	sort_cues(timeline->cues, timeline->cue_count);
}

struct timeline *timeline_build(const struct process *process, const struct used_time *used, struct arena *arena)
{
	struct timeline *timeline = ARENA_NEW(arena, struct timeline);

	timeline->process = process;
	timeline->used = used;
	timeline->step_count = process->step_count;
	timeline->steps = ARENA_ARRAY(arena, struct timeline_step, process->step_count);
	place_steps(process, used, arena, timeline);
	light_mark(process, timeline);
	list_cues(process, arena, timeline);
	return timeline;
}
