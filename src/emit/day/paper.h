/* The pages of a day: a document tree whose nodes carry the marks of marks.def, and tables. A table is a list to
 * CommonMark, one item a row; to HTML its rows are rows and its cells cells. Words that a table's head says already
 * stand in the tree for the list, and are not to be seen in the table. */
#ifndef EMIT_DAY_PAPER_H
#define EMIT_DAY_PAPER_H

#include "emit/day/parts.h"
#include "emit/page/page.h"

enum day_mark_id {
#define DAY_MARK(id, element, class_name) DAY_MARK_##id,
#include "emit/day/marks.def"
#undef DAY_MARK
	DAY_MARK_COUNT
};

enum day_table_id {
#define DAY_TABLE(id, class_name, caption, ...) DAY_TABLE_##id,
#include "emit/day/tables.def"
#undef DAY_TABLE
	DAY_TABLE_COUNT
};

/** What a node is for; a table has its own id and DAY_MARK_COUNT. */
struct day_mark {
	enum day_mark_id id;
	enum day_table_id table;
	size_t number; /* of what is drawn in the node: see the drawer of the mark */
};

struct paper {
	const struct emission *emission;
	const struct day_plan *plan;
	struct arena *arena;
	struct sheet *sheet; /* for the words of emit/sheet */
	struct document *document;
	const char *pending; /* in a list, what parts the next piece of a row from the one before; null: nothing */
};

/** An empty page. */
struct paper *paper_start(const struct emission *emission);

/** A mark, with a number for what is drawn. */
const void *paper_mark(enum day_mark_id id);
const void *paper_numbered(struct paper *paper, enum day_mark_id id, size_t number);

/** A block; the root's where `parent` is null. */
cmark_node *paper_block(struct paper *paper, cmark_node *parent, enum day_mark_id mark);

/** A section with a heading of level 2. */
cmark_node *paper_part(struct paper *paper, const char *heading);

/** An item of a list that begins with "label:" in strong emphasis. */
cmark_node *paper_fact(struct paper *paper, cmark_node *list, const char *label);

/** A table; returns what its rows are added to. */
cmark_node *paper_table(struct paper *paper, cmark_node *parent, enum day_table_id table);

/** A row of a table. */
cmark_node *paper_row(struct paper *paper, cmark_node *rows);

/** A cell that something is added to; behind others in the row, it begins with what parts it from them in a list. */
cmark_node *paper_cell(struct paper *paper, cmark_node *row, enum day_mark_id mark);

/** A cell with a text, which may be empty; `word` is said before it where the table's head is not seen. */
void paper_cell_text(struct paper *paper, cmark_node *row, const char *word, struct text text);

/** A piece of an item that is not in a table: like a cell, and nothing at all where the text is empty. */
void paper_piece(struct paper *paper, cmark_node *item, enum day_mark_id mark, struct text text);

/** A piece or cell is over: `separator` parts it from the next one in a list. */
void paper_part_with(struct paper *paper, const char *separator);

/** Says what parts the next piece from the one before, if anything does. */
void paper_say_pending(struct paper *paper, cmark_node *parent);

/** Text in strong emphasis with a mark of its own. */
void paper_strong(struct paper *paper, cmark_node *parent, enum day_mark_id mark, struct text text);

/** A box to tick, with the word beside it. */
void paper_tick(struct paper *paper, cmark_node *parent, const char *word);

/** Writes the page as HTML. `draw` may be null; tables are drawn anyway. */
void paper_write(struct paper *paper, const char *product, struct text style,
		 void (*draw)(const struct paper *paper, const struct day_mark *mark, struct output *output),
		 struct output *output);

#endif
