#include "emit/page/page.h"

#include "emit/escape/html.h"
#include "support/hash.h"
#include "support/utf8.h"

#include "embedded/page_css.h"

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

static struct page_element element_of(const struct page *page, cmark_node *node)
{
	const void *mark = document_mark(node);
	struct page_element element = { "", { "", 0 } };
	if (mark)
		element = page->element_of(page, mark);
	if (element.name[0] == '\0')
		element.name = plain_element(node);
	return element;
}

static bool is_block(cmark_node *node)
{
	return cmark_node_get_type(node) <= CMARK_NODE_LAST_BLOCK;
}

static void open_element(const struct page *page, struct output *output, cmark_node *node)
{
	struct page_element element = element_of(page, node);
	if (!element.name)
		return;
	output_format(output, "<%s", element.name);
	if (element.class_names.length > 0)
		output_format(output, " class=\"%.*s\"", TEXT_ARGUMENT(element.class_names));
	if (cmark_node_get_type(node) == CMARK_NODE_LINK)
		html_attribute(output, "href", text_from(cmark_node_get_url(node)));
	output_string(output, ">");
	bool holds_blocks = is_block(node) && cmark_node_first_child(node) && is_block(cmark_node_first_child(node));
	if (holds_blocks && cmark_node_get_type(node) != CMARK_NODE_ITEM)
		output_string(output, "\n");
	if (document_mark(node) && page->draw)
		page->draw(page, node, output);
}

static void close_element(const struct page *page, struct output *output, cmark_node *node)
{
	const char *name = element_of(page, node).name;
	if (!name)
		return;
	if (document_mark(node) && page->draw_last)
		page->draw_last(page, node, output);
	output_format(output, "</%s>%s", name, is_block(node) ? "\n" : "");
}

static void write_tree(const struct page *page, struct output *output)
{
	cmark_iter *iterator = document_walk(page->document);
	cmark_event_type event;
	while ((event = cmark_iter_next(iterator)) != CMARK_EVENT_DONE) {
		cmark_node *node = cmark_iter_get_node(iterator);
		cmark_node_type type = cmark_node_get_type(node);
		if (type == CMARK_NODE_TEXT) {
			html_text(output, text_from(cmark_node_get_literal(node)));
		} else if (type == CMARK_NODE_CODE) {
			open_element(page, output, node);
			html_text(output, text_from(cmark_node_get_literal(node)));
			close_element(page, output, node);
		} else if (type == CMARK_NODE_THEMATIC_BREAK) {
			output_string(output, "<hr>\n");
		} else if (event == CMARK_EVENT_ENTER) {
			open_element(page, output, node);
		} else {
			close_element(page, output, node);
		}
	}
	cmark_iter_free(iterator);
}

/* The paper, and both style sheets, without the line ends at their end, which some checkers leave out of the hash. */
static struct text whole_style(const struct page *page, struct arena *arena)
{
	struct text_builder builder = text_builder_start(arena);
	text_append_format(&builder, "@page { size: %s; }\n", paper_row(page->form->paper)->css);
	text_append(&builder, (struct text){ page_css, page_css_length });
	text_append(&builder, page->style);
	struct text style = text_builder_text(&builder);
	while (style.length > 0 && style.data[style.length - 1] == '\n')
		style.length--;
	return style;
}

static struct text hash_of(struct arena *arena, struct text style)
{
	struct hash hash;
	hash_start(&hash);
	hash_add(&hash, style);
	return hash_finish(&hash, arena);
}

static struct page_style style_of(const struct page *page)
{
	const struct page_style *known = page->memory ? &page->memory->style : NULL;
	if (known && known->source.data == page->style.data && known->paper == page->form->paper)
		return *known;
	struct arena *arena = page->memory ? page->memory->arena : page->document->arena;
	struct page_style style = { page->style, page->form->paper, whole_style(page, arena), { NULL, 0 } };
	style.hash = hash_of(arena, style.css);
	if (page->memory)
		page->memory->style = style;
	return style;
}

/* A title bar shows no more than this many characters, and checkers want no more of a page's title than about that. */
#define TITLE_CHARACTERS 54

static void write_title(const struct page *page, struct output *output)
{
	size_t length = 0;
	for (int count = 0; count < TITLE_CHARACTERS && length < page->title.length; count++) {
		int32_t character;
		int taken = utf8_decode((struct text){ page->title.data + length, page->title.length - length },
					&character);
		length += taken > 0 ? (size_t)taken : 1;
	}
	html_text(output, (struct text){ page->title.data, length });
	output_format(output, "%s, %s", length < page->title.length ? "…" : "", page->product);
}

static void write_head(const struct page *page, struct output *output)
{
	struct page_style style = style_of(page);
	output_string(output,
		      "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\">\n"
		      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src 'sha256-");
	html_base64_of_hex(output, style.hash);
	output_string(output, "'\">\n<title>");
	write_title(page, output);
	output_string(output,
		      "</title>\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n<style>");
	output_write(output, style.css);
	output_string(output, "</style>\n</head>\n");
}

void page_write(const struct page *page, struct output *output)
{
	write_head(page, output);
	output_string(output, "<body>\n<main>\n");
	write_tree(page, output);
	output_string(output, "</main>\n</body>\n</html>\n");
}
