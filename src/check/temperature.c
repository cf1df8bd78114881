/* The checks of group "temperature" that compare declared figures; drift.c has those that need a sum. */
#include "check/checks.h"
#include "check/print.h"
#include "check/sequence.h"
#include "check/written_range.h"

/* Working points of neighbouring baths may differ by so much: trade practice; US Navy NAVEDTRA 14262, p. 7-11, has not
 * over 5 °F (2.8 K) between trays, and US Army SS0509-8, lesson 1, as near one temperature as possible. Modern colour
 * film bears more: from memory, within what the published small-tank cycles step. */
#define JUMP_BLACK_AND_WHITE (3 * TEMPERATURE_PER_KELVIN)
#define JUMP_SOFT (3 * TEMPERATURE_PER_KELVIN)
#define JUMP_COLOUR (15 * TEMPERATURE_PER_KELVIN)

/* Emulsions were hardened in the making from about this year on (from memory). */
#define HARDENED_SINCE 1970

/* A thermometer that was never compared with another is trusted to half a kelvin: common practice, no source. */
#define TRUST_UNCHECKED (TEMPERATURE_PER_KELVIN / 2)

/* ---- windows by themselves ---- */

static void report_empty(struct check_run *run, const struct temperature_window *window, const char *what)
{
	bool can_be_empty = span_is_set(window->span) && window->form != WINDOW_POINT;
	if (!can_be_empty || window->low < window->high)
		return;
	struct text low = print_temperature(run, window->low);
	struct text high = print_temperature(run, window->high);
	if (window->form == WINDOW_TOLERANCE) {
		struct diagnostic *finding =
			check_add(run, window->span, "%s with a tolerance of nothing cannot be met", what);
		check_help(run, finding, "write what the bath bears, as in %.*s ± 0.5 K, or the temperature alone",
			   TEXT_ARGUMENT(print_temperature(run, window->nominal)));
		return;
	}
	struct diagnostic *finding = check_add(run, window->span, "%s from %.*s to %.*s holds nothing", what,
					       TEXT_ARGUMENT(low), TEXT_ARGUMENT(high));
	bool is_reversed = window->low > window->high;
	written_range_help(run, finding, window->span, is_reversed,
			   is_reversed ? "the lower end comes first: " : "write ",
			   is_reversed ? "" : " alone, or a range around it");
}

static void report_empty_time(struct check_run *run, const struct time_window *time)
{
	if (!span_is_set(time->span) || time->form != TIME_RANGE || time->low_ms < time->high_ms)
		return;
	struct text low = sequence_duration(run, time->low_ms);
	struct text high = sequence_duration(run, time->high_ms);
	struct diagnostic *finding = check_add(run, time->span, "a time from %.*s to %.*s holds nothing",
					       TEXT_ARGUMENT(low), TEXT_ARGUMENT(high));
	bool is_reversed = time->low_ms > time->high_ms;
	written_range_help(run, finding, time->span, is_reversed,
			   is_reversed ? "the shorter time comes first: " : "write ", is_reversed ? "" : " alone");
}

void check_window_empty(struct check_run *run)
{
	const struct step *step = run->step;
	report_empty(run, &step->at, "a temperature window");
	report_empty(run, &step->pour_at, "a pour window");
	report_empty(run, &step->mean, "a window for the mean");
	report_empty_time(run, &step->time);
	if (run->solution)
		report_empty(run, &run->solution->usable, "a usable range");
	if (run->step_index == 0 && run->process->tank)
		report_empty(run, &run->process->tank->bath, "a water bath");
}

static void report_outside_usable(struct check_run *run, const struct temperature_window *window)
{
	const struct temperature_window *usable = &run->solution->usable;
	if (!span_is_set(window->span) || (window->low >= usable->low && window->high <= usable->high))
		return;
	bool is_below = window->low < usable->low;
	struct text name = print_solution(run, run->solution);
	struct diagnostic *finding =
		check_add(run, window->span, "the window %s %.*s; %.*s is usable %s %.*s",
			  is_below ? "begins at" : "ends at",
			  TEXT_ARGUMENT(print_temperature(run, is_below ? window->low : window->high)),
			  TEXT_ARGUMENT(name), is_below ? "from" : "up to",
			  TEXT_ARGUMENT(print_temperature(run, is_below ? usable->low : usable->high)));
	check_help(run, finding, "keep the window within %.*s .. %.*s",
		   TEXT_ARGUMENT(print_temperature(run, usable->low)),
		   TEXT_ARGUMENT(print_temperature(run, usable->high)));
	check_note(run, finding, usable->span, "the usable range is declared here");
}

void check_window_outside_usable(struct check_run *run)
{
	if (!run->solution || !span_is_set(run->solution->usable.span))
		return;
	report_outside_usable(run, &run->step->at);
	report_outside_usable(run, &run->step->pour_at);
	report_outside_usable(run, &run->step->mean);
}

/* ---- from bath to bath ---- */

static bool is_family_of_soft_film(enum family_id family)
{
	switch (family) {
	case FAMILY_c_22:
	case FAMILY_e_1:
	case FAMILY_e_2:
	case FAMILY_e_3:
	case FAMILY_e_4:
	case FAMILY_k_11:
	case FAMILY_k_12:
		return true;
	default:
		return false;
	}
}

static bool is_soft(const struct film *film)
{
	if (film->emulsion != EMULSION_UNSTATED)
		return film->emulsion == EMULSION_SOFT;
	if (span_is_set(film->made.span))
		return film->made.value < HARDENED_SINCE;
	return span_is_set(film->family_span) && is_family_of_soft_film(film->family);
}

static const struct film *first_soft_film(const struct process *process)
{
	for (size_t i = 0; i < process->film_count; i++) {
		if (is_soft(process->films[i]))
			return process->films[i];
	}
	return NULL;
}

/* The wet step before the one in the run, if its temperature is known: light and air in between leave the film as it
 * is. */
static const struct step *bath_before(const struct check_run *run)
{
	for (size_t i = run->step_index; i-- > 0;) {
		const struct step *step = &run->process->steps[i];
		if (run->timeline->steps[i].is_wet)
			return span_is_set(step->at.span) ? step : NULL;
	}
	return NULL;
}

/* How far neighbouring baths may lie apart; 0 where nothing is known about the film. */
static int64_t bearable_jump(const struct check_run *run, const struct film *soft)
{
	if (soft)
		return JUMP_SOFT;
	const struct family_row *family = sequence_family(run->process);
	if (!family)
		return 0;
	return family_is_colour(run->process->family) ? JUMP_COLOUR : JUMP_BLACK_AND_WHITE;
}

void check_jump_between_baths(struct check_run *run)
{
	const struct step *step = run->step;
	const struct step *before = bath_before(run);
	if (!before || !run->timeline->steps[run->step_index].is_wet || !span_is_set(step->at.span))
		return;
	const struct film *soft = first_soft_film(run->process);
	int64_t bearable = bearable_jump(run, soft);
	int64_t jump = step->at.nominal - before->at.nominal;
	if (bearable == 0 || (jump <= bearable && -jump <= bearable))
		return;
	struct text name_before = sequence_name(run, before);
	struct diagnostic *finding =
		check_add(run, step->at.span, "%.*s is %s than %.*s: %.*s after %.*s; %s bears %.*s",
			  TEXT_ARGUMENT(sequence_name(run, step)), jump > 0 ? "warmer" : "colder",
			  TEXT_ARGUMENT(name_before), TEXT_ARGUMENT(print_temperature(run, step->at.nominal)),
			  TEXT_ARGUMENT(print_temperature(run, before->at.nominal)),
			  soft			    ? "a soft emulsion"
			  : bearable == JUMP_COLOUR ? "colour film"
						    : "black-and-white film",
			  TEXT_ARGUMENT(print_difference(run, bearable)));
	if (soft)
		report_raise(run->report, finding, SEVERITY_ERROR);
	int64_t nearest = jump > 0 ? before->at.nominal + bearable : before->at.nominal - bearable;
	check_help(run, finding, "bring it to %.*s, or the baths before it nearer in steps of %.*s or less",
		   TEXT_ARGUMENT(print_temperature(run, nearest)), TEXT_ARGUMENT(print_difference(run, bearable)));
	check_note(run, finding, before->at.span, "%.*s works at %.*s", TEXT_ARGUMENT(name_before),
		   TEXT_ARGUMENT(print_temperature(run, before->at.nominal)));
	if (soft)
		check_note(run, finding, soft->declared.name_span, "this film counts as soft");
}

/* ---- what the thermometer can tell ---- */

static void keep_finest(const struct temperature_window *window, const struct temperature_window **finest)
{
	if (!span_is_set(window->span) || window->low >= window->high)
		return;
	if (!*finest || window->high - window->low < (*finest)->high - (*finest)->low)
		*finest = window;
}

static const struct temperature_window *finest_window(const struct process *process)
{
	const struct temperature_window *finest = NULL;
	for (size_t i = 0; i < process->step_count; i++) {
		keep_finest(&process->steps[i].at, &finest);
		keep_finest(&process->steps[i].pour_at, &finest);
		keep_finest(&process->steps[i].mean, &finest);
	}
	return finest;
}

void check_thermometer_unchecked(struct check_run *run)
{
	const struct thermometer *thermometer = run->process->thermometer;
	const struct temperature_window *window = finest_window(run->process);
	if (!thermometer || !window)
		return;
	const struct quantity *within =
		span_is_set(thermometer->within.span) ? &thermometer->within : &thermometer->reads;
	bool is_checked = span_is_set(thermometer->checked);
	int64_t trust = within->value;
	if (!is_checked && trust < TRUST_UNCHECKED)
		trust = TRUST_UNCHECKED;
	if (2 * trust <= window->high - window->low)
		return;
	struct text name = intern_text(run->recipe->names, thermometer->declared.name);
	struct text half = print_difference(run, (window->high - window->low) / 2);
	bool is_for_want_of_check = 2 * within->value <= window->high - window->low;
	struct diagnostic *finding =
		check_add(run, window->span, "the window allows ± %.*s; thermometer %.*s %s %.*s", TEXT_ARGUMENT(half),
			  TEXT_ARGUMENT(name),
			  is_for_want_of_check ? "was never checked and may be wrong by" : "may be wrong by",
			  TEXT_ARGUMENT(print_difference(run, trust)));
	if (is_for_want_of_check) {
		check_help(run, finding,
			   "compare it with a better one at this temperature, and write `checked YYYY-MM-DD`, the day");
		check_fix_clause(run, finding, &thermometer->declared, FIX_GAPS, TEXT("checked YYYY-MM-DD"));
	} else {
		check_help(run, finding, "name a thermometer that is right within %.*s", TEXT_ARGUMENT(half));
	}
	struct span place =
		is_for_want_of_check || !span_is_set(within->span) ? thermometer->declared.name_span : within->span;
	check_note(run, finding, place, "the thermometer is declared here");
}

/* ---- times by temperature ---- */

void check_outside_time_table(struct check_run *run)
{
	const struct step *step = run->step;
	const struct temperature_window *window = span_is_set(step->mean.span) ? &step->mean : &step->at;
	if (!step->times || !span_is_set(window->span))
		return;
	const struct time_row *first = step->times;
	const struct time_row *last = first;
	while (last->next)
		last = last->next;
	if (window->nominal >= first->temperature.value && window->nominal <= last->temperature.value)
		return;
	struct text from = print_temperature(run, first->temperature.value);
	struct text to = print_temperature(run, last->temperature.value);
	struct diagnostic *finding =
		check_add(run, window->span, "%.*s works at %.*s; its table of times runs from %.*s to %.*s",
			  TEXT_ARGUMENT(sequence_name(run, step)),
			  TEXT_ARGUMENT(print_temperature(run, window->nominal)), TEXT_ARGUMENT(from),
			  TEXT_ARGUMENT(to));
	check_help(run, finding, "work between %.*s and %.*s; a table is never carried on beyond its ends",
		   TEXT_ARGUMENT(from), TEXT_ARGUMENT(to));
	check_note(run, finding, step->times_span, "the table stands here");
}

void check_colour_compensated(struct check_run *run)
{
	const struct step *step = run->step;
	const struct family_row *family = sequence_family(run->process);
	if (!family || !family_is_colour(run->process->family) || !sequence_acts(step, ACTIONS_DEVELOP))
		return;
	struct span span = step->coefficient.span;
	if (!span_is_set(span))
		span = step->activation_energy.span;
	if (step->times && !step->times_are_makers)
		span = step->times_span;
	if (!span_is_set(span))
		return;
	struct diagnostic *finding =
		check_add(run, span, "the time of %.*s is made to follow the temperature; colour shifts with it",
			  TEXT_ARGUMENT(sequence_name(run, step)));
	check_help(run, finding,
		   "temper the bath instead; if the table is the maker's own, write `time by maker { … }`");
}
