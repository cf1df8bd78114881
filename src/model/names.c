/* Names from the trees: which node holds the name of what. */
#include "model/names.h"

#include "model/resolver.h"

_Static_assert((int)NAME_OF_STEP == (int)SYMBOL_DAY,
	       "names of declarations are numbered as symbols are; days have dates");

/* A process and its steps, for finding out which process has a step first. */
struct family {
	uint32_t process;
	uint32_t parent;
	const struct tree *tree;
	node_index node;
};

struct listing {
	const struct recipe *recipe;
	struct arena *arena;
	struct name_uses uses;
	struct family *families;
	size_t family_count;
	size_t family_capacity;
	const struct tree *tree;
	uint32_t process; /* that is being walked */
};

/* Longer lines of processes that vary each other are circles. */
#define LINE_MOST 64

size_t recipe_file_count(const struct recipe *recipe)
{
	return recipe->resolver->file_count;
}

const struct tree *recipe_tree(const struct recipe *recipe, size_t file)
{
	return recipe->resolver->files[file].tree;
}

bool name_use_is_same(const struct name_use *a, const struct name_use *b)
{
	return a->kind == b->kind && a->name == b->name && a->owner == b->owner;
}

static uint32_t name_at(const struct listing *listing, const struct tree *tree, node_index node)
{
	return intern_name(listing->recipe->names, source_text(listing->recipe->sources, tree_node(tree, node)->span));
}

static const struct family *family_of(const struct listing *listing, uint32_t process)
{
	for (size_t i = 0; i < listing->family_count; i++)
		if (listing->families[i].process == process)
			return &listing->families[i];
	return NULL;
}

static bool has_step(const struct listing *listing, const struct family *family, uint32_t step)
{
	node_index clause = tree_node(family->tree, family->node)->first;

	for (; clause != 0; clause = tree_node(family->tree, clause)->next)
		if (tree_node(family->tree, clause)->kind == NODE_step &&
		    name_at(listing, family->tree, tree_node(family->tree, clause)->first) == step)
			return true;
	return false;
}

/* The oldest process in line that has a step; 0 where none has. */
static uint32_t owner_of(const struct listing *listing, uint32_t process, uint32_t step)
{
	const struct family *family = family_of(listing, process);
	uint32_t owner = 0;

	for (size_t i = 0; family != NULL && i < LINE_MOST; i++) {
		if (has_step(listing, family, step))
			owner = family->process;
		family = family->parent == 0 ? NULL : family_of(listing, family->parent);
	}
	return owner;
}

/* The process at the head of the line. */
static uint32_t root_of(const struct listing *listing, uint32_t process)
{
	for (size_t i = 0; i < LINE_MOST; i++) {
		const struct family *family = family_of(listing, process);

		if (family == NULL || family->parent == 0)
			break;
		process = family->parent;
	}
	return process;
}

static struct name_use *add(struct listing *listing, enum name_kind kind, node_index node)
{
	struct name_uses *uses = &listing->uses;
	struct name_use *use;

	ARENA_RESERVE(listing->arena, uses->items, uses->count, uses->capacity);
	use = &uses->items[uses->count++];
	*use = (struct name_use){ .kind = kind,
				  .name = name_at(listing, listing->tree, node),
				  .span = tree_node(listing->tree, node)->span,
				  .tree = listing->tree };
	if (kind == NAME_OF_STEP) {
		use->process = listing->process;
		use->owner = owner_of(listing, listing->process, use->name);
		use->root = root_of(listing, listing->process);
	}
	return use;
}

static void add_bath(struct listing *listing, node_index node)
{
	struct text name = source_text(listing->recipe->sources, tree_node(listing->tree, node)->span);

	if (!text_equal(name, TEXT("water")) && !text_equal(name, TEXT("light")) && !text_equal(name, TEXT("air")))
		add(listing, NAME_OF_BATH, node);
}

static void add_all(struct listing *listing, enum name_kind kind, node_index node)
{
	for (; node != 0; node = tree_node(listing->tree, node)->next)
		add(listing, kind, node);
}

static void walk(struct listing *listing, node_index node);

static void add_step(struct listing *listing, node_index node)
{
	node_index name = tree_node(listing->tree, node)->first;
	struct name_use *use = add(listing, NAME_OF_STEP, name);

	use->is_declaration = use->owner == listing->process;
	use->node = node;
	walk(listing, tree_node(listing->tree, name)->next);
}

/* The names in a clause. */
static void add_clause(struct listing *listing, node_index node)
{
	const struct tree_node *clause = tree_node(listing->tree, node);
	node_index first = clause->first;

	switch (clause->kind) {
	case NODE_use_tank:
		add(listing, NAME_OF_TANK, first);
		break;
	case NODE_use_heater:
		add(listing, NAME_OF_HEATER, first);
		break;
	case NODE_use_thermometer:
		add(listing, NAME_OF_THERMOMETER, first);
		break;
	case NODE_use_graduates:
		add_all(listing, NAME_OF_GRADUATE, first);
		break;
	case NODE_use_films:
	case NODE_use_film:
		add_all(listing, NAME_OF_FILM, first);
		break;
	case NODE_runs:
	case NODE_use_process:
		add_all(listing, NAME_OF_PROCESS, first);
		break;
	case NODE_tanks:
		add_all(listing, NAME_OF_TANK, first);
		break;
	case NODE_on_hand:
	case NODE_use_dryer:
		add_bath(listing, first);
		break;
	case NODE_roll:
		walk(listing, tree_node(listing->tree, first)->next);
		break;
	case NODE_in:
		add_bath(listing, first);
		break;
	case NODE_dilute:
		if (tree_node(listing->tree, first)->next != 0)
			add(listing, NAME_OF_BATH, tree_node(listing->tree, first)->next);
		break;
	case NODE_parent:
		add(listing, NAME_OF_PROCESS, first);
		break;
	case NODE_after:
	case NODE_before:
	case NODE_without:
		add(listing, NAME_OF_STEP, first);
		break;
	case NODE_step:
		add_step(listing, node);
		break;
	default:
		break;
	}
}

static void walk(struct listing *listing, node_index node)
{
	for (; node != 0; node = tree_node(listing->tree, node)->next)
		add_clause(listing, node);
}

static bool declares(enum node_kind kind, enum name_kind *name)
{
	switch (kind) {
	case NODE_tank:
		*name = NAME_OF_TANK;
		return true;
	case NODE_graduate:
		*name = NAME_OF_GRADUATE;
		return true;
	case NODE_heater:
		*name = NAME_OF_HEATER;
		return true;
	case NODE_thermometer:
		*name = NAME_OF_THERMOMETER;
		return true;
	case NODE_solution:
	case NODE_dryer:
		*name = NAME_OF_BATH;
		return true;
	case NODE_film:
		*name = NAME_OF_FILM;
		return true;
	case NODE_process:
		*name = NAME_OF_PROCESS;
		return true;
	default:
		return false;
	}
}

static void add_declaration(struct listing *listing, node_index node)
{
	node_index first = tree_node(listing->tree, node)->first;
	enum name_kind kind;
	struct name_use *use;

	switch (tree_node(listing->tree, node)->kind) {
	case NODE_day:
		walk(listing, tree_node(listing->tree, first)->next);
		return;
	case NODE_roll:
	case NODE_on_hand:
		add_clause(listing, node);
		return;
	default:
		break;
	}
	if (!declares((enum node_kind)tree_node(listing->tree, node)->kind, &kind))
		return;
	use = add(listing, kind, first);
	use->is_declaration = true;
	use->node = node;
	listing->process = use->name;
	walk(listing, tree_node(listing->tree, first)->next);
}

static void list_family(struct listing *listing, const struct tree *tree, node_index node)
{
	node_index parent = tree_child(tree, node, NODE_parent);
	struct family family = { .tree = tree, .node = node };

	if (tree_node(tree, node)->kind != NODE_process)
		return;
	family.process = name_at(listing, tree, tree_node(tree, node)->first);
	if (parent != 0)
		family.parent = name_at(listing, tree, tree_node(tree, parent)->first);
	ARENA_RESERVE(listing->arena, listing->families, listing->family_count, listing->family_capacity);
	listing->families[listing->family_count++] = family;
}

struct name_uses name_uses_of(const struct recipe *recipe, struct arena *arena)
{
	struct listing listing = { .recipe = recipe, .arena = arena };

	for (int pass = 0; pass < 2; pass++) {
		for (size_t i = 0; i < recipe_file_count(recipe); i++) {
			const struct tree *tree = recipe_tree(recipe, i);

			listing.tree = tree;
			for (node_index node = tree == NULL ? 0 : tree->first; node != 0;
			     node = tree_node(tree, node)->next)
				if (pass == 0)
					list_family(&listing, tree, node);
				else
					add_declaration(&listing, node);
		}
	}
	return listing.uses;
}
