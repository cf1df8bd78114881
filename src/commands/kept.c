#include "commands/kept.h"

void kept_add(struct kept *kept, const struct compilation *compilation, const struct compiled *compiled)
{
	size_t count = compilation->report.count - compiled->first_finding;
	struct kept_findings own = { compiled->process->declared.name,
				     ARENA_ARRAY(kept->arena, struct diagnostic, count), count };

	for (size_t i = 0; i < count; i++)
		own.items[i] = compilation->report.items[compiled->first_finding + i];
	ARENA_RESERVE(kept->arena, kept->processes, kept->count, kept->capacity);
	kept->processes[kept->count++] = own;
}

struct report kept_report(struct kept *kept, const struct compilation *compilation, const struct process *process)
{
	struct report own = compilation->report;

	own.count = 0;
	for (size_t i = 0; i < kept->count; i++) {
		size_t place = (kept->next + i) % kept->count;
		const struct kept_findings *found = &kept->processes[place];

		if (found->process != process->declared.name)
			continue;
		own.items = found->items;
		own.count = found->count;
		kept->next = place + 1;
		break;
	}
	return own;
}
