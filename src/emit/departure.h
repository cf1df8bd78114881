/* A departure from good practice that the recipe allows, with its reason, as every page prints it. */
#ifndef EMIT_DEPARTURE_H
#define EMIT_DEPARTURE_H

#include "emit/document.h"
#include "support/diagnostic.h"

/** Adds an allowed finding to an item: which check, what it finds, the reason. */
void departure_add(struct document *document, cmark_node *item, const struct diagnostic *finding);

#endif
