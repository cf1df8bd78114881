/* Whether a process may be judged. */
#include "model/soundness.h"

static bool has_error_within(const struct report *report, struct span span)
{
	for (size_t i = 0; i < report->count; i++) {
		const struct diagnostic *finding = &report->items[i];

		if (finding->severity == SEVERITY_ERROR && check_row(finding->check)->subject == SUBJECT_SOURCE &&
		    finding->span.begin >= span.begin && finding->span.begin < span.begin + span.length)
			return true;
	}
	return false;
}

static bool is_sound(const struct report *report, const struct declared *declared)
{
	return !has_error_within(report, declared->span);
}

static bool step_is_sound(const struct report *report, const struct step *step)
{
	if (step->bath == BATH_NONE || has_error_within(report, step->span)) /* its bath was lost to a mistake */
		return false;
	if (step->dryer != NULL && !is_sound(report, &step->dryer->declared))
		return false;
	for (const struct solution *solution = step->solution; solution != NULL; solution = solution->stock) {
		if (!is_sound(report, &solution->declared))
			return false;
		if (solution->graduate_name.name != 0 && solution->graduate == NULL)
			return false;
	}
	return true;
}

/* What the process names; a name whose declaration was lost leaves a null behind. */
static bool equipment_is_sound(const struct report *report, const struct process *process)
{
	if (span_is_set(process->tank_span) && (process->tank == NULL || !is_sound(report, &process->tank->declared)))
		return false;
	if (span_is_set(process->heater_span) &&
	    (process->heater == NULL || !is_sound(report, &process->heater->declared)))
		return false;
	if (span_is_set(process->thermometer_span) &&
	    (process->thermometer == NULL || !is_sound(report, &process->thermometer->declared)))
		return false;
	for (size_t i = 0; i < process->graduate_count; i++)
		if (!is_sound(report, &process->graduates[i]->declared))
			return false;
	for (size_t i = 0; i < process->film_count; i++)
		if (!is_sound(report, &process->films[i]->declared))
			return false;
	return true;
}

bool process_is_sound(const struct recipe *recipe, const struct process *process)
{
	const struct report *report = recipe->report;

	if (report->errors == 0)
		return true;
	if (!is_sound(report, &process->declared) || !equipment_is_sound(report, process))
		return false;
	for (size_t i = 0; i < process->step_count; i++)
		if (!step_is_sound(report, &process->steps[i]))
			return false;
	return true;
}
