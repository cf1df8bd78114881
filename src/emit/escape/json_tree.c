#include "emit/escape/json_tree.h"

#include <jansson.h>
#include <math.h>
#include <string.h>

#include "emit/escape/json_memory.h"
#include "support/utf8.h"

struct json_tree {
	struct arena *arena; /* jansson's too */
	json_t *root;
	size_t layout; /* jansson's flags for indentation */
};

static _Noreturn void memory_ended(const struct json_tree *tree)
{
	longjmp(tree->arena->landing->place, 1);
}

/* Adds a value that jansson has just made (null where it could not) and that the parent now owns. */
static json_t *add(struct json_node parent, const char *key, json_t *value)
{
	int failed = key ? json_object_set_new(parent.value, key, value) : json_array_append_new(parent.value, value);
	if (failed)
		memory_ended(parent.tree);
	return value;
}

struct json_node json_node_object(struct json_node parent, const char *key)
{
	return (struct json_node){ parent.tree, add(parent, key, json_object()) };
}

struct json_node json_node_list(struct json_node parent, const char *key)
{
	return (struct json_node){ parent.tree, add(parent, key, json_array()) };
}

void json_node_text(struct json_node parent, const char *key, struct text text)
{
	if (utf8_first_invalid(text) < text.length)
		text = utf8_harmless(parent.tree->arena, text);
	add(parent, key, json_stringn(text.data ? text.data : "", text.length));
}

void json_node_whole(struct json_node parent, const char *key, int64_t number)
{
	add(parent, key, json_integer(number));
}

void json_node_ratio(struct json_node parent, const char *key, int64_t count, int64_t per)
{
	if (count % per == 0)
		json_node_whole(parent, key, count / per);
	else
		add(parent, key, json_real(round((double)count / (double)per * 1e6) / 1e6));
}

void json_node_exact(struct json_node parent, const char *key, int64_t count, int64_t per)
{
	if (count % per == 0)
		json_node_whole(parent, key, count / per);
	else
		add(parent, key, json_real((double)count / (double)per));
}

void json_node_flag(struct json_node parent, const char *key, bool flag)
{
	add(parent, key, json_boolean(flag));
}

void json_node_null(struct json_node parent, const char *key)
{
	add(parent, key, json_null());
}

static int gather(const char *bytes, size_t length, void *builder)
{
	text_append(builder, (struct text){ bytes, length });
	return 0;
}

/* Fifteen digits hold six decimals of any figure written here, and every figure that a recipe can declare in decimals,
 * and print the shortest form of it. */
#define DUMP_FLAGS JSON_REAL_PRECISION(15)

static struct text dump(const struct json_tree *tree)
{
	struct text_builder builder = text_builder_start(tree->arena);
	if (json_dump_callback(tree->root, gather, &builder, DUMP_FLAGS | tree->layout) != 0)
		memory_ended(tree);
	text_append_byte(&builder, '\n');
	return text_builder_text(&builder);
}

/* Hidden characters stand in strings only, so an escape may take their place. Controls below the space are jansson's
 * affair. */
static void append_escape(struct text_builder *builder, int32_t character)
{
	unsigned code = (unsigned)character;
	if (code < 0x10000) {
		text_append_format(builder, "\\u%04X", code);
		return;
	}
	code -= 0x10000;
	text_append_format(builder, "\\u%04X\\u%04X", 0xD800 + (code >> 10), 0xDC00 + (code & 0x3FF));
}

/* The hidden character at `offset`, with its length in bytes; 0 where there is none. */
static size_t hidden_at(struct text document, size_t offset, int32_t *character)
{
	unsigned char byte = (unsigned char)document.data[offset];
	if (byte < 0x7F)
		return 0;
	int length = utf8_decode((struct text){ document.data + offset, document.length - offset }, character);
	return length > 0 && utf8_is_hidden(*character) ? (size_t)length : 0;
}

static struct text escape_hidden(struct arena *arena, struct text document)
{
	struct text_builder builder = text_builder_start(arena);
	size_t from = 0;
	for (size_t i = 0; i < document.length; i++) {
		int32_t character;
		size_t length = hidden_at(document, i, &character);
		if (length == 0)
			continue;
		text_append(&builder, (struct text){ document.data + from, i - from });
		append_escape(&builder, character);
		from = i + length;
		i = from - 1;
	}
	if (from == 0)
		return document;
	text_append(&builder, (struct text){ document.data + from, document.length - from });
	return text_builder_text(&builder);
}

/* A document that is to be written. */
struct task {
	struct output *output;
	json_fill *fill;
	const void *subject;
	size_t layout;
};

static void write_task(struct arena *scratch, void *data)
{
	const struct task *task = data;
	struct arena *before = json_memory_use(scratch);
	struct json_tree tree = { scratch, json_object(), task->layout };
	if (!tree.root)
		memory_ended(&tree);
	task->fill((struct json_node){ &tree, tree.root }, task->subject);
	struct text document = escape_hidden(scratch, dump(&tree));
	json_memory_use(before);
	output_write(task->output, document);
}

static void write_tree(struct output *output, struct arena *arena, json_fill *fill, const void *subject, size_t layout)
{
	struct task task = { output, fill, subject, layout };
	arena_with_scratch(arena, write_task, &task);
}

void json_tree_write(struct output *output, struct arena *arena, json_fill *fill, const void *subject)
{
	write_tree(output, arena, fill, subject, JSON_INDENT(2));
}

void json_tree_write_line(struct output *output, struct arena *arena, json_fill *fill, const void *subject)
{
	write_tree(output, arena, fill, subject, JSON_COMPACT);
}

/* What HTML looks for in a script stands in strings only, so an escape may take its place. */
void json_tree_write_script(struct output *output, struct arena *arena, json_fill *fill, const void *subject)
{
	struct output line;
	output_open_memory(&line, arena);
	json_tree_write_line(&line, arena, fill, subject);
	struct text document = output_memory(&line);
	size_t from = 0;
	for (size_t i = 0; i < document.length; i++) {
		if (!memchr("<>&", document.data[i], 3))
			continue;
		output_write(output, (struct text){ document.data + from, i - from });
		output_format(output, "\\u%04X", (unsigned)document.data[i]);
		from = i + 1;
	}
	output_write(output, (struct text){ document.data + from, document.length - from });
}
