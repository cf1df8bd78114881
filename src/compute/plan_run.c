/* The run of one load: its times, with what the baths have done, and what of it takes the hands. */
#include "compute/plan_draft.h"

/* Without a cue and without agitation for so long, the hands are free for other work: common practice, no source. */
#define FREE_FROM_MS 120000

static int64_t whole_up(int64_t time_ms)
{
	return (time_ms + MILLISECONDS_PER_SECOND - 1) / MILLISECONDS_PER_SECOND;
}

static int64_t whole_down(int64_t time_ms)
{
	return time_ms / MILLISECONDS_PER_SECOND;
}

static void add_piece(struct plan_draft_load *load, int64_t start_s, int64_t end_s, bool is_free)
{
	if (end_s > start_s)
		load->pieces[load->piece_count++] = (struct plan_piece){ start_s, end_s, is_free };
}

/* From the first pour to the last drain of a wet step; both 0 where there is none. */
static struct interval wet_stretch(const struct timeline *timeline)
{
	struct interval wet = { 0, 0 };
	bool has_begun = false;
	for (size_t i = 0; i < timeline->step_count; i++) {
		const struct timeline_step *step = &timeline->steps[i];
		if (!step->is_wet)
			continue;
		if (!has_begun)
			wet.start_ms = step->pour_ms;
		has_begun = true;
		wet.end_ms = step->end_ms;
	}
	return wet;
}

/* Light that is allowed, and how much longer a step may last, ask for no hands. */
static bool is_busy_cue(const struct cue *cue)
{
	return cue->kind != CUE_light && cue->kind != CUE_latest_end;
}

/* Cues come by time: what lies between the end of those so far and the next is free where it is long enough. */
static void cut(struct plan_draft_load *load, struct interval wet, struct arena *arena)
{
	const struct timeline *timeline = load->timeline;
	int64_t busy_from_ms = wet.start_ms;
	int64_t busy_to_ms = busy_from_ms;
	load->pieces = ARENA_ARRAY(arena, struct plan_piece, 2 * timeline->cue_count + 2);
	load->piece_count = 0;
	for (size_t i = 0; i < timeline->cue_count; i++) {
		const struct cue *cue = &timeline->cues[i];
		if (!is_busy_cue(cue) || cue->at_ms < wet.start_ms || cue->at_ms > wet.end_ms)
			continue;
		if (cue->at_ms - busy_to_ms >= FREE_FROM_MS) {
			int64_t free_from_s = whole_up(busy_to_ms - wet.start_ms);
			int64_t free_to_s = whole_down(cue->at_ms - wet.start_ms);
			add_piece(load, whole_down(busy_from_ms - wet.start_ms), free_from_s, false);
			add_piece(load, free_from_s, free_to_s, true);
			busy_from_ms = cue->at_ms;
		}
		if (cue->until_ms > busy_to_ms)
			busy_to_ms = cue->until_ms;
	}
	add_piece(load, whole_down(busy_from_ms - wet.start_ms), whole_up(wet.end_ms - wet.start_ms), false);
}

/* The piece in which the last bath that goes back into its bottle has drained. Stabiliser and wetting agent, in a
 * vessel of their own, do not keep the next load waiting. */
static size_t returned_piece(const struct plan_draft_load *load, const struct process *process, struct interval wet)
{
	int64_t returned_ms = wet.start_ms;
	size_t piece = 0;
	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];
		if (step->solution && role_row(step->role)->action != ACTION_ENDS)
			returned_ms = load->timeline->steps[i].end_ms;
	}
	while (piece + 1 < load->piece_count && load->pieces[piece].end_s < whole_up(returned_ms - wet.start_ms))
		piece++;
	return piece;
}

/* How long the film hangs: the dryer's own time, else that of the drying step; 0: nothing says. */
static int64_t drying_s(const struct plan_draft *draft, const struct process *process, const struct used_time *used)
{
	int64_t drying_ms = 0;
	if (draft->day->dryer && span_is_set(draft->day->dryer->lasts.span))
		return whole_up(draft->day->dryer->lasts.value);
	for (size_t i = 0; i < process->step_count; i++) {
		enum bath_kind bath = process->steps[i].bath;
		if (bath == BATH_AIR || bath == BATH_DRYER)
			drying_ms = used[i].time.low_ms;
	}
	return whole_up(drying_ms);
}

void plan_run_times(struct plan_draft *draft, struct plan_draft_load *load)
{
	const struct process *process = draft->kinds[load->kind].process;
	load->used = used_times(draft->recipe, process, load->conditions, draft->scratch, draft->arena);
	load->timeline = timeline_build(process, load->used, draft->arena);
	struct interval wet = wet_stretch(load->timeline);
	cut(load, wet, draft->arena);
	load->returned_piece = returned_piece(load, process, wet);
	load->dry_s = drying_s(draft, process, load->used);
}
