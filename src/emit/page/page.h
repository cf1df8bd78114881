/* A document tree as one HTML file that needs nothing else: no script, nothing fetched. The tree's own nodes become
 * the elements of CommonMark's own rendering; what a marked node becomes, and what is drawn in it, is the product's
 * business. page.css is the part of the style that all pages share: black on white, nothing told by colour or
 * backgrounds. */
#ifndef EMIT_PAGE_PAGE_H
#define EMIT_PAGE_PAGE_H

#include "emit/document.h"
#include "emit/page/form.h"
#include "support/output.h"

/** What a marked node becomes. */
struct page_element {
	const char *name;	 /* "": the node's own */
	struct text class_names; /* empty: none */
};

/** The style of a page and its hash in hexadecimal digits. */
struct page_style {
	struct text source; /* page.style */
	enum paper_id paper;
	struct text css;
	struct text hash;
};

/** What many pages of one kind have in common: made for the first of them. Starts with its arena. */
struct page_memory {
	struct arena *arena;
	struct page_style style;
};

struct page {
	struct document *document;
	struct page_memory *memory;   /* null: the page is the only one */
	const struct page_form *form; /* its paper; margins are the style's */
	struct text title;	      /* user text */
	const char *product;	      /* after the title: "sink sheet" */
	struct text style;	      /* after page.css */
	const void *subject;	      /* for the functions below */
	struct page_element (*element_of)(const struct page *page, const void *mark);
	/* Draw what stands first and last in a marked node's element; may be null. */
	void (*draw)(const struct page *page, cmark_node *node, struct output *output);
	void (*draw_last)(const struct page *page, cmark_node *node, struct output *output);
};

/** Writes the whole page. */
void page_write(const struct page *page, struct output *output);

#endif
