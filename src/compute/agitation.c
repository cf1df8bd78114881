/* When a step is agitated. */
#include "compute/agitation.h"

struct agitation_list {
	struct arena *arena;
	struct interval *items;
	size_t count;
	size_t capacity;
	size_t most;
};

static void list_add(struct agitation_list *list, int64_t start_ms, int64_t end_ms)
{
	if (end_ms <= start_ms || list->count >= list->most)
		return;
	ARENA_RESERVE(list->arena, list->items, list->count, list->capacity);
	list->items[list->count++] = (struct interval){ start_ms, end_ms };
}

/* Lists one phase that begins at `at_ms`; returns where the next one begins. Without a length of its own a
 * continuous phase goes on until the tank drains, and is none where it drains already. An agitation at the very end
 * of a phase still belongs to it, since the next one counts from there. */
static int64_t list_phase(struct agitation_list *list, const struct agitation_phase *phase, int64_t at_ms,
			  const struct timeline_step *place)
{
	int64_t step_end_ms = place->time_end_ms;
	bool is_open = !span_is_set(phase->length.span);
	int64_t end_ms = is_open ? step_end_ms : at_ms + phase->length.value;

	if (phase->is_continuous) {
		if (at_ms < step_end_ms)
			list_add(list, at_ms, is_open ? place->drain_ms : end_ms);
		return end_ms;
	}
	if (!span_is_set(phase->every.span) || !span_is_set(phase->burst.span))
		return end_ms; /* a mistake was reported */
	for (int64_t start_ms = at_ms + phase->every.value; start_ms < step_end_ms && start_ms <= end_ms;
	     start_ms += phase->every.value) {
		if (list->count >= list->most)
			break;
		list_add(list, start_ms, start_ms + phase->burst.value);
	}
	return end_ms;
}

void agitation_build(const struct step *step, struct timeline_step *place, size_t most, struct arena *arena)
{
	struct agitation_list list = { .arena = arena, .most = most };
	int64_t at_ms = place->start_ms;
	int64_t taps_ms = span_is_set(step->taps_last.span) ? step->taps_last.value : step->taps * TAP_MS;

	for (const struct agitation_phase *phase = step->agitation; phase != NULL; phase = phase->next)
		at_ms = list_phase(&list, phase, at_ms, place);
	place->agitations = list.items;
	place->agitation_count = list.count;
	if (step->taps == 0 || list.count == 0)
		return;
	place->taps = ARENA_ARRAY(arena, struct interval, list.count);
	for (size_t i = 0; i < list.count; i++)
		place->taps[i] = (struct interval){ list.items[i].end_ms, list.items[i].end_ms + taps_ms };
}
