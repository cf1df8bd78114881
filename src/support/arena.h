/* The one door to memory: blocks that are dropped together.
 *
 * Ownership: whatever an arena hands out lives until the arena is released; nothing is freed on its own. An
 * allocation that cannot be met jumps to the arena's landing place and does not return, so no caller tests for null. */
#ifndef SUPPORT_ARENA_H
#define SUPPORT_ARENA_H

#include <setjmp.h>
#include <stddef.h>

/** Where control lands when memory runs out: `if (setjmp(landing.place)) { memory is gone } `. */
struct landing {
	jmp_buf place;
};

struct arena_block;

struct arena {
	struct arena_block *blocks; /* newest first */
	char *next;		    /* first free byte of the newest block */
	char *end;
	struct landing *landing;
	size_t used;		   /* bytes handed out, with padding */
	struct arena_block *spare; /* of a scratch arena, for the next one; may be null */
};

/** An empty arena; `landing` must stay valid as long as the arena allocates. */
void arena_init(struct arena *arena, struct landing *landing);

/** Zeroed, aligned room for `count` items of `size` bytes. Jumps to the landing place if it cannot be had. */
void *arena_alloc(struct arena *arena, size_t count, size_t size);

/** Moves an array into room for at least `wanted` items (doubling) and updates `capacity`; the old room stays behind.
 * An array that was handed out last grows where it stands. */
void *arena_grow(struct arena *arena, const void *array, size_t count, size_t *capacity, size_t wanted, size_t size);

/** Gives all blocks back; the arena is empty and usable again. */
void arena_release(struct arena *arena);

/** Calls a task with an arena of its own, which is released behind it; also where memory runs out, be it in the new
 * arena or in `arena`, before control goes on to the landing place of `arena`. */
void arena_with_scratch(struct arena *arena, void (*task)(struct arena *scratch, void *data), void *data);

/** One zeroed value of a type. */
#define ARENA_NEW(arena, type) ((type *)arena_alloc((arena), 1, sizeof(type)))

/** A zeroed array of a type. */
#define ARENA_ARRAY(arena, type, count) ((type *)arena_alloc((arena), (count), sizeof(type)))

/** Makes room for one more item of a growing array held as (pointer, count, capacity). */
#define ARENA_RESERVE(arena, array, count, capacity)                                                                   \
	((count) < (capacity)                                                                                          \
		 ? (void)0                                                                                             \
		 : (void)((array) = arena_grow((arena), (array), (count), &(capacity), (count) + 1, sizeof *(array))))

#endif
