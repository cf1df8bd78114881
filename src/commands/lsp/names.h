/* Everything that means the same thing as a name under the cursor, in every recipe that reads its declaration. */
#ifndef COMMANDS_LSP_NAMES_H
#define COMMANDS_LSP_NAMES_H

#include "commands/lsp/server.h"
#include "model/names.h"

/** One recipe that was looked through. */
struct names_recipe {
	const struct recipe *recipe;
	struct name_uses uses;
	uint32_t name; /* of what is looked for, in this recipe's numbers */
	uint32_t owner;
	uint32_t root;
};

/** One place, each once. */
struct names_place {
	struct text uri;
	const struct names_recipe *recipe;
	const struct name_use *use;
};

struct names_search {
	const struct request *request;
	struct name_use wanted;
	const struct name_use *declaration; /* null: it is declared nowhere */
	const struct recipe *origin;
	struct names_place *places;
	size_t count;
	size_t capacity;
	struct names_recipe **recipes;
	size_t recipe_count;
	size_t recipe_capacity;
};

/** The name at an address of a document; null where none stands there. */
const struct name_use *names_at(const struct name_uses *uses, uint32_t address);

/** Where a thing is declared in its own recipe, or null. */
const struct name_use *names_declaration(const struct name_uses *uses, const struct name_use *use);

/** Looks for a name everywhere: in what is open and in the recipes of the workspace. */
void names_search(struct names_search *search, const struct request *request, const struct document *document,
		  const struct name_uses *uses, const struct name_use *use);

/** A kind of name in a reader's words: "tank", "bath". */
const char *names_kind_word(enum name_kind kind);

#endif
