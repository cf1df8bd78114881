/* What is said of a roll in words: for a log, for columns, and as the sentence that the lists, the plan and a review
 * have in common. */
#ifndef EMIT_DAY_SAID_H
#define EMIT_DAY_SAID_H

#include "emit/document.h"
#include "model/day.h"
#include "model/roll_words.h"

/** The words, each without markup and in one line, in `arena`. */
struct roll_words said_of_roll(struct arena *arena, const struct roll *roll);

/** The conditions that intake found, in the order of their table, with blanks between. */
struct text said_conditions(struct arena *arena, const struct roll *roll);

/** How a text enters a document: document_text, or document_prose where it has markup. */
typedef void said_add(struct document *document, cmark_node *parent, struct text text);

/** Adds " made for C-22, developed as black-and-white-negative: no baths for it; decided by KM."; nothing where nothing
 * was decided. */
void said_add_decision(struct document *document, cmark_node *item, const struct roll_words *words,
		       said_add *add_reason);

/** How what is allowed begins: a sentence of its own behind a decision, else what follows the colon. */
const char *said_allowed(const struct roll_words *words);

/** Ends a sentence whose last words are given, unless they end one themselves. */
void said_end(struct document *document, cmark_node *item, struct text last);

#endif
