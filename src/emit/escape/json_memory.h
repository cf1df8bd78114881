/* Lets jansson take its memory from an arena: what it makes lives as long as the arena, and where memory ends control
 * goes to the arena's landing place at once. (jansson itself overlooks some allocations that fail, and would read on
 * behind the end of a text that was cut short.) */
#ifndef EMIT_ESCAPE_JSON_MEMORY_H
#define EMIT_ESCAPE_JSON_MEMORY_H

#include "support/arena.h"

/** From here on jansson allocates in `arena`, and gives nothing back. Returns the arena that it used before, which a
 * caller sets again at its end; null where there was none. */
struct arena *json_memory_use(struct arena *arena);

#endif
