/* The checks of group "order" about slides: what must and must not stand between their two developments. */
#include "check/checks.h"
#include "check/sequence.h"

#define ACTIONS_WATER (ACTION_BIT(WASHES) | ACTION_BIT(RINSES))

/* Baths that work in the next one and must stay in the film until then. The reversal bath: US Army SS0514, p. 4-3, "no
 * wash after it"; the conditioner, which is the older pre-bleach, from memory. */
static bool must_stay(enum role_id role)
{
	return role == ROLE_reversal_bath || role == ROLE_pre_bleach || role == ROLE_conditioner;
}

void check_wash_after_reversal_bath(struct check_run *run)
{
	if (run->step_index == 0 || !sequence_acts(run->step, ACTIONS_WATER))
		return;
	const struct step *before = &run->process->steps[run->step_index - 1];
	if (!must_stay(before->role))
		return;
	struct text title = role_row(before->role)->title;
	struct diagnostic *finding = check_add(run, sequence_bath_span(run->step),
					       "%.*s takes the %.*s out of the film before it has done its work",
					       TEXT_ARGUMENT(sequence_name(run, run->step)), TEXT_ARGUMENT(title));
	check_help(run, finding, "leave it out: film goes from the %.*s straight into the next bath",
		   TEXT_ARGUMENT(title));
	check_note(run, finding, before->name_span, "the %.*s", TEXT_ARGUMENT(title));
}

/* The second development: the first developer that does not just follow another developer. */
static size_t second_development(const struct process *process, size_t first)
{
	for (size_t i = first + 1; i < process->step_count; i++)
		if (sequence_acts(&process->steps[i], ACTIONS_DEVELOP) &&
		    (process->steps[i].role == ROLE_colour_developer ||
		     !sequence_acts(&process->steps[i - 1], ACTIONS_DEVELOP)))
			return i;
	return SEQUENCE_NONE;
}

/* Only where the family is reversed by light: elsewhere the second developer may fog by itself. */
void check_no_reversal(struct check_run *run)
{
	const struct process *process = run->process;
	const struct family_row *family = sequence_family(process);
	if (!family || family->light != LIGHT_AT_EXPOSING || process->is_rescue || !run->is_complete)
		return;
	size_t first = sequence_find(process, 0, process->step_count, ACTIONS_DEVELOP);
	if (first == SEQUENCE_NONE)
		return;
	size_t second = second_development(process, first);
	size_t end = second == SEQUENCE_NONE ? process->step_count : second;
	if (sequence_find(process, first, end, ACTION_BIT(FOGS)) != SEQUENCE_NONE)
		return;
	struct diagnostic *finding;
	if (second == SEQUENCE_NONE)
		finding = check_add(run, process->declared.name_span,
				    "%.*s makes slides, but nothing exposes or fogs the film after %.*s",
				    TEXT_ARGUMENT(family->word),
				    TEXT_ARGUMENT(sequence_name(run, &process->steps[first])));
	else
		finding = check_add(run, sequence_bath_span(&process->steps[second]),
				    "nothing exposes or fogs the film before %.*s, which has nothing to develop",
				    TEXT_ARGUMENT(sequence_name(run, &process->steps[second])));
	check_help(run, finding,
		   "add `step expose in light { expose 5 s each side }` after the first developer and its wash");
	check_note(run, finding, process->steps[first].name_span, "the first developer");
}

void check_first_wash_not_exact(struct check_run *run)
{
	const struct process *process = run->process;
	const struct step *step = run->step;
	if (!sequence_is_slide(process) || run->step_index == 0 || !sequence_acts(step, ACTIONS_WATER) ||
	    !span_is_set(step->time.span) || step->time.form == TIME_EXACT)
		return;
	size_t before = run->step_index - 1;
	if (!sequence_acts(&process->steps[before], ACTIONS_DEVELOP) ||
	    sequence_find(process, 0, before, ACTIONS_DEVELOP | ACTION_BIT(FOGS)) != SEQUENCE_NONE)
		return;
	struct diagnostic *finding =
		check_add(run, step->time.span, "%.*s lasts %.*s; development goes on until it is washed out",
			  TEXT_ARGUMENT(sequence_name(run, step)),
			  TEXT_ARGUMENT(quantity_print_time_window(run->arena, &step->time)));
	check_help(run, finding, "give it one time, as in `for %.*s`",
		   TEXT_ARGUMENT(sequence_duration(run, step->time.low_ms)));
	check_note(run, finding, process->steps[before].name_span, "the first developer");
}

void check_no_clearing(struct check_run *run)
{
	const struct process *process = run->process;
	class_set oxidisers = CLASS_BIT(permanganate) | CLASS_BIT(dichromate);
	class_set classes = sequence_classes(run, run->step);
	if (!sequence_acts(run->step, ACTION_BIT(BLEACHES)) || (classes & oxidisers) == 0 || !run->is_complete)
		return;
	size_t next = sequence_find(process, run->step_index + 1, process->step_count,
				    ACTION_BIT(CLEARS) | ACTIONS_DEVELOP | ACTIONS_FIX | ACTION_BIT(ENDS));
	if (next != SEQUENCE_NONE && sequence_acts(&process->steps[next], ACTION_BIT(CLEARS)))
		return;
	struct text name = sequence_name(run, run->step);
	struct text oxidiser =
		class_row((classes & CLASS_BIT(permanganate)) != 0 ? CLASS_permanganate : CLASS_dichromate)->title;
	struct diagnostic *finding;
	if (next == SEQUENCE_NONE)
		finding = check_add(run, sequence_bath_span(run->step),
				    "no clearing bath after %.*s takes its %.*s out again", TEXT_ARGUMENT(name),
				    TEXT_ARGUMENT(oxidiser));
	else
		finding = check_add(run, sequence_bath_span(run->step),
				    "no clearing bath between %.*s and %.*s takes the %.*s out again",
				    TEXT_ARGUMENT(name), TEXT_ARGUMENT(sequence_name(run, &process->steps[next])),
				    TEXT_ARGUMENT(oxidiser));
	check_help(run, finding,
		   "put a clearing bath (sulfite or metabisulfite) after it, with a wash before and after");
	if (next != SEQUENCE_NONE)
		check_note(run, finding, process->steps[next].name_span, "this bath would meet it");
}
