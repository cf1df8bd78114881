/* "Did you mean": the known words nearest to a word that is not known. */
#ifndef SUPPORT_SUGGEST_H
#define SUPPORT_SUGGEST_H

#include <stdbool.h>
#include <stddef.h>

#include "support/text.h"

#define SUGGESTIONS 3

/** The best words so far, nearest first, then by bytes; the words are slices of what was offered. */
struct suggestion_list {
	struct text words[SUGGESTIONS];
	size_t count;
	size_t distances[SUGGESTIONS];
	struct text wrong;
};

/** Starts a list for a word that is not known; `wrong` must outlive the list. */
void suggest_start(struct suggestion_list *list, struct text wrong);

/** Offers a known word, which must outlive the list. It is taken where it is at most length / 3 slips away: a letter
 * too many, missing, wrong, or two neighbours exchanged; upper and lower case count as the same letter. A word of one
 * or two letters is near to its other capitals only. Offer only words of the kind that fits. */
void suggest_offer(struct suggestion_list *list, struct text candidate);

/** How far the one word near to another may be trusted to be what was meant. */
enum suggestion_trust {
	SUGGESTION_OF_LANGUAGE, /* words of the language, of which one fits: one slip is a slip of the pen */
	SUGGESTION_OF_RECIPE,	/* names that something else may well have: other capitals or two letters exchanged */
};

/** True where the list holds one word and it is surely what was meant. A figure in a word is never a slip. */
bool suggest_is_sure(const struct suggestion_list *list, enum suggestion_trust trust);

/** "did you mean `holds`?" or "did you mean `holds` or `hold`?" in `arena`; empty where there is nothing to suggest. */
struct text suggest_sentence(struct arena *arena, const struct suggestion_list *list);

#endif
