/* The sheet in characters: the document's tree in lines of a fixed width, for a terminal or a receipt printer. Strips
 * are drawn in the same characters (strip_text.c). */
#include <string.h>

#include "emit/escape/terminal.h"
#include "emit/sheet/strip_text.h"

#define DEFAULT_COLUMNS 80

/* What belongs to a heading stands in from it, and a line that goes on stands in from its beginning. */
#define INDENT 2

#define RULE_OF_TITLE '='
#define RULE_OF_PART '-'
#define RULE_OF_STEP '_'

struct render {
	const struct sheet *sheet;
	struct output *output;
	struct strip_scale scale;
	size_t width;
	bool has_legend;
};

static bool has_mark(cmark_node *node, enum sheet_mark_id id)
{
	const struct sheet_mark *mark = document_mark(node);
	return mark && mark->id == id;
}

/* ---- lines ---- */

static void put_rule(const struct render *render, char sign)
{
	for (size_t i = 0; i < render->width; i++)
		output_write(render->output, (struct text){ &sign, 1 });
	output_string(render->output, "\n");
}

/* A text behind `lead`, which stands in from the margin; further lines stand in from its beginning. */
static void put_lines(const struct render *render, size_t indent, const char *lead, struct text text)
{
	struct arena *arena = render->sheet->arena;
	size_t column = indent + strlen(lead);
	if (text.length == 0)
		return;
	output_format(render->output, "%*s%s", (int)indent, "", lead);
	terminal_wrap(render->output, terminal_line(arena, text), column, render->width);
}

/* ---- inlines ---- */

static void append_link(struct text_builder *words, cmark_node *link)
{
	const char *url = cmark_node_get_url(link);
	cmark_node *first = cmark_node_first_child(link);
	const char *shown = first ? cmark_node_get_literal(first) : NULL;
	if (url && !(shown && strcmp(shown, url) == 0))
		text_append_format(words, " <%s>", url);
}

static void append_words(struct text_builder *words, cmark_node *node)
{
	cmark_node_type type = cmark_node_get_type(node);
	if (type == CMARK_NODE_TEXT && has_mark(cmark_node_parent(node), MARK_tick))
		text_append_string(words, "[ ]");
	else if (type == CMARK_NODE_TEXT || type == CMARK_NODE_CODE)
		text_append_string(words, cmark_node_get_literal(node));
}

/* The node after this one in the order of reading; null behind the last one under `top`. A loop, since a recipe may
 * nest its emphasis as deep as it likes. */
static cmark_node *next_node(struct text_builder *words, cmark_node *top, cmark_node *node)
{
	if (cmark_node_first_child(node))
		return cmark_node_first_child(node);
	for (; node != top; node = cmark_node_parent(node)) {
		if (cmark_node_get_type(node) == CMARK_NODE_LINK)
			append_link(words, node);
		if (cmark_node_next(node))
			return cmark_node_next(node);
	}
	return NULL;
}

/* The words under a block: paper knows no links, so that their targets are printed, and a box to tick is drawn. */
static struct text words_of(const struct render *render, cmark_node *block)
{
	struct text_builder words = text_builder_start(render->sheet->arena);
	for (cmark_node *node = block; node; node = next_node(&words, block, node))
		append_words(&words, node);
	return text_builder_text(&words);
}

/* ---- blocks ---- */

static void put_title(const struct render *render, cmark_node *heading)
{
	put_rule(render, RULE_OF_TITLE);
	put_lines(render, 0, "", words_of(render, heading));
	put_rule(render, RULE_OF_TITLE);
}

static void put_legend(struct render *render)
{
	if (render->has_legend || render->scale.cell_ms == 0)
		return;
	render->has_legend = true;
	output_string(render->output, "\n");
	put_lines(render, 0, "", strip_text_legend(render->sheet, &render->scale));
}

/* Steps are parted by a line that is easily found again from arm's length, other parts by a thinner one. */
static void put_heading(struct render *render, cmark_node *heading)
{
	bool is_step = has_mark(cmark_node_parent(heading), MARK_step);
	if (is_step)
		put_legend(render);
	if (!is_step)
		output_string(render->output, "\n");
	put_rule(render, is_step ? RULE_OF_STEP : RULE_OF_PART);
	put_lines(render, 0, "", words_of(render, heading));
}

static void put_paragraph(const struct render *render, cmark_node *paragraph)
{
	const struct sheet_mark *mark = document_mark(paragraph);
	bool is_apart = mark && (mark->id == MARK_identity || mark->id == MARK_caption);
	bool is_margin = is_apart || (mark && mark->id == MARK_kind);
	if (is_apart)
		output_string(render->output, "\n");
	put_lines(render, is_margin ? 0 : INDENT, "", words_of(render, paragraph));
}

/* The strip of a step stands below its head, where its time is. */
static void put_list(const struct render *render, cmark_node *list)
{
	bool is_head = has_mark(list, MARK_head);
	const struct sheet_mark *time = NULL;
	for (cmark_node *item = cmark_node_first_child(list); item; item = cmark_node_next(item)) {
		put_lines(render, is_head ? INDENT : 0, is_head ? "" : "- ", words_of(render, item));
		if (has_mark(item, MARK_time))
			time = document_mark(item);
	}
	if (time)
		strip_text_draw(render->sheet, &render->scale, time->number, render->output);
}

/* Blocks nest as the builder has them, a few levels at the most. What is told of HTML's strips is left out. */
static void put_block(struct render *render, cmark_node *block)
{
	switch (cmark_node_get_type(block)) {
	case CMARK_NODE_HEADING:
		if (cmark_node_get_heading_level(block) == 1)
			put_title(render, block);
		else
			put_heading(render, block);
		break;
	case CMARK_NODE_PARAGRAPH:
		put_paragraph(render, block);
		break;
	case CMARK_NODE_LIST:
		put_list(render, block);
		break;
	case CMARK_NODE_THEMATIC_BREAK:
		output_string(render->output, "\n");
		break;
	default:
		if (has_mark(block, MARK_legend))
			break;
		for (cmark_node *child = cmark_node_first_child(block); child; child = cmark_node_next(child))
			put_block(render, child);
		break;
	}
}

void emit_sheet_text(const struct emission *emission, struct output *output)
{
	const struct sheet *sheet = sheet_build(emission);
	struct render render = { .sheet = sheet, .output = output, .width = emission->conditions->width };
	if (render.width == 0)
		render.width = DEFAULT_COLUMNS;
	render.scale = strip_text_scale(sheet, render.width);
	put_block(&render, sheet->document->root);
}
