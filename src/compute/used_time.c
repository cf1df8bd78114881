/* The times that are used in this run. */
#include "compute/used_time.h"

#include <math.h>

#include "compute/agitation.h"
#include "compute/development.h"
#include "compute/mixing.h"
#include "compute/reading.h"
#include "compute/rounding.h"
#include "support/limits.h"

static const struct condition *condition_of(const struct condition *list, struct text name)
{
	while (list != NULL && !text_equal(list->name, name))
		list = list->next;
	return list;
}

int64_t used_done_milli_rolls(const struct recipe *recipe, const struct conditions *conditions,
			      const struct solution *solution)
{
	struct text name = intern_text(recipe->names, solution->declared.name);
	const struct condition *done = condition_of(conditions->done, name);
	const struct on_hand *on_hand = solution->on_hand;

	if (done == NULL && solution->use == USE_REUSE) /* --done ROLLS means every bath that is used again */
		done = condition_of(conditions->done, TEXT(""));
	if (done != NULL)
		return done->value;
	return on_hand != NULL && span_is_set(on_hand->done.span) ? on_hand->done.value : 0;
}

int64_t used_bath_volume(const struct process *process, const struct solution *solution, struct arena *arena)
{
	const struct on_hand *on_hand = solution->on_hand;
	int64_t tank = process->tank == NULL ? 0 : process->tank->holds.value;

	if (on_hand != NULL && span_is_set(on_hand->volume.span))
		return on_hand->volume.value;
	if (solution->is_pooled && span_is_set(solution->kit_makes.span))
		return mixing_plan(solution, tank, 0, arena).makes;
	return tank;
}

/* The same in a run: a day's plan knows which fill it is. */
static int64_t run_bath_volume(const struct recipe *recipe, const struct process *process,
			       const struct conditions *conditions, const struct solution *solution,
			       struct arena *arena)
{
	const struct condition *in_hand =
		condition_of(conditions->in_hand, intern_text(recipe->names, solution->declared.name));

	return in_hand != NULL ? in_hand->value : used_bath_volume(process, solution, arena);
}

/* 1 + p·N/V with p per roll per `lengthen_volume`; or compounded, (1 + p)^(N/V). */
static double lengthening_of(const struct solution *solution, int64_t milli_rolls, int64_t volume)
{
	double share = (double)solution->lengthen_percent.value / (100.0 * PERCENT_ONE);
	double rolls = (double)milli_rolls / 1000.0 * (double)solution->lengthen_volume.value / (double)volume;

	return solution->lengthen_compounds ? pow(1.0 + share, rolls) : 1.0 + share * rolls;
}

/* The temperatures of the whole step for which the recipe gives a time; false where it names none. A table is its own
 * range. */
static bool declared_range(const struct step *step, int64_t *low, int64_t *high)
{
	const struct temperature_window *range = development_window(step);
	const struct time_row *last = step->times;

	if (last != NULL) {
		while (last->next != NULL)
			last = last->next;
		*low = step->times->temperature.value;
		*high = last->temperature.value;
		return true;
	}
	if (step->solution != NULL && span_is_set(step->solution->usable.span))
		range = &step->solution->usable;
	if (range == NULL)
		return false;
	*low = range->low;
	*high = range->high;
	return true;
}

static void complain_temperature(struct report *report, const struct step *step, int64_t temperature)
{
	struct span span = span_is_set(step->times_span) ? step->times_span : step->at.span;
	struct text printed = quantity_print_temperature(report->arena, temperature);

	report_help(report,
		    report_add(report, CHECK_outside_time_table, span,
			       "%.*s, given with --at, lies outside what is declared here", TEXT_ARGUMENT(printed)),
		    "temper the bath again; a time is never guessed beyond the declared range");
}

static void complain_rule(const struct recipe *recipe, struct report *report, const struct step *step, bool is_colour)
{
	struct text name = intern_text(recipe->names, step->name);
	struct diagnostic *finding;

	if (is_colour) {
		finding = report_add(report, CHECK_outside_time_table, step->name_span,
				     "the colour of `%.*s` is not put right by its time", TEXT_ARGUMENT(name));
		report_help(report, finding,
			    "temper the bath again, or declare the maker's own table: `time by maker { … }`");
		return;
	}
	finding = report_add(report, CHECK_outside_time_table, step->name_span,
			     "`%.*s` does not say how its time depends on temperature", TEXT_ARGUMENT(name));
	report_help(report, finding,
		    "temper the bath again, or declare `time { … }`, a coefficient or an activation energy");
}

/* Colour is not put right by time, unless its maker has tested it. */
static bool is_colour_without_table(const struct process *process, const struct step *step)
{
	return family_is_colour(process->family) && role_develops(step->role) && !step->times_are_makers;
}

/* A temperature that the declared time is meant for. */
static bool is_in_window(const struct step *step, int64_t temperature)
{
	const struct temperature_window *window = development_pour_window(step);

	return span_is_set(window->span) && temperature >= window->low && temperature <= window->high;
}

/* What the recipe says of the rate at a temperature. */
enum rate_answer { RATE_IS_KNOWN, RATE_HAS_NO_RULE, RATE_IS_COLOUR, RATE_IS_OUTSIDE };

static enum rate_answer find_rate(const struct process *process, const struct step *step, int64_t temperature,
				  double *rate)
{
	int64_t meant = development_measured(step, temperature);
	int64_t low, high;

	if (is_colour_without_table(process, step))
		return RATE_IS_COLOUR;
	if (!development_has_rule(step))
		return RATE_HAS_NO_RULE;
	if (!declared_range(step, &low, &high) || meant < low || meant > high ||
	    !development_rate(step, quantity_celsius(meant), rate))
		return RATE_IS_OUTSIDE;
	return RATE_IS_KNOWN;
}

/* The rate at a measured temperature; false, after a finding, where there is none. */
static bool rate_at(const struct recipe *recipe, const struct process *process, const struct step *step,
		    int64_t temperature, struct report *report, double *rate)
{
	enum rate_answer answer = find_rate(process, step, temperature, rate);

	if (answer == RATE_IS_OUTSIDE)
		complain_temperature(report, step, temperature);
	else if (answer != RATE_IS_KNOWN)
		complain_rule(recipe, report, step, answer == RATE_IS_COLOUR);
	return answer == RATE_IS_KNOWN;
}

/* What is meant to lie halfway between two roundings may lie a little below in binary. */
#define TIE_SLACK 1e-9

static int64_t scaled(int64_t time_ms, double factor, int64_t to_ms)
{
	if (time_ms == TIME_OPEN)
		return TIME_OPEN;
	int64_t most = DURATION_MOST_MS / to_ms + 1;
	double times = floor((double)time_ms * factor / (double)to_ms + 0.5 + TIE_SLACK);
	return rounding_whole(fmin(times, (double)most)) * to_ms;
}

/* A time that cannot be meant: none, or one beyond all limits. */
static void complain_time(const struct recipe *recipe, struct report *report, const struct step *step, bool is_none)
{
	struct text name = intern_text(recipe->names, step->name);
	struct span span = is_none && span_is_set(step->round_to.span) ? step->round_to.span : step->name_span;

	report_help(report,
		    report_add(report, CHECK_figure_out_of_range, span, "`%.*s` would last %s in this run",
			       TEXT_ARGUMENT(name), is_none ? "no time" : "longer than 10 years"),
		    is_none ? "round its time more finely, or temper the bath"
			    : "look at what the bath has done, and at its `lengthen`");
}

static bool is_no_time(const struct step *step, const struct time_window *time)
{
	return time->low_ms == 0 && step->time.low_ms > 0;
}

/* The declared time, changed and rounded; false where that cannot be meant. A range whose ends are rounded to the same
 * time is none any more. */
static bool scale_window(const struct step *step, double factor, struct time_window *time)
{
	int64_t to_ms = span_is_set(step->round_to.span) ? step->round_to.value : MILLISECONDS_PER_SECOND;

	*time = step->time;
	time->low_ms = scaled(step->time.low_ms, factor, to_ms);
	time->high_ms = scaled(step->time.high_ms, factor, to_ms);
	if (time->high_ms == time->low_ms)
		time->form = TIME_EXACT;
	return !is_no_time(step, time) && time->low_ms <= DURATION_MOST_MS &&
	       (time->high_ms == TIME_OPEN || time->high_ms <= DURATION_MOST_MS);
}

static void scale_time(const struct recipe *recipe, const struct step *step, double factor, struct report *report,
		       struct used_time *used)
{
	struct time_window time;

	if (scale_window(step, factor, &time))
		used->time = time;
	else
		complain_time(recipe, report, step, is_no_time(step, &time));
}

static double factor_of_done(const struct recipe *recipe, const struct process *process,
			     const struct conditions *conditions, const struct step *step, struct arena *arena,
			     struct used_time *used)
{
	const struct solution *solution = step->solution;
	double factor;

	if (solution == NULL)
		return 1.0;
	used->done_milli_rolls = used_done_milli_rolls(recipe, conditions, solution);
	used->bath_volume = run_bath_volume(recipe, process, conditions, solution, arena);
	if (used->done_milli_rolls == 0 || used->bath_volume == 0 || !span_is_set(solution->lengthen_percent.span))
		return 1.0;
	factor = lengthening_of(solution, used->done_milli_rolls, used->bath_volume);
	used->is_for_done = true;
	used->lengthened_percent = rounding_whole((factor - 1.0) * 100.0 * PERCENT_ONE);
	return factor;
}

/* Without a rule the declared time is good for the whole window. */
static void use_temperature(const struct recipe *recipe, const struct process *process, const struct step *step,
			    int64_t temperature, struct report *report, struct used_time *used, double *rate)
{
	bool has_rule = development_has_rule(step) && !is_colour_without_table(process, step);

	if (has_rule || !is_in_window(step, temperature)) {
		used->is_for_temperature = rate_at(recipe, process, step, temperature, report, rate);
		if (!used->is_for_temperature) /* refused: all else is judged as declared */
			return;
	}
	used->is_measured = true;
	used->temperature = temperature;
}

static void use_step(const struct recipe *recipe, const struct process *process, const struct conditions *conditions,
		     const struct step *step, struct report *report, struct arena *arena, struct used_time *used)
{
	const struct condition *at = condition_of(conditions->temperatures, intern_text(recipe->names, step->name));
	double factor = factor_of_done(recipe, process, conditions, step, arena, used);
	double rate = 1.0;

	used->time = step->time;
	if (at != NULL) {
		used->reading = at->value;
		use_temperature(recipe, process, step, reading_true(process->thermometer, at->value), report, used,
				&rate);
	}
	factor /= rate;
	if (used->is_for_done || used->is_for_temperature)
		scale_time(recipe, step, factor, report, used);
}

static int64_t agitation_count(const struct step *step, const struct used_time *used)
{
	int64_t count = 0;

	for (const struct agitation_phase *phase = step->agitation; phase != NULL; phase = phase->next) {
		int64_t lasts_ms = used->time.low_ms;
		if (span_is_set(phase->length.span) && phase->length.value < lasts_ms)
			lasts_ms = phase->length.value;
		count += phase->is_continuous || !span_is_set(phase->every.span) ? 1 : lasts_ms / phase->every.value;
	}
	return count;
}

/* More than can be listed would have to be cut, and nothing is cut silently. `total` counts over the steps; what is too
 * much by itself is said once and leaves it as it is. */
static void check_agitation_count(const struct recipe *recipe, const struct step *step, const struct used_time *used,
				  struct report *report, int64_t *total)
{
	int64_t count = agitation_count(step, used);
	int64_t most = (int64_t)limit_value(LIMIT_AGITATIONS);
	bool was_too_much = *total > most;
	const char *format = "`%.*s` would be agitated more than %s times";

	if (count <= most) {
		*total += count;
		if (*total <= most || was_too_much)
			return;
		format = "with `%.*s` film would be agitated more than %s times in this process";
	}
	report_help(report,
		    report_add(report, CHECK_figure_out_of_range, step->agitation_span, format,
			       TEXT_ARGUMENT(intern_text(recipe->names, step->name)), limit_words(LIMIT_AGITATIONS)),
		    "agitate less often, or write `continuously`");
}

bool used_time_at(const struct process *process, const struct step *step, const struct used_time *used, int64_t reading,
		  struct time_window *time)
{
	double factor = 1.0;
	double rate;

	if (find_rate(process, step, reading_true(process->thermometer, reading), &rate) != RATE_IS_KNOWN)
		return false;
	if (used->is_for_done)
		factor = lengthening_of(step->solution, used->done_milli_rolls, used->bath_volume);
	return scale_window(step, factor / rate, time);
}

bool used_time_range(const struct process *process, const struct step *step, int64_t *coldest, int64_t *warmest)
{
	int64_t shift = development_measured(step, 0);

	if (!development_has_rule(step) || is_colour_without_table(process, step) ||
	    !declared_range(step, coldest, warmest))
		return false;
	*coldest = reading_of(process->thermometer, *coldest - shift);
	*warmest = reading_of(process->thermometer, *warmest - shift);
	return true;
}

static bool has_step(const struct recipe *recipe, const struct process *process, struct text name)
{
	for (size_t i = 0; i < process->step_count; i++)
		if (text_equal(intern_text(recipe->names, process->steps[i].name), name))
			return true;
	return false;
}

static bool has_solution(const struct recipe *recipe, struct text name)
{
	for (size_t i = 0; i < recipe->solution_count; i++)
		if (text_equal(intern_text(recipe->names, recipe->solutions[i]->declared.name), name))
			return true;
	return false;
}

static void check_names(const struct recipe *recipe, const struct process *process, const struct conditions *conditions,
			struct report *report)
{
	struct span nowhere = { 0, 0 };

	for (const struct condition *at = conditions->temperatures; at != NULL; at = at->next)
		if (!has_step(recipe, process, at->name))
			report_add(report, CHECK_unknown_name, nowhere, "--at: no step is called `%.*s`",
				   TEXT_ARGUMENT(at->name));
	for (const struct condition *done = conditions->done; done != NULL; done = done->next)
		if (done->name.length > 0 && !has_solution(recipe, done->name))
			report_add(report, CHECK_unknown_name, nowhere, "--done: no solution is called `%.*s`",
				   TEXT_ARGUMENT(done->name));
}

struct used_time *used_times(const struct recipe *recipe, const struct process *process,
			     const struct conditions *conditions, struct report *report, struct arena *arena)
{
	struct used_time *used = ARENA_ARRAY(arena, struct used_time, process->step_count);
	int64_t agitations = 0;

	check_names(recipe, process, conditions, report);
	for (size_t i = 0; i < process->step_count; i++) {
		use_step(recipe, process, conditions, &process->steps[i], report, arena, &used[i]);
		check_agitation_count(recipe, &process->steps[i], &used[i], report, &agitations);
	}
	return used;
}

double used_wanted_s(const struct step *step, const struct used_time *used)
{
	double declared_s = (double)step->time.low_ms / MILLISECONDS_PER_SECOND;
	double longer = used == NULL ? 0.0 : (double)used->lengthened_percent / (100.0 * PERCENT_ONE);

	return declared_s * (1.0 + longer);
}
