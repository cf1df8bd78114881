/* What one bath carries into the next: one table of pairs (carry_over.def), read by two checks. */
#include "check/checks.h"
#include "check/sequence.h"

/* An acid bath of this pH or below counts as strongly acid, in thousandths ("pH below about 4", common practice). */
#define STRONG_ACID_BELOW_PH 4000

/* What keeps two baths apart: one of these between them. STOP_AND_WASH wants one of each kind. */
enum barrier { RINSE, WASH, STOP_AND_WASH };

struct pair {
	enum check_id check;
	unsigned from_actions;
	class_set from_classes;
	unsigned to_actions;
	class_set to_classes;
	enum barrier barrier;
	bool is_for_soft_emulsion;
	const char *why;
	const char *help;
};

static const struct pair pairs[] = {
#define CARRY_OVER(check, id, from_actions, from_classes, to_actions, to_classes, barrier, soft, why, help)            \
	{ CHECK_##check, from_actions, from_classes, to_actions, to_classes, barrier, soft, why, help },
#include "check/carry_over.def"
#undef CARRY_OVER
};

#define PAIR_COUNT (sizeof(pairs) / sizeof(pairs[0]))

/* Baths that stop a developer: a stop, a clearing bath, an acid hardener. */
static bool is_stopping(const struct step *step)
{
	return sequence_acts(step, ACTION_BIT(STOPS) | ACTION_BIT(CLEARS)) || step->role == ROLE_hardener;
}

/* The classes in a bath; a pH says of an acid how strong it is. */
static class_set classes_of(const struct check_run *run, const struct step *step)
{
	class_set classes = sequence_classes(run, step);
	if (step->solution && span_is_set(step->solution->ph.span) && step->solution->ph.value < STRONG_ACID_BELOW_PH)
		classes |= CLASS_BIT(strong_acid);
	return classes;
}

static bool is_bath(const struct check_run *run, const struct step *step, unsigned actions, class_set classes)
{
	return sequence_acts(step, actions) && (classes == 0 || (classes_of(run, step) & classes) != 0);
}

/* True where the steps after `from` up to `to` keep the two baths apart. */
static bool is_kept_apart(const struct process *process, enum barrier barrier, size_t from, size_t to)
{
	bool is_stopped = false, is_washed = false, is_rinsed = false;
	for (size_t i = from + 1; i < to; i++) {
		is_stopped |= is_stopping(&process->steps[i]);
		is_washed |= sequence_acts(&process->steps[i], ACTION_BIT(WASHES));
		is_rinsed |= sequence_acts(&process->steps[i], ACTION_BIT(RINSES));
	}
	switch (barrier) {
	case RINSE:
		return is_rinsed || is_washed;
	case WASH:
		return is_washed;
	case STOP_AND_WASH:
		return is_stopped && is_washed;
	}
	return true;
}

/* The last bath before the step in the run from which the pair carries into it, or SEQUENCE_NONE. */
static size_t source_of(const struct check_run *run, const struct pair *pair)
{
	if (!is_bath(run, run->step, pair->to_actions, pair->to_classes))
		return SEQUENCE_NONE;
	for (size_t i = run->step_index; i-- > 0;)
		if (is_bath(run, &run->process->steps[i], pair->from_actions, pair->from_classes))
			return is_kept_apart(run->process, pair->barrier, i, run->step_index) ? SEQUENCE_NONE : i;
	return SEQUENCE_NONE;
}

static void run_pair(struct check_run *run, const struct pair *pair)
{
	const struct film *soft = NULL;
	if (pair->is_for_soft_emulsion && !sequence_has_emulsion(run->process, EMULSION_SOFT, &soft))
		return;
	size_t from = source_of(run, pair);
	/* where the fix comes too early altogether, fix-before-developer has said so */
	if (from == SEQUENCE_NONE || sequence_fixed_before(run->process, from) == run->step_index)
		return;
	const struct step *source = &run->process->steps[from];
	struct diagnostic *finding = check_add(run, sequence_bath_span(run->step), "%.*s after %.*s: %s",
					       TEXT_ARGUMENT(sequence_name(run, run->step)),
					       TEXT_ARGUMENT(sequence_name(run, source)), pair->why);
	check_help(run, finding, "put %s between them", pair->help);
	check_note(run, finding, source->name_span, "carried from here");
	if (soft)
		check_note(run, finding, soft->declared.name_span, "its emulsion is soft");
}

static void run_pairs(struct check_run *run)
{
	if (!run->is_complete)
		return;
	for (size_t i = 0; i < PAIR_COUNT; i++)
		if (pairs[i].check == run->check)
			run_pair(run, &pairs[i]);
}

void check_carry_over(struct check_run *run)
{
	run_pairs(run);
}

void check_stop_blisters(struct check_run *run)
{
	run_pairs(run);
}
