/* The resolved model to read, one line a fact, so that two of them can be compared line by line. */
#include <string.h>

#include "emit/emission.h"
#include "emit/escape/terminal.h"

#define UNBROKEN 1000000 /* columns: a fact stays on its line */
#define INDENT 2

struct listing {
	struct arena *arena;
	struct output *output;
};

static void put_line(const struct listing *listing, size_t depth, struct text line)
{
	output_format(listing->output, "%*s", (int)(depth * INDENT), "");
	terminal_wrap(listing->output, terminal_line(listing->arena, line), 0, UNBROKEN);
}

static bool is_said(const struct outline *fact)
{
	if (!fact->is_fact || fact->matter == OUTLINE_ASIDE || strcmp(fact->key, "name") == 0)
		return false;
	return fact->form == OUTLINE_FLAG ? fact->count != 0 : fact->words.length > 0;
}

static void put_fact(const struct listing *listing, const struct outline *fact, size_t depth)
{
	const char *label = fact->label[0] == '\0' ? fact->key : fact->label;

	if (fact->form == OUTLINE_FLAG)
		put_line(listing, depth, text_from(label));
	else
		put_line(listing, depth, text_format(listing->arena, "%s %.*s", label, TEXT_ARGUMENT(fact->words)));
}

/* Outlines are as deep as the blocks of the language, whatever a recipe says. */
static void put_children(const struct listing *listing, const struct outline *parent, size_t depth)
{
	for (const struct outline *child = parent->first; child != NULL; child = child->next) {
		if (is_said(child))
			put_fact(listing, child, depth);
		if (child->is_fact || child->form != OUTLINE_LIST)
			continue;
		for (const struct outline *item = child->first; item != NULL; item = item->next) {
			if (depth == 0 && item->matter == OUTLINE_RUN)
				output_string(listing->output, "\n");
			put_line(listing, depth,
				 text_format(listing->arena, "%s %.*s", item->label, TEXT_ARGUMENT(item->name)));
			put_children(listing, item, depth + 1);
		}
	}
}

static void put_as_written(const struct listing *listing, struct text written)
{
	put_line(listing, 0, TEXT("This recipe has errors; it is shown as it is written."));
	while (written.length > 0) {
		const char *end = memchr(written.data, '\n', written.length);
		size_t length = end == NULL ? written.length : (size_t)(end - written.data);
		size_t taken = end == NULL ? length : length + 1;

		put_line(listing, 0, (struct text){ written.data, length });
		written = (struct text){ written.data + taken, written.length - taken };
	}
}

void emit_model_text(const struct emission *emission, struct output *output)
{
	const struct listing listing = { emission->arena, output };

	if (emission->model == NULL) {
		put_as_written(&listing, emission->written);
		return;
	}

	put_line(&listing, 0, TEXT("wetside 1"));
	put_children(&listing, emission->model, 0);
}
