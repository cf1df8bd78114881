/* The form in which a page is printed: on which paper, and how large. What makes pages takes it from the emission. */
#ifndef EMIT_PAGE_FORM_H
#define EMIT_PAGE_FORM_H

#include <stdbool.h>

#include "support/text.h"

enum paper_id {
#define PAPER(id, name, width, height, css) PAPER_##id,
#include "emit/page/papers.def"
#undef PAPER
	PAPER_COUNT
};

struct paper_row {
	struct text name;
	int width; /* upright; in 1/100 mm */
	int height;
	const char *css; /* what CSS calls it */
};

/** How large a page is set: as suits what is on it, as much as can be read on one page, or large. */
enum page_size { PAGE_SIZE_SUITED, PAGE_SIZE_COMPACT, PAGE_SIZE_LARGE };

/** All zero: A4, in the size that suits. */
struct page_form {
	enum paper_id paper;
	enum page_size size;
};

/** The row of a paper. */
const struct paper_row *paper_row(enum paper_id paper);

/** Finds a paper by its name; PAPER_COUNT where there is none. */
enum paper_id paper_find(struct text name);

#endif
