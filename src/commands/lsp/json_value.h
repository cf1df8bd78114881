/* JSON that comes in (RFC 8259): read by jansson, kept in an arena.
 *
 * Ownership: jansson's tree lives inside json_value_read only; what is handed out lives as long as the arena. */
#ifndef COMMANDS_LSP_JSON_VALUE_H
#define COMMANDS_LSP_JSON_VALUE_H

#include <stdbool.h>
#include <stdint.h>

#include "support/text.h"

enum json_value_kind {
	JSON_VALUE_NULL,
	JSON_VALUE_FLAG,
	JSON_VALUE_WHOLE,
	JSON_VALUE_REAL,
	JSON_VALUE_TEXT,
	JSON_VALUE_LIST,
	JSON_VALUE_OBJECT
};

struct json_value {
	enum json_value_kind kind;
	struct text key;  /* of a member */
	struct text text; /* JSON_VALUE_TEXT */
	int64_t whole;	  /* JSON_VALUE_WHOLE; 1 for a flag that is true */
	const struct json_value *first;
	const struct json_value *next; /* in the list or object that it stands in */
};

/** Reads one document; null where it is none. Jumps to the landing place of `arena` where memory ends. */
const struct json_value *json_value_read(struct arena *arena, struct text document);

/** A member of an object, or an empty value: null, false, 0, no text, no items. Never a null pointer. */
const struct json_value *json_value_at(const struct json_value *object, const char *key);

/** A member of a member of … by keys parted by points: "textDocument.uri". */
const struct json_value *json_value_path(const struct json_value *object, const char *path);

/** The whole number of a value, or `otherwise`. */
int64_t json_value_whole(const struct json_value *value, int64_t otherwise);

#endif
