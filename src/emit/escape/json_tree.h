/* JSON documents (RFC 8259) through jansson: keys in the order they are added, nothing left behind when memory ends.
 *
 * Ownership: the whole tree is built, written and released inside json_tree_write; the nodes handed to the caller are
 * borrowed until its function returns. Text may hold anything: what is not to be seen leaves as \u escapes. */
#ifndef EMIT_ESCAPE_JSON_TREE_H
#define EMIT_ESCAPE_JSON_TREE_H

#include <stdbool.h>
#include <stdint.h>

#include "support/output.h"
#include "support/text.h"

struct json_tree;

/** An object or list of a tree. A null key adds to a list. */
struct json_node {
	struct json_tree *tree;
	void *value;
};

/** Fills the outermost object; `subject` is whatever the caller passed. */
typedef void json_fill(struct json_node root, const void *subject);

/** Builds an object, writes it indented and with a final line feed, and releases it. Jumps to the landing place of
 * `arena` where memory ends, in jansson too; nothing is written then. */
void json_tree_write(struct output *output, struct arena *arena, json_fill *fill, const void *subject);

/** The same on one line, for a list of objects that is read line by line. */
void json_tree_write_line(struct output *output, struct arena *arena, json_fill *fill, const void *subject);

/** The same on one line, inside an HTML script element: nothing in it can end that. */
void json_tree_write_script(struct output *output, struct arena *arena, json_fill *fill, const void *subject);

/** Adds an object and returns it. */
struct json_node json_node_object(struct json_node parent, const char *key);

/** Adds a list and returns it. */
struct json_node json_node_list(struct json_node parent, const char *key);

/** Adds a text; bytes that are no UTF-8 are shown as escapes. */
void json_node_text(struct json_node parent, const char *key, struct text text);

/** Adds a whole number. */
void json_node_whole(struct json_node parent, const char *key, int64_t number);

/** Adds `count / per` to six decimals, as a whole number where it is one. `per` is positive. */
void json_node_ratio(struct json_node parent, const char *key, int64_t count, int64_t per);

/** Adds `count / per` with all its decimals, to fifteen figures, as a whole number where it is one. */
void json_node_exact(struct json_node parent, const char *key, int64_t count, int64_t per);

/** Adds true or false. */
void json_node_flag(struct json_node parent, const char *key, bool flag);

/** Adds null. */
void json_node_null(struct json_node parent, const char *key);

#endif
