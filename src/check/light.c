/* The check that light does not come before the film can bear it. The earliest moment is the timeline's. */
#include "check/checks.h"
#include "check/sequence.h"

/* When film bears light, in a reader's words. */
static const char *const rule_words[] = {
	[LIGHT_AFTER_TWO_MINUTES_OF_FIX] = "after two minutes of fix",
	[LIGHT_AT_END_OF_BLEACH] = "at the end of the bleach or bleach-fix",
	[LIGHT_AFTER_ONE_MINUTE_OF_REVERSAL_BATH] = "after one minute of reversal bath",
	[LIGHT_AT_EXPOSING] = "at the exposing step",
	[LIGHT_AT_END_OF_FIX] = "at the end of the fix",
};

/* The step in which light may come on, or SEQUENCE_NONE. */
static size_t earliest_step(const struct timeline *timeline)
{
	for (size_t i = 0; i < timeline->step_count; i++)
		if (timeline->steps[i].bears_light_ms != TIMELINE_NEVER)
			return i;
	return SEQUENCE_NONE;
}

/* The light that reverses a slide belongs after the first developer, whenever room light may come on. */
static void check_reversing_light(struct check_run *run)
{
	const struct step *step = run->step;
	if (sequence_find(run->process, 0, run->step_index, ACTIONS_DEVELOP) != SEQUENCE_NONE)
		return;
	struct diagnostic *finding = check_add(run, sequence_bath_span(step),
					       "%.*s comes before the first developer: it fogs the whole film",
					       TEXT_ARGUMENT(sequence_name(run, step)));
	check_help(run, finding, "put it after the first developer and its wash");
	size_t developer = sequence_find(run->process, run->step_index, run->process->step_count, ACTIONS_DEVELOP);
	if (developer != SEQUENCE_NONE)
		check_note(run, finding, run->process->steps[developer].name_span, "the first developer comes here");
}

/* Says in which step, and when in it, light is borne, and what to write. */
static void explain_earliest(struct check_run *run, struct diagnostic *finding, size_t earliest)
{
	const struct step *step = &run->process->steps[earliest];
	const struct timeline_step *instants = &run->timeline->steps[earliest];
	struct text name = sequence_name(run, step);
	struct text after = sequence_duration(run, instants->bears_light_ms - instants->start_ms);
	if (step->role == ROLE_exposing)
		check_help(run, finding, "put `lights on` into %.*s or later", TEXT_ARGUMENT(name));
	else
		check_help(run, finding, "put `lights on after %.*s` into %.*s, or light into a later step",
			   TEXT_ARGUMENT(after), TEXT_ARGUMENT(name));
	check_note(run, finding, step->name_span, "film bears light from %.*s into this step", TEXT_ARGUMENT(after));
}

void check_light_too_early(struct check_run *run)
{
	const struct step *step = run->step;
	const struct timeline_step *instants = &run->timeline->steps[run->step_index];
	bool is_exposed = step->role == ROLE_exposing;
	bool is_lit = span_is_set(step->lights_span);
	if ((!is_exposed && !is_lit) || run->process->is_rescue || !run->is_complete)
		return;
	if (is_exposed && sequence_is_slide(run->process)) {
		check_reversing_light(run);
		return;
	}
	bool is_later = is_lit && !is_exposed && span_is_set(step->lights_after.span);
	int64_t light_ms = is_later ? instants->start_ms + step->lights_after.value : instants->pour_ms;
	int64_t after_ms = is_later ? step->lights_after.value : 0;
	size_t earliest = earliest_step(run->timeline);
	/* A step that may last longer puts light on before the next, however late by the clock. */
	if (earliest != SEQUENCE_NONE && run->step_index >= earliest &&
	    light_ms >= run->timeline->steps[earliest].bears_light_ms)
		return;
	struct diagnostic *finding =
		check_add(run, is_lit ? step->lights_span : sequence_bath_span(step),
			  "light comes %.*s into %.*s; %.*s film bears it %s",
			  TEXT_ARGUMENT(sequence_duration(run, after_ms)), TEXT_ARGUMENT(sequence_name(run, step)),
			  TEXT_ARGUMENT(sequence_family(run->process)->word),
			  rule_words[sequence_family(run->process)->light]);
	if (earliest != SEQUENCE_NONE)
		explain_earliest(run, finding, earliest);
	else
		check_help(run, finding, "the process has no such moment: leave the light out");
}
