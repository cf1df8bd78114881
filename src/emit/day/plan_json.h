/* Parts of the plan as data. Private to it. */
#ifndef EMIT_DAY_PLAN_JSON_H
#define EMIT_DAY_PLAN_JSON_H

#include "emit/day/json_day.h"

/** Adds "resources": what there is of each thing. */
void plan_json_resources(struct json_node root, const struct emission *emission);

/** Adds "solutions": how much of each bath the day takes. */
void plan_json_solutions(struct json_node root, const struct emission *emission);

/** Adds "claims": what a load takes up, and when. */
void plan_json_claims(struct json_node node, const struct emission *emission, const struct plan_load *load);

#endif
