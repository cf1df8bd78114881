/* What can be done about a finding: its fixes, and a declaration for a name that has none. */
#include <string.h>

#include "commands/lsp/names.h"
#include "support/fix.h"

#define ACTION_KIND "quickfix"

struct json_node edits_put(struct json_node changes, const struct request *request, struct text uri)
{
	const struct document *document = documents_find(&request->server->documents, uri);
	struct json_node change;
	struct json_node identifier;

	if (!request->server->takes_versions)
		return json_node_list(changes, text_copy(request->arena, uri).data);
	change = json_node_object(changes, NULL);
	identifier = json_node_object(change, "textDocument");
	json_node_text(identifier, "uri", uri);
	if (document != NULL)
		json_node_whole(identifier, "version", document->version);
	else
		json_node_null(identifier, "version");
	return json_node_list(change, "edits");
}

struct json_node edit_changes(struct json_node parent, const struct request *request)
{
	return request->server->takes_versions ? json_node_list(parent, "documentChanges")
					       : json_node_object(parent, "changes");
}

void edit_put(struct json_node parent, const struct request *request, const struct source_set *sources,
	      struct span span, struct text fresh)
{
	struct text uri = documents_uri_of(&request->server->documents, request->arena, source_file_of(sources, span));
	struct json_node changes = edit_changes(json_node_object(parent, "edit"), request);
	struct json_node item = json_node_object(edits_put(changes, request, uri), NULL);

	place_put_range(item, "range", sources, request->server->units, span);
	json_node_text(item, "newText", fresh);
}

static void put_action(struct json_node list, const struct request *request, const struct document *document,
		       const struct diagnostic *finding, const struct fix *fix, struct text title)
{
	struct json_node action = json_node_object(list, NULL);

	json_node_text(action, "title", title);
	json_node_text(action, "kind", TEXT(ACTION_KIND));
	finding_put(json_node_list(action, "diagnostics"), request, document, finding);
	json_node_flag(action, "isPreferred", fix->confidence == FIX_SAFE);
	edit_put(action, request, &document->compilation.sources, fix->span, fix->text);
}

/* A name that nothing has: a declaration at the end of the file, still to be filled in. */
static void put_declaration(struct json_node list, const struct request *request, const struct document *document,
			    const struct diagnostic *finding, const struct name_use *use)
{
	const struct source_file *file = document_file(document);
	const char *word = use->kind == NAME_OF_BATH ? "solution" : names_kind_word(use->kind);
	struct text name = source_text(&document->compilation.sources, use->span);
	bool ends_line = file->length == 0 || file->bytes[file->length - 1] == '\n';
	struct fix fix = { .span = { file->base + file->length, 0 }, .confidence = FIX_GAPS };

	fix.text = text_format(request->arena, "%s\n%s %.*s {\n}\n", ends_line ? "" : "\n", word, TEXT_ARGUMENT(name));
	put_action(list, request, document, finding, &fix,
		   text_format(request->arena, "declare the %s `%.*s`; what it is made of is still to be said", word,
			       TEXT_ARGUMENT(name)));
}

static bool overlaps(struct span span, uint32_t begin, uint32_t end)
{
	return span.begin <= end && span.begin + span.length >= begin;
}

/* Whether the editor asks for actions of this kind; "" and nothing ask for all. */
static bool is_asked_for(const struct request *request)
{
	const struct json_value *only = json_value_path(request->params, "context.only");

	for (const struct json_value *item = only->first; item != NULL; item = item->next) {
		size_t length = item->text.length;

		if (length <= sizeof(ACTION_KIND) - 1 &&
		    (length == 0 || memcmp(item->text.data, ACTION_KIND, length) == 0))
			return true;
	}
	return only->kind != JSON_VALUE_LIST;
}

void actions_answer(struct request *request)
{
	const struct document *document = request_document(request);
	const struct json_value *range = json_value_at(request->params, "range");
	struct name_uses uses = { 0 };
	const struct source_set *sources;
	struct json_node list;
	uint32_t begin;
	uint32_t end;

	if (document == NULL)
		return;
	list = json_node_list(request->answer, "result");
	if (!is_asked_for(request))
		return;
	sources = &document->compilation.sources;
	begin = place_address(sources, document_file(document), request->server->units, json_value_at(range, "start"));
	end = place_address(sources, document_file(document), request->server->units, json_value_at(range, "end"));
	for (size_t i = 0; i < document->compilation.report.count; i++) {
		const struct diagnostic *finding = &document->compilation.report.items[i];
		const struct name_use *use;

		if (finding->allowed.data != NULL || !overlaps(finding->span, begin, end))
			continue;
		for (const struct fix *fix = finding->fixes; fix != NULL; fix = fix->next)
			put_action(list, request, document, finding, fix, fix_words(request->arena, fix));
		if (finding->check != CHECK_unknown_name)
			continue;
		if (uses.count == 0)
			uses = name_uses_of(document->compilation.recipe, request->arena);
		use = names_at(&uses, finding->span.begin);
		if (use != NULL && use->kind != NAME_OF_STEP && names_declaration(&uses, use) == NULL)
			put_declaration(list, request, document, finding, use);
	}
}
