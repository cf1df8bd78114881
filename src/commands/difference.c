/* The difference of two texts, line by line. */
#include "commands/difference.h"

#include <string.h>

#define CONTEXT 3
/* How many lines may have come or gone at one place before the search for the next common line is given up. */
#define REACH 48

struct lines {
	struct text *items; /* each with its line end */
	size_t count;
	size_t capacity;
};

/* `taken` lines from `old` on, for which `added` lines from `fresh` on come. */
struct change {
	size_t old;
	size_t fresh;
	size_t taken;
	size_t added;
};

struct changes {
	struct change *items;
	size_t count;
	size_t capacity;
};

static struct lines split(struct arena *arena, struct text text)
{
	struct lines lines = { 0 };

	while (text.length > 0) {
		const char *end = memchr(text.data, '\n', text.length);
		size_t length = end == NULL ? text.length : (size_t)(end - text.data) + 1;

		ARENA_RESERVE(arena, lines.items, lines.count, lines.capacity);
		lines.items[lines.count++] = (struct text){ text.data, length };
		text.data += length;
		text.length -= length;
	}
	return lines;
}

/* The nearest common line: the fewest lines taken and added before it. Without one in reach, one line of each is
 * passed over. */
static void find_common(const struct lines *old, const struct lines *fresh, struct change *change)
{
	size_t old_left = old->count - change->old;
	size_t fresh_left = fresh->count - change->fresh;

	for (size_t sum = 1; sum <= REACH; sum++)
		for (size_t taken = 0; taken <= sum; taken++) {
			size_t added = sum - taken;

			if (taken >= old_left || added >= fresh_left)
				continue;
			if (text_equal(old->items[change->old + taken], fresh->items[change->fresh + added])) {
				change->taken = taken;
				change->added = added;
				return;
			}
		}
	change->taken = old_left <= REACH && fresh_left <= REACH ? old_left : old_left > 0;
	change->added = old_left <= REACH && fresh_left <= REACH ? fresh_left : fresh_left > 0;
}

static struct changes find_changes(struct arena *arena, const struct lines *old, const struct lines *fresh)
{
	struct changes changes = { 0 };
	size_t i = 0;
	size_t j = 0;

	while (i < old->count || j < fresh->count) {
		struct change change = { .old = i, .fresh = j };

		if (i < old->count && j < fresh->count && text_equal(old->items[i], fresh->items[j])) {
			i++;
			j++;
			continue;
		}
		find_common(old, fresh, &change);
		i += change.taken;
		j += change.added;
		if (changes.items != NULL) { /* goes on where the one before ended */
			struct change *last = &changes.items[changes.count - 1];

			if (last->old + last->taken == change.old && last->fresh + last->added == change.fresh) {
				last->taken += change.taken;
				last->added += change.added;
				continue;
			}
		}
		ARENA_RESERVE(arena, changes.items, changes.count, changes.capacity);
		changes.items[changes.count++] = change;
	}
	return changes;
}

static void print_lines(struct output *output, const char *mark, const struct lines *lines, size_t from, size_t count)
{
	for (size_t i = from; i < from + count; i++) {
		struct text line = lines->items[i];

		output_string(output, mark);
		output_write(output, line);
		if (line.data[line.length - 1] != '\n')
			output_string(output, "\n\\ No newline at end of file\n");
	}
}

/* The numbers of a hunk: an empty range is said to begin at the line before it. */
static void print_range(struct output *output, const char *sign, size_t from, size_t count)
{
	output_format(output, " %s%zu,%zu", sign, count == 0 ? from : from + 1, count);
}

/* Changes `first` to `last`, whose context meets, as one hunk. */
static void print_hunk(struct output *output, const struct lines *old, const struct lines *fresh,
		       const struct change *first, const struct change *last)
{
	size_t before = first->old < CONTEXT ? first->old : CONTEXT;
	size_t left = old->count - last->old - last->taken;
	size_t behind = left < CONTEXT ? left : CONTEXT;

	if (before > first->fresh)
		before = first->fresh;
	output_string(output, "@@");
	print_range(output, "-", first->old - before, last->old + last->taken + behind - (first->old - before));
	print_range(output, "+", first->fresh - before, last->fresh + last->added + behind - (first->fresh - before));
	output_string(output, " @@\n");
	print_lines(output, " ", old, first->old - before, before);
	for (const struct change *change = first; change <= last; change++) {
		size_t end = change->old + change->taken;

		print_lines(output, "-", old, change->old, change->taken);
		print_lines(output, "+", fresh, change->fresh, change->added);
		print_lines(output, " ", old, end, change == last ? behind : change[1].old - end);
	}
}

void difference_print(struct output *output, struct arena *arena, struct text name, struct text old, struct text fresh)
{
	struct lines old_lines = split(arena, old);
	struct lines fresh_lines = split(arena, fresh);
	struct changes changes = find_changes(arena, &old_lines, &fresh_lines);
	size_t first = 0;

	if (changes.count == 0)
		return;
	output_string(output, "--- ");
	output_write(output, name);
	output_string(output, "\n+++ ");
	output_write(output, name);
	output_string(output, "\n");
	for (size_t i = 0; i < changes.count; i++) {
		const struct change *change = &changes.items[i];

		if (i + 1 < changes.count && change[1].old - change->old - change->taken <= 2 * CONTEXT)
			continue;
		print_hunk(output, &old_lines, &fresh_lines, &changes.items[first], change);
		first = i + 1;
	}
}
