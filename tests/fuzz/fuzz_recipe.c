/* Any bytes as a recipe: read, resolved, checked and, where it may be, made into products, of processes and of days.
 * Whatever it is, nothing may crash, hang or leak. */
#include "products.h"

/* Products, as many as there are, in turns: by the bytes themselves, so that the same bytes always give the same. */
#define TURNS 4

static void run(struct arena *arena, struct text bytes)
{
	product_set wanted = 0;
	size_t turn = bytes.length;

	for (size_t i = 0; i < bytes.length; i++)
		turn = turn * 31 + (unsigned char)bytes.data[i];
	for (int id = 0; id < EMITTER_COUNT; id++)
		wanted |= (product_set)((size_t)id % TURNS == turn % TURNS) << id;
	products_make(arena, bytes, wanted, NULL);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	products_in_arena(run, bytes, length);
	return 0;
}
