/* This run: what is different today from what the recipe declares. */
#include "model/conditions.h"

bool conditions_are_as_declared(const struct conditions *conditions)
{
	bool has_baths = conditions->temperatures || conditions->done || conditions->in_hand;
	bool has_taps = conditions->has_hot || conditions->has_cold || conditions->has_water_bath;
	return !has_baths && !has_taps && !conditions->has_room && !conditions->has_date && !conditions->has_volume;
}

void conditions_apply(const struct conditions *conditions, struct process *process)
{
	if (!conditions->has_room)
		return;
	process->room = (struct quantity){ conditions->room, process->declared.name_span, UNIT_celsius };
}
