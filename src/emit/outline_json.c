/* Outlines as JSON. */
#include "emit/outline_json.h"

void outline_json_put_children(struct json_node node, const struct outline *object)
{
	for (const struct outline *child = object->first; child != NULL; child = child->next)
		outline_json_put(node, child->key, child);
}

void outline_json_put(struct json_node parent, const char *key, const struct outline *outline)
{
	struct json_node node;

	switch (outline->form) {
	case OUTLINE_NOTHING:
		json_node_null(parent, key);
		break;
	case OUTLINE_TEXT:
		json_node_text(parent, key, outline->text);
		break;
	case OUTLINE_FIGURE:
		json_node_exact(parent, key, outline->count, outline->per);
		break;
	case OUTLINE_FLAG:
		json_node_flag(parent, key, outline->count != 0);
		break;
	case OUTLINE_OBJECT:
		node = json_node_object(parent, key);
		outline_json_put_children(node, outline);
		if (outline->is_fact)
			json_node_text(node, "words", outline->words);
		break;
	case OUTLINE_LIST:
		outline_json_put_children(json_node_list(parent, key), outline);
		break;
	}
}
