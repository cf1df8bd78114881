/* This run: what is different today from what the recipe declares. */
#include "model/conditions.h"

void conditions_apply(const struct conditions *conditions, struct process *process)
{
	if (!conditions->has_room)
		return;
	process->room = (struct quantity){ conditions->room, process->declared.name_span, UNIT_celsius };
}
