/* Which thing of one list is which of another. */
#include "compute/matching.h"

#include <string.h>

/* ---- by name ---- */

static size_t count_items(const struct outline *list)
{
	size_t count = 0;

	for (const struct outline *item = list == NULL ? NULL : list->first; item != NULL; item = item->next)
		count++;
	return count;
}

static const struct outline **items_of(const struct outline *list, size_t count, struct arena *arena)
{
	const struct outline **items = ARENA_ARRAY(arena, const struct outline *, count + 1);

	for (size_t i = 0; i < count; i++)
		items[i] = i == 0 ? list->first : items[i - 1]->next;
	return items;
}

static void marry(struct matching *matching, size_t old, size_t new)
{
	matching->of_old[old] = new;
	matching->of_new[new] = old;
}

/* Of things with the same name, the first goes with the first. */
static void match_names(struct matching *matching)
{
	size_t from = 0;

	for (size_t i = 0; i < matching->old_count; i++) {
		const struct outline *old = matching->old[i];

		for (size_t step = 0; step < matching->new_count; step++) {
			/* lists are mostly in the same order: begin behind the last that was found */
			size_t j = (from + step) % matching->new_count;

			if (matching->of_new[j] != MATCHING_NONE || !text_equal(old->name, matching->new[j]->name) ||
			    strcmp(old->label, matching->new[j]->label) != 0)
				continue;
			marry(matching, i, j);
			from = j + 1;
			break;
		}
	}
}

/* ---- by likeness ---- */

static bool counts_for_likeness(const struct outline *fact)
{
	return fact->is_fact && fact->matter == OUTLINE_RUN && !outline_is_empty(fact) &&
	       strcmp(fact->key, "name") != 0;
}

/* Of a process: how many steps have their names in common. */
static void count_steps(const struct outline *old, const struct outline *new, size_t *common, size_t *all)
{
	size_t left = count_items(old);
	size_t right = count_items(new);

	for (const struct outline *a = old->first; a != NULL; a = a->next)
		for (const struct outline *b = new->first; b != NULL; b = b->next)
			if (text_equal(a->name, b->name)) {
				*common += 1;
				break;
			}
	*all += left > right ? left : right;
}

/* What two things have in common, in thousandths of what can be said of either. What a bath is for is most of what it
 * is: two roles make two things. */
static size_t likeness(const struct outline *old, const struct outline *new)
{
	size_t common = 0;
	size_t all = 0;

	if (strcmp(old->label, new->label) != 0)
		return 0;
	for (const struct outline *a = old->first, *b = new->first; a != NULL &&b != NULL; a = a->next, b = b->next) {
		bool is_same;

		if (strcmp(a->key, "steps") == 0)
			count_steps(a, b, &common, &all);
		if (!counts_for_likeness(a) && !counts_for_likeness(b))
			continue;
		is_same = outline_equal(a, b);
		if (!is_same && strcmp(a->key, "role") == 0)
			return 0;
		common += is_same;
		all++;
	}
	return all == 0 ? 0 : 1000 * common / all;
}

#define LEAST_LIKENESS 500

/* Lists with more strangers than this are not searched for likenesses. */
#define STRANGERS_MOST 200

static size_t count_strangers(const size_t *partners, size_t count)
{
	size_t strangers = 0;

	for (size_t i = 0; i < count; i++)
		strangers += partners[i] == MATCHING_NONE;
	return strangers;
}

/* The most alike of those without a partner; among equals the first. */
static bool find_most_alike(const struct matching *matching, size_t *old, size_t *new)
{
	size_t best = LEAST_LIKENESS - 1;
	size_t best_places = 0;

	for (size_t i = 0; i < matching->old_count; i++) {
		for (size_t j = 0; matching->of_old[i] == MATCHING_NONE && j < matching->new_count; j++) {
			size_t alike;

			if (matching->of_new[j] != MATCHING_NONE)
				continue;
			alike = likeness(matching->old[i], matching->new[j]);
			if (alike < best || (alike == best && (best < LEAST_LIKENESS || i + j >= best_places)))
				continue;
			best = alike;
			best_places = i + j;
			*old = i;
			*new = j;
		}
	}
	return best >= LEAST_LIKENESS;
}

static void match_likenesses(struct matching *matching)
{
	size_t old;
	size_t new;

	if (count_strangers(matching->of_old, matching->old_count) > STRANGERS_MOST ||
	    count_strangers(matching->of_new, matching->new_count) > STRANGERS_MOST)
		return;
	while (find_most_alike(matching, &old, &new))
		marry(matching, old, new);
}

/* ---- order ---- */

/* A number that goes with a name, whatever list it stands in (FNV-1a, 32 bits). */
static uint64_t number_of(struct text name)
{
	uint32_t number = 2166136261U;

	for (size_t i = 0; i < name.length; i++)
		number = (number ^ (unsigned char)name.data[i]) * 16777619U;
	return number;
}

/* A chain of partners that are in the same order in both lists, from its last one. */
struct chain {
	size_t length;
	uint64_t weight;
	size_t before; /* old index of the one before; MATCHING_NONE */
};

static bool is_better(const struct chain *one, const struct chain *other)
{
	return one->length != other->length ? one->length > other->length : one->weight > other->weight;
}

/* The best chain that ends with an old item. */
static struct chain chain_to(const struct matching *matching, const struct chain *chains, size_t old)
{
	struct chain best = { 0, 0, MATCHING_NONE };

	for (size_t i = 0; i < old; i++) {
		struct chain longer = { chains[i].length, chains[i].weight, i };

		if (matching->of_old[i] != MATCHING_NONE && matching->of_old[i] < matching->of_old[old] &&
		    is_better(&longer, &best))
			best = longer;
	}
	best.length++;
	best.weight += number_of(matching->old[old]->name) + number_of(matching->new[matching->of_old[old]]->name);
	return best;
}

/* The longest chain has stayed, the others have moved. Of two that are as long, such as where neighbours have changed
 * places, their names decide, so that the answer is the same read backwards. */
static void mark_moved(struct matching *matching, struct arena *arena)
{
	struct chain *chains = ARENA_ARRAY(arena, struct chain, matching->old_count + 1);
	size_t last = MATCHING_NONE;

	for (size_t i = 0; i < matching->old_count; i++) {
		matching->is_moved[i] = matching->of_old[i] != MATCHING_NONE;
		if (!matching->is_moved[i])
			continue;
		chains[i] = chain_to(matching, chains, i);
		if (last == MATCHING_NONE || is_better(&chains[i], &chains[last]))
			last = i;
	}
	for (; last != MATCHING_NONE; last = chains[last].before)
		matching->is_moved[last] = false;
}

static size_t *partners_of(size_t count, struct arena *arena)
{
	size_t *partners = ARENA_ARRAY(arena, size_t, count + 1);

	for (size_t i = 0; i < count; i++)
		partners[i] = MATCHING_NONE;
	return partners;
}

struct matching matching_of(const struct outline *old, const struct outline *new, bool by_likeness, struct arena *arena)
{
	struct matching matching = { .old_count = count_items(old), .new_count = count_items(new) };

	matching.old = items_of(old, matching.old_count, arena);
	matching.new = items_of(new, matching.new_count, arena);
	matching.of_old = partners_of(matching.old_count, arena);
	matching.of_new = partners_of(matching.new_count, arena);
	matching.is_moved = ARENA_ARRAY(arena, bool, matching.old_count + 1);
	match_names(&matching);
	if (by_likeness)
		match_likenesses(&matching);
	mark_moved(&matching, arena);
	return matching;
}
