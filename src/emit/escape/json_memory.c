#include "emit/escape/json_memory.h"

#include <jansson.h>
#include <stddef.h>

/* jansson's callbacks carry no context, so the arena at hand is kept here. */
static _Thread_local struct arena *current_arena;

static void *allocate(size_t size)
{
	return arena_alloc(current_arena, (size + sizeof(max_align_t) - 1) / sizeof(max_align_t), sizeof(max_align_t));
}

static void give_back(void *block)
{
	(void)block; /* goes with its arena */
}

struct arena *json_memory_use(struct arena *arena)
{
	struct arena *before = current_arena;

	current_arena = arena;
	json_set_alloc_funcs(allocate, give_back);
	return before;
}
