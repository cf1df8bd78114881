/* Places as an editor counts them: lines and characters from 0, characters in UTF-8 bytes or UTF-16 units. */
#ifndef COMMANDS_LSP_PLACE_H
#define COMMANDS_LSP_PLACE_H

#include "commands/lsp/json_value.h"
#include "emit/escape/json_tree.h"
#include "support/position.h"

enum place_units { PLACE_UTF16, PLACE_UTF8 };

/** The address of an editor's place in a file: within its line, and at its start where it lies between the two halves
 * of a character. */
uint32_t place_address(const struct source_set *sources, const struct source_file *file, enum place_units units,
		       const struct json_value *position);

/** Where that place lies in a text, in bytes. */
size_t place_offset(struct text text, enum place_units units, const struct json_value *position);

/** Adds an editor's range under `key`. */
void place_put_range(struct json_node parent, const char *key, const struct source_set *sources, enum place_units units,
		     struct span span);

/** Adds an editor's position under `key`. */
void place_put_position(struct json_node parent, const char *key, const struct source_set *sources,
			enum place_units units, uint32_t address);

#endif
