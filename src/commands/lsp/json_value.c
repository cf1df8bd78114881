#include "commands/lsp/json_value.h"

#include <jansson.h>
#include <string.h>

#include "emit/escape/json_memory.h"

static const struct json_value nothing = { .kind = JSON_VALUE_NULL };

static struct json_value *copy(struct arena *arena, json_t *from);

static struct json_value *copy_list(struct arena *arena, json_t *from, struct json_value *list)
{
	struct json_value *last = NULL;
	size_t index;
	json_t *item;

	json_array_foreach(from, index, item)
	{
		struct json_value *value = copy(arena, item);

		if (last == NULL)
			list->first = value;
		else
			last->next = value;
		last = value;
	}
	return list;
}

static struct json_value *copy_object(struct arena *arena, json_t *from, struct json_value *object)
{
	struct json_value *last = NULL;
	const char *key;
	json_t *item;

	json_object_foreach(from, key, item)
	{
		struct json_value *value = copy(arena, item);

		value->key = text_copy(arena, text_from(key));
		if (last == NULL)
			object->first = value;
		else
			last->next = value;
		last = value;
	}
	return object;
}

/* jansson reads no deeper than 2,048 levels. */
static struct json_value *copy(struct arena *arena, json_t *from)
{
	struct json_value *value = ARENA_NEW(arena, struct json_value);

	switch (json_typeof(from)) {
	case JSON_OBJECT:
		value->kind = JSON_VALUE_OBJECT;
		return copy_object(arena, from, value);
	case JSON_ARRAY:
		value->kind = JSON_VALUE_LIST;
		return copy_list(arena, from, value);
	case JSON_STRING:
		value->kind = JSON_VALUE_TEXT;
		value->text = text_copy(arena, (struct text){ json_string_value(from), json_string_length(from) });
		return value;
	case JSON_INTEGER:
		value->kind = JSON_VALUE_WHOLE;
		value->whole = json_integer_value(from);
		return value;
	case JSON_REAL:
		value->kind = JSON_VALUE_REAL;
		return value;
	case JSON_TRUE:
	case JSON_FALSE:
		value->kind = JSON_VALUE_FLAG;
		value->whole = json_is_true(from);
		return value;
	default:
		value->kind = JSON_VALUE_NULL;
		return value;
	}
}

/* A document that is to be read. */
struct task {
	struct arena *arena;
	struct text document;
	const struct json_value *value; /* null: it is none */
};

static void read_task(struct arena *scratch, void *data)
{
	struct task *task = data;
	struct arena *before = json_memory_use(scratch);
	json_error_t error;
	json_t *tree = json_loadb(task->document.data, task->document.length, JSON_ALLOW_NUL | JSON_DECODE_ANY, &error);

	if (tree != NULL)
		task->value = copy(task->arena, tree);
	json_memory_use(before);
}

const struct json_value *json_value_read(struct arena *arena, struct text document)
{
	struct task task = { arena, document, NULL };

	arena_with_scratch(arena, read_task, &task);
	return task.value;
}

static const struct json_value *member(const struct json_value *object, struct text key)
{
	if (object == NULL || object->kind != JSON_VALUE_OBJECT)
		return &nothing;
	for (const struct json_value *item = object->first; item != NULL; item = item->next)
		if (text_equal(item->key, key))
			return item;
	return &nothing;
}

const struct json_value *json_value_at(const struct json_value *object, const char *key)
{
	return member(object, text_from(key));
}

const struct json_value *json_value_path(const struct json_value *object, const char *path)
{
	while (*path != '\0') {
		size_t length = strcspn(path, ".");

		object = member(object, (struct text){ path, length });
		path += length + (path[length] == '.');
	}
	return object;
}

int64_t json_value_whole(const struct json_value *value, int64_t otherwise)
{
	return value->kind == JSON_VALUE_WHOLE ? value->whole : otherwise;
}
