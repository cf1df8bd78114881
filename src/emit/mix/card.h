/* The mixing card: for each bath of a process, in the order of mixing, what to do at the bench, with boxes to tick,
 * and what to write on its bottle. One document tree, rendered as CommonMark and as HTML; all figures come from the
 * preparation. How figures and temperatures are said is the sink sheet's (emit/sheet/words.h). All parts live in the
 * emission's arena. */
#ifndef EMIT_MIX_CARD_H
#define EMIT_MIX_CARD_H

#include "compute/preparation.h"
#include "emit/sheet/sheet.h"

enum mix_mark_id {
#define MIX_MARK(id, element, class_name) MIX_MARK_##id,
#include "emit/mix/marks.def"
#undef MIX_MARK
	MIX_MARK_COUNT
};

struct mix_card {
	struct sheet *sheet; /* document, arena, process */
	const struct emission *emission;
	const struct preparation *preparation;
};

/** Builds the whole card of an emission. */
struct mix_card *mix_card_build(const struct emission *emission);

/** The mark of an id. A node's mark is a pointer to its id. */
const void *mix_mark(enum mix_mark_id id);

/** What stands at the head of the card. */
void mix_banner(struct mix_card *card);

/** One bath, with its number in the order. */
void mix_bath(struct mix_card *card, size_t index);

/** The acts of mixing of a stage. Returns their list, where there is one mix; null where there are several. */
cmark_node *mix_acts(struct mix_card *card, cmark_node *parent, const struct preparation_bath *bath,
		     const struct preparation_stage *stage);

/** Where a mix is made: "in Mixing jug (1.5 L), 700 mL free when the powder goes in". */
void mix_add_vessel(struct mix_card *card, cmark_node *parent, const struct preparation_stage *stage,
		    const struct preparation_mix *mix);

/** What comes after the mixing: blending, temperature, what is over. `list` null: under a heading of its own. */
void mix_after(struct mix_card *card, cmark_node *parent, const struct preparation_bath *bath, cmark_node *list);

/** What to write on the bottle. */
void mix_label(struct mix_card *card, cmark_node *parent, const struct preparation_bath *bath);

/** Cautions and hazards. */
void mix_care(struct mix_card *card, cmark_node *parent, const struct preparation_bath *bath);

/** The cautions of a bath, one after the other; an empty text at the end. */
struct text mix_caution(const struct preparation_bath *bath, size_t index);

/** Why a bath stands where it does in the order: part of a sentence. */
struct text mix_reason(const struct preparation_bath *bath);

/** Days since 1970-01-01 until which a bath keeps that is mixed on the day of the run; false where either is unknown.
 */
bool mix_keeps_until(const struct mix_card *card, const struct quantity *life, int64_t *day);

/** Appends text in strong emphasis with a mark of its own. */
void mix_strong(struct mix_card *card, cmark_node *parent, enum mix_mark_id mark, struct text text);

#endif
