/* Each row of the table is a timeline of its own, made as every other, so that the timer has the very cues that
 * `cues --at` has. They differ in little: how many agitations there are, and when what hangs on the end comes. Only
 * that is carried. */
#include "emit/plan/times.h"

#include "check/checks.h"
#include "compute/reading.h"
#include "compute/time_table.h"
#include "emit/this_run.h"

/* Nobody agitates so often, in the time of the plan or in that of a row; it bounds the memory. */
#define AGITATIONS_MOST 2000
#define AGITATIONS_MOST_IN_ROW 10000

struct measured {
	const struct placed_step *placed;
	struct time_table table;
	const struct timeline *timelines[TIME_TABLE_ROWS_MOST]; /* one for each row */
	size_t longest;						/* the row with the longest time */
};

/* ---- rows ---- */

/* The run as it is where the bath of the step was measured so. */
static const struct timeline *timeline_of(const struct placed_step *placed, const struct timed_reading *row)
{
	const struct emission *emission = placed->emission;
	size_t count = emission->timeline->step_count;
	struct used_time *used = ARENA_ARRAY(emission->arena, struct used_time, count);
	for (size_t i = 0; i < count; i++)
		used[i] = emission->used[i];
	used[placed->index].time = row->time;
	used[placed->index].is_measured = true;
	used[placed->index].is_for_temperature = true;
	used[placed->index].reading = row->reading;
	used[placed->index].temperature = reading_true(emission->process->thermometer, row->reading);
	return timeline_build(emission->process, used, emission->arena);
}

/* The step would drift so far from there that its development is spoilt. */
static bool is_spoilt(const struct placed_step *placed, const struct timeline *timeline)
{
	const struct emission *emission = placed->emission;
	struct report report;
	bool has_spoken[CHECK_COUNT] = { false };
	struct check_run run = {
		.recipe = emission->recipe,
		.process = emission->process,
		.timeline = timeline,
		.used = timeline->used,
		.conditions = emission->conditions,
		.report = &report,
		.arena = emission->arena,
		.check = CHECK_drift_leaves_window,
		.step = placed->step,
		.step_index = placed->index,
		.solution = placed->step->solution,
		.has_spoken = has_spoken,
	};
	report_init(&report, emission->arena);
	check_drift_leaves_window(&run);
	return report.errors > 0;
}

static int64_t light_since(const struct timeline_step *step)
{
	return step->light_ms == TIMELINE_NEVER ? TIMELINE_NEVER : step->light_ms - step->start_ms;
}

/* Light in other steps may wait for minutes of this one. */
static bool moves_light(const struct placed_step *placed, const struct timeline *timeline)
{
	const struct timeline *declared = placed->emission->timeline;
	for (size_t i = 0; i < timeline->step_count; i++) {
		const struct timeline_step *here = &timeline->steps[i], *there = &declared->steps[i];
		bool is_same = i == placed->index
				       ? (here->light_ms == TIMELINE_NEVER) == (there->light_ms == TIMELINE_NEVER)
				       : light_since(here) == light_since(there);
		if (!is_same)
			return true;
	}
	return false;
}

static bool may_be_carried(const struct placed_step *placed, const struct timeline *timeline)
{
	return timeline->steps[placed->index].agitation_count <= AGITATIONS_MOST_IN_ROW && !is_spoilt(placed, timeline);
}

/* None where one of them would change another step too: no row of this one could say so. */
static void find_rows(struct measured *measured)
{
	const struct placed_step *placed = measured->placed;
	struct time_table *table = &measured->table;
	size_t kept = 0;
	time_table_fill(placed->emission->process, placed->step, &placed->emission->used[placed->index], table);
	for (size_t i = 0; i < table->count; i++) {
		const struct timeline *timeline = timeline_of(placed, &table->rows[i]);
		if (moves_light(placed, timeline)) {
			kept = 0;
			break;
		}
		if (!may_be_carried(placed, timeline))
			continue;
		table->rows[kept] = table->rows[i];
		measured->timelines[kept] = timeline;
		if (table->rows[kept].time.low_ms > table->rows[measured->longest].time.low_ms)
			measured->longest = kept;
		kept++;
	}
	table->count = kept;
}

/* ---- what is carried ---- */

/* The number of the agitation that goes on until the tank drains, which is the last one; 0 where there is none. */
static size_t agitation_to_drain(const struct measured *measured)
{
	const struct agitation_phase *phase = measured->placed->step->agitation;
	while (phase && phase->next)
		phase = phase->next;
	bool is_open = phase && phase->is_continuous && !span_is_set(phase->length.span);
	return is_open ? measured->timelines[measured->longest]->steps[measured->placed->index].agitation_count : 0;
}

static const struct cue *find_cue(const struct placed_step *placed, const struct timeline *timeline, enum cue_kind kind)
{
	for (size_t i = 0; i < timeline->cue_count; i++)
		if (timeline->cues[i].step == placed->index && timeline->cues[i].kind == kind)
			return &timeline->cues[i];
	return NULL;
}

static struct plan_row row_of(const struct measured *measured, size_t number)
{
	static const enum cue_kind moved[MOVED_COUNT] = { CUE_drain_soon, CUE_drain, CUE_end, CUE_latest_end,
							  CUE_light };
	const struct placed_step *placed = measured->placed;
	const struct timeline *timeline = measured->timelines[number];
	const struct timeline_step *timed = &timeline->steps[placed->index];
	struct plan_row row = {
		.reading = plan_reading(placed, measured->table.rows[number].reading),
		.time_s = timeline_seconds(timed->time.low_ms),
		.agitations = timed->agitation_count,
		.again = plan_again(placed->step, timed),
	};
	for (size_t i = 0; i < MOVED_COUNT; i++) {
		const struct cue *cue = find_cue(placed, timeline, moved[i]);
		if (cue)
			row.moved[i] = (struct plan_seconds){ true, timeline_seconds(cue->at_ms - timed->start_ms) };
	}
	return row;
}

static bool is_more(const struct placed_step *placed, const struct cue *cue, size_t taps)
{
	size_t has = placed->timed->agitation_count;
	if (cue->kind == CUE_agitation_start || cue->kind == CUE_agitation_end)
		return (size_t)cue->count > has;
	if (cue->kind == CUE_taps)
		return taps > has;
	return !find_cue(placed, placed->emission->timeline, cue->kind);
}

/* The cues that only longer times have. */
static void set_more(const struct measured *measured, struct plan_times *times)
{
	const struct placed_step *placed = measured->placed;
	const struct timeline *longest = measured->timelines[measured->longest];
	size_t taps = 0;
	times->more = ARENA_ARRAY(placed->emission->arena, struct plan_cue, longest->cue_count);
	for (size_t i = 0; i < longest->cue_count; i++) {
		const struct cue *cue = &longest->cues[i];
		if (cue->step != placed->index)
			continue;
		taps += cue->kind == CUE_taps;
		if (is_more(placed, cue, taps))
			times->more[times->more_count++] = plan_cue_of(placed, longest, cue);
	}
}

static const struct plan_times *carried(const struct measured *measured)
{
	const struct placed_step *placed = measured->placed;
	const struct emission *emission = placed->emission;
	struct plan_times *times = ARENA_NEW(emission->arena, struct plan_times);
	times->row_count = measured->table.count;
	times->rows = ARENA_ARRAY(emission->arena, struct plan_row, times->row_count);
	for (size_t i = 0; i < times->row_count; i++)
		times->rows[i] = row_of(measured, i);
	times->to_drain = agitation_to_drain(measured);
	times->declared = this_run_declared(emission, placed->index);
	times->done = this_run_done(emission, placed->index);
	set_more(measured, times);
	return times;
}

const struct plan_times *plan_times_of(const struct placed_step *placed)
{
	if (!placed->timed->is_poured || placed->timed->agitation_count > AGITATIONS_MOST)
		return NULL;
	struct measured *measured = ARENA_NEW(placed->emission->arena, struct measured);
	measured->placed = placed;
	find_rows(measured);
	return measured->table.count > 1 ? carried(measured) : NULL;
}
