/* Values by a number: a name's, or a place in the sources. Private to model/. */
#ifndef MODEL_NUMBER_MAP_H
#define MODEL_NUMBER_MAP_H

#include <stdint.h>

#include "support/arena.h"

/** Empty where it is zeroed. */
struct number_map {
	struct number_slot *slots; /* open addressing */
	size_t slot_count;	   /* a power of two */
	size_t count;
};

/** The value of a number that is not 0; null where it has none. */
void *number_map_find(const struct number_map *map, uint32_t number);

/** Gives a number that is not 0 a value, in the place of one that it had. Room comes from `arena`. */
void number_map_put(struct number_map *map, struct arena *arena, uint32_t number, void *value);

#endif
