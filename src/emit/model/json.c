/* The resolved model as JSON: docs/schemas/model.schema.json describes every key. */
#include "emit/emission.h"
#include "emit/outline_json.h"

#define MODEL_FORMAT "wetside-model/1"

static void fill(struct json_node root, const void *subject)
{
	const struct emission *emission = subject;

	json_node_text(root, "format", TEXT(MODEL_FORMAT));
	outline_json_put_children(root, emission->model);
}

void emit_model_json(const struct emission *emission, struct output *output)
{
	json_tree_write(output, emission->arena, fill, emission);
}
