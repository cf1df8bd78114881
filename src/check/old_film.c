/* What old or unusual film does not bear: heat, plastic reels, a removal of its backing that is missing. */
#include <inttypes.h>

#include "check/checks.h"

#define SOFT_MOST (24 * TEMPERATURE_PER_KELVIN)	      /* bath; common practice, no source: 24 °C, 75 °F */
#define SOFT_DRYER_MOST (30 * TEMPERATURE_PER_KELVIN) /* dryer; common practice, no source */
#define HARDENED_SINCE 1970 /* trade practice: emulsions before are soft where nothing is said */

static bool is_set_aside(const struct roll *roll)
{
	return span_is_set(roll->set_aside.span);
}

/* ---- rem-jet ---------------------------------------------------------------------------------------------------- */

enum backing { BACKING_NONE, BACKING_REM_JET, BACKING_UNKNOWN };

/* The backing belongs to the stock. Where no stock is named, films of some families mostly have it. */
static enum backing backing_of(const struct roll *roll)
{
	if (roll->film)
		return roll->film->has_rem_jet ? BACKING_REM_JET : BACKING_NONE;
	switch (roll->needs) {
	case FAMILY_ecn_2:
	case FAMILY_k_11:
	case FAMILY_k_12:
	case FAMILY_k_14:
		return BACKING_UNKNOWN;
	default:
		return BACKING_NONE;
	}
}

/* The backing comes off before the first developer. */
static bool takes_backing_off(const struct process *process)
{
	for (size_t i = 0; i < process->step_count && !role_develops(process->steps[i].role); i++)
		if (process->steps[i].role == ROLE_backing_removal)
			return true;
	return false;
}

void check_rem_jet(struct check_run *run)
{
	const struct roll *roll = run->roll;
	enum backing backing = backing_of(roll);
	if (!run->process || backing == BACKING_NONE || takes_backing_off(run->process))
		return;
	struct text process = intern_text(run->recipe->names, run->process->declared.name);
	struct diagnostic *finding;
	if (backing == BACKING_REM_JET) {
		finding = check_add(run, roll->span, "rem-jet backing, and the process `%.*s` does not take it off",
				    TEXT_ARGUMENT(process));
		check_note(run, finding, roll->film->backing_span, "the stock says so here");
	} else {
		struct text family = family_row(roll->needs)->word;
		finding = check_add(
			run, roll->span,
			"%.*s film mostly has a rem-jet backing, and the process `%.*s` does not take one off",
			TEXT_ARGUMENT(family), TEXT_ARGUMENT(process));
	}
	check_help(run, finding,
		   backing == BACKING_REM_JET
			   ? "an alkaline pre-bath and a step `as backing-removal` stand before the developer"
			   : "look at its back: where it is bare, declare the stock with `backing none`; where it is "
			     "black, the "
			     "backing comes off before the developer");
}

void check_rem_jet_in_mixed_load(struct check_run *run)
{
	for (size_t i = 0; i < run->day->run_count; i++) {
		const struct roll *with = NULL;
		const struct roll *without = NULL;
		if (!run->runs[i] || !takes_backing_off(run->runs[i]))
			continue;
		for (const struct roll *roll = run->day->rolls; roll; roll = roll->next) {
			if (roll->run != i)
				continue;
			if (!with && backing_of(roll) == BACKING_REM_JET)
				with = roll;
			if (!without && backing_of(roll) == BACKING_NONE)
				without = roll;
		}
		if (!with || !without)
			continue;
		struct text process = intern_text(run->recipe->names, run->day->runs[i].name.name);
		struct diagnostic *finding =
			check_add(run, with->span, "rem-jet would be in the loads of `%.*s` with film that has none",
				  TEXT_ARGUMENT(process));
		check_note(run, finding, without->span, "this roll has none");
		check_help(run, finding,
			   "what comes off settles on the other films: give one kind a process of its own (`process "
			   "%.*s-2 from "
			   "%.*s { }`) and name it on the rolls",
			   TEXT_ARGUMENT(process), TEXT_ARGUMENT(process));
	}
}

/* ---- heat ------------------------------------------------------------------------------------------------------- */

static int64_t year_of(const struct roll *roll)
{
	if (span_is_set(roll->made.span))
		return roll->made.value;
	return roll->film && span_is_set(roll->film->made.span) ? roll->film->made.value : INT64_MAX;
}

static bool is_soft(const struct roll *roll)
{
	if (roll->film && roll->film->emulsion != EMULSION_UNSTATED)
		return roll->film->emulsion == EMULSION_SOFT;
	return year_of(roll) < HARDENED_SINCE;
}

/* The first bath that is too warm for a soft emulsion; a hardener before it makes it bear more. */
static const struct step *too_hot(const struct process *process)
{
	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];
		if (step->role == ROLE_pre_hardener || step->role == ROLE_hardener)
			return NULL;
		if (step->bath != BATH_AIR && step->bath != BATH_DRYER && span_is_set(step->at.span) &&
		    step->at.nominal > SOFT_MOST)
			return step;
	}
	return NULL;
}

void check_soft_emulsion_too_hot(struct check_run *run)
{
	if (!run->process || !is_soft(run->roll))
		return;
	const struct step *step = too_hot(run->process);
	if (!step)
		return;
	struct text name = intern_text(run->recipe->names, step->name);
	struct text temperature = quantity_print_temperature(run->arena, step->at.nominal);
	struct diagnostic *finding =
		check_add(run, run->roll->span, "a soft emulsion would swell and come off in the step `%.*s` at %.*s",
			  TEXT_ARGUMENT(name), TEXT_ARGUMENT(temperature));
	check_note(run, finding, step->at.span, "the step is here");
	check_help(run, finding,
		   "not above 24 °C without a hardener before; develop it as a black-and-white negative, cool, or "
		   "say `emulsion hardened` where that is known of the stock");
}

/* The dryer of the day, or else of the process. */
static const struct dryer *dryer_of(const struct check_run *run)
{
	if (run->day->dryer)
		return run->day->dryer;
	for (size_t i = 0; run->process && i < run->process->step_count; i++)
		if (run->process->steps[i].dryer)
			return run->process->steps[i].dryer;
	return NULL;
}

void check_dryer_too_hot(struct check_run *run)
{
	const struct dryer *dryer = dryer_of(run);
	bool is_nitrate = (run->roll->conditions & CONDITION_BIT(nitrate)) != 0;
	if (!dryer || is_set_aside(run->roll) || (!is_nitrate && !is_soft(run->roll)))
		return;
	if (!is_nitrate && (!span_is_set(dryer->up_to.span) || dryer->up_to.value <= SOFT_DRYER_MOST))
		return;
	struct text name = intern_text(run->recipe->names, dryer->declared.name);
	struct diagnostic *finding = check_add(run, run->roll->span, "%s must not go into the dryer `%.*s`",
					       is_nitrate ? "nitrate base" : "a soft emulsion", TEXT_ARGUMENT(name));
	check_note(run, finding, span_is_set(dryer->up_to.span) ? dryer->up_to.span : dryer->declared.name_span,
		   "it is declared here");
	check_help(run, finding,
		   is_nitrate ? "no heat: it dries hanging in the open, away from everything else"
			      : "not above 30 °C: let it dry hanging in the open, and say so in an `allow`");
}

/* ---- condition -------------------------------------------------------------------------------------------------- */

void check_nitrate_base(struct check_run *run)
{
	const struct roll *roll = run->roll;
	if ((roll->conditions & CONDITION_BIT(nitrate)) == 0 || is_set_aside(roll))
		return;
	struct diagnostic *finding =
		check_add(run, roll->conditions_span,
			  "nitrate base burns fiercely, with oxygen of its own, and cannot be put out");
	check_help(run, finding,
		   "set it aside, by itself, cool, in a vented box; no heat and no dryer; ask the fire rules of the "
		   "house before anything is done with it");
}

void check_brittle_or_shrunk(struct check_run *run)
{
	const struct roll *roll = run->roll;
	bool is_shrunk = (roll->conditions & CONDITION_BIT(shrunk)) != 0;
	if (((roll->conditions & CONDITION_BIT(brittle)) == 0 && !is_shrunk) || is_set_aside(roll))
		return;
	struct diagnostic *finding =
		check_add(run, roll->conditions_span, "%s film on a plastic reel %s", is_shrunk ? "shrunk" : "brittle",
			  is_shrunk ? "binds and buckles" : "breaks");
	check_help(
		run, finding,
		"wind it on a steel reel by hand, after a day in moist air if it is brittle; say in an `allow` how it "
		"is done");
}

void check_still_cold(struct check_run *run)
{
	const struct roll *roll = run->roll;
	if ((roll->conditions & CONDITION_BIT(frozen)) == 0 || is_set_aside(roll))
		return;
	struct diagnostic *finding =
		check_add(run, roll->conditions_span, "water condenses on film that is cold when it is opened");
	check_help(run, finding,
		   "let it warm up in its closed tin or bag, some hours from the freezer, then take `frozen` away");
}

/* ---- length ----------------------------------------------------------------------------------------------------- */

#define MM 1000
#define FOOT 304800
#define FRAME_135 38000	  /* from picture to picture; leader and tail below bring 36 of them to 1.65 m */
#define LEADER_135 282000 /* so that 36 exposures hang 1.65 m (from memory) */

/* How long a film hangs, in µm; 0 where nobody knows. All from memory but those of cine film, which formats.def has. */
static int64_t hanging_um(const struct roll *roll)
{
	if (span_is_set(roll->length.span))
		return roll->length.value;
	switch (roll->format) {
	case FORMAT_f135:
		return LEADER_135 + FRAME_135 * (span_is_set(roll->exposures.span) ? roll->exposures.value : 36);
	case FORMAT_f120:
	case FORMAT_f620:
		return 830 * MM;
	case FORMAT_f220:
		return 1650 * MM;
	case FORMAT_super_8:
		return 50 * FOOT;
	case FORMAT_double_8:
		return 25 * FOOT;
	case FORMAT_cine_16:
	case FORMAT_cine_35:
		return 100 * FOOT;
	default:
		return 0;
	}
}

void check_does_not_hang(struct check_run *run)
{
	const struct dryer *dryer = dryer_of(run);
	int64_t length = hanging_um(run->roll);
	if (!dryer || !run->process || !span_is_set(dryer->length.span) || length <= dryer->length.value)
		return;
	struct text name = intern_text(run->recipe->names, dryer->declared.name);
	int64_t centimetres = (length + 10 * MM - 1) / (10 * MM);
	int64_t room = dryer->length.value / (10 * MM);
	struct diagnostic *finding =
		check_add(run, run->roll->span,
			  "this film hangs about %" PRId64 ".%02" PRId64
			  " m, and the dryer `%.*s` has room for %" PRId64 ".%02" PRId64 " m",
			  centimetres / 100, centimetres % 100, TEXT_ARGUMENT(name), room / 100, room % 100);
	check_note(run, finding, dryer->length.span, "it is declared here");
	check_help(run, finding,
		   "hang it elsewhere, in loops or cut in two between pictures, and say so in an `allow`");
}
