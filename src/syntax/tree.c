/* Building and walking the tree. */
#include "syntax/tree.h"

static const char *const kind_names[NODE_KIND_COUNT] = {
#define NODE(id, title) title,
#include "syntax/nodes.def"
#undef NODE
};

const char *node_kind_name(enum node_kind kind)
{
	return kind_names[kind];
}

node_index tree_child(const struct tree *tree, node_index parent, enum node_kind kind)
{
	node_index child = tree->nodes[parent].first;

	while (child != 0 && tree->nodes[child].kind != kind)
		child = tree->nodes[child].next;
	return child;
}

struct node_list tree_add(struct tree *tree, struct arena *arena, enum node_kind kind, unsigned detail,
			  struct span span, struct node_list children)
{
	node_index index;

	ARENA_RESERVE(arena, tree->nodes, tree->count, tree->capacity);
	index = (node_index)tree->count++;
	tree->nodes[index] = (struct tree_node){
		.span = span,
		.first = children.first,
		.next = 0,
		.kind = (uint16_t)kind,
		.detail = (uint16_t)detail,
	};
	return (struct node_list){ index, index };
}

struct node_list tree_chain(struct tree *tree, struct node_list front, struct node_list back)
{
	if (front.first == 0)
		return back;
	if (back.first == 0)
		return front;
	tree->nodes[front.last].next = back.first;
	return (struct node_list){ front.first, back.last };
}
