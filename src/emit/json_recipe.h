/* Parts of the recipe as JSON, with the same keys in every document. */
#ifndef EMIT_JSON_RECIPE_H
#define EMIT_JSON_RECIPE_H

#include "emit/emission.h"
#include "emit/escape/json_tree.h"

/** Adds `key` as seconds, exact, with fractions where there are any. */
void json_recipe_seconds(struct json_node node, const char *key, int64_t time_ms);

/** The same, or null where the time is `none`. */
void json_recipe_seconds_or_null(struct json_node node, const char *key, int64_t time_ms, int64_t none);

/** Adds a text, or null where it is empty. */
void json_recipe_text_or_null(struct json_node node, const char *key, struct text text);

/** Adds a temperature in °C. */
void json_recipe_celsius(struct json_node node, const char *key, int64_t temperature);

/** Adds "process": name, title, family, the process it varies. */
void json_recipe_process(struct json_node root, const struct emission *emission);

/** Adds `key` as a temperature window, or null where none is declared. */
void json_recipe_window(struct json_node parent, const char *key, const struct temperature_window *window);

/** Adds `key` as a time with its form, or null where none is declared. */
void json_recipe_time(struct json_node parent, const char *key, const struct time_window *time);

/** Adds "number", "name", "role", "bath" and "bottle" of a step. */
void json_recipe_step(struct json_node node, const struct emission *emission, size_t index);

#endif
