/* The sheet as one HTML file. The tree's own nodes become the elements of CommonMark's own rendering, marked ones those
 * of marks.def. */
#include "emit/escape/html.h"
#include "emit/sheet/room.h"
#include "support/hash.h"

#include "embedded/sheet_css.h"

struct mark_row {
	const char *element;
	const char *class_name;
};

static const struct mark_row mark_rows[] = {
#define MARK(id, element, class_name) { element, class_name },
#include "emit/sheet/marks.def"
#undef MARK
};

/* The classes of a side in each size. */
static const char *const sizes[SHEET_SIZE_COUNT] = {
	[SHEET_LARGE] = "large roomy",	 [SHEET_MIDDLE] = "middle roomy", [SHEET_SMALL] = "small",
	[SHEET_TIGHT] = "tight",	 [SHEET_CLOSE] = "close run-on",  [SHEET_DENSE] = "dense run-on",
};

/* Paragraphs of a tight list are bare. */
static bool is_in_tight_item(cmark_node *node)
{
	cmark_node *parent = cmark_node_parent(node);
	return cmark_node_get_type(parent) == CMARK_NODE_ITEM && cmark_node_get_list_tight(cmark_node_parent(parent));
}

/* The element that a node without a mark of its own becomes; null for none. */
static const char *plain_element(cmark_node *node)
{
	static const char *const headings[] = { "h1", "h2", "h3", "h4", "h5", "h6" };
	switch (cmark_node_get_type(node)) {
	case CMARK_NODE_HEADING:
		return headings[cmark_node_get_heading_level(node) - 1];
	case CMARK_NODE_PARAGRAPH:
		return is_in_tight_item(node) ? NULL : "p";
	case CMARK_NODE_LIST:
		return "ul";
	case CMARK_NODE_ITEM:
		return "li";
	case CMARK_NODE_STRONG:
		return "strong";
	case CMARK_NODE_EMPH:
		return "em";
	case CMARK_NODE_CODE:
		return "code";
	case CMARK_NODE_LINK:
		return "a";
	case CMARK_NODE_THEMATIC_BREAK:
		return "hr";
	default:
		return NULL;
	}
}

static struct mark_row row_of(cmark_node *node)
{
	const struct sheet_mark *mark = document_mark(node);
	struct mark_row row = mark ? mark_rows[mark->id] : (struct mark_row){ "", "" };
	if (row.element[0] == '\0')
		row.element = plain_element(node);
	return row;
}

/* The size in which the side that holds a node is set. */
static enum sheet_size size_of_side(cmark_node *node)
{
	for (; node; node = cmark_node_parent(node)) {
		const struct sheet_mark *mark = document_mark(node);
		if (mark && mark->id == MARK_side)
			return mark->size;
	}
	return SHEET_LARGE;
}

static bool is_block(cmark_node *node)
{
	return cmark_node_get_type(node) <= CMARK_NODE_LAST_BLOCK;
}

static void open_element(const struct sheet *sheet, struct output *output, cmark_node *node)
{
	struct mark_row row = row_of(node);
	const struct sheet_mark *mark = document_mark(node);
	if (!row.element)
		return;
	output_format(output, "<%s", row.element);
	if (mark && mark->id == MARK_side)
		output_format(output, " class=\"%s %s spread-%zu\"", row.class_name, sizes[mark->size], mark->number);
	else if (row.class_name[0] != '\0')
		output_format(output, " class=\"%s\"", row.class_name);
	if (cmark_node_get_type(node) == CMARK_NODE_LINK)
		html_attribute(output, "href", text_from(cmark_node_get_url(node)));
	output_string(output, ">");
	bool holds_blocks = is_block(node) && cmark_node_first_child(node) && is_block(cmark_node_first_child(node));
	if (holds_blocks && cmark_node_get_type(node) != CMARK_NODE_ITEM)
		output_string(output, "\n");
	if (mark && mark->id == MARK_strip)
		strip_draw(sheet, mark->number, room_of_strip(size_of_side(node)), output);
}

static void close_element(struct output *output, cmark_node *node)
{
	const char *element = row_of(node).element;
	if (!element)
		return;
	output_format(output, "</%s>%s", element, is_block(node) ? "\n" : "");
}

static void write_tree(const struct sheet *sheet, struct output *output)
{
	cmark_iter *iterator = document_walk(sheet->document);
	cmark_event_type event;
	while ((event = cmark_iter_next(iterator)) != CMARK_EVENT_DONE) {
		cmark_node *node = cmark_iter_get_node(iterator);
		cmark_node_type type = cmark_node_get_type(node);
		if (type == CMARK_NODE_TEXT) {
			html_text(output, text_from(cmark_node_get_literal(node)));
		} else if (type == CMARK_NODE_CODE) {
			open_element(sheet, output, node);
			html_text(output, text_from(cmark_node_get_literal(node)));
			close_element(output, node);
		} else if (type == CMARK_NODE_THEMATIC_BREAK) {
			output_string(output, "<hr>\n");
		} else if (event == CMARK_EVENT_ENTER) {
			open_element(sheet, output, node);
		} else {
			close_element(output, node);
		}
	}
	cmark_iter_free(iterator);
}

static struct text style_hash(struct arena *arena, struct text style)
{
	struct hash hash;
	hash_start(&hash);
	hash_add(&hash, style);
	return hash_finish(&hash, arena);
}

static void write_head(const struct sheet *sheet, struct output *output)
{
	struct text style = { sheet_css, sheet_css_length };
	while (style.length > 0 && style.data[style.length - 1] == '\n')
		style.length--; /* which some checkers leave out of the hash */
	output_string(output, "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
			      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-");
	html_base64_of_hex(output, style_hash(sheet->arena, style));
	output_string(output, "'\">\n<title>");
	html_text(output, sheet->title);
	output_string(output, ", sink sheet</title>\n"
			      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<style>");
	output_write(output, style);
	output_string(output, "</style>\n</head>\n");
}

void emit_sheet_html(const struct emission *emission, struct output *output)
{
	const struct sheet *sheet = sheet_build(emission);
	write_head(sheet, output);
	output_string(output, "<body>\n<main>\n");
	write_tree(sheet, output);
	output_string(output, "</main>\n</body>\n</html>\n");
}
