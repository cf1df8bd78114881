/* The lists that keep each roll's identity through the dark: load list and hang list of every load, labels, what is
 * left over. One document tree for CommonMark and HTML; JSON and CSV hold the same rolls. */
#ifndef EMIT_LISTS_LISTS_H
#define EMIT_LISTS_LISTS_H

#include "emit/day/paper.h"

/** True where a load is on the lists: the one that was asked for, else each that is done on the day. */
bool lists_hold(const struct emission *emission, const struct plan_load *load);

/** How many rolls are on the lists, those that are left over with them. */
size_t lists_roll_count(const struct emission *emission);

/** What to see to before the light goes out, and before it comes on again: sentences, the last is null. */
extern const char *const lists_before_dark[];
extern const char *const lists_before_light[];

/** One fill of a bath and the bottle it stands in. */
struct lists_bottle {
	const struct plan_load *load; /* the first that uses it */
	const struct plan_account *account;
	uint32_t number;	     /* in the order of pouring; 0: none of its own */
	const struct plan_task *mix; /* null: not mixed on this day */
};

/** All fills that the loads on the lists use, in the order of processes, bottles and fills. */
struct lists_bottle *lists_bottles(const struct emission *emission, size_t *count);

/** When a bottle was mixed: "2026-03-12", or with the time where that is on this day; empty where it is not known. */
struct text lists_mixed(const struct emission *emission, const struct lists_bottle *bottle);

/** "1st", "2nd", "11th". */
struct text lists_ordinal(struct arena *arena, size_t number);

/** The load and hang list of a load, on a page of their own. `is_drawn`: the rows of the load list stand as the reels
 * do in the column, the last that was loaded on top; else in the order of loading. */
void lists_add_load(struct paper *paper, const struct plan_load *load, bool is_drawn);

/** What the baths have done after a load, in a sentence under its lists. */
void lists_add_baths(struct paper *paper, cmark_node *page, const struct plan_load *load);

/** The account of all baths over the loads on the lists. */
void lists_add_accounts(struct paper *paper);

/** A sticker for each roll, and one for each bottle. */
void lists_add_labels(struct paper *paper);

#endif
