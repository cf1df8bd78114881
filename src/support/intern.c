#include "support/intern.h"

#include "support/utf8.h"

#define FIRST_SLOTS 64

struct intern {
	struct arena *arena;
	struct text *names; /* by number; the first is no name */
	uint32_t *hashes;   /* of the names */
	size_t count;
	size_t capacity;
	size_t hash_capacity;
	uint32_t *slots;   /* numbers, 0 where free; open addressing */
	size_t slot_count; /* a power of two */
};

/* FNV-1a, 32 bits. Says, too, whether all of it is ASCII. */
static uint32_t hash_of(struct text text, bool *is_ascii)
{
	uint32_t hash = 2166136261u;
	unsigned char bits = 0;
	for (size_t i = 0; i < text.length; i++) {
		unsigned char byte = (unsigned char)text.data[i];
		hash = (hash ^ byte) * 16777619u;
		bits |= byte;
	}
	*is_ascii = bits < 0x80;
	return hash;
}

/* A name in normal form, with its hash. Most are ASCII, which is in normal form: those are looked at once. */
static struct text normal_of(struct arena *arena, struct text name, uint32_t *hash)
{
	bool is_ascii;
	*hash = hash_of(name, &is_ascii);
	if (is_ascii)
		return name;
	struct text normal = utf8_normal(arena, name);
	*hash = hash_of(normal, &is_ascii);
	return normal;
}

struct intern *intern_create(struct arena *arena)
{
	struct intern *intern = ARENA_NEW(arena, struct intern);
	intern->arena = arena;
	intern->slot_count = FIRST_SLOTS;
	intern->slots = ARENA_ARRAY(arena, uint32_t, FIRST_SLOTS);
	ARENA_RESERVE(arena, intern->names, 0, intern->capacity);
	ARENA_RESERVE(arena, intern->hashes, 0, intern->hash_capacity);
	intern->names[0] = TEXT("");
	intern->count = 1;
	return intern;
}

/* The slot of a name: the one that holds it, or the free one where it belongs. */
static size_t slot_of(const struct intern *intern, struct text name, uint32_t hash)
{
	size_t mask = intern->slot_count - 1;
	size_t slot = hash & mask;
	while (intern->slots[slot] != 0) {
		uint32_t number = intern->slots[slot];
		if (intern->hashes[number] == hash && text_equal(intern->names[number], name))
			break;
		slot = (slot + 1) & mask;
	}
	return slot;
}

static void double_slots(struct intern *intern)
{
	size_t slot_count = intern->slot_count * 2;
	uint32_t *slots = ARENA_ARRAY(intern->arena, uint32_t, slot_count);
	for (size_t number = 1; number < intern->count; number++) {
		size_t slot = intern->hashes[number] & (slot_count - 1);
		while (slots[slot] != 0)
			slot = (slot + 1) & (slot_count - 1);
		slots[slot] = (uint32_t)number;
	}
	intern->slots = slots;
	intern->slot_count = slot_count;
}

uint32_t intern_name(struct intern *intern, struct text name)
{
	uint32_t hash;
	struct text normal = normal_of(intern->arena, name, &hash);
	size_t slot = slot_of(intern, normal, hash);
	if (intern->slots[slot] != 0)
		return intern->slots[slot];
	if (intern->count >= intern->slot_count / 2) {
		double_slots(intern);
		slot = slot_of(intern, normal, hash);
	}
	ARENA_RESERVE(intern->arena, intern->names, intern->count, intern->capacity);
	ARENA_RESERVE(intern->arena, intern->hashes, intern->count, intern->hash_capacity);
	uint32_t number = (uint32_t)intern->count;
	intern->names[number] = text_copy(intern->arena, normal);
	intern->hashes[number] = hash;
	intern->slots[slot] = number;
	intern->count++;
	return number;
}

uint32_t intern_find(const struct intern *intern, struct text name)
{
	uint32_t hash;
	struct text normal = normal_of(intern->arena, name, &hash);
	return intern->slots[slot_of(intern, normal, hash)];
}

struct text intern_text(const struct intern *intern, uint32_t number)
{
	return number < intern->count ? intern->names[number] : TEXT("");
}
