/* From files to a recipe: reading them and what they use, and collecting what they declare. */
#ifndef MODEL_LOAD_H
#define MODEL_LOAD_H

#include "model/recipe.h"

/** Where `use` looks after the folder of the using file. */
struct search_path {
	const struct text *folders;
	size_t count;
};

/** Loads a main file, already read into `sources`, and all it uses; resolves everything but processes (see
 * process_resolve). Everything lives in `arena`; mistakes go to `report`. Never null. */
struct recipe *recipe_load(struct source_set *sources, struct source_file *file, const struct search_path *path,
			   struct arena *arena, struct report *report);

#endif
