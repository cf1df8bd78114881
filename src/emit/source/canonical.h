/* A recipe in its canonical form (docs/format.md), made from the tokens it was read as. It knows no clauses: a word
 * that the language gains is printed like any other. */
#ifndef EMIT_SOURCE_CANONICAL_H
#define EMIT_SOURCE_CANONICAL_H

#include "support/diagnostic.h"
#include "support/source.h"

/** The canonical form of a file, in `arena`. Its `data` is null where a part of the file could not be read, which the
 * report then tells. Nothing but the file itself is read: what it uses may be missing. */
struct text canonical_form(struct source_set *sources, const struct source_file *file, struct arena *arena,
			   struct report *report);

#endif
