/* The checks of group "chemistry" that ask how much film or water is too much. */
#include <inttypes.h>

#include "check/checks.h"
#include "check/print.h"
#include "check/sequence.h"
#include "compute/mixing.h"
#include "compute/used_time.h"
#include "compute/wash.h"

#define MILLI 1000
#define TENTH_LITRE (100 * VOLUME_PER_ML)

/* A fixer is discarded at so many times its fresh clearing time: US Navy NAVEDTRA 14209, life of a fixing bath. */
#define SPENT_AT 2

/* Water of this temperature comes out of the cold tap; no heater is asked for it. Common practice, no source. */
#define COLD_TAP (15 * TEMPERATURE_PER_KELVIN)

static void note_load(struct check_run *run, struct diagnostic *finding, int64_t load)
{
	const struct process *process = run->process;
	if (span_is_set(process->load_span))
		check_note(run, finding, process->load_span, "one load is %.*s",
			   TEXT_ARGUMENT(print_rolls(run, load)));
	else if (process->tank->takes)
		check_note(run, finding, process->tank->takes->span, "a full tank is %.*s",
			   TEXT_ARGUMENT(print_rolls(run, load)));
}

/* What kits that the tank takes make together, if they were kept as one stock. */
static int64_t pooled_volume(const struct check_run *run)
{
	return mixing_plan(run->solution, run->process->tank->holds.value, 0, run->arena).makes;
}

static void help_against_load(struct check_run *run, struct diagnostic *finding, int64_t load, int64_t left)
{
	const struct solution *solution = run->solution;
	bool is_unpooled_kit =
		!solution->is_pooled && solution->use == USE_REUSE && span_is_set(solution->kit_makes.span);
	if (left < MILLI)
		check_help(run, finding, "mix fresh: this bath does not do another roll");
	else if (is_unpooled_kit && mixing_capacity_milli_rolls(solution, pooled_volume(run)) >= load)
		check_help(run, finding,
			   "load %" PRId64 " or less, or keep the kits as one stock of %.*s (`stock pooled`)",
			   left / MILLI, TEXT_ARGUMENT(print_volume(run, pooled_volume(run))));
	else
		check_help(run, finding, "load %" PRId64 " or less", left / MILLI);
}

/* " after 20 rolls done", where the bath has done any. */
static struct text after_done(const struct check_run *run, int64_t done)
{
	if (done == 0)
		return TEXT("");
	return text_format(run->arena, " after %.*s done", TEXT_ARGUMENT(print_rolls(run, done)));
}

void check_capacity_exceeded(struct check_run *run)
{
	const struct solution *solution = run->solution;
	const struct used_time *bath = &run->used[run->step_index];
	if (!solution || !run->process->tank || solution->use == USE_REPLENISH ||
	    solution->capacity_volume.value <= 0 || bath->bath_volume <= 0)
		return;
	int64_t load = process_load_milli_rolls(run->process);
	int64_t done = bath->done_milli_rolls;
	int64_t capacity = mixing_capacity_milli_rolls(solution, bath->bath_volume);
	if (load + done <= capacity)
		return;
	struct diagnostic *finding =
		check_add(run, solution->capacity_rolls.span, "a load of %.*s%.*s; %.*s of %.*s can do %.*s",
			  TEXT_ARGUMENT(print_rolls(run, load)), TEXT_ARGUMENT(after_done(run, done)),
			  TEXT_ARGUMENT(print_volume(run, bath->bath_volume)),
			  TEXT_ARGUMENT(print_solution(run, solution)), TEXT_ARGUMENT(print_rolls(run, capacity)));
	help_against_load(run, finding, load, capacity - done);
	note_load(run, finding, load);
	const struct on_hand *on_hand = solution->on_hand;
	if (on_hand)
		check_note(run, finding, on_hand->span, "the bath in hand is declared here");
	check_note(run, finding, sequence_bath_span(run->step), "poured here, into a tank of %.*s",
		   TEXT_ARGUMENT(print_volume(run, run->process->tank->holds.value)));
}

void check_too_little_developer(struct check_run *run)
{
	const struct solution *solution = run->solution;
	if (!solution || !run->process->tank || !span_is_set(solution->least_per_roll.span))
		return;
	int64_t load = process_load_milli_rolls(run->process);
	int64_t least = solution->least_per_roll.value;
	int64_t stock = mixing_stock(solution, run->process->tank->holds.value);
	if (load <= 0 || stock <= 0 || least <= 0)
		return;
	int64_t share = mixing_per_roll(stock, load);
	if (share >= least)
		return;
	struct diagnostic *finding =
		check_add(run, solution->least_per_roll.span, "%.*s of stock for %.*s is %.*s a roll; it needs %.*s",
			  TEXT_ARGUMENT(print_volume(run, stock)), TEXT_ARGUMENT(print_rolls(run, load)),
			  TEXT_ARGUMENT(print_volume(run, share)), TEXT_ARGUMENT(print_volume(run, least)));
	int64_t rolls = stock / least;
	struct text enough = print_volume_at_least(run, mixing_for_rolls(least, load));
	if (rolls > 0)
		check_help(run, finding, "load %" PRId64 " or less, or have %.*s of stock in the tank", rolls,
			   TEXT_ARGUMENT(enough));
	else
		check_help(run, finding, "have %.*s of stock in the tank", TEXT_ARGUMENT(enough));
	note_load(run, finding, load);
	if (span_is_set(solution->dilution_span))
		check_note(run, finding, solution->dilution_span,
			   "diluted like this, the tank's %.*s hold %.*s of stock",
			   TEXT_ARGUMENT(print_volume(run, run->process->tank->holds.value)),
			   TEXT_ARGUMENT(print_volume(run, stock)));
}

void check_fixer_spent(struct check_run *run)
{
	const struct quantity *fresh = &run->solution->clears_fresh;
	const struct quantity *now = &run->solution->clears_now;
	if (!span_is_set(fresh->span) || !span_is_set(now->span) || fresh->value <= 0 ||
	    now->value / SPENT_AT < fresh->value)
		return;
	struct diagnostic *finding =
		check_add(run, now->span, "%.*s clears film in %.*s; fresh it took %.*s, and at twice that it is spent",
			  TEXT_ARGUMENT(print_solution(run, run->solution)),
			  TEXT_ARGUMENT(sequence_duration(run, now->value)),
			  TEXT_ARGUMENT(sequence_duration(run, fresh->value)));
	check_help(run, finding,
		   "mix fresh fixer before the next film; this one was good until a leader took %.*s to clear",
		   TEXT_ARGUMENT(sequence_duration(run, SPENT_AT * fresh->value)));
}

static bool has_heater(const struct process *process)
{
	return process->heater &&
	       (span_is_set(process->heater->gives.span) || span_is_set(process->heater->stores.span));
}

void check_heater_too_small(struct check_run *run)
{
	const struct step *step = run->step;
	if (!has_heater(run->process) || !span_is_set(step->at.span) || step->at.low <= COLD_TAP ||
	    step->time.low_ms <= 0)
		return;
	int64_t water = wash_water(run->process, run->step_index);
	int64_t shortage = wash_shortage(run->process, run->timeline, run->step_index);
	if (water <= 0 || shortage <= 0)
		return;
	int64_t possible = shortage < water ? water - shortage : 0;
	const struct heater *heater = run->process->heater;
	struct text name = intern_text(run->recipe->names, heater->declared.name);
	struct diagnostic *finding =
		check_add(run, span_is_set(step->flow.span) ? step->flow.span : step->changes.span,
			  "%.*s takes %.*s of water at %.*s in %.*s; heater %.*s can give %.*s",
			  TEXT_ARGUMENT(sequence_name(run, step)), TEXT_ARGUMENT(print_volume(run, water)),
			  TEXT_ARGUMENT(print_temperature(run, step->at.nominal)),
			  TEXT_ARGUMENT(sequence_duration(run, step->time.low_ms)), TEXT_ARGUMENT(name),
			  TEXT_ARGUMENT(print_volume(run, possible)));
	int64_t flow = wash_flow_for(possible, step->time.low_ms) / TENTH_LITRE * TENTH_LITRE;
	if (span_is_set(step->flow.span))
		check_help(run, finding, "flow %.*s per min or less, or draw %.*s beforehand and keep it warm",
			   TEXT_ARGUMENT(print_volume(run, flow)), TEXT_ARGUMENT(print_volume(run, shortage)));
	else
		check_help(run, finding, "draw %.*s beforehand and keep it warm",
			   TEXT_ARGUMENT(print_volume(run, shortage)));
	check_note(run, finding, span_is_set(heater->gives.span) ? heater->gives.span : heater->stores.span,
		   "what the heater can do is declared here");
}
