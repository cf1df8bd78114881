#include "commands/file_names.h"

#include <stdlib.h>

#include "commands/invocation.h"
#include "support/utf8.h"

/* The longest name in a folder, of all systems in use. */
#define NAME_BYTES_MOST 255

/* What some systems take for a device, whatever extension stands behind it; the last two with a figure from 1 to 9. */
static const char *const devices[] = { "con", "prn", "aux", "nul", "com", "lpt" };
#define DEVICES_WITHOUT_FIGURE 4

struct folded_name {
	struct text folded;
	size_t index; /* in the order of the recipe */
};

static bool is_device(struct text folded)
{
	struct text start = { folded.data, folded.length < 3 ? folded.length : 3 };
	bool has_figure = folded.length == 4 && folded.data[3] >= '1' && folded.data[3] <= '9';

	for (size_t i = 0; i < sizeof(devices) / sizeof(*devices); i++) {
		bool is_whole = i < DEVICES_WITHOUT_FIGURE ? folded.length == 3 : has_figure;

		if (is_whole && text_equal(start, text_from(devices[i])))
			return true;
	}
	return false;
}

/* By what they are folded to; among equals in the order of the recipe. */
static int by_folded(const void *a, const void *b)
{
	const struct folded_name *first = a, *second = b;
	int order = text_compare(first->folded, second->folded);

	if (order != 0)
		return order;
	return first->index < second->index ? -1 : first->index > second->index;
}

static int complain_twins(struct arena *arena, const struct file_names *names, struct folded_name *folded)
{
	const struct folded_name *worst = NULL; /* the first in the recipe that meets one before it */
	size_t twin = 0;

	if (names->count > 1)
		qsort(folded, names->count, sizeof(*folded), by_folded);
	for (size_t i = 1; i < names->count; i++) {
		if (!text_equal(folded[i - 1].folded, folded[i].folded) ||
		    (worst != NULL && worst->index < folded[i].index))
			continue;
		worst = &folded[i];
		twin = folded[i - 1].index;
	}
	if (worst == NULL)
		return 0;
	return complain(
		"`%.*s` and `%.*s` are one file where capitals do not count; rename one, or write each with --process",
		TEXT_ARGUMENT(utf8_harmless(arena, names->items[twin])),
		TEXT_ARGUMENT(utf8_harmless(arena, names->items[worst->index])));
}

/* Why a name could be no file at all everywhere; null where it could. */
static const char *problem_of(const struct file_names *names, const struct folded_name *name)
{
	if (is_device(name->folded))
		return "is a device on some systems";
	if (names->items[name->index].length + names->extension.length > NAME_BYTES_MOST)
		return "is longer than any file's name";
	return NULL;
}

int file_names_complain(struct arena *arena, const struct file_names *names)
{
	struct folded_name *folded = ARENA_ARRAY(arena, struct folded_name, names->count);

	for (size_t i = 0; i < names->count; i++) {
		const char *problem;

		folded[i] = (struct folded_name){ utf8_folded(arena, names->items[i]), i };
		problem = problem_of(names, &folded[i]);
		if (problem != NULL)
			return complain("`%.*s%.*s` %s; rename the process, or write it with --process",
					TEXT_ARGUMENT(utf8_harmless(arena, names->items[i])),
					TEXT_ARGUMENT(names->extension), problem);
	}
	return complain_twins(arena, names, folded);
}
