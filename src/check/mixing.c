/* The checks of group "chemistry" about amounts and vessels: whether a bath can be mixed as the recipe says, fits
 * where it is mixed, and fills the tank. */
#include <inttypes.h>

#include "check/checks.h"
#include "check/print.h"
#include "check/sequence.h"
#include "compute/mixing.h"
#include "compute/used_time.h"

/* A chain of stocks longer than this goes in a circle, which the model reports. */
#define LONGEST_CHAIN 32

/* Hottest water for mixing, by kind of bath. Developers: 90 to 125 °F, US Navy NAVEDTRA 14209, ch. 9; 125 °F is
 * printed as 52 °C. Fixers from crystal hypo, which cools the water as it dissolves: 125 °F, Kodak F-6 as reprinted.
 * Other fixers by formula: "not much above 80 °F" in NAVEDTRA 14209, ch. 9, here 90 °F (32 °C). Kits have their
 * maker's word, and no published formula for any other bath was found with hotter water than 125 °F (common
 * practice). */
#define HOTTEST (52 * TEMPERATURE_PER_KELVIN)
#define HOTTEST_FIXER (32 * TEMPERATURE_PER_KELVIN)

static struct text graduate_name(const struct check_run *run, const struct graduate *graduate)
{
	return intern_text(run->recipe->names, graduate->declared.name);
}

static bool is_powder_kit(const struct solution *solution)
{
	return span_is_set(solution->kit_makes.span) && solution->kit_form == KIT_POWDER;
}

/* A bath that is poured into the tank. Stabiliser, final rinse and wetting agent have a vessel of their own. */
static bool goes_into_tank(const struct step *step)
{
	return step->solution && !sequence_acts(step, ACTION_BIT(ENDS));
}

/* ---- kits ---- */

static void report_vessel_below_kit(struct check_run *run, const struct solution *kit, const struct graduate *vessel)
{
	struct text makes = print_volume(run, kit->kit_makes.value);
	struct diagnostic *finding =
		check_add(run, kit->kit_makes.span, "a powder kit of %.*s is mixed whole; graduate %.*s holds %.*s",
			  TEXT_ARGUMENT(makes), TEXT_ARGUMENT(graduate_name(run, vessel)),
			  TEXT_ARGUMENT(print_volume(run, vessel->holds.value)));
	check_help(run, finding, "mix it in a vessel that holds %.*s or more", TEXT_ARGUMENT(makes));
	check_note(run, finding, vessel->holds.span, "the vessel is declared here");
}

static void report_mark_below_kit(struct check_run *run, const struct solution *kit, const struct part *top_up)
{
	struct text makes = print_volume(run, kit->kit_makes.value);
	struct diagnostic *finding =
		check_add(run, top_up->span, "topped up to %.*s, this is part of a powder kit that makes %.*s",
			  TEXT_ARGUMENT(print_volume(run, top_up->amount.value)), TEXT_ARGUMENT(makes));
	check_help(run, finding, "mix the whole kit and top up to %.*s; what is over keeps for the next load",
		   TEXT_ARGUMENT(makes));
	check_note(run, finding, kit->kit_makes.span, "part of a powder does not hold its ingredients in proportion");
}

void check_kit_split(struct check_run *run)
{
	const struct solution *solution = run->solution;
	for (int length = 0; solution && length < LONGEST_CHAIN; length++, solution = solution->stock) {
		if (!is_powder_kit(solution))
			continue;
		const struct graduate *vessel = mixing_vessel(run->process, solution);
		struct mixing_batch batch = mixing_batch(solution);
		bool has_mark = batch.top_up && span_is_set(batch.top_up->amount.span);
		if (has_mark && batch.mark < batch.makes)
			report_mark_below_kit(run, solution, batch.top_up);
		else if (vessel && vessel->holds.value > 0 && vessel->holds.value < batch.makes)
			report_vessel_below_kit(run, solution, vessel);
	}
}

/* ---- does it fit ---- */

/* Water and liquid parts pass the mark at which the mix ends. True where it spoke. */
static bool report_over_mark(struct check_run *run, const struct mixing_batch *batch)
{
	int64_t over = batch->measured - batch->makes;
	bool has_end = batch->top_up || span_is_set(run->solution->kit_makes.span) ||
		       span_is_set(run->solution->formula_makes.span);
	if (!has_end || batch->makes <= 0 || over <= 0 || !batch->last_liquid)
		return false;
	struct diagnostic *finding = check_add(run, batch->last_liquid->span,
					       "water and liquid parts come to %.*s here; the mix ends at %.*s",
					       TEXT_ARGUMENT(print_volume(run, batch->measured)),
					       TEXT_ARGUMENT(print_volume(run, batch->makes)));
	if (batch->water > over)
		check_help(run, finding, "start with %.*s of water or less",
			   TEXT_ARGUMENT(print_volume(run, batch->water - over)));
	return true;
}

/* What must fit a vessel in one go: nothing where the bath is divided by measure. */
static bool is_indivisible(const struct solution *solution)
{
	return is_powder_kit(solution) || mixing_is_as_written(solution);
}

static void report_over_vessel(struct check_run *run, struct span span, const struct graduate *vessel, int64_t volume,
			       const char *what)
{
	struct diagnostic *finding =
		check_add(run, span, "%s %.*s; graduate %.*s holds %.*s", what,
			  TEXT_ARGUMENT(print_volume(run, volume)), TEXT_ARGUMENT(graduate_name(run, vessel)),
			  TEXT_ARGUMENT(print_volume(run, vessel->holds.value)));
	check_help(run, finding, "mix it in a vessel that holds %.*s or more",
		   TEXT_ARGUMENT(print_volume(run, volume)));
	check_note(run, finding, vessel->holds.span, "the vessel is declared here");
}

static void report_no_head_room(struct check_run *run, const struct mixing_batch *batch, const struct graduate *vessel)
{
	int64_t holds = vessel->holds.value;
	int64_t most = holds - holds / MIXING_HEAD_ROOM;
	struct diagnostic *finding = check_add(
		run, batch->first_dry->span,
		"%.*s of liquid stand in graduate %.*s when powder goes in; above %.*s of its %.*s it has no head-room",
		TEXT_ARGUMENT(print_volume(run, batch->before_dry)), TEXT_ARGUMENT(graduate_name(run, vessel)),
		TEXT_ARGUMENT(print_volume(run, most)), TEXT_ARGUMENT(print_volume(run, holds)));
	if (batch->water > batch->before_dry - most)
		check_help(run, finding, "start with %.*s of water or less, and top up when all is dissolved",
			   TEXT_ARGUMENT(print_volume(run, batch->water - (batch->before_dry - most))));
	else
		check_help(run, finding, "add the liquid parts after the powder, or take a larger vessel");
	check_note(run, finding, vessel->holds.span, "the vessel is declared here");
}

void check_will_overflow(struct check_run *run)
{
	const struct solution *solution = run->solution;
	struct mixing_batch batch = mixing_batch(solution);
	if (!solution->parts || report_over_mark(run, &batch))
		return;
	const struct graduate *vessel = mixing_vessel(run->process, solution);
	if (!vessel || vessel->holds.value <= 0 || !is_indivisible(solution))
		return;
	int64_t holds = vessel->holds.value;
	if (is_powder_kit(solution) && solution->kit_makes.value > holds)
		return; /* kit-split says so */
	if (batch.top_up && batch.mark > holds)
		report_over_vessel(run, batch.top_up->span, vessel, batch.mark, "the mix is topped up to");
	else if (batch.measured > holds)
		report_over_vessel(run, batch.last_liquid->span, vessel, batch.measured,
				   "water and liquid parts come to");
	else if (batch.before_dry > holds - holds / MIXING_HEAD_ROOM)
		report_no_head_room(run, &batch, vessel);
}

/* ---- does it fill the tank ---- */

static void report_underfilled(struct check_run *run, const struct solution *solution, int64_t needed)
{
	struct mixing_batch batch = mixing_batch(solution);
	struct text makes = print_volume(run, batch.makes);
	struct diagnostic *finding =
		check_add(run, batch.top_up ? batch.top_up->span : solution->parts->span,
			  "as written, the mix of %.*s makes %.*s; a tank of %.*s takes %.*s of it",
			  TEXT_ARGUMENT(print_solution(run, solution)), TEXT_ARGUMENT(makes),
			  TEXT_ARGUMENT(print_volume(run, run->process->tank->holds.value)),
			  TEXT_ARGUMENT(print_volume(run, needed)));
	int64_t times = needed / batch.makes + (needed % batch.makes > 0);
	check_help(run, finding,
		   "mix amounts for %.*s, or write `formula makes %.*s { … }` if they may be taken %" PRId64 " times",
		   TEXT_ARGUMENT(print_volume(run, needed)), TEXT_ARGUMENT(makes), times);
	check_note(run, finding, run->process->tank->holds.span, "the tank is declared here");
}

/* Less in hand than the tank takes. */
static void report_too_little_on_hand(struct check_run *run, const struct on_hand *on_hand, int64_t needed)
{
	struct diagnostic *finding =
		check_add(run, on_hand->volume.span, "%.*s of %.*s are on hand; the tank takes %.*s",
			  TEXT_ARGUMENT(print_volume(run, on_hand->volume.value)),
			  TEXT_ARGUMENT(print_solution(run, run->solution)), TEXT_ARGUMENT(print_volume(run, needed)));
	check_help(run, finding, "mix %.*s more, or take a smaller tank",
		   TEXT_ARGUMENT(print_volume_at_least(run, needed - on_hand->volume.value)));
	check_note(run, finding, run->process->tank->holds.span, "the tank is declared here");
}

void check_tank_underfilled(struct check_run *run)
{
	if (!goes_into_tank(run->step) || !run->process->tank)
		return;
	int64_t needed = run->process->tank->holds.value;
	const struct on_hand *on_hand = run->solution->on_hand;
	if (on_hand && span_is_set(on_hand->volume.span) && on_hand->volume.value < needed)
		report_too_little_on_hand(run, on_hand, needed);
	const struct solution *solution = run->solution;
	for (int length = 0; solution && length < LONGEST_CHAIN; length++, solution = solution->stock) {
		int64_t makes = mixing_is_as_written(solution) ? mixing_batch(solution).makes : 0;
		if (makes > 0 && makes < needed)
			report_underfilled(run, solution, needed);
		needed = mixing_stock(solution, needed);
	}
}

/* ---- pouring and blending ---- */

static bool is_developed_before(const struct process *process, size_t end)
{
	for (size_t i = end; i-- > 0;) {
		if (goes_into_tank(&process->steps[i]) && sequence_acts(&process->steps[i], ACTIONS_DEVELOP))
			return true;
	}
	return false;
}

static bool is_poured_before(const struct process *process, size_t end)
{
	for (size_t i = end; i-- > 0;) {
		if (goes_into_tank(&process->steps[i]))
			return true;
	}
	return false;
}

/* The pour that stands for all: the first developer, which suffers most, else the first bath. All baths of a process
 * share tank and vessels, so that there is one thing to change. */
static bool is_pour_that_counts(const struct check_run *run)
{
	const struct process *process = run->process;
	if (!goes_into_tank(run->step))
		return false;
	if (sequence_acts(run->step, ACTIONS_DEVELOP))
		return !is_developed_before(process, run->step_index);
	return !is_poured_before(process, run->step_index) && !is_developed_before(process, process->step_count);
}

void check_pour_needs_two_jugs(struct check_run *run)
{
	const struct tank *tank = run->process->tank;
	const struct graduate *largest = mixing_largest(run->process);
	if (!tank || !largest || tank->emptying == REELS_LOWERED || largest->holds.value <= 0 ||
	    tank->holds.value <= largest->holds.value || !is_pour_that_counts(run))
		return;
	struct text holds = print_volume(run, tank->holds.value);
	struct diagnostic *finding = check_add(run, sequence_bath_span(run->step),
					       "%.*s fills a tank of %.*s; the largest graduate, %.*s, holds %.*s",
					       TEXT_ARGUMENT(sequence_name(run, run->step)), TEXT_ARGUMENT(holds),
					       TEXT_ARGUMENT(graduate_name(run, largest)),
					       TEXT_ARGUMENT(print_volume(run, largest->holds.value)));
	if (sequence_acts(run->step, ACTIONS_DEVELOP))
		report_raise(run->report, finding, SEVERITY_ERROR);
	check_help(run, finding, "pour from one vessel that holds %.*s or more", TEXT_ARGUMENT(holds));
	check_note(run, finding, tank->holds.span, "the tank is declared here");
	check_note(run, finding, largest->holds.span, "the graduate is declared here");
}

static struct span amount_span(const struct solution *solution)
{
	if (span_is_set(solution->kit_makes.span))
		return solution->kit_makes.span;
	if (span_is_set(solution->formula_makes.span))
		return solution->formula_makes.span;
	return span_is_set(solution->dilution_span) ? solution->dilution_span : solution->declared.name_span;
}

/* "2 L and 1 L", "4 times 500 mL and 200 mL" */
static struct text mixes_text(const struct check_run *run, const struct mixing_plan *plan)
{
	const struct mixing_mix *first = &plan->mixes[0];
	const struct mixing_mix *last = &plan->mixes[plan->mix_count - 1];
	size_t alike = last->makes == first->makes ? plan->mix_count : plan->mix_count - 1;
	struct text full = print_volume(run, first->makes);
	if (alike > 1)
		full = text_format(run->arena, "%zu times %.*s", alike, TEXT_ARGUMENT(full));
	if (alike == plan->mix_count)
		return full;
	return text_format(run->arena, "%.*s and %.*s", TEXT_ARGUMENT(full),
			   TEXT_ARGUMENT(print_volume(run, last->makes)));
}

void check_mixes_not_blended(struct check_run *run)
{
	const struct solution *solution = run->solution;
	const struct tank *tank = run->process->tank;
	const struct graduate *largest = mixing_largest(run->process);
	if (!goes_into_tank(run->step) || !tank || solution->is_blended || solution->is_pooled)
		return;
	const struct graduate *vessel = mixing_vessel(run->process, solution);
	if (!vessel || (largest && largest->holds.value < tank->holds.value))
		return; /* where no vessel holds the tank's volume, pour-needs-two-jugs says so first */
	struct mixing_plan plan = mixing_plan(solution, tank->holds.value, vessel->holds.value, run->arena);
	if (!plan.fits || plan.mix_count < 2)
		return;
	struct diagnostic *finding =
		check_add(run, amount_span(solution), "%.*s for a tank of %.*s takes %zu mixes in graduate %.*s: %.*s",
			  TEXT_ARGUMENT(print_solution(run, solution)),
			  TEXT_ARGUMENT(print_volume(run, tank->holds.value)), plan.mix_count,
			  TEXT_ARGUMENT(graduate_name(run, vessel)), TEXT_ARGUMENT(mixes_text(run, &plan)));
	check_help(run, finding, "pour all of it together, %.*s, before use, and write `blend`",
		   TEXT_ARGUMENT(print_volume(run, plan.makes)));
	check_fix_clause(run, finding, &solution->declared, FIX_ASKS, TEXT("blend"));
	check_note(run, finding, vessel->holds.span, "the graduate is declared here");
}

/* ---- mixing water ---- */

static bool has_crystal_hypo(const struct solution *solution)
{
	for (const struct part *part = solution->parts; part; part = part->next) {
		if (part->kind == PART_ADD && part->chemical == CHEMICAL_sodium_thiosulfate && !part->is_volume &&
		    text_equal(part->hydrate, TEXT("pentahydrate")))
			return true;
	}
	return false;
}

static int64_t hottest_for(const struct solution *solution)
{
	bool is_formula = !span_is_set(solution->kit_makes.span);
	bool has_hypo = (solution->contains & CLASS_BIT(thiosulfate)) != 0;
	return is_formula && has_hypo && !has_crystal_hypo(solution) ? HOTTEST_FIXER : HOTTEST;
}

void check_mix_too_hot(struct check_run *run)
{
	int64_t hottest = hottest_for(run->solution);
	for (const struct part *part = run->solution->parts; part; part = part->next) {
		int64_t water = part->at.form == WINDOW_RANGE ? part->at.high : part->at.nominal;
		if (part->kind != PART_WATER || !span_is_set(part->at.span) || water <= hottest)
			continue;
		const char *why = hottest == HOTTEST_FIXER ? "thiosulfate throws out sulfur"
							   : "baths spoil or lose parts to the air";
		struct diagnostic *finding = check_add(run, part->at.span, "the mixing water is at %.*s; above %.*s %s",
						       TEXT_ARGUMENT(print_temperature(run, water)),
						       TEXT_ARGUMENT(print_temperature(run, hottest)), why);
		check_help(run, finding, "start at %.*s or less", TEXT_ARGUMENT(print_temperature(run, hottest)));
	}
}
