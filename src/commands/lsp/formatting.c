/* The canonical form of a text, as an edit of the lines that are not in it. */
#include "commands/lsp/server.h"
#include "emit/source/canonical.h"

/* How many bytes of whole lines two texts have in common at their start. */
static size_t same_lines_before(struct text a, struct text b)
{
	size_t same = 0;
	size_t lines = 0;

	while (same < a.length && same < b.length && a.data[same] == b.data[same]) {
		same++;
		if (a.data[same - 1] == '\n')
			lines = same;
	}
	return lines;
}

/* The same at their end, with what is common at the start left alone. */
static size_t same_lines_after(struct text a, struct text b, size_t before)
{
	size_t same = 0;
	size_t lines = 0;

	while (same < a.length - before && same < b.length - before &&
	       a.data[a.length - 1 - same] == b.data[b.length - 1 - same]) {
		if (a.data[a.length - 1 - same] == '\n')
			lines = same;
		same++;
	}
	return lines;
}

static void put_edit(struct json_node list, const struct request *request, const struct document *document,
		     struct text form)
{
	const struct source_file *file = document_file(document);
	struct text old = { file->bytes, file->length };
	size_t before = same_lines_before(old, form);
	size_t after = same_lines_after(old, form, before);
	struct span span = { file->base + (uint32_t)before, (uint32_t)(old.length - after - before) };
	struct json_node edit;

	if (text_equal(old, form))
		return;
	edit = json_node_object(list, NULL);
	place_put_range(edit, "range", &document->compilation.sources, request->server->units, span);
	json_node_text(edit, "newText", (struct text){ form.data + before, form.length - after - before });
}

/* A text with mistakes of syntax is left alone: the answer is null. */
void formatting_answer(struct request *request)
{
	const struct document *document = request_document(request);
	const struct source_file *file;
	struct source_set sources;
	struct report report;
	struct text problem;
	struct text form = { NULL, 0 };

	if (document == NULL)
		return;
	file = document_file(document);
	source_set_init(&sources, request->arena);
	report_init(&report, request->arena);
	file = source_add(&sources, file->name, (struct text){ file->bytes, file->length }, &problem);
	if (file != NULL)
		form = canonical_form(&sources, file, request->arena, &report);
	if (form.data == NULL)
		answer_null(request);
	else
		put_edit(json_node_list(request->answer, "result"), request, document, form);
}
