#include "model/number_map.h"

#include <stdbool.h>

#define FIRST_SLOTS 16

struct number_slot {
	uint32_t number; /* 0: free */
	void *value;
};

/* The slot of a number: the one that holds it, or the free one where it belongs. Neighbours in number go far apart
 * (2^32 divided by the golden ratio). */
static struct number_slot *slot_of(const struct number_map *map, uint32_t number)
{
	uint32_t spread = number * 2654435769u;
	size_t mask = map->slot_count - 1;
	size_t slot = (spread ^ (spread >> 16)) & mask;

	while (map->slots[slot].number != 0 && map->slots[slot].number != number)
		slot = (slot + 1) & mask;
	return &map->slots[slot];
}

void *number_map_find(const struct number_map *map, uint32_t number)
{
	return map->slot_count == 0 ? NULL : slot_of(map, number)->value;
}

static void double_slots(struct number_map *map, struct arena *arena)
{
	struct number_map larger = { .slot_count = map->slot_count == 0 ? FIRST_SLOTS : map->slot_count * 2 };

	larger.slots = ARENA_ARRAY(arena, struct number_slot, larger.slot_count);
	larger.count = map->count;
	for (size_t i = 0; i < map->slot_count; i++)
		if (map->slots[i].number != 0)
			*slot_of(&larger, map->slots[i].number) = map->slots[i];
	*map = larger;
}

void number_map_put(struct number_map *map, struct arena *arena, uint32_t number, void *value)
{
	struct number_slot *slot;

	if (map->count * 2 >= map->slot_count)
		double_slots(map, arena);
	slot = slot_of(map, number);
	map->count += slot->number == 0;
	*slot = (struct number_slot){ number, value };
}
