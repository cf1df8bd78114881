/* Who names what: every name that a recipe's files declare or refer to, where it stands, and what it means. */
#ifndef MODEL_NAMES_H
#define MODEL_NAMES_H

#include "model/recipe.h"
#include "syntax/tree.h"

/** Names are told apart by kind; solutions and dryers share one, since both are baths to a step. */
enum name_kind {
	NAME_OF_TANK,
	NAME_OF_GRADUATE,
	NAME_OF_HEATER,
	NAME_OF_THERMOMETER,
	NAME_OF_BATH,
	NAME_OF_FILM,
	NAME_OF_PROCESS,
	NAME_OF_STEP
};

/** One place where a name stands. */
struct name_use {
	enum name_kind kind;
	uint32_t name;
	uint32_t process; /* of a step: the one it is written in; else 0 */
	uint32_t owner;	  /* of a step: the process that has it first, the others vary that one; else 0 */
	uint32_t root;	  /* of a step: the process that varies no other, at the head of the line; else 0 */
	struct span span;
	bool is_declaration;
	const struct tree *tree;
	node_index node; /* of a declaration: the whole of it */
};

struct name_uses {
	struct name_use *items;
	size_t count;
	size_t capacity;
};

/** How many files a recipe is made of. */
size_t recipe_file_count(const struct recipe *recipe);

/** The tree of one of them, null where it was not parsed; the main file is the first. */
const struct tree *recipe_tree(const struct recipe *recipe, size_t file);

/** All names of a recipe, file by file, in `arena`. */
struct name_uses name_uses_of(const struct recipe *recipe, struct arena *arena);

/** True where both mean the same thing. */
bool name_use_is_same(const struct name_use *a, const struct name_use *b);

#endif
