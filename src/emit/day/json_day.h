/* Parts of a day as JSON, with the same keys in the plan and in the lists: docs/schemas/plan.schema.json. */
#ifndef EMIT_DAY_JSON_DAY_H
#define EMIT_DAY_JSON_DAY_H

#include "emit/day/parts.h"
#include "emit/escape/json_tree.h"

/** Adds "day". */
void json_day(struct json_node root, const struct emission *emission);

/** Adds a count of things. */
void json_day_count(struct json_node node, const char *key, size_t count);

/** Adds a time as seconds since the day's start, and under the second key what the clock shows; null where `is_known`
 * is false. */
void json_day_time(struct json_node node, const char *key, int64_t since_start_s, bool is_known);
void json_day_stamp(struct json_node node, const struct emission *emission, const char *key, int64_t since_start_s,
		    bool is_known);

/** Adds "name" and "title". */
void json_day_declared(struct json_node node, const struct emission *emission, const struct declared *declared);

/** Adds thousandths of a roll. */
void json_day_rolls(struct json_node node, const char *key, int64_t milli_rolls);

/** Adds a volume in millilitres. */
void json_day_volume(struct json_node node, const char *key, int64_t volume);

/** Adds a roll under a key. */
void json_day_roll(struct json_node parent, const char *key, const struct emission *emission, const struct roll *roll);

/** Adds the same facts to an object that is there. */
void json_day_roll_facts(struct json_node node, const struct emission *emission, const struct roll *roll);

/** Adds of them what is said in words: its title, what it needs and is developed as, who decided that and why, what is
 * allowed for it, notes. */
void json_day_said(struct json_node node, const struct roll *roll);

/** Adds the conditions that intake found. */
void json_day_conditions(struct json_node parent, const struct roll *roll);

/** Adds "accounts" of a load. */
void json_day_accounts(struct json_node load, const struct emission *emission, const struct plan_load *of);

/** Adds "left". */
void json_day_left(struct json_node root, const struct emission *emission);

#endif
