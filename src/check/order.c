/* The checks of group "order" about development, fix and the last baths. Those about slides are in reversal.c, about
 * light in light.c, about what is carried from bath to bath in carry_over.c. */
#include "check/checks.h"
#include "check/sequence.h"

/* Colour stocks made before this year need an aldehyde or hexamine stabiliser for their dyes. From memory. */
#define STABLE_DYES_SINCE 2000

static struct text process_name(const struct check_run *run)
{
	return intern_text(run->recipe->names, run->process->declared.name);
}

void check_no_developer(struct check_run *run)
{
	const struct process *process = run->process;
	if (process->is_rescue || !run->is_complete ||
	    sequence_find(process, 0, process->step_count, ACTIONS_DEVELOP) != SEQUENCE_NONE)
		return;
	struct diagnostic *finding =
		check_add(run, process->declared.name_span, "no step of %.*s is in a developer or monobath",
			  TEXT_ARGUMENT(process_name(run)));
	check_help(run, finding,
		   "add the developing step, or say `rescue` where film is only fixed, bleached or washed again");
}

void check_no_fix(struct check_run *run)
{
	const struct process *process = run->process;
	if (process->is_rescue || !run->is_complete ||
	    sequence_find(process, 0, process->step_count, ACTIONS_FIX) != SEQUENCE_NONE)
		return;
	struct diagnostic *finding =
		check_add(run, process->declared.name_span, "no step of %.*s is in a fix, bleach-fix or monobath",
			  TEXT_ARGUMENT(process_name(run)));
	check_help(run, finding, "add the fixing step: what is left undeveloped goes dark in the light");
}

void check_fix_before_developer(struct check_run *run)
{
	size_t developer = sequence_fixed_before(run->process, run->step_index);
	if (developer == SEQUENCE_NONE || !run->is_complete)
		return;
	const struct step *later = &run->process->steps[developer];
	struct diagnostic *finding =
		check_add(run, sequence_bath_span(run->step),
			  "%.*s takes out the silver halide that %.*s is to blacken",
			  TEXT_ARGUMENT(sequence_name(run, run->step)), TEXT_ARGUMENT(sequence_name(run, later)));
	check_help(run, finding, "put it after %.*s", TEXT_ARGUMENT(sequence_name(run, later)));
	check_note(run, finding, later->name_span, "the developer comes here");
}

void check_no_wash_before_final_rinse(struct check_run *run)
{
	const struct process *process = run->process;
	if (process->is_washless || !sequence_acts(run->step, ACTION_BIT(ENDS)) || !run->is_complete)
		return;
	/* what was last of these three decides */
	size_t last = sequence_find_last(process, run->step_index, ACTIONS_FIX | ACTION_BIT(WASHES) | ACTION_BIT(ENDS));
	if (last == SEQUENCE_NONE || !sequence_acts(&process->steps[last], ACTIONS_FIX))
		return;
	struct diagnostic *finding =
		check_add(run, sequence_bath_span(run->step), "no wash between %.*s and %.*s: fixer stays in the film",
			  TEXT_ARGUMENT(sequence_name(run, &process->steps[last])),
			  TEXT_ARGUMENT(sequence_name(run, run->step)));
	check_help(run, finding, "put a wash before it, or say `washless` where the baths are made for that");
	check_note(run, finding, process->steps[last].name_span, "fixer is carried from here");
}

void check_wash_after_final_rinse(struct check_run *run)
{
	const struct process *process = run->process;
	if (!sequence_acts(run->step, ACTION_BIT(WASHES) | ACTION_BIT(RINSES)) || !run->is_complete)
		return;
	size_t last = sequence_find_last(process, run->step_index, ACTION_BIT(ENDS));
	if (last == SEQUENCE_NONE)
		return;
	const struct step *ending = &process->steps[last];
	for (size_t i = run->step_index + 1; i < process->step_count; i++)
		if (process->steps[i].role == ending->role)
			return; /* it is given again */
	struct diagnostic *finding =
		check_add(run, sequence_bath_span(run->step), "%.*s takes %.*s out of the film again",
			  TEXT_ARGUMENT(sequence_name(run, run->step)), TEXT_ARGUMENT(sequence_name(run, ending)));
	check_help(run, finding, "end with %.*s, and dry", TEXT_ARGUMENT(sequence_name(run, ending)));
	check_note(run, finding, ending->name_span, "this bath is to stay in the film");
}

void check_no_neutraliser(struct check_run *run)
{
	const struct process *process = run->process;
	if (run->step->role != ROLE_pre_hardener || !run->is_complete)
		return;
	size_t developer = sequence_find(process, run->step_index + 1, process->step_count, ACTIONS_DEVELOP);
	if (developer == SEQUENCE_NONE)
		return;
	for (size_t i = run->step_index + 1; i < developer; i++)
		if (process->steps[i].role == ROLE_neutraliser)
			return;
	struct diagnostic *finding =
		check_add(run, sequence_bath_span(run->step),
			  "no neutraliser between %.*s and %.*s: the hardener's aldehyde fogs the film",
			  TEXT_ARGUMENT(sequence_name(run, run->step)),
			  TEXT_ARGUMENT(sequence_name(run, &process->steps[developer])));
	check_help(run, finding, "put a neutraliser straight after it");
	check_note(run, finding, process->steps[developer].name_span, "the developer comes here");
}

/* Families whose films form colour dyes from couplers of their own, which is what a stabiliser is for. */
static bool wants_stabiliser(enum family_id family)
{
	switch (family) {
	case FAMILY_k_11:
	case FAMILY_k_12:
	case FAMILY_k_14:
	case FAMILY_ra_4:
		return false;
	default:
		return family_is_colour(family);
	}
}

/* A stabiliser by role or by what is in it; in E-6 a pre-bleach or conditioner brings the aldehyde along. */
static bool is_stabilising(const struct check_run *run, const struct step *step)
{
	if (step->role == ROLE_pre_bleach || step->role == ROLE_conditioner)
		return run->process->family == FAMILY_e_6;
	return step->role == ROLE_stabiliser ||
	       (sequence_acts(step, ACTION_BIT(ENDS)) && (sequence_classes(run, step) & CLASS_BIT(formaldehyde)) != 0);
}

static const struct film *oldest_film(const struct process *process)
{
	const struct film *oldest = NULL;
	for (size_t i = 0; i < process->film_count; i++) {
		const struct film *film = process->films[i];
		if (span_is_set(film->made.span) && (!oldest || film->made.value < oldest->made.value))
			oldest = film;
	}
	return oldest;
}

void check_stabiliser_missing(struct check_run *run)
{
	const struct process *process = run->process;
	const struct film *film = oldest_film(process);
	if (!film || film->made.value >= STABLE_DYES_SINCE || !wants_stabiliser(process->family) || !run->is_complete)
		return;
	for (size_t i = 0; i < process->step_count; i++)
		if (is_stabilising(run, &process->steps[i]))
			return;
	size_t last = sequence_find_last(process, process->step_count, ACTION_BIT(ENDS));
	struct span span =
		last == SEQUENCE_NONE ? process->declared.name_span : sequence_bath_span(&process->steps[last]);
	struct diagnostic *finding = check_add(run, span, "%.*s, made in %lld, gets no stabiliser: its dyes will fade",
					       TEXT_ARGUMENT(intern_text(run->recipe->names, film->declared.name)),
					       (long long)film->made.value);
	check_help(run, finding,
		   "colour stocks from before %d want a stabiliser with formaldehyde or hexamine as their last bath",
		   STABLE_DYES_SINCE);
	check_note(run, finding, film->made.span, "the film's year");
}
