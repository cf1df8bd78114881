/* The sheet as one HTML file. */
#include "emit/forecast/curve.h"
#include "emit/page/page.h"
#include "emit/sheet/ladder.h"
#include "emit/sheet/room.h"

#include "embedded/sheet_css.h"

/* The classes of a side in each size. */
static const char *const sizes[SHEET_SIZE_COUNT] = {
	[SHEET_LARGE] = "large roomy in-lines",
	[SHEET_MIDDLE] = "middle roomy in-lines",
	[SHEET_SMALL] = "small in-lines",
	[SHEET_TIGHT] = "tight in-lines",
	[SHEET_CLOSE] = "close",
	[SHEET_DENSE] = "dense",
};

/* A side is of the class of its size, and of how far apart its blocks are set. */
static struct page_element element_of(const struct page *page, const void *node_mark)
{
	static const struct page_element elements[] = {
#define MARK(id, element, class_name) { element, { class_name, sizeof(class_name) - 1 } },
#include "emit/sheet/marks.def"
#undef MARK
	};
	const struct sheet_mark *mark = node_mark;
	struct page_element element = elements[mark->id];
	if (mark->id == MARK_side)
		element.class_names = text_format(page->document->arena, "%.*s %s spread-%zu",
						  TEXT_ARGUMENT(element.class_names), sizes[mark->size], mark->number);
	return element;
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

static void draw_curve(const struct sheet *sheet, struct output *output)
{
	curve_draw(sheet->emission, sheet->forecasts, output);
}

static void draw(const struct page *page, cmark_node *node, struct output *output)
{
	const struct sheet_mark *mark = document_mark(node);
	if (mark->id == MARK_ladder)
		ladder_draw(page->subject, room_of_ladder(size_of_side(node)), output);
	if (mark->id == MARK_curve)
		draw_curve(page->subject, output);
}

/* A strip stands below its time. */
static void draw_last(const struct page *page, cmark_node *node, struct output *output)
{
	const struct sheet_mark *mark = document_mark(node);
	if (mark->id == MARK_time)
		strip_draw(page->subject, mark->number, room_of_strip(size_of_side(node)), output);
}

void emit_sheet_html(const struct emission *emission, struct output *output)
{
	const struct sheet *sheet = sheet_build(emission);
	const struct page page = {
		.document = sheet->document,
		.form = &emission->form,
		.memory = emission->pages,
		.title = sheet->title,
		.product = "sink sheet",
		.style = { sheet_css, sheet_css_length },
		.subject = sheet,
		.element_of = element_of,
		.draw = draw,
		.draw_last = draw_last,
	};
	page_write(&page, output);
}
