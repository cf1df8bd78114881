/* Any bytes as what an editor sends to the language server, through its own standard input and output.
 *
 * The bytes are parted by line ends followed by `@`. What a part begins with says how it is sent: `!`, the rest as it
 * is, header and all; `{`, as the body of a message, behind a header; `=` and a letter, a method of the table by its
 * place in it (A is the first) with everything in its parameters that any method asks for: two digits are line and
 * character, the rest is the text, the new name, the path. So mutations reach what is behind the reader too. */
#include <ctype.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "commands/invocation.h"
#include "model/conditions.h"
#include "products.h"

static const struct {
	const char *name;
	bool is_request;
} methods[] = {
#define METHOD(name, function, is_request) { name, is_request },
#include "commands/lsp/methods.def"
#undef METHOD
};

#define METHOD_COUNT (sizeof(methods) / sizeof(*methods))

#define SEPARATOR "\n@"
#define SEPARATOR_LENGTH (sizeof(SEPARATOR) - 1)

static void put_json(struct text_builder *out, struct text text)
{
	text_append_byte(out, '"');
	for (size_t i = 0; i < text.length; i++) {
		unsigned char byte = (unsigned char)text.data[i];

		if (byte < ' ' || byte == '"' || byte == '\\')
			text_append_format(out, "\\u%04x", byte);
		else
			text_append_byte(out, (char)byte);
	}
	text_append_byte(out, '"');
}

static void put_message(struct text_builder *out, struct text body)
{
	text_append_format(out, "Content-Length: %zu\r\n\r\n", body.length);
	text_append(out, body);
}

/* 0 to 9, then a to z. */
static int digit_at(struct text part, size_t index)
{
	char byte = index < part.length ? part.data[index] : '0';

	if (byte >= 'a' && byte <= 'z')
		return byte - 'a' + 10;
	return byte >= '0' && byte <= '9' ? byte - '0' : 0;
}

/* `=` letter digit digit text. A capital letter asks about the first document, a small one about the second. */
static void put_method(struct text_builder *out, struct arena *arena, struct text part, size_t id)
{
	struct text_builder body = text_builder_start(arena);
	char letter = part.length > 1 ? part.data[1] : 'A';
	size_t method = (size_t)(toupper((unsigned char)letter) - 'A') % METHOD_COUNT;
	int line = digit_at(part, 2);
	int character = digit_at(part, 3);
	struct text text = part.length > 4 ? (struct text){ part.data + 4, part.length - 4 } : TEXT("");

	text_append_format(&body, "{\"jsonrpc\":\"2.0\",\"method\":\"%s\",", methods[method].name);
	if (methods[method].is_request)
		text_append_format(&body, "\"id\":%zu,", id);
	text_append_format(&body,
			   "\"params\":{\"processId\":null,\"position\":{\"line\":%d,\"character\":%d},"
			   "\"range\":{\"start\":{\"line\":0,\"character\":0},\"end\":{\"line\":%d,\"character\":%d}},"
			   "\"textDocument\":{\"uri\":\"file:///nowhere/%d.wet\",\"version\":%zu,\"text\":",
			   line, character, line * 9, character, islower((unsigned char)letter) != 0, id);
	put_json(&body, text);
	text_append_string(&body, "},\"context\":{\"includeDeclaration\":true},\"newName\":");
	put_json(&body, text);
	text_append_format(&body,
			   ",\"contentChanges\":[{\"range\":{\"start\":{\"line\":%d,\"character\":%d},"
			   "\"end\":{\"line\":%d,\"character\":%d}},\"text\":",
			   line, character, line, character + 3);
	put_json(&body, text);
	text_append_string(&body, "}]}}");
	put_message(out, text_builder_text(&body));
}

static void put_part(struct text_builder *out, struct arena *arena, struct text part, size_t id)
{
	if (part.length > 0 && part.data[0] == '=')
		put_method(out, arena, part, id);
	else if (part.length > 0 && part.data[0] == '!')
		text_append(out, (struct text){ part.data + 1, part.length - 1 });
	else
		put_message(out, part);
}

static size_t part_length(struct text bytes)
{
	for (size_t i = 0; i + SEPARATOR_LENGTH <= bytes.length; i++)
		if (memcmp(bytes.data + i, SEPARATOR, SEPARATOR_LENGTH) == 0)
			return i;
	return bytes.length;
}

static struct text stream_of(struct arena *arena, struct text bytes)
{
	struct text_builder out = text_builder_start(arena);
	size_t id = 1;

	while (bytes.length > 0) {
		size_t length = part_length(bytes);
		size_t past = length < bytes.length ? length + SEPARATOR_LENGTH : length;

		put_part(&out, arena, (struct text){ bytes.data, length }, id++);
		bytes = (struct text){ bytes.data + past, bytes.length - past };
	}
	return text_builder_text(&out);
}

/* Standard input becomes a file that is written anew each time, and what is answered is read by nobody. */
static void take_streams(void)
{
	static bool are_taken = false;
	FILE *input;

	if (are_taken)
		return;
	are_taken = true;
	input = tmpfile();
	if (input == NULL || dup2(fileno(input), STDIN_FILENO) < 0 || freopen("/dev/null", "w", stdout) == NULL)
		abort();
	fclose(input);
}

static void run(struct arena *arena, struct text bytes)
{
	struct conditions conditions = { 0 };
	struct invocation invocation = { .arena = arena, .conditions = &conditions };
	struct text stream = stream_of(arena, bytes);

	if (lseek(STDIN_FILENO, 0, SEEK_SET) != 0 || ftruncate(STDIN_FILENO, 0) != 0 ||
	    write(STDIN_FILENO, stream.data, stream.length) != (ssize_t)stream.length ||
	    lseek(STDIN_FILENO, 0, SEEK_SET) != 0)
		abort();
	command_lsp(&invocation);
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	take_streams();
	products_in_arena(run, bytes, length);
	return 0;
}
