/* The sink sheet: one document tree, and what its two renderings share.
 *
 * The tree is a row of sides. Set large, the first is read at the sink (what the run is, the temperature ladder, its
 * steps), the last at the bench (bottles and mixing, cautions, waste, departures); compact, all that is wanted at the
 * sink is on as few sides as it can be read on, and mixing is left to the mixing card where it has no room. Steps and
 * baths are never split; sides.c deals them out by the room they need on the paper, so that the sides can be counted on
 * the page itself. All parts of a sheet live in the emission's arena. */
#ifndef EMIT_SHEET_SHEET_H
#define EMIT_SHEET_SHEET_H

#include "compute/forecast.h"
#include "emit/document.h"
#include "emit/emission.h"
#include "emit/sheet/flow.h"

enum sheet_mark_id {
#define MARK(id, element, class_name) MARK_##id,
#include "emit/sheet/marks.def"
#undef MARK
	MARK_COUNT
};

/** How large things are set. The words of a step stand beside its time and strip, in the first four on lines of their
 * own, then as one paragraph, in the last also below them. */
enum sheet_size { SHEET_LARGE, SHEET_MIDDLE, SHEET_SMALL, SHEET_TIGHT, SHEET_CLOSE, SHEET_DENSE, SHEET_SIZE_COUNT };

/** What a node is for. */
struct sheet_mark {
	enum sheet_mark_id id;
	size_t number;	      /* of a time: its step; of a side: how far apart the blocks of a side are set, in mm */
	enum sheet_size size; /* of a side */
};

/** The shared mark of an id; null for MARK_COUNT, which stands for none. */
const struct sheet_mark *sheet_mark(enum sheet_mark_id id);

struct sheet {
	const struct emission *emission;
	const struct process *process;
	const struct timeline *timeline;
	struct arena *arena;
	struct document *document;
	struct text title;		  /* without markup */
	const struct forecast *forecasts; /* null: not asked for */
	int64_t scale_ms;		  /* what the whole width of the left column stands for in strips */
	struct advances advances;	  /* of the type it is set in */
	int64_t longest_drawn_ms;	  /* a longer step gets no strip */
};

/** What a block is for. A compact sheet does without mixing, any sheet without the legend, where it costs a side. */
enum sheet_part { SHEET_SINK, SHEET_MIXING, SHEET_CARE, SHEET_LEGEND };

/** A block of the sheet that stays whole, loose until it is dealt to a side. */
struct sheet_block {
	cmark_node *node;
	enum sheet_part part; /* parts follow each other in their order */
	int *rooms;	      /* its height in each size, once reckoned; else 0 */
};

struct sheet_blocks {
	struct sheet_block *items;
	size_t count;
	size_t capacity;
};

/** A sheet of paper with nothing on it yet: document, title, what it is about. Other products begin with it too; one of
 * a day has no process, and so no title. */
struct sheet *sheet_start(const struct emission *emission);

/** Builds the whole sheet of an emission. */
struct sheet *sheet_build(const struct emission *emission);

/* The parts, each adding its blocks in order. */
void sheet_banner(struct sheet *sheet, struct sheet_blocks *blocks);
void sheet_steps(struct sheet *sheet, struct sheet_blocks *blocks);
void sheet_baths(struct sheet *sheet, struct sheet_blocks *blocks);
void sheet_care(struct sheet *sheet, struct sheet_blocks *blocks);

/** Appends text in strong emphasis with a mark of its own. */
void sheet_strong(struct sheet *sheet, cmark_node *parent, enum sheet_mark_id mark, struct text text);

/** Adds a block. */
void sheet_block(struct sheet *sheet, struct sheet_blocks *blocks, enum sheet_part part, cmark_node *node);

/** The temperature forecast as a loose block, where it was asked for; else null. */
cmark_node *sheet_forecast(struct sheet *sheet);

/** Deals the blocks to sides under the document's root and chooses their sizes. `extra`, which may be null, comes after
 * all others and changes nothing about them: where the last side has no room for it, it has one of its own. */
void sheet_sides(struct sheet *sheet, struct sheet_blocks *blocks, cmark_node *extra);

/** Chooses the common scale of all strips: the longest one drawn is as wide as the left column. */
void strip_set_scale(struct sheet *sheet);

/** True where a step gets a strip: it is wet, lasts, and is not much longer than the others. */
bool strip_is_drawn(const struct sheet *sheet, size_t step);

/** Draws one step's strip as SVG, so many px high. */
void strip_draw(const struct sheet *sheet, size_t step, int height, struct output *output);

#endif
