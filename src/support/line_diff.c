/* The shortest way from one list of lines to the other (E. W. Myers, An O(ND) Difference Algorithm and Its Variations,
 * Algorithmica 1, 1986), as far as that is cheap; beyond it the middle counts as replaced. */
#include "support/line_diff.h"

#include <stdbool.h>
#include <stdint.h>
#include <string.h>

#define CONTEXT ((size_t)3)

/* Lines taken out and put in beyond which the way is not looked for: its record grows with their square. */
#define EDITS_MOST 1500

struct lines {
	struct text *items; /* with their line ends */
	size_t count;
};

struct edits {
	struct arena *arena;
	struct lines old;
	struct lines new;
	bool *is_removed; /* by line of the old text */
	bool *is_added;	  /* by line of the new text */
};

static struct lines split(struct arena *arena, struct text text)
{
	size_t count = 0;
	for (size_t i = 0; i < text.length; i++)
		count += text.data[i] == '\n' || i + 1 == text.length;
	struct lines lines = { ARENA_ARRAY(arena, struct text, count + 1), 0 };
	for (size_t at = 0; at < text.length;) {
		const char *end = memchr(text.data + at, '\n', text.length - at);
		size_t length = end ? (size_t)(end - (text.data + at)) + 1 : text.length - at;
		lines.items[lines.count++] = (struct text){ text.data + at, length };
		at += length;
	}
	return lines;
}

/* The part of both texts that remains between equal beginnings and equal ends. */
struct middle {
	size_t from;
	size_t old_count;
	size_t new_count;
};

static struct middle middle_of(const struct edits *edits)
{
	const struct lines *a = &edits->old, *b = &edits->new;
	size_t from = 0, old_end = a->count, new_end = b->count;
	while (from < old_end && from < new_end && text_equal(a->items[from], b->items[from]))
		from++;
	while (old_end > from && new_end > from && text_equal(a->items[old_end - 1], b->items[new_end - 1])) {
		old_end--;
		new_end--;
	}
	return (struct middle){ from, old_end - from, new_end - from };
}

/* How far along each diagonal (old line minus new line) so many edits lead; one row of the record for each number. */
static int32_t *step_on(const struct edits *edits, const struct middle *middle, const int32_t *before, int32_t depth)
{
	int32_t *row = ARENA_ARRAY(edits->arena, int32_t, 2 * (size_t)depth + 1);
	for (int32_t k = -depth; k <= depth; k += 2) {
		/* `before` is centred on its own depth */
		int32_t x = 0;
		if (depth > 0) {
			int32_t down = k < depth - 1 ? before[k + 1 + depth - 1] : -1;
			int32_t right = k > -depth + 1 ? before[k - 1 + depth - 1] + 1 : -1;
			x = right > down ? right : down;
		}
		while (x < (int32_t)middle->old_count && x - k < (int32_t)middle->new_count && x - k >= 0 &&
		       text_equal(edits->old.items[middle->from + (size_t)x],
				  edits->new.items[middle->from + (size_t)(x - k)]))
			x++;
		row[k + depth] = x;
	}
	return row;
}

/* Goes the way back and marks what was taken out and put in. */
static void mark_way(struct edits *edits, const struct middle *middle, int32_t *const *rows, int32_t depth)
{
	int32_t x = (int32_t)middle->old_count, y = (int32_t)middle->new_count;
	for (; depth > 0; depth--) {
		const int32_t *before = rows[depth - 1];
		int32_t k = x - y;
		int32_t down = k < depth - 1 ? before[k + 1 + depth - 1] : -1;
		int32_t right = k > -depth + 1 ? before[k - 1 + depth - 1] + 1 : -1;
		if (right > down) {
			x = right - 1;
			y = x - (k - 1);
			edits->is_removed[middle->from + (size_t)x] = true;
		} else {
			x = down;
			y = x - (k + 1);
			edits->is_added[middle->from + (size_t)y] = true;
		}
	}
}

static void find_edits(struct edits *edits)
{
	struct middle middle = middle_of(edits);
	int32_t *rows[EDITS_MOST + 1];
	int32_t end = (int32_t)middle.old_count - (int32_t)middle.new_count;
	for (int32_t depth = 0; depth <= EDITS_MOST; depth++) {
		rows[depth] = step_on(edits, &middle, depth > 0 ? rows[depth - 1] : NULL, depth);
		bool is_reachable = end >= -depth && end <= depth && (end + depth) % 2 == 0;
		if (is_reachable && rows[depth][end + depth] >= (int32_t)middle.old_count) {
			mark_way(edits, &middle, rows, depth);
			return;
		}
	}
	for (size_t i = 0; i < middle.old_count; i++)
		edits->is_removed[middle.from + i] = true;
	for (size_t i = 0; i < middle.new_count; i++)
		edits->is_added[middle.from + i] = true;
}

/* ---- writing ---- */

static void append_line(struct text_builder *out, char sign, struct text line)
{
	text_append_byte(out, sign);
	text_append(out, line);
	if (line.length == 0 || line.data[line.length - 1] != '\n')
		text_append_string(out, "\n\\ No newline at end of file\n");
}

static bool is_changed(const struct edits *edits, size_t old, size_t new)
{
	return (old < edits->old.count && edits->is_removed[old]) || (new < edits->new.count && edits->is_added[new]);
}

/* A hunk's numbers: a count of 1 is left out, and an empty side names the line before it. */
static void append_range(struct text_builder *out, char sign, size_t from, size_t count)
{
	text_append_format(out, " %c%zu", sign, count == 0 ? from : from + 1);
	if (count != 1)
		text_append_format(out, ",%zu", count);
}

/* Walks over a hunk that begins at (*old, *new), writing it where `out` is not null; both are moved to its end. */
static void walk_hunk(const struct edits *edits, struct text_builder *out, size_t *old, size_t *new)
{
	size_t quiet = 0; /* unchanged lines since the last change */
	bool has_begun = false;
	while (*old < edits->old.count || *new < edits->new.count) {
		if (*old < edits->old.count && edits->is_removed[*old]) {
			if (out)
				append_line(out, '-', edits->old.items[*old]);
			(*old)++;
		} else if (*new < edits->new.count && edits->is_added[*new]) {
			if (out)
				append_line(out, '+', edits->new.items[*new]);
			(*new)++;
		} else {
			size_t ahead = 0; /* unchanged lines up to the next change */
			while (*old + ahead < edits->old.count && !is_changed(edits, *old + ahead, *new + ahead))
				ahead++;
			bool is_last = *old + ahead >= edits->old.count && *new + ahead >= edits->new.count;
			if (has_begun && quiet >= CONTEXT && (is_last || ahead > CONTEXT))
				return;
			if (out)
				append_line(out, ' ', edits->old.items[*old]);
			(*old)++;
			(*new)++;
			quiet++;
			continue;
		}
		quiet = 0;
		has_begun = true;
	}
}

static void append_hunks(const struct edits *edits, struct text_builder *out)
{
	size_t old = 0, new = 0;
	while (old < edits->old.count || new < edits->new.count) {
		if (!is_changed(edits, old, new)) {
			old++;
			new ++;
			continue;
		}
		size_t back = old < CONTEXT ? old : CONTEXT;
		size_t from_old = old - back, from_new = new - back;
		size_t to_old = from_old, to_new = from_new;
		walk_hunk(edits, NULL, &to_old, &to_new);
		text_append_string(out, "@@");
		append_range(out, '-', from_old, to_old - from_old);
		append_range(out, '+', from_new, to_new - from_new);
		text_append_string(out, " @@\n");
		old = from_old;
		new = from_new;
		walk_hunk(edits, out, &old, &new);
	}
}

struct text line_diff(struct arena *arena, struct text old_name, struct text new_name, struct text old_text,
		      struct text new_text)
{
	if (text_equal(old_text, new_text))
		return TEXT("");
	struct edits edits = { .arena = arena, .old = split(arena, old_text), .new = split(arena, new_text) };
	edits.is_removed = ARENA_ARRAY(arena, bool, edits.old.count + 1);
	edits.is_added = ARENA_ARRAY(arena, bool, edits.new.count + 1);
	find_edits(&edits);
	struct text_builder out = text_builder_start(arena);
	text_append_format(&out, "--- %.*s\n+++ %.*s\n", TEXT_ARGUMENT(old_name), TEXT_ARGUMENT(new_name));
	append_hunks(&edits, &out);
	return text_builder_text(&out);
}
