#include "emit/day/paper.h"

#include "emit/escape/html.h"
#include "emit/sheet/words.h"

#include "embedded/day_css.h"

struct paper *paper_start(const struct emission *emission)
{
	struct paper *paper = ARENA_NEW(emission->arena, struct paper);
	struct sheet *sheet = sheet_start(emission);
	*paper = (struct paper){ .emission = emission,
				 .plan = emission->plan,
				 .arena = emission->arena,
				 .sheet = sheet,
				 .document = sheet->document };
	return paper;
}

const void *paper_mark(enum day_mark_id id)
{
	static const struct day_mark marks[] = {
#define DAY_MARK(id, element, class_name) { DAY_MARK_##id, DAY_TABLE_COUNT, 0 },
#include "emit/day/marks.def"
#undef DAY_MARK
	};
	return &marks[id];
}

const void *paper_numbered(struct paper *paper, enum day_mark_id id, size_t number)
{
	struct day_mark *mark = ARENA_NEW(paper->arena, struct day_mark);
	*mark = (struct day_mark){ id, DAY_TABLE_COUNT, number };
	return mark;
}

cmark_node *paper_block(struct paper *paper, cmark_node *parent, enum day_mark_id mark)
{
	return document_add(paper->document, parent ? parent : paper->document->root, CMARK_NODE_CUSTOM_BLOCK,
			    paper_mark(mark));
}

cmark_node *paper_part(struct paper *paper, const char *heading)
{
	cmark_node *part = paper_block(paper, NULL, DAY_MARK_part);
	document_string(paper->document, document_add_heading(paper->document, part, 2, NULL), heading);
	return part;
}

cmark_node *paper_fact(struct paper *paper, cmark_node *list, const char *label)
{
	cmark_node *item = document_add_item(paper->document, list, NULL);
	document_strong(paper->document, item, text_format(paper->arena, "%s:", label));
	document_string(paper->document, item, " ");
	return item;
}

/* ---- tables ---- */

cmark_node *paper_table(struct paper *paper, cmark_node *parent, enum day_table_id table)
{
	static const struct day_mark marks[] = {
#define DAY_TABLE(id, class_name, caption, ...) { DAY_MARK_COUNT, DAY_TABLE_##id, 0 },
#include "emit/day/tables.def"
#undef DAY_TABLE
	};
	cmark_node *block = document_add(paper->document, parent, CMARK_NODE_CUSTOM_BLOCK, &marks[table]);
	return document_add_list(paper->document, block, paper_mark(DAY_MARK_rows));
}

cmark_node *paper_add_row(struct paper *paper, cmark_node *rows)
{
	paper->pending = NULL;
	return document_add_item(paper->document, rows, paper_mark(DAY_MARK_row));
}

void paper_part_with(struct paper *paper, const char *separator)
{
	paper->pending = separator;
}

void paper_say_pending(struct paper *paper, cmark_node *parent)
{
	if (paper->pending && text_equal(text_from(paper->pending), TEXT(" ")))
		document_string(paper->document, parent, " ");
	else if (paper->pending)
		document_span(paper->document, parent, paper_mark(DAY_MARK_word), text_from(paper->pending));
	paper->pending = NULL;
}

static cmark_node *add_cell(struct paper *paper, cmark_node *row, enum day_mark_id mark)
{
	return document_add(paper->document, row, CMARK_NODE_CUSTOM_INLINE, paper_mark(mark));
}

cmark_node *paper_cell(struct paper *paper, cmark_node *row, enum day_mark_id mark)
{
	cmark_node *cell = add_cell(paper, row, mark);
	paper_say_pending(paper, cell);
	paper_part_with(paper, "; ");
	return cell;
}

void paper_cell_text(struct paper *paper, cmark_node *row, const char *word, struct text text)
{
	if (text.length == 0) {
		add_cell(paper, row, DAY_MARK_cell);
		return;
	}
	cmark_node *cell = paper_cell(paper, row, DAY_MARK_cell);
	if (word[0] != '\0')
		document_span(paper->document, cell, paper_mark(DAY_MARK_word), text_from(word));
	document_text(paper->document, cell, text);
}

void paper_piece(struct paper *paper, cmark_node *item, enum day_mark_id mark, struct text text)
{
	if (text.length == 0)
		return;
	paper_say_pending(paper, item);
	document_span(paper->document, item, paper_mark(mark), text);
	paper_part_with(paper, "; ");
}

void paper_strong(struct paper *paper, cmark_node *parent, enum day_mark_id mark, struct text text)
{
	cmark_node *strong = document_add(paper->document, parent, CMARK_NODE_STRONG, paper_mark(mark));
	document_text(paper->document, strong, text);
}

void paper_tick(struct paper *paper, cmark_node *parent, const char *word)
{
	document_span(paper->document, parent, paper_mark(DAY_MARK_tick), TEXT("☐"));
	document_span(paper->document, parent, paper_mark(DAY_MARK_tick_word),
		      text_format(paper->arena, NBSP "%s", word));
}

/* ---- HTML ---- */

static struct page_element element_of(const struct page *page, const void *node_mark)
{
	static const struct page_element elements[] = {
#define DAY_MARK(id, element, class_name) { element, { class_name, sizeof(class_name) - 1 } },
#include "emit/day/marks.def"
#undef DAY_MARK
	};
	static const struct page_element tables[] = {
#define DAY_TABLE(id, class_name, caption, ...) { "table", { class_name, sizeof(class_name) - 1 } },
#include "emit/day/tables.def"
#undef DAY_TABLE
	};
	const struct day_mark *mark = node_mark;
	(void)page;
	return mark->table < DAY_TABLE_COUNT ? tables[mark->table] : elements[mark->id];
}

static void draw_head(enum day_table_id table, struct output *output)
{
	static const char *const heads[][10] = {
#define DAY_TABLE(id, class_name, caption, ...) { caption, __VA_ARGS__, NULL },
#include "emit/day/tables.def"
#undef DAY_TABLE
	};
	output_format(output, "<caption>%s</caption>\n<thead><tr>", heads[table][0]);
	for (size_t i = 1; heads[table][i]; i++)
		output_format(output, "<th scope=\"col\">%s</th>", heads[table][i]);
	output_string(output, "</tr></thead>\n");
}

/* What a page's functions are called with. */
struct drawing {
	const struct paper *paper;
	void (*draw)(const struct paper *paper, const struct day_mark *mark, struct output *output);
};

static void draw_node(const struct page *page, cmark_node *node, struct output *output)
{
	const struct drawing *drawing = page->subject;
	const struct day_mark *mark = document_mark(node);
	if (mark->table < DAY_TABLE_COUNT)
		draw_head(mark->table, output);
	else if (drawing->draw)
		drawing->draw(drawing->paper, mark, output);
}

void paper_write(struct paper *paper, const char *product, struct text style,
		 void (*draw)(const struct paper *paper, const struct day_mark *mark, struct output *output),
		 struct output *output)
{
	const struct drawing drawing = { paper, draw };
	struct text_builder both = text_builder_start(paper->arena);
	text_append(&both, (struct text){ day_css, day_css_length });
	text_append(&both, style);
	const struct page page = {
		.document = paper->document,
		.form = &paper->emission->form,
		.title = parts_day(paper->emission),
		.product = product,
		.style = text_builder_text(&both),
		.subject = &drawing,
		.element_of = element_of,
		.draw = draw_node,
	};
	page_write(&page, output);
}
