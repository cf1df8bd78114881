#include "support/hash.h"

#include <stdint.h>

void hash_start(struct hash *hash)
{
	SHA256Init(&hash->context);
}

void hash_add(struct hash *hash, struct text text)
{
	if (text.length > 0)
		SHA256Update(&hash->context, (const uint8_t *)text.data, text.length);
}

struct text hash_finish(struct hash *hash, struct arena *arena)
{
	static const char digits[] = "0123456789abcdef";
	uint8_t digest[SHA256_DIGEST_LENGTH];
	SHA256Final(digest, &hash->context);
	char *text = ARENA_ARRAY(arena, char, 2 * sizeof(digest) + 1);
	for (size_t i = 0; i < sizeof(digest); i++) {
		text[2 * i] = digits[digest[i] >> 4];
		text[2 * i + 1] = digits[digest[i] & 15];
	}
	return (struct text){ text, 2 * sizeof(digest) };
}
