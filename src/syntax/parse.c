/* Text in, tree out. */
#include "syntax/parse.h"

#include "syntax/feed.h"
#include "syntax/grammar.h"
#include "syntax/scanner.h"
#include "syntax/screen.h"

/* Typical bytes of source behind one node: the array then seldom has to grow. */
#define BYTES_PER_NODE 6

static struct tree *tree_start(const struct source_file *file, struct arena *arena)
{
	struct tree *tree = ARENA_NEW(arena, struct tree);

	tree->file = file;
	tree->capacity = file->length / BYTES_PER_NODE + 64;
	tree->nodes = ARENA_ARRAY(arena, struct tree_node, tree->capacity);
	tree->count = 1; /* node 0 is no node */
	return tree;
}

static struct tree *parse(struct source_set *sources, const struct source_file *file, struct arena *arena,
			  struct report *report, struct parse_tokens *tokens, struct feed_fitting *fitting)
{
	struct tree *tree = tree_start(file, arena);
	struct feed feed = { .arena = arena,
			     .tree = tree,
			     .report = report,
			     .sources = sources,
			     .file = file,
			     .fitting = fitting,
			     .line_begin = file->base,
			     .is_line_new = true,
			     .keeps_given = tokens != NULL };
	yyscan_t scanner;

	if (tokens != NULL)
		*tokens = (struct parse_tokens){ 0 };
	if (!screen_file(file, report, &feed.has_hidden))
		return tree;
	if (scanner_lex_init_extra(&feed, &scanner) != 0)
		longjmp(arena->landing->place, 1);
	feed.scanner = scanner;
	scanner__scan_buffer(file->bytes, (size_t)file->length + 2, scanner);
	grammar_parse(&feed);
	if (tokens != NULL)
		*tokens = (struct parse_tokens){ feed.given, feed.given_count, !feed.has_mistake };
	return tree;
}

struct tree *parse_file(struct source_set *sources, const struct source_file *file, struct arena *arena,
			struct report *report)
{
	return parse(sources, file, arena, report, NULL, NULL);
}

struct tree *parse_file_tokens(struct source_set *sources, const struct source_file *file, struct arena *arena,
			       struct report *report, struct parse_tokens *tokens)
{
	return parse(sources, file, arena, report, tokens, NULL);
}

struct feed_fitting parse_fitting(struct source_set *sources, const struct source_file *file, struct arena *arena)
{
	struct feed_fitting fitting = { 0 };
	struct report report;

	report_init(&report, arena);
	parse(sources, file, arena, &report, NULL, &fitting);
	return fitting;
}
