/* A document as a tree of libcmark nodes: built once, rendered in several languages.
 *
 * Ownership: every node, and everything libcmark allocates for it, lives in the document's arena; nothing is freed.
 * Text that comes from a recipe enters through document_text (as it stands) or document_prose (as CommonMark
 * inlines); both bring it into Unicode normal form C and make controls and direction changers visible and harmless.
 * A node may carry a mark, which says what it is for beyond its CommonMark type; what marks mean is the builder's
 * and its renderers' business, Markdown knows nothing of them. */
#ifndef EMIT_DOCUMENT_H
#define EMIT_DOCUMENT_H

#include <cmark.h>
#include <stdbool.h>

#include "support/text.h"

struct document {
	struct arena *arena;
	cmark_mem *memory;
	cmark_node *root;
};

/** An empty document in `arena`. */
struct document *document_create(struct arena *arena);

/** A new node under `parent`, or a loose one where that is null; `mark` may be null and must outlive the document. */
cmark_node *document_add(struct document *document, cmark_node *parent, cmark_node_type type, const void *mark);

/** A heading of a level from 1 to 6. */
cmark_node *document_add_heading(struct document *document, cmark_node *parent, int level, const void *mark);

/** A tight bullet list. */
cmark_node *document_add_list(struct document *document, cmark_node *parent, const void *mark);

/** A paragraph in a new item of a list. */
cmark_node *document_add_item(struct document *document, cmark_node *list, const void *mark);

/** A block of code: lines as they stand. */
void document_add_code(struct document *document, cmark_node *parent, struct text lines);

/** Moves a loose node under `parent`, behind its other children. */
void document_attach(struct document *document, cmark_node *parent, cmark_node *node);

/** Appends text as it stands, markup and all; line ends become spaces. */
void document_text(struct document *document, cmark_node *parent, struct text text);

/** Appends a NUL-terminated string that is not user text. */
void document_string(struct document *document, cmark_node *parent, const char *string);

/** Appends printf-formatted text as it stands. */
void document_format(struct document *document, cmark_node *parent, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/** Appends text in strong emphasis, or in a marked span. */
void document_strong(struct document *document, cmark_node *parent, struct text text);
void document_span(struct document *document, cmark_node *parent, const void *mark, struct text text);

/** Takes the spaces off the end of the text last appended to a paragraph. */
void document_trim(struct document *document, cmark_node *paragraph);

/** Appends CommonMark inlines: emphasis, code and links stay (links to http, https and mailto only); pictures become
 * their descriptions, raw HTML and block structure become text. */
void document_prose(struct document *document, cmark_node *parent, struct text prose);

/** An iterator over all nodes of the document. */
cmark_iter *document_walk(struct document *document);

/** The mark of a node; null where it has none. */
const void *document_mark(cmark_node *node);

/** The text under a node without markup, in `arena` or the document's own; blocks are parted by spaces. */
struct text document_plain(struct document *document, cmark_node *node, struct arena *arena);

/** CommonMark inlines without their markup, in one line. */
struct text document_plain_prose(struct arena *arena, struct text prose);

/** The document as CommonMark 0.30. */
struct text document_markdown(struct document *document);

#endif
