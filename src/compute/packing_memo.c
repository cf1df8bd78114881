/* What a search has found out about a state, remembered in a table of fixed size. A state is known by 128 bits: that
 * two of the few millions of a search agree in all of them is less likely than that memory errs. */
#include "compute/packing_parts.h"

struct packing_memory {
	struct packing_key key;
	int64_t value;
};

/* Places in which a key may lie. */
#define NEIGHBOURS 4

/* Mixes 64 bits, one to one: the finalizer of splitmix64 (Steele, Lea, Flood, 2014; constants from memory). */
static uint64_t mix(uint64_t bits)
{
	bits = (bits ^ (bits >> 30)) * UINT64_C(0xbf58476d1ce4e5b9);
	bits = (bits ^ (bits >> 27)) * UINT64_C(0x94d049bb133111eb);
	return bits ^ (bits >> 31);
}

struct packing_memo packing_memo_make(size_t bits, struct arena *arena)
{
	struct packing_memo memo = { .mask = ((size_t)1 << bits) - 1 };

	memo.memories = ARENA_ARRAY(arena, struct packing_memory, memo.mask + NEIGHBOURS);
	return memo;
}

struct packing_key packing_key_add(struct packing_key key, uint64_t value)
{
	key.high = mix(key.high + value + UINT64_C(0x9e3779b97f4a7c15));
	key.low = mix((key.low ^ UINT64_C(0xd1b54a32d192ed03)) + 3 * value);
	return key;
}

struct packing_key packing_key_sum(struct packing_key left, struct packing_key right)
{
	return (struct packing_key){ left.high + right.high, left.low + right.low };
}

bool packing_memo_find(const struct packing_memo *memo, struct packing_key key, int64_t *value)
{
	const struct packing_memory *memory = &memo->memories[key.low & memo->mask];

	for (size_t i = 0; i < NEIGHBOURS; i++)
		if (memory[i].key.high == key.high && memory[i].key.low == key.low) {
			*value = memory[i].value;
			return true;
		}
	return false;
}

/* Into its own place or an empty one beside it, else over the one that its other bits choose. */
void packing_memo_store(struct packing_memo *memo, struct packing_key key, int64_t value)
{
	struct packing_memory *memory = &memo->memories[key.low & memo->mask];
	size_t at = key.high % NEIGHBOURS;

	for (size_t i = 0; i < NEIGHBOURS; i++) {
		bool is_same = memory[i].key.high == key.high && memory[i].key.low == key.low;

		if (is_same || (memory[i].key.high == 0 && memory[i].key.low == 0)) {
			at = i;
			break;
		}
	}
	memory[at] = (struct packing_memory){ key, value };
}
