/* The tree of one file: nodes in one array, children by index, texts as spans of the source. Lives in the arena it was
 * parsed into. Comments are kept beside it, for whoever prints the source again. */
#ifndef SYNTAX_TREE_H
#define SYNTAX_TREE_H

#include <stddef.h>
#include <stdint.h>

#include "support/source.h"
#include "support/span.h"

enum node_kind {
#define NODE(id, title) NODE_##id,
#include "syntax/nodes.def"
#undef NODE
	NODE_KIND_COUNT
};

/** Index of a node in its tree; 0 is no node. */
typedef uint32_t node_index;

struct tree_node {
	struct span span;
	node_index first; /* first child */
	node_index next;  /* next sibling */
	uint16_t kind;	  /* enum node_kind */
	uint16_t detail;  /* NODE_quantity: enum unit_id */
};

/** A declaration that was given up for a mistake outside its braces: its name counts as declared, so that whoever
 * uses it is not blamed. */
struct tree_lost {
	enum node_kind kind; /* NODE_none: its first word was misspelt, so it may have been any */
	struct span name;    /* unset: no name was found, so any name of the kind may have been it */
};

struct tree {
	struct tree_node *nodes;
	size_t count;
	size_t capacity;
	node_index first; /* first declaration; the others are its siblings */
	struct span *comments;
	size_t comment_count;
	size_t comment_capacity;
	struct tree_lost *lost;
	size_t lost_count;
	size_t lost_capacity;
	const struct source_file *file;
};

/** A chain of siblings under construction. */
struct node_list {
	node_index first;
	node_index last;
};

/** A node by index. */
static inline const struct tree_node *tree_node(const struct tree *tree, node_index index)
{
	return &tree->nodes[index];
}

/** The first child of a kind, or 0. */
node_index tree_child(const struct tree *tree, node_index parent, enum node_kind kind);

/** A kind in a reader's words. */
const char *node_kind_name(enum node_kind kind);

/** Adds a node over `children` and returns it as a list of one. */
struct node_list tree_add(struct tree *tree, struct arena *arena, enum node_kind kind, unsigned detail,
			  struct span span, struct node_list children);

/** Two chains as one. */
struct node_list tree_chain(struct tree *tree, struct node_list front, struct node_list back);

#endif
