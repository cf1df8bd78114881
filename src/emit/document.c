#include "emit/document.h"

#include <stdint.h>
#include <string.h>

#include "support/utf8.h"

/* libcmark's callbacks carry no context, so the arena of the document at hand is kept here: the one mutable static
 * of the program. Every public function that lets libcmark allocate sets it first. */
static _Thread_local struct arena *current_arena;

/* realloc is not told the old size, so that each block starts with it; all are whole numbers of heads, which keeps what
 * follows aligned. */
struct block_head {
	_Alignas(max_align_t) size_t size;
};

static void *block_calloc(size_t count, size_t size)
{
	size_t bytes =
		size != 0 && count > SIZE_MAX / 2 / size ? SIZE_MAX / 2 : count * size; /* which the arena refuses */
	size_t heads = 1 + bytes / sizeof(struct block_head) + (bytes % sizeof(struct block_head) != 0);
	struct block_head *head = ARENA_ARRAY(current_arena, struct block_head, heads);
	head->size = bytes;
	return head + 1;
}

static void *block_realloc(void *block, size_t size)
{
	void *grown = block_calloc(1, size);
	if (block) {
		const struct block_head *head = (const struct block_head *)block - 1;
		memcpy(grown, block, head->size < size ? head->size : size);
	}
	return grown;
}

static void block_free(void *block)
{
	(void)block; /* goes with its arena */
}

struct document *document_create(struct arena *arena)
{
	struct document *document = ARENA_NEW(arena, struct document);
	document->arena = arena;
	document->memory = ARENA_NEW(arena, cmark_mem);
	document->memory->calloc = block_calloc;
	document->memory->realloc = block_realloc;
	document->memory->free = block_free;
	document->root = document_add(document, NULL, CMARK_NODE_DOCUMENT, NULL);
	return document;
}

cmark_node *document_add(struct document *document, cmark_node *parent, cmark_node_type type, const void *mark)
{
	current_arena = document->arena;
	cmark_node *node = cmark_node_new_with_mem(type, document->memory);
	if (mark)
		cmark_node_set_user_data(node, (void *)(uintptr_t)mark);
	if (parent)
		cmark_node_append_child(parent, node);
	return node;
}

cmark_node *document_add_heading(struct document *document, cmark_node *parent, int level, const void *mark)
{
	cmark_node *heading = document_add(document, parent, CMARK_NODE_HEADING, mark);
	cmark_node_set_heading_level(heading, level);
	return heading;
}

cmark_node *document_add_list(struct document *document, cmark_node *parent, const void *mark)
{
	cmark_node *list = document_add(document, parent, CMARK_NODE_LIST, mark);
	cmark_node_set_list_type(list, CMARK_BULLET_LIST);
	cmark_node_set_list_tight(list, 1);
	return list;
}

cmark_node *document_add_item(struct document *document, cmark_node *list, const void *mark)
{
	cmark_node *item = document_add(document, list, CMARK_NODE_ITEM, mark);
	return document_add(document, item, CMARK_NODE_PARAGRAPH, NULL);
}

void document_attach(struct document *document, cmark_node *parent, cmark_node *node)
{
	current_arena = document->arena;
	cmark_node_append_child(parent, node);
}

/* One line without controls: line ends and tabs become spaces, what must not be seen raw is spelt out. */
static struct text one_line(struct document *document, struct text text)
{
	struct text line = text_copy(document->arena, text);
	char *bytes = (char *)(uintptr_t)line.data;
	for (size_t i = 0; i < line.length; i++)
		if (bytes[i] == '\n' || bytes[i] == '\r' || bytes[i] == '\t')
			bytes[i] = ' ';
	return line;
}

static void set_literal(struct document *document, cmark_node *node, struct text text)
{
	struct text harmless = utf8_harmless(document->arena, utf8_normal(document->arena, text));
	cmark_node_set_literal(node, harmless.data);
}

void document_add_code(struct document *document, cmark_node *parent, struct text lines)
{
	cmark_node *block = document_add(document, parent, CMARK_NODE_CODE_BLOCK, NULL);
	struct text_builder literal = text_builder_start(document->arena);
	while (lines.length > 0) {
		const char *end = memchr(lines.data, '\n', lines.length);
		size_t length = end ? (size_t)(end - lines.data) : lines.length;
		text_append(&literal, utf8_harmless(document->arena, (struct text){ lines.data, length }));
		text_append_byte(&literal, '\n');
		length += end != NULL;
		lines = (struct text){ lines.data + length, lines.length - length };
	}
	cmark_node_set_literal(block, text_builder_text(&literal).data);
}

void document_text(struct document *document, cmark_node *parent, struct text text)
{
	if (text.length == 0)
		return;
	set_literal(document, document_add(document, parent, CMARK_NODE_TEXT, NULL), one_line(document, text));
}

void document_string(struct document *document, cmark_node *parent, const char *string)
{
	document_text(document, parent, text_from(string));
}

void document_format(struct document *document, cmark_node *parent, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	document_text(document, parent, text_format_list(document->arena, format, arguments));
	va_end(arguments);
}

void document_strong(struct document *document, cmark_node *parent, struct text text)
{
	document_text(document, document_add(document, parent, CMARK_NODE_STRONG, NULL), text);
}

void document_span(struct document *document, cmark_node *parent, const void *mark, struct text text)
{
	document_text(document, document_add(document, parent, CMARK_NODE_CUSTOM_INLINE, mark), text);
}

void document_trim(struct document *document, cmark_node *paragraph)
{
	cmark_node *last = cmark_node_last_child(paragraph);
	if (!last || cmark_node_get_type(last) != CMARK_NODE_TEXT)
		return;
	struct text text = text_from(cmark_node_get_literal(last));
	while (text.length > 0 && text.data[text.length - 1] == ' ')
		text.length--;
	set_literal(document, last, text);
}

/* ---- prose ---- */

static char lower(char byte)
{
	return byte >= 'A' && byte <= 'Z' ? (char)(byte - 'A' + 'a') : byte;
}

static bool starts_with(const char *url, const char *scheme)
{
	while (*scheme && lower(*url) == *scheme) {
		url++;
		scheme++;
	}
	return !*scheme;
}

/* A link on a sheet leads to one of three schemes and holds nothing but the characters that RFC 3986 lets stand. */
static bool is_allowed_url(const char *url)
{
	static const char *const schemes[] = { "http://", "https://", "mailto:" };
	static const char allowed[] =
		"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-._~:/?@!$&'()*+,;=#";
	for (size_t i = 0; i < sizeof schemes / sizeof schemes[0]; i++) {
		size_t length = strlen(schemes[i]);
		if (!starts_with(url, schemes[i]) || strspn(url + length, allowed) != strlen(url + length))
			continue;
		char first = lower(url[length]);
		return (first >= 'a' && first <= 'z') || (first >= '0' && first <= '9');
	}
	return false;
}

static void unwrap(cmark_node *node)
{
	cmark_node *child;
	while ((child = cmark_node_first_child(node)))
		cmark_node_insert_before(node, child);
	cmark_node_unlink(node);
}

static void make_text(struct document *document, cmark_node *node, struct text literal)
{
	cmark_node *text = document_add(document, NULL, CMARK_NODE_TEXT, NULL);
	set_literal(document, text, literal);
	cmark_node_replace(node, text);
}

/* Leaves nothing under `paragraph` that could do more than show text. Nodes change on leaving them, as libcmark
 * asks. */
static void make_inert(struct document *document, cmark_node *paragraph)
{
	cmark_iter *iterator = cmark_iter_new(paragraph);
	cmark_event_type event;
	while ((event = cmark_iter_next(iterator)) != CMARK_EVENT_DONE) {
		cmark_node *node = cmark_iter_get_node(iterator);
		switch (cmark_node_get_type(node)) {
		case CMARK_NODE_TEXT:
		case CMARK_NODE_CODE:
			set_literal(document, node, one_line(document, text_from(cmark_node_get_literal(node))));
			break;
		case CMARK_NODE_HTML_INLINE:
			make_text(document, node, text_from(cmark_node_get_literal(node)));
			break;
		case CMARK_NODE_SOFTBREAK:
		case CMARK_NODE_LINEBREAK:
			make_text(document, node, TEXT(" "));
			break;
		case CMARK_NODE_LINK:
			if (event == CMARK_EVENT_EXIT && !is_allowed_url(cmark_node_get_url(node)))
				unwrap(node);
			else if (event == CMARK_EVENT_EXIT)
				cmark_node_set_title(node, "");
			break;
		case CMARK_NODE_IMAGE:
			if (event == CMARK_EVENT_EXIT)
				unwrap(node);
			break;
		default:
			break;
		}
	}
	cmark_iter_free(iterator);
	cmark_consolidate_text_nodes(paragraph);
}

/* A letter and a space before the text keep libcmark from reading its start as a block, and are what the inlines would
 * find before them at the start of a line: white space. */
#define PROSE_GUARD "x "

void document_prose(struct document *document, cmark_node *parent, struct text prose)
{
	struct text line = one_line(document, prose);
	while (line.length > 0 && line.data[0] == ' ')
		line = (struct text){ line.data + 1, line.length - 1 };
	if (line.length == 0)
		return;
	current_arena = document->arena;
	cmark_parser *parser = cmark_parser_new_with_mem(CMARK_OPT_DEFAULT, document->memory);
	cmark_parser_feed(parser, PROSE_GUARD, sizeof PROSE_GUARD - 1);
	cmark_parser_feed(parser, line.data, line.length);
	cmark_node *paragraph = cmark_node_first_child(cmark_parser_finish(parser));
	cmark_parser_free(parser);
	make_inert(document, paragraph);
	cmark_node *first = cmark_node_first_child(paragraph);
	const char *literal = cmark_node_get_literal(first);
	if (literal[0] && literal[1])
		cmark_node_set_literal(first,
				       text_copy(document->arena, text_from(literal + sizeof PROSE_GUARD - 1)).data);
	while ((first = cmark_node_first_child(paragraph)))
		cmark_node_append_child(parent, first);
}

/* ---- reading ---- */

cmark_iter *document_walk(struct document *document)
{
	current_arena = document->arena;
	return cmark_iter_new(document->root);
}

const void *document_mark(cmark_node *node)
{
	return cmark_node_get_user_data(node);
}

/* The text of a node that is nothing but one text, as most are; null where there is more to it. */
static const char *only_text(cmark_node *node)
{
	while (cmark_node_get_type(node) > CMARK_NODE_LAST_BLOCK && cmark_node_first_child(node) &&
	       !cmark_node_next(cmark_node_first_child(node)))
		node = cmark_node_first_child(node);
	return cmark_node_get_type(node) == CMARK_NODE_TEXT ? cmark_node_get_literal(node) : NULL;
}

struct text document_plain(struct document *document, cmark_node *node, struct arena *arena)
{
	const char *only = only_text(node);
	if (only)
		return text_from(only);
	current_arena = document->arena;
	struct text_builder builder = text_builder_start(arena);
	cmark_iter *iterator = cmark_iter_new(node);
	cmark_event_type event;
	while ((event = cmark_iter_next(iterator)) != CMARK_EVENT_DONE) {
		cmark_node *at = cmark_iter_get_node(iterator);
		cmark_node_type type = cmark_node_get_type(at);
		if (type == CMARK_NODE_TEXT || type == CMARK_NODE_CODE)
			text_append_string(&builder, cmark_node_get_literal(at));
		else if (event == CMARK_EVENT_EXIT && at != node && type <= CMARK_NODE_LAST_BLOCK)
			text_append_byte(&builder, ' ');
	}
	cmark_iter_free(iterator);
	return text_builder_text(&builder);
}

/* ---- as CommonMark ---- */

/* What CommonMark counts as white space beside `**`, besides line ends: ASCII's space, and Unicode's class Zs. */
static bool is_blank(int32_t character)
{
	return character == ' ' || character == 0xA0 || character == 0x1680 ||
	       (character >= 0x2000 && character <= 0x200A) || character == 0x202F || character == 0x205F ||
	       character == 0x3000;
}

/* The text without the blanks before its first character, or behind its last. */
static struct text without_blanks(struct text text, bool is_before)
{
	size_t begin = 0, end = 0;
	for (size_t place = 0; place < text.length;) {
		int32_t character = 0;
		int taken = utf8_decode((struct text){ text.data + place, text.length - place }, &character);
		size_t bytes = taken > 0 ? (size_t)taken : 1;
		place += bytes;
		if (taken > 0 && is_blank(character))
			continue;
		if (end == 0)
			begin = place - bytes;
		end = place;
	}
	if (!is_before)
		return (struct text){ text.data, end };
	return (struct text){ text.data + begin, text.length - begin };
}

static void trim_text(struct document *document, cmark_node *node, bool is_before)
{
	if (node && cmark_node_get_type(node) == CMARK_NODE_TEXT)
		set_literal(document, node, without_blanks(text_from(cmark_node_get_literal(node)), is_before));
}

/* A blank on the inner side of `**` leaves it two asterisks. */
static void trim_strong(struct document *document)
{
	cmark_iter *iterator = cmark_iter_new(document->root);
	cmark_event_type event;
	while ((event = cmark_iter_next(iterator)) != CMARK_EVENT_DONE) {
		cmark_node *node = cmark_iter_get_node(iterator);
		if (event != CMARK_EVENT_EXIT || cmark_node_get_type(node) != CMARK_NODE_STRONG)
			continue;
		trim_text(document, cmark_node_first_child(node), true);
		trim_text(document, cmark_node_last_child(node), false);
	}
	cmark_iter_free(iterator);
}

struct text document_plain_prose(struct arena *arena, struct text prose)
{
	if (prose.length == 0)
		return prose;
	struct document *document = document_create(arena);
	cmark_node *paragraph = document_add(document, document->root, CMARK_NODE_PARAGRAPH, NULL);
	document_prose(document, paragraph, prose);
	return document_plain(document, paragraph, arena);
}

struct text document_markdown(struct document *document)
{
	current_arena = document->arena;
	cmark_consolidate_text_nodes(document->root);
	trim_strong(document);
	return text_from(cmark_render_commonmark(document->root, CMARK_OPT_DEFAULT, 0));
}
