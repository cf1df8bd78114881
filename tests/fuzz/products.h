/* Everything that can be made of a recipe, in memory, for fuzzers. */
#ifndef FUZZ_PRODUCTS_H
#define FUZZ_PRODUCTS_H

#include "commands/compile.h"
#include "emit/emission.h"

/** One bit an emitter; those not in the set are left out. */
typedef uint64_t product_set;

#define PRODUCTS_ALL (~(product_set)0)

/** Compiles a text as if it lay in examples/ and makes its products. False where it has errors. What is made is counted
 * in `made`, by emitter, where that is given. */
bool products_make(struct arena *arena, struct text recipe, product_set wanted, size_t made[EMITTER_COUNT]);

/** Calls `run` with an arena that is dropped afterwards; where memory ends, it lands here. */
void products_in_arena(void (*run)(struct arena *arena, struct text bytes), const uint8_t *bytes, size_t length);

#endif
