/* The table of papers, made from papers.def. */
#include "emit/page/form.h"

static const struct paper_row rows[] = {
#define PAPER(id, name, width, height, css) { { name, sizeof(name) - 1 }, width, height, css },
#include "emit/page/papers.def"
#undef PAPER
};

const struct paper_row *paper_row(enum paper_id paper)
{
	return &rows[paper];
}

enum paper_id paper_find(struct text name)
{
	for (size_t i = 0; i < PAPER_COUNT; i++)
		if (text_equal(rows[i].name, name))
			return (enum paper_id)i;
	return PAPER_COUNT;
}
