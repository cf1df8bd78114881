#include "support/arena.h"

#include <stdalign.h>
#include <stdint.h>
#include <stdlib.h>
#include <string.h>

/* The first is more than a C library has at hand (glibc: 132 KB), so that it comes from the system as pages of zeros:
 * what is never touched costs nothing, and nothing is cleared twice. A test makes blocks so small that each allocation
 * is one of the system's, which it then lets fail. */
#ifndef FIRST_BLOCK
#define FIRST_BLOCK ((size_t)144 * 1024)
#define LARGEST_BLOCK ((size_t)4 * 1024 * 1024)
#endif
#define LEAST_CAPACITY 8

/* 0 where a sanitizer is to see each use after a release. */
#ifndef LARGEST_SPARE
#define LARGEST_SPARE ((size_t)512 * 1024)
#endif

struct arena_block {
	struct arena_block *older;
	size_t size;  /* bytes of room */
	size_t dirty; /* of a spare block: bytes at its start that are not zero */
	max_align_t room[];
};

_Noreturn static void give_up(struct arena *arena)
{
	longjmp(arena->landing->place, 1);
}

void arena_init(struct arena *arena, struct landing *landing)
{
	*arena = (struct arena){ .landing = landing };
}

static struct arena_block *new_block(struct arena *arena, size_t size)
{
	if (size > PTRDIFF_MAX - sizeof(struct arena_block))
		give_up(arena);
	struct arena_block *block = calloc(1, sizeof(struct arena_block) + size);
	if (!block)
		give_up(arena);
	block->size = size;
	return block;
}

/* The size of a type is a multiple of its alignment, so the largest power of two in the size aligns well enough. */
static size_t padding_before(const char *place, size_t size)
{
	size_t alignment = size & (~size + 1);
	if (alignment == 0 || alignment > alignof(max_align_t))
		alignment = alignof(max_align_t);
	return (size_t)(-(uintptr_t)place & (alignment - 1));
}

/* A large request gets a block of its own behind the newest, whose rest stays in use. */
static void *alloc_own_block(struct arena *arena, size_t bytes)
{
	struct arena_block *block = new_block(arena, bytes);
	if (arena->blocks) {
		block->older = arena->blocks->older;
		arena->blocks->older = block;
	} else {
		arena->blocks = block;
		arena->next = arena->end = (char *)block->room + bytes;
	}
	arena->used += bytes;
	return block->room;
}

static void start_block(struct arena *arena)
{
	size_t size = FIRST_BLOCK;
	if (arena->blocks && arena->blocks->size >= FIRST_BLOCK)
		size = arena->blocks->size < LARGEST_BLOCK / 2 ? arena->blocks->size * 2 : LARGEST_BLOCK;
	struct arena_block *block = arena->spare;
	if (block && block->size >= size) {
		arena->spare = NULL;
		memset(block->room, 0, block->dirty);
	} else {
		block = new_block(arena, size);
	}
	block->older = arena->blocks;
	arena->blocks = block;
	arena->next = (char *)block->room;
	arena->end = arena->next + block->size;
}

void *arena_alloc(struct arena *arena, size_t count, size_t size)
{
	if (size != 0 && count > PTRDIFF_MAX / size)
		give_up(arena);
	size_t bytes = count * size;
	size_t padding = padding_before(arena->next, size);
	size_t room = (size_t)(arena->end - arena->next);
	if (!arena->next || bytes > room || padding > room - bytes) {
		if (bytes > FIRST_BLOCK / 4)
			return alloc_own_block(arena, bytes);
		start_block(arena);
		padding = 0;
	}
	char *place = arena->next + padding;
	arena->next = place + bytes;
	arena->used += padding + bytes;
	return place;
}

static size_t next_capacity(struct arena *arena, size_t capacity, size_t wanted)
{
	size_t bigger = capacity < LEAST_CAPACITY / 2 ? LEAST_CAPACITY : capacity;
	if (capacity >= LEAST_CAPACITY / 2) {
		if (capacity > SIZE_MAX / 2)
			give_up(arena);
		bigger = capacity * 2;
	}
	return bigger < wanted ? wanted : bigger;
}

void *arena_grow(struct arena *arena, const void *array, size_t count, size_t *capacity, size_t wanted, size_t size)
{
	size_t bigger = next_capacity(arena, *capacity, wanted);
	if (size != 0 && bigger > PTRDIFF_MAX / size)
		give_up(arena);
	size_t more = (bigger - *capacity) * size;
	/* What was handed out last can grow where it stands: all room ahead is still zero. */
	if (array && (const char *)array + *capacity * size == arena->next &&
	    more <= (size_t)(arena->end - arena->next)) {
		char *place = arena->next - *capacity * size;
		arena->next += more;
		arena->used += more;
		*capacity = bigger;
		return place;
	}
	void *moved = arena_alloc(arena, bigger, size);
	if (array && count > 0)
		memcpy(moved, array, count * size);
	*capacity = bigger;
	return moved;
}

/* Hands the newest block of an arena on, for the next one. Its bytes are zero where nothing was handed out; the others
 * are cleared once they are wanted. */
static void leave_spare(struct arena *from, struct arena *to)
{
	struct arena_block *block = from->blocks;
	if (to->spare || !block || block->size < FIRST_BLOCK || block->size > LARGEST_SPARE)
		return;
	from->blocks = block->older;
	block->dirty = (size_t)(from->next - (char *)block->room);
	to->spare = block;
}

void arena_release(struct arena *arena)
{
	free(arena->spare);
	struct arena_block *block = arena->blocks;
	while (block) {
		struct arena_block *older = block->older;
		free(block);
		block = older;
	}
	arena_init(arena, arena->landing);
}

void arena_with_scratch(struct arena *arena, void (*task)(struct arena *scratch, void *data), void *data)
{
	struct landing *const outer = arena->landing;
	struct landing here;
	struct arena scratch;

	arena_init(&scratch, &here);
	scratch.spare = arena->spare;
	arena->spare = NULL;
	arena->landing = &here;
	if (setjmp(here.place) != 0) {
		arena->landing = outer;
		arena_release(&scratch);
		longjmp(outer->place, 1);
	}
	task(&scratch, data);
	arena->landing = outer;
	leave_spare(&scratch, arena);
	arena_release(&scratch);
}
