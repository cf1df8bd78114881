/* The checks of group "time" that look at how long steps last; agitation.c has those about agitation. */
#include "check/checks.h"
#include "check/sequence.h"

/* Shortest black-and-white development that comes out even: the recipes' own sheets warn below it. Common practice; the
 * figure is from memory of film makers' data sheets. */
#define EVEN_DEVELOPMENT_MS (5 * 60 * 1000)

/* Largest share of a development, in per cent, by which its two ends may differ. Common practice, no source. */
#define UNEVEN_POUR_PERCENT 10

/* Fixing time is so many times the clearing time: two, US Navy NAVEDTRA 14209 and US Army SS0509-8, pp. 15-24; three
 * for tabular grains, from memory. */
#define CLEARINGS 2
#define CLEARINGS_TABULAR 3

/* The wet step that takes longest with its fill and drain; null where there is none. */
static const struct step *longest_step(const struct check_run *run, int64_t *duration_ms)
{
	const struct step *longest = NULL;
	for (size_t i = 0; i < run->timeline->step_count; i++) {
		const struct timeline_step *step = &run->timeline->steps[i];
		int64_t taken_ms = step->end_ms - step->pour_ms;
		if (step->is_wet && (!longest || taken_ms > *duration_ms)) {
			longest = &run->process->steps[i];
			*duration_ms = taken_ms;
		}
	}
	return longest;
}

void check_total_over_limit(struct check_run *run)
{
	const struct quantity *limit = &run->process->wet_time_limit;
	int64_t wet_ms = run->timeline->wet_min_ms;
	if (!span_is_set(limit->span) || wet_ms <= limit->value)
		return;
	struct text name = intern_text(run->recipe->names, run->process->declared.name);
	struct text taken = sequence_duration(run, wet_ms);
	struct text over = sequence_duration(run, wet_ms - limit->value);
	struct diagnostic *finding =
		check_add(run, limit->span,
			  "%.*s keeps the film wet for %.*s, first pour to last drain; its limit is %.*s",
			  TEXT_ARGUMENT(name), TEXT_ARGUMENT(taken),
			  TEXT_ARGUMENT(sequence_duration(run, limit->value)));
	check_help(run, finding, "shorten the steps by %.*s in all, or allow %.*s if the film bears it",
		   TEXT_ARGUMENT(over), TEXT_ARGUMENT(taken));
	int64_t longest_ms = 0;
	const struct step *longest = longest_step(run, &longest_ms);
	if (longest)
		check_note(run, finding, longest->name_span, "the longest step takes %.*s with its fill and drain",
			   TEXT_ARGUMENT(sequence_duration(run, longest_ms)));
}

/* Left to stand: nothing after the opening agitation, or no agitation at all. */
static bool is_stand_development(const struct step *step)
{
	const struct agitation_phase *phase = step->agitation;
	if (step->agitates_never)
		return true;
	return phase && !phase->next && phase->is_continuous && span_is_set(phase->length.span) &&
	       phase->length.value <= sequence_least_time(step) / 2;
}

/* The time in this developer and in those that follow it at once: a development in two baths is one development. */
static int64_t development_ms(const struct process *process, size_t index)
{
	int64_t sum_ms = 0;
	for (; index < process->step_count && sequence_acts(&process->steps[index], ACTION_BIT(DEVELOPS)); index++)
		sum_ms += sequence_least_time(&process->steps[index]);
	return sum_ms;
}

/* A monobath ends the development by itself; the second one of a black-and-white slide runs to its end. Both are even
 * at any time. */
static bool can_be_uneven(const struct check_run *run)
{
	if (!sequence_acts(run->step, ACTION_BIT(DEVELOPS)) || !span_is_set(run->step->time.span))
		return false;
	return !sequence_family_is(run->process, FAMILY_KIND_BLACK_AND_WHITE_REVERSAL) ||
	       sequence_find(run->process, 0, run->step_index, ACTIONS_DEVELOP) == SEQUENCE_NONE;
}

static bool is_black_and_white(const struct process *process)
{
	return sequence_family_is(process, FAMILY_KIND_BLACK_AND_WHITE) ||
	       sequence_family_is(process, FAMILY_KIND_BLACK_AND_WHITE_REVERSAL);
}

/* Offers the entry of the step's own table that is long enough and nearest, if it has one. */
static void help_develop_longer(struct check_run *run, struct diagnostic *finding, int64_t time_ms)
{
	const struct time_row *nearest = NULL;
	for (const struct time_row *row = run->step->times; row; row = row->next)
		if (row->time.value >= EVEN_DEVELOPMENT_MS && (!nearest || row->time.value < nearest->time.value))
			nearest = row;
	if (nearest)
		check_help(run, finding, "its table gives %.*s at %.*s",
			   TEXT_ARGUMENT(sequence_duration(run, nearest->time.value)),
			   TEXT_ARGUMENT(quantity_print_temperature(run->arena, nearest->temperature.value)));
	else
		check_help(run, finding, "take a weaker or cooler developer that needs %.*s longer",
			   TEXT_ARGUMENT(sequence_duration(run, EVEN_DEVELOPMENT_MS - time_ms)));
}

void check_development_too_short(struct check_run *run)
{
	const struct step *step = run->step;
	if (!can_be_uneven(run) || !is_black_and_white(run->process) || is_stand_development(step))
		return;
	bool follows_developer =
		run->step_index > 0 && sequence_acts(&run->process->steps[run->step_index - 1], ACTION_BIT(DEVELOPS));
	int64_t time_ms = development_ms(run->process, run->step_index);
	if (follows_developer || time_ms >= EVEN_DEVELOPMENT_MS)
		return;
	struct diagnostic *finding =
		check_add(run, step->time.span, "%.*s lasts %.*s; black-and-white film wants %.*s or more to be even",
			  TEXT_ARGUMENT(sequence_name(run, step)), TEXT_ARGUMENT(sequence_duration(run, time_ms)),
			  TEXT_ARGUMENT(sequence_duration(run, EVEN_DEVELOPMENT_MS)));
	help_develop_longer(run, finding, time_ms);
}

/* By how much longer the film at one end of the tank is wet than at the other. Poured and emptied through the lid the
 * two ends make up for each other; out of a bottom drain the end that is wet first is dry last. */
static int64_t pour_difference_ms(const struct tank *tank)
{
	int64_t fill_ms = tank->fill.value, drain_ms = tank->drain.value;
	switch (tank->emptying) {
	case EMPTIED_THROUGH_LID:
		return fill_ms > drain_ms ? fill_ms - drain_ms : drain_ms - fill_ms;
	case EMPTIED_FROM_BOTTOM:
		return fill_ms + drain_ms;
	case REELS_LOWERED:
		return 0;
	}
	return 0;
}

void check_uneven_pour(struct check_run *run)
{
	const struct step *step = run->step;
	const struct tank *tank = run->process->tank;
	if (!can_be_uneven(run) || !tank || !span_is_set(tank->fill.span) || !span_is_set(tank->drain.span))
		return;
	int64_t difference_ms = pour_difference_ms(tank);
	int64_t bearable_ms = step->time.low_ms / (100 / UNEVEN_POUR_PERCENT);
	if (difference_ms <= bearable_ms)
		return;
	struct diagnostic *finding = check_add(
		run, step->time.span,
		"film at one end of the tank is in %.*s %.*s longer than at the other; %d %% of its %.*s is %.*s",
		TEXT_ARGUMENT(sequence_name(run, step)), TEXT_ARGUMENT(sequence_duration(run, difference_ms)),
		UNEVEN_POUR_PERCENT, TEXT_ARGUMENT(sequence_duration(run, step->time.low_ms)),
		TEXT_ARGUMENT(sequence_duration(run, bearable_ms)));
	struct text longer = sequence_duration(run, difference_ms * (100 / UNEVEN_POUR_PERCENT));
	if (tank->emptying == EMPTIED_FROM_BOTTOM)
		check_help(run, finding,
			   "empty it through the lid, lower the reels into the full tank, or develop for %.*s or more",
			   TEXT_ARGUMENT(longer));
	else
		check_help(run, finding,
			   "fill as fast as it drains, lower the reels into the full tank, or develop for %.*s or more",
			   TEXT_ARGUMENT(longer));
	check_note(run, finding, tank->fill.span, "filling takes %.*s here",
		   TEXT_ARGUMENT(sequence_duration(run, tank->fill.value)));
	check_note(run, finding, tank->drain.span, "draining takes %.*s here",
		   TEXT_ARGUMENT(sequence_duration(run, tank->drain.value)));
}

static bool is_fixing(const struct step *step)
{
	return sequence_acts(step, ACTIONS_FIX & ~ACTIONS_DEVELOP);
}

/* The latest measured clearing time of a step's bath, or null. */
static const struct quantity *clearing_time(const struct step *step)
{
	const struct solution *solution = step->solution;
	if (!solution || !is_fixing(step))
		return NULL;
	if (span_is_set(solution->clears_now.span))
		return &solution->clears_now;
	return span_is_set(solution->clears_fresh.span) ? &solution->clears_fresh : NULL;
}

/* The time in the fixing baths that follow each other around this one: two baths in a row share the work. The first one
 * that says how it clears speaks for all; for the others this is TIME_OPEN. */
static int64_t fixing_ms(const struct process *process, size_t index)
{
	int64_t sum_ms = 0;
	size_t first = index;
	for (; first > 0 && is_fixing(&process->steps[first - 1]); first--)
		if (clearing_time(&process->steps[first - 1]))
			return TIME_OPEN;
	for (; first < process->step_count && is_fixing(&process->steps[first]); first++)
		sum_ms += sequence_least_time(&process->steps[first]);
	return sum_ms;
}

void check_fix_too_short(struct check_run *run)
{
	const struct step *step = run->step;
	const struct quantity *clearing = clearing_time(step);
	if (!clearing || !span_is_set(step->time.span))
		return;
	const struct film *tabular = NULL;
	int64_t clearings =
		sequence_has_emulsion(run->process, EMULSION_TABULAR, &tabular) ? CLEARINGS_TABULAR : CLEARINGS;
	int64_t time_ms = fixing_ms(run->process, run->step_index);
	if (time_ms / clearings >= clearing->value)
		return;
	struct text wanted = sequence_duration(run, clearings * clearing->value);
	struct diagnostic *finding =
		check_add(run, step->time.span, "%.*s lasts %.*s; film that clears in %.*s wants %s that, %.*s",
			  TEXT_ARGUMENT(sequence_name(run, step)), TEXT_ARGUMENT(sequence_duration(run, time_ms)),
			  TEXT_ARGUMENT(sequence_duration(run, clearing->value)), tabular ? "three times" : "twice",
			  TEXT_ARGUMENT(wanted));
	check_help(run, finding, "fix for %.*s or longer", TEXT_ARGUMENT(wanted));
	check_note(run, finding, clearing->span, "its clearing time, %.*s",
		   TEXT_ARGUMENT(sequence_duration(run, clearing->value)));
	if (tabular)
		check_note(run, finding, tabular->declared.name_span, "tabular grains want three clearing times");
}
