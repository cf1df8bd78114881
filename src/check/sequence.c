#include "check/sequence.h"

/* A role that was said, or follows from a bath that is known. */
static bool has_role(const struct step *step)
{
	if (span_is_set(step->role_span))
		return true;
	if (step->bath == BATH_SOLUTION)
		return span_is_set(step->solution->role_span);
	return step->bath != BATH_NONE;
}

bool sequence_acts(const struct step *step, unsigned actions)
{
	return has_role(step) && (actions >> role_row(step->role)->action & 1u) != 0;
}

const struct family_row *sequence_family(const struct process *process)
{
	return span_is_set(process->family_span) ? family_row(process->family) : NULL;
}

bool sequence_family_is(const struct process *process, enum family_kind kind)
{
	const struct family_row *row = sequence_family(process);
	return row && row->kind == kind;
}

bool sequence_is_slide(const struct process *process)
{
	return sequence_family_is(process, FAMILY_KIND_BLACK_AND_WHITE_REVERSAL) ||
	       sequence_family_is(process, FAMILY_KIND_COLOUR_REVERSAL);
}

bool sequence_is_complete(const struct check_run *run)
{
	if (run->recipe->has_parse_errors || run->process->step_count == 0 || !sequence_family(run->process))
		return false;
	for (size_t i = 0; i < run->process->step_count; i++)
		if (!has_role(&run->process->steps[i]))
			return false;
	return true;
}

size_t sequence_find(const struct process *process, size_t from, size_t end, unsigned actions)
{
	for (size_t i = from; i < end; i++)
		if (sequence_acts(&process->steps[i], actions))
			return i;
	return SEQUENCE_NONE;
}

size_t sequence_find_last(const struct process *process, size_t end, unsigned actions)
{
	for (size_t i = end; i-- > 0;)
		if (sequence_acts(&process->steps[i], actions))
			return i;
	return SEQUENCE_NONE;
}

size_t sequence_fixed_before(const struct process *process, size_t index)
{
	if (process->is_rescue || !sequence_acts(&process->steps[index], ACTIONS_FIX & ~ACTIONS_DEVELOP))
		return SEQUENCE_NONE;
	size_t next = sequence_find(process, index + 1, process->step_count, ACTIONS_DEVELOP | ACTION_BIT(BLEACHES));
	if (next == SEQUENCE_NONE || sequence_acts(&process->steps[next], ACTIONS_DEVELOP))
		return next;
	/* a bleach comes first: it gives back what was developed before the fix, and there is nothing else */
	if (sequence_find(process, 0, index, ACTIONS_DEVELOP) != SEQUENCE_NONE)
		return SEQUENCE_NONE;
	return sequence_find(process, next, process->step_count, ACTIONS_DEVELOP);
}

class_set sequence_classes(const struct check_run *run, const struct step *step)
{
	class_set classes = 0;
	const struct solution *solution = step->solution;
	/* a chain longer than there are solutions goes in a circle */
	for (size_t length = 0; solution && length < run->recipe->solution_count; length++) {
		classes |= solution->contains;
		solution = solution->stock;
	}
	return classes;
}

bool sequence_has_emulsion(const struct process *process, enum emulsion emulsion, const struct film **film)
{
	for (size_t i = 0; i < process->film_count; i++)
		if (process->films[i]->emulsion == emulsion) {
			*film = process->films[i];
			return true;
		}
	return false;
}

struct text sequence_name(const struct check_run *run, const struct step *step)
{
	return intern_text(run->recipe->names, step->name);
}

struct span sequence_bath_span(const struct step *step)
{
	return span_is_set(step->bath_span) ? step->bath_span : step->name_span;
}

int64_t sequence_least_time(const struct step *step)
{
	return span_is_set(step->time.span) ? step->time.low_ms : 0;
}

struct text sequence_duration(const struct check_run *run, int64_t duration_ms)
{
	return quantity_print_duration(run->arena, duration_ms);
}
