#include "emit/plan/plan.h"

#include "compute/development.h"
#include "compute/reading.h"
#include "emit/cues/wording.h"
#include "emit/document.h"
#include "emit/plan/times.h"
#include "emit/this_run.h"

/* ---- texts ---- */

static struct text process_title(const struct emission *emission)
{
	struct text title = document_plain_prose(emission->arena, emission->process->declared.title.text);
	if (title.length > 0)
		return title;
	return intern_text(emission->recipe->names, emission->process->declared.name);
}

/* ---- times ---- */

static struct plan_seconds seconds(bool is_there, int64_t time_ms)
{
	return (struct plan_seconds){ is_there, is_there ? timeline_seconds(time_ms) : 0 };
}

int64_t plan_reading(const struct placed_step *placed, int64_t reading)
{
	const struct process *process = placed->emission->process;
	const struct unit_row *scale =
		unit_row(reading_unit(process->thermometer, development_pour_window(placed->step)));
	int64_t value = reading - scale->offset, hundredth = scale->factor / 100;
	int64_t half = value < 0 ? -hundredth / 2 : hundredth / 2;
	return (value + half) / hundredth;
}

struct plan_cue plan_cue_of(const struct placed_step *placed, const struct timeline *timeline, const struct cue *cue)
{
	int64_t start_ms = timeline->steps[placed->index].start_ms;
	return (struct plan_cue){
		.run_s = timeline_seconds(cue->at_ms),
		.since_s = timeline_seconds(cue->at_ms - start_ms),
		.kind = cue_row(cue->kind)->word,
		.until_s = timeline_seconds(cue->until_ms - start_ms),
		.count = cue->count,
		.words = wording_cue(placed->emission, cue),
	};
}

/* At S + n·every, S the end of the phases before the last. */
struct plan_seconds plan_again(const struct step *step, const struct timeline_step *timed)
{
	const struct agitation_phase *phase = step->agitation;
	int64_t phase_ms = 0;
	bool is_exact = step->time.form != TIME_AT_LEAST && step->time.high_ms == step->time.low_ms;
	if (!phase || (span_is_set(step->time.span) && is_exact))
		return seconds(false, 0);
	for (; phase->next; phase = phase->next)
		phase_ms += phase->length.value;
	int64_t every_ms = phase->every.value;
	if (phase->is_continuous || every_ms < MILLISECONDS_PER_SECOND || span_is_set(phase->length.span))
		return seconds(false, 0);
	int64_t left_ms = timed->drain_ms - timed->start_ms - phase_ms;
	int64_t number = left_ms <= every_ms ? 1 : (left_ms + every_ms - 1) / every_ms;
	return seconds(true, phase_ms + number * every_ms);
}

/* ---- a step ---- */

static const char *const bath_words[] = {
	[BATH_NONE] = "none",	[BATH_SOLUTION] = "solution", [BATH_WATER] = "water", [BATH_RUNNING_WATER] = "running",
	[BATH_LIGHT] = "light", [BATH_AIR] = "air",	      [BATH_DRYER] = "dryer",
};

/* The baths for which a wrong bottle loses the film. */
static bool asks_for_bottle(const struct step *step)
{
	if (step->bottle == 0)
		return false;
	switch (role_row(step->role)->action) {
	case ACTION_DEVELOPS:
	case ACTION_DEVELOPS_AND_FIXES:
	case ACTION_BLEACHES:
	case ACTION_BLEACHES_AND_FIXES:
	case ACTION_FIXES:
		return true;
	default:
		return false;
	}
}

static void set_bath(const struct placed_step *placed, struct plan_step *plan)
{
	const struct step *step = placed->step;
	struct text title = TEXT("");
	if (step->bath == BATH_SOLUTION)
		title = step->solution->declared.title.text;
	else if (step->bath == BATH_DRYER)
		title = step->dryer->declared.title.text;
	plan->bath_kind = bath_words[step->bath];
	plan->bottle = step->bottle;
	plan->asks_bottle = asks_for_bottle(step);
	plan->develops = role_develops(step->role);
	plan->bath = wording_bath(placed->emission, placed->index);
	plan->bath_title = document_plain_prose(placed->emission->arena, title);
}

/* What to aim at, the limits where that does not name them already, and the window of the mean where it is another. */
static void set_window(const struct placed_step *placed, struct plan_step *plan)
{
	const struct step *step = placed->step;
	const struct temperature_window *window = development_pour_window(step);
	plan->has_window = span_is_set(window->span);
	if (!plan->has_window)
		return;
	plan->aim = wording_pour_temperature(placed->emission, placed->index);
	if (window->form == WINDOW_TOLERANCE)
		plan->limits = wording_limits(placed->emission, window);
	if (span_is_set(step->mean.span))
		plan->in_tank = wording_limits(placed->emission, &step->mean);
	else if (span_is_set(step->pour_at.span))
		plan->in_tank = wording_limits(placed->emission, &step->at);
}

/* The limits as the thermometer shows them. */
static void set_measure(const struct placed_step *placed, struct plan_step *plan)
{
	const struct temperature_window *window = development_pour_window(placed->step);
	const struct thermometer *thermometer = placed->emission->process->thermometer;
	plan->measures = placed->step->measures && plan->has_window;
	if (!plan->measures)
		return;
	plan->unit = reading_unit(thermometer, window) == UNIT_fahrenheit ? 'F' : 'C';
	plan->low = plan_reading(placed, reading_of(thermometer, window->low));
	plan->high = plan_reading(placed, reading_of(thermometer, window->high));
	if (thermometer)
		plan->thermometer = intern_text(placed->emission->recipe->names, thermometer->declared.name);
	plan->times = plan_times_of(placed);
}

static const char *time_form(const struct time_window *time)
{
	if (!span_is_set(time->span))
		return "none";
	if (time->form == TIME_AT_LEAST)
		return "least";
	return time->high_ms != time->low_ms ? "range" : "exact";
}

static void set_times(const struct placed_step *placed, struct plan_step *plan)
{
	const struct timeline_step *timed = placed->timed;
	const struct agitation_phase *phase = placed->step->agitation;
	bool has_latest = timed->latest_end_ms != TIMELINE_NEVER;
	plan->form = time_form(&placed->step->time);
	plan->time_s = timeline_seconds(timed->time.low_ms);
	plan->time = this_run_time(placed->emission, placed->index);
	plan->why = this_run_reason(placed->emission, placed->index);
	plan->declared_s = plan->why.length > 0 ? timeline_seconds(placed->step->time.low_ms) : plan->time_s;
	plan->pour_s = timeline_seconds(timed->pour_ms - timed->start_ms);
	plan->end_s = timeline_seconds(timed->end_ms - timed->start_ms);
	plan->latest = seconds(has_latest, has_latest ? timed->latest_end_ms - timed->start_ms : 0);
	plan->again = plan_again(placed->step, timed);
	if (!plan->again.is_there)
		return;
	while (phase->next)
		phase = phase->next;
	plan->again_every_s = timeline_seconds(phase->every.value);
	plan->again_length_s = timeline_seconds(phase->burst.value);
}

static void set_notes(const struct placed_step *placed, struct plan_step *plan)
{
	struct arena *arena = placed->emission->arena;
	size_t count = 0;
	for (const struct note *note = placed->step->notes; note; note = note->next)
		count++;
	plan->notes = ARENA_ARRAY(arena, struct text, count);
	for (const struct note *note = placed->step->notes; note; note = note->next)
		plan->notes[plan->note_count++] = document_plain_prose(arena, note->prose.text);
}

static void set_cues(const struct placed_step *placed, struct plan_step *plan)
{
	const struct timeline *timeline = placed->emission->timeline;
	size_t count = 0;
	for (size_t i = 0; i < timeline->cue_count; i++)
		count += timeline->cues[i].step == placed->index;
	plan->cues = ARENA_ARRAY(placed->emission->arena, struct plan_cue, count);
	for (size_t i = 0; i < timeline->cue_count; i++) {
		const struct cue *cue = &timeline->cues[i];
		if (cue->step != placed->index)
			continue;
		plan->cues[plan->cue_count++] = plan_cue_of(placed, timeline, cue);
		if (cue->kind == CUE_drain)
			plan->drain = seconds(true, placed->timed->drain_ms - placed->timed->start_ms);
	}
}

static void set_step(const struct placed_step *placed, struct plan_step *plan)
{
	plan->name = wording_step(placed->emission, placed->index);
	set_bath(placed, plan);
	set_window(placed, plan);
	set_measure(placed, plan);
	set_times(placed, plan);
	set_notes(placed, plan);
	set_cues(placed, plan);
}

/* ---- the whole ---- */

static void set_light(const struct timeline *timeline, struct plan *plan)
{
	for (size_t i = 0; i < timeline->step_count; i++) {
		const struct timeline_step *timed = &timeline->steps[i];
		if (timed->light_ms == TIMELINE_NEVER)
			continue;
		plan->light_step = i + 1;
		plan->light_s = timeline_seconds(timed->light_ms - timed->start_ms);
		return;
	}
}

const struct plan *plan_make(const struct emission *emission)
{
	const struct timeline *timeline = emission->timeline;
	struct plan *plan = ARENA_NEW(emission->arena, struct plan);
	plan->name = intern_text(emission->recipe->names, emission->process->declared.name);
	plan->title = process_title(emission);
	plan->this_run = this_run_line(emission);
	plan->fingerprint = emission->process->fingerprint;
	set_light(timeline, plan);
	plan->step_count = timeline->step_count;
	plan->steps = ARENA_ARRAY(emission->arena, struct plan_step, plan->step_count);
	for (size_t i = 0; i < plan->step_count; i++) {
		struct placed_step placed = { emission, i, &emission->process->steps[i], &timeline->steps[i] };
		set_step(&placed, &plan->steps[i]);
	}
	return plan;
}
