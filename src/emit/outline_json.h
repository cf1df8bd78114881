/* Outlines as JSON: the keys of the model, the same wherever a part of it is written. */
#ifndef EMIT_OUTLINE_JSON_H
#define EMIT_OUTLINE_JSON_H

#include "emit/escape/json_tree.h"
#include "model/outline.h"

/** Adds a fact or thing under a key; a null key adds to a list. */
void outline_json_put(struct json_node parent, const char *key, const struct outline *outline);

/** Adds all that an object consists of to one that is there already. */
void outline_json_put_children(struct json_node node, const struct outline *object);

#endif
