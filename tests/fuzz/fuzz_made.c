/* Any bytes as the choices of which a recipe is made that is well, so that what lies behind the checks is reached. Says
 * at its end how many were well indeed, and which products were never made. SHOW=1 writes each recipe out. */
#include <inttypes.h>
#include <stdio.h>
#include <stdlib.h>
#include <unistd.h>

#include "products.h"
#include "recipe_maker.h"

/* Products, as many as there are, in turns. */
#define TURNS 6

static struct {
	uint64_t recipes, well;
	size_t made[EMITTER_COUNT];
} counts;

static void tell(void)
{
	fprintf(stderr, "recipes: %" PRIu64 ", of which %" PRIu64 " are well (%.1f %%); never made:", counts.recipes,
		counts.well, counts.recipes == 0 ? 0.0 : 100.0 * (double)counts.well / (double)counts.recipes);
	for (int id = 0; id < EMITTER_COUNT; id++) {
		const struct emitter_row *row = emitter_row((enum emitter_id)id);

		if (counts.made[id] == 0)
			fprintf(stderr, " %.*s.%.*s", TEXT_ARGUMENT(row->product), TEXT_ARGUMENT(row->format));
	}
	fputc('\n', stderr);
}

static void run(struct arena *arena, struct text bytes)
{
	struct maker maker = { .bytes = (const unsigned char *)bytes.data, .left = bytes.length };
	unsigned turn = maker_pick(&maker, TURNS);
	product_set wanted = 0;
	struct text recipe = recipe_make(arena, &maker);

	if (getenv("SHOW") != NULL) {
		printf("%.*s", TEXT_ARGUMENT(recipe));
		fflush(stdout);
		_exit(0);
	}
	for (unsigned id = turn; id < EMITTER_COUNT; id += TURNS)
		wanted |= (product_set)1 << id;
	if (counts.recipes++ == 0)
		atexit(tell);
	counts.well += products_make(arena, recipe, wanted, counts.made);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	products_in_arena(run, bytes, length);
	return 0;
}
