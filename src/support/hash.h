/* SHA-256 (FIPS 180-4) by libmd, for fingerprints. */
#ifndef SUPPORT_HASH_H
#define SUPPORT_HASH_H

#include <sys/types.h>

#include <sha2.h>

#include "support/text.h"

/** A hash under way; holds no memory. */
struct hash {
	SHA2_CTX context;
};

/** Starts a hash of nothing. */
void hash_start(struct hash *hash);

/** Adds bytes. Pieces run together: who hashes a list adds a separator. */
void hash_add(struct hash *hash, struct text text);

/** Ends the hash: 64 lower-case hexadecimal digits in `arena`. Start again before the next use. */
struct text hash_finish(struct hash *hash, struct arena *arena);

#endif
