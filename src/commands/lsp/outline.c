/* The shape of a file: what it declares, and what of it may be folded. */
#include "commands/lsp/server.h"
#include "model/names.h"

/* Kinds of symbol of LSP 3.17. */
enum {
	SYMBOL_IS_MODULE = 2,
	SYMBOL_IS_CLASS = 5,
	SYMBOL_IS_FUNCTION = 12,
	SYMBOL_IS_CONSTANT = 14,
	SYMBOL_IS_EVENT = 24
};

struct outline_writer {
	const struct request *request;
	const struct document *document;
	const struct tree *tree;
};

static int symbol_of(enum node_kind kind)
{
	switch (kind) {
	case NODE_process:
		return SYMBOL_IS_FUNCTION;
	case NODE_step:
	case NODE_day:
		return SYMBOL_IS_EVENT;
	case NODE_solution:
		return SYMBOL_IS_CLASS;
	case NODE_use:
		return SYMBOL_IS_MODULE;
	default:
		return SYMBOL_IS_CONSTANT;
	}
}

static bool is_shown(enum node_kind kind)
{
	switch (kind) {
	case NODE_use:
	case NODE_tank:
	case NODE_graduate:
	case NODE_heater:
	case NODE_dryer:
	case NODE_thermometer:
	case NODE_solution:
	case NODE_film:
	case NODE_process:
	case NODE_step:
	case NODE_day:
	case NODE_roll:
		return true;
	default:
		return false;
	}
}

/* "tank": a kind's words without their marks. */
static struct text kind_word(enum node_kind kind)
{
	struct text name = text_from(node_kind_name(kind));

	return (struct text){ name.data + 1, name.length - 2 };
}

static struct text without_quotes(struct text text)
{
	if (text.length < 2 || text.data[0] != '"')
		return text;
	return (struct text){ text.data + 1, text.length - 2 };
}

static void put_siblings(struct json_node list, const struct outline_writer *writer, node_index node);

static void put_symbol(struct json_node list, const struct outline_writer *writer, node_index index)
{
	const struct tree_node *node = tree_node(writer->tree, index);
	const struct tree_node *name = tree_node(writer->tree, node->first);
	const struct source_set *sources = &writer->document->compilation.sources;
	struct text text = without_quotes(source_text(sources, name->span));
	node_index title = name->next;
	struct json_node symbol = json_node_object(list, NULL);

	json_node_text(symbol, "name", text.length > 0 ? text : TEXT("?"));
	if (title != 0 && tree_node(writer->tree, title)->kind == NODE_string)
		json_node_text(symbol, "detail",
			       without_quotes(source_text(sources, tree_node(writer->tree, title)->span)));
	else
		json_node_text(symbol, "detail", kind_word((enum node_kind)node->kind));
	json_node_whole(symbol, "kind", symbol_of((enum node_kind)node->kind));
	place_put_range(symbol, "range", sources, writer->request->server->units, node->span);
	place_put_range(symbol, "selectionRange", sources, writer->request->server->units, name->span);
	if (node->kind == NODE_process || node->kind == NODE_day)
		put_siblings(json_node_list(symbol, "children"), writer, name->next);
}

static void put_siblings(struct json_node list, const struct outline_writer *writer, node_index node)
{
	for (; node != 0; node = tree_node(writer->tree, node)->next)
		if (is_shown((enum node_kind)tree_node(writer->tree, node)->kind) &&
		    tree_node(writer->tree, node)->first != 0)
			put_symbol(list, writer, node);
}

void outline_symbols(struct request *request)
{
	struct document *document = request_document(request);
	struct outline_writer writer = { request, document, NULL };

	if (document == NULL)
		return;
	writer.tree = document_tree(document);
	put_siblings(json_node_list(request->answer, "result"), &writer, writer.tree->first);
}

/* ---- folding ---- */

static void put_fold(struct json_node list, size_t first, size_t last, const char *kind)
{
	struct json_node range;

	if (last <= first)
		return;
	range = json_node_object(list, NULL);
	json_node_whole(range, "startLine", (int64_t)first - 1);
	json_node_whole(range, "endLine", (int64_t)last - 1);
	if (kind != NULL)
		json_node_text(range, "kind", text_from(kind));
}

/* Whatever ends in a brace may be folded, down to the line before the brace. */
static void fold_blocks(struct json_node list, const struct outline_writer *writer, node_index node)
{
	const struct source_set *sources = &writer->document->compilation.sources;

	for (; node != 0; node = tree_node(writer->tree, node)->next) {
		struct span span = tree_node(writer->tree, node)->span;
		struct text text = source_text(sources, span);

		if (text.length == 0 || text.data[text.length - 1] != '}')
			continue;
		put_fold(list, source_locate(sources, span.begin).line,
			 source_locate(sources, span.begin + span.length - 1).line - 1, NULL);
		fold_blocks(list, writer, tree_node(writer->tree, node)->first);
	}
}

/* Comments that begin their line. */
static bool stands_alone(const struct source_set *sources, const struct source_file *file, struct span comment)
{
	struct source_place place = source_locate(sources, comment.begin);
	struct text line = source_line(sources, file, place.line);

	for (const char *at = line.data; at < file->bytes + (comment.begin - file->base); at++)
		if (*at != ' ' && *at != '\t')
			return false;
	return true;
}

static void fold_comments(struct json_node list, const struct outline_writer *writer)
{
	const struct source_set *sources = &writer->document->compilation.sources;
	const struct source_file *file = document_file(writer->document);
	size_t first = 0;
	size_t last = 0;

	for (size_t i = 0; i < writer->tree->comment_count; i++) {
		size_t line = source_locate(sources, writer->tree->comments[i].begin).line;

		if (!stands_alone(sources, file, writer->tree->comments[i]))
			continue;
		if (line != last + 1) {
			put_fold(list, first, last, "comment");
			first = line;
		}
		last = line;
	}
	put_fold(list, first, last, "comment");
}

void outline_folding(struct request *request)
{
	struct document *document = request_document(request);
	struct outline_writer writer = { request, document, NULL };
	struct json_node list;

	if (document == NULL)
		return;
	writer.tree = document_tree(document);
	list = json_node_list(request->answer, "result");
	fold_blocks(list, &writer, writer.tree->first);
	fold_comments(list, &writer);
}
