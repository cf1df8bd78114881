/* The checks of group "time" that look at agitation. The instants are those of the timeline. */
#include "check/checks.h"
#include "check/sequence.h"

/* Baths that come out streaky or weak where nobody moves them. Not those that end a process, nor running water. */
#define ACTIONS_AGITATED                                                                                               \
	(ACTIONS_DEVELOP | ACTIONS_FIX | ACTION_BIT(STOPS) | ACTION_BIT(BLEACHES) | ACTION_BIT(CLEARS) |               \
	 ACTION_BIT(TREATS) | ACTION_BIT(FOGS))

static const struct timeline_step *instants(const struct check_run *run)
{
	return &run->timeline->steps[run->step_index];
}

/* An instant of the step in the run for print, counted from the start of its time. */
static struct text since_start(const struct check_run *run, int64_t at_ms)
{
	return sequence_duration(run, at_ms - instants(run)->start_ms);
}

/* When an agitation and the taps that follow it are over. */
static int64_t agitation_end_ms(const struct timeline_step *step, size_t index)
{
	int64_t end_ms = step->agitations[index].end_ms;
	if (step->taps && step->taps[index].end_ms > end_ms)
		end_ms = step->taps[index].end_ms;
	return end_ms;
}

/* How long the taps after one agitation take. */
static int64_t taps_ms(const struct timeline_step *step)
{
	return step->taps && step->agitation_count > 0 ? step->taps[0].end_ms - step->taps[0].start_ms : 0;
}

/* Within one phase: an agitation, with its taps, must leave a pause before the next. True where it spoke. */
static bool report_phase_without_pause(struct check_run *run, const struct agitation_phase *phase)
{
	int64_t burst_ms = phase->burst.value, every_ms = phase->every.value;
	int64_t tapping_ms = taps_ms(instants(run));
	bool is_understood = span_is_set(phase->burst.span) && span_is_set(phase->every.span);
	if (phase->is_continuous || !is_understood || (burst_ms < every_ms && burst_ms + tapping_ms <= every_ms))
		return false;
	struct text burst = sequence_duration(run, burst_ms);
	struct text every = sequence_duration(run, every_ms);
	struct diagnostic *finding;
	if (burst_ms < every_ms) {
		finding = check_add(run, phase->span,
				    "an agitation of %.*s and its taps of %.*s last into the next, every %.*s",
				    TEXT_ARGUMENT(burst), TEXT_ARGUMENT(sequence_duration(run, tapping_ms)),
				    TEXT_ARGUMENT(every));
		check_help(run, finding, "agitate for %.*s or less, or less often",
			   TEXT_ARGUMENT(sequence_duration(run, every_ms > tapping_ms ? every_ms - tapping_ms : 0)));
		return true;
	}
	finding = check_add(run, phase->span, "an agitation of %.*s lasts until the next begins, every %.*s",
			    TEXT_ARGUMENT(burst), TEXT_ARGUMENT(every));
	check_help(run, finding, "agitate for less than %.*s each time, or write `continuously`", TEXT_ARGUMENT(every));
	return true;
}

void check_agitation_overlaps(struct check_run *run)
{
	const struct agitation_phase *phase = run->step->agitation;
	for (; phase; phase = phase->next)
		if (report_phase_without_pause(run, phase))
			return;
	/* from one phase to the next */
	const struct timeline_step *step = instants(run);
	for (size_t i = 1; i < step->agitation_count; i++) {
		int64_t end_ms = agitation_end_ms(step, i - 1);
		if (end_ms <= step->agitations[i].start_ms)
			continue;
		struct diagnostic *finding =
			check_add(run, run->step->agitation_span,
				  "the agitation at %.*s lasts until %.*s; the next begins at %.*s",
				  TEXT_ARGUMENT(since_start(run, step->agitations[i - 1].start_ms)),
				  TEXT_ARGUMENT(since_start(run, end_ms)),
				  TEXT_ARGUMENT(since_start(run, step->agitations[i].start_ms)));
		check_help(run, finding, "let the earlier phase end before %.*s",
			   TEXT_ARGUMENT(since_start(run, step->agitations[i - 1].start_ms)));
		return;
	}
}

/* True where an agitation is that of a last phase which goes on until the tank drains, whenever that is. Taps after it
 * would fall into the drain. */
static bool is_open_ended(const struct check_run *run, size_t index)
{
	const struct agitation_phase *phase = run->step->agitation;
	const struct timeline_step *step = instants(run);
	int64_t phase_start_ms = step->start_ms;
	while (phase && phase->next) {
		phase_start_ms += phase->length.value;
		phase = phase->next;
	}
	return phase && phase->is_continuous && !span_is_set(phase->length.span) &&
	       step->agitations[index].start_ms == phase_start_ms && index + 1 == step->agitation_count && !step->taps;
}

/* The first agitation of the step in the run that, with its taps, is not over at `limit_ms`; agitation_count where all
 * are. One that goes on to the end stops for the drain by itself. */
static size_t first_not_over(const struct check_run *run, int64_t limit_ms)
{
	const struct timeline_step *step = instants(run);
	for (size_t i = 0; i < step->agitation_count; i++)
		if (agitation_end_ms(step, i) > limit_ms)
			return is_open_ended(run, i) ? step->agitation_count : i;
	return step->agitation_count;
}

/* Says how to end the agitation in time: where it falls in the last phase of several, how long that phase may be. */
static void help_end_sooner(struct check_run *run, struct diagnostic *finding, size_t index, int64_t limit_ms)
{
	const struct timeline_step *step = instants(run);
	const struct interval *agitation = &step->agitations[index];
	const struct agitation_phase *phase = run->step->agitation;
	int64_t phase_start_ms = step->start_ms;
	while (phase && phase->next && span_is_set(phase->length.span)) {
		phase_start_ms += phase->length.value;
		phase = phase->next;
	}
	/* halfway to the agitation before, so that only this one and those after it go */
	int64_t last_ms = agitation->start_ms - phase_start_ms;
	if (phase && !phase->is_continuous && last_ms > phase->every.value)
		check_help(run, finding, "end the phase before that agitation: `for %.*s`",
			   TEXT_ARGUMENT(sequence_duration(run, last_ms - phase->every.value / 2)));
	else
		check_help(run, finding, "let it be over by %.*s", TEXT_ARGUMENT(since_start(run, limit_ms)));
}

void check_agitation_past_end(struct check_run *run)
{
	const struct timeline_step *step = instants(run);
	size_t index = first_not_over(run, step->time_end_ms);
	if (index == step->agitation_count)
		return;
	struct diagnostic *finding = check_add(run, run->step->agitation_span,
					       "the agitation at %.*s lasts until %.*s; %.*s is over at %.*s",
					       TEXT_ARGUMENT(since_start(run, step->agitations[index].start_ms)),
					       TEXT_ARGUMENT(since_start(run, agitation_end_ms(step, index))),
					       TEXT_ARGUMENT(sequence_name(run, run->step)),
					       TEXT_ARGUMENT(since_start(run, step->time_end_ms)));
	help_end_sooner(run, finding, index, step->time_end_ms);
	check_note(run, finding, run->step->time.span, "its time");
}

void check_agitation_in_drain(struct check_run *run)
{
	const struct timeline_step *step = instants(run);
	size_t index = first_not_over(run, step->drain_ms);
	if (index == step->agitation_count)
		return;
	bool is_tap = step->agitations[index].end_ms <= step->drain_ms;
	struct diagnostic *finding =
		check_add(run, run->step->agitation_span, "the %s at %.*s %s until %.*s, but the tank drains from %.*s",
			  is_tap ? "taps after the agitation" : "agitation",
			  TEXT_ARGUMENT(since_start(run, step->agitations[index].start_ms)), is_tap ? "last" : "lasts",
			  TEXT_ARGUMENT(since_start(run, agitation_end_ms(step, index))),
			  TEXT_ARGUMENT(since_start(run, step->drain_ms)));
	help_end_sooner(run, finding, index, step->drain_ms);
}

/* A bath that the water itself or nothing at all moves. */
static bool is_still_by_nature(const struct step *step)
{
	return step->role == ROLE_exposing || step->bath == BATH_RUNNING_WATER || step->bath == BATH_AIR ||
	       step->bath == BATH_LIGHT || step->bath == BATH_DRYER;
}

void check_no_agitation(struct check_run *run)
{
	const struct step *step = run->step;
	bool wants_agitation = sequence_acts(step, ACTIONS_AGITATED) || step->role == ROLE_prewet ||
			       step->role == ROLE_backing_removal;
	if (!wants_agitation || run->recipe->has_parse_errors || is_still_by_nature(step) || step->agitates_never ||
	    span_is_set(step->agitation_span))
		return;
	struct diagnostic *finding = check_add(run, step->name_span, "%.*s does not say how its bath is agitated",
					       TEXT_ARGUMENT(sequence_name(run, step)));
	check_help(run, finding,
		   "say how, as in `agitate first 30 s, then 5 s every 30 s`, or that it stands: `agitate none`");
}
