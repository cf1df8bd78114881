/* How a solution is mixed: the parts of `mix` and `formula`. Private to model/. */
#ifndef MODEL_RESOLVE_PARTS_H
#define MODEL_RESOLVE_PARTS_H

#include "model/read.h"

/** Reads the chain of parts from `node` on, in order. In a formula every addition says how much. Notes among the parts
 * join the solution's. */
struct part *parts_read(const struct reader *reader, node_index node, bool is_formula, struct note **notes);

#endif
