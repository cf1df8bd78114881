#include "check/allowance.h"

const struct allowance *allowance_in_list(const struct allowance *list, enum check_id check)
{
	while (list && list->check != check)
		list = list->next;
	return list;
}

/* What the process names besides its baths: the tank, the vessels, the films. */
static const struct allowance *find_in_equipment(const struct check_run *run)
{
	const struct process *process = run->process;
	const struct allowance *found = NULL;
	if (process->tank)
		found = allowance_in_list(process->tank->declared.allowances, run->check);
	if (!found && process->heater)
		found = allowance_in_list(process->heater->declared.allowances, run->check);
	if (!found && process->thermometer)
		found = allowance_in_list(process->thermometer->declared.allowances, run->check);
	for (size_t i = 0; !found && i < process->graduate_count; i++)
		found = allowance_in_list(process->graduates[i]->declared.allowances, run->check);
	for (size_t i = 0; !found && i < process->film_count; i++)
		found = allowance_in_list(process->films[i]->declared.allowances, run->check);
	return found;
}

static const struct allowance *find_in_files(const struct check_run *run, struct span span)
{
	const struct source_set *sources = run->recipe->sources;
	const struct source_file *file = source_file_of(sources, span);
	struct span own = run->day ? run->day->declared.name_span : run->process->declared.name_span;
	const struct source_file *home = source_file_of(sources, own);
	const struct allowance *allowance = allowance_in_list(run->recipe->allowances, run->check);
	while (allowance) {
		const struct source_file *here = source_file_of(sources, allowance->span);
		if (here == file || here == home)
			return allowance;
		allowance = allowance_in_list(allowance->next, run->check);
	}
	return NULL;
}

static const struct allowance *find_in_day(const struct check_run *run)
{
	const struct allowance *found = NULL;
	if (run->roll)
		found = allowance_in_list(run->roll->allowances, run->check);
	if (!found && run->roll && run->roll->film)
		found = allowance_in_list(run->roll->film->declared.allowances, run->check);
	if (!found && run->solution)
		found = allowance_in_list(run->solution->declared.allowances, run->check);
	return found ? found : allowance_in_list(run->day->declared.allowances, run->check);
}

const struct allowance *allowance_find(const struct check_run *run, struct span span)
{
	if (!check_row(run->check)->may_allow)
		return NULL;
	const struct allowance *found = NULL;
	if (run->day) {
		found = find_in_day(run);
		return found ? found : find_in_files(run, span);
	}
	if (run->step)
		found = allowance_in_list(run->step->allowances, run->check);
	if (!found && run->solution)
		found = allowance_in_list(run->solution->declared.allowances, run->check);
	if (!found)
		found = allowance_in_list(run->process->declared.allowances, run->check);
	if (!found)
		found = find_in_equipment(run);
	return found ? found : find_in_files(run, span);
}
