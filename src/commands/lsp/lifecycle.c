/* Beginning and end: what both sides can do, what is open, which folders are worked in. */
#include "commands/lsp/server.h"
#include "commands/version.h"

/* The kinds of an edit: the whole text anew, or ranges of it. */
#define SYNC_INCREMENTAL 2

static void add_folder(const struct request *request, struct text uri)
{
	struct server *server = request->server;
	struct text path = uri_to_path(request->arena, uri);

	if (path.length == 0 || server->folder_count >= SERVER_FOLDERS_MOST)
		return;
	for (size_t i = 0; i < server->folder_count; i++)
		if (text_equal(server->folders[i], path))
			return;
	server->folders[server->folder_count++] = text_copy(server->invocation->arena, path);
}

static void take_folders(const struct request *request, const struct json_value *list)
{
	for (const struct json_value *item = list->first; item != NULL; item = item->next)
		add_folder(request, json_value_at(item, "uri")->text);
}

static void take_client(const struct request *request)
{
	struct server *server = request->server;
	const struct json_value *params = request->params;
	const struct json_value *encodings = json_value_path(params, "capabilities.general.positionEncodings");
	int64_t parent = json_value_whole(json_value_at(params, "processId"), 0);

	for (const struct json_value *item = encodings->first; item != NULL; item = item->next)
		if (text_equal(item->text, TEXT("utf-8")))
			server->units = PLACE_UTF8;
	server->takes_versions =
		json_value_path(params, "capabilities.workspace.workspaceEdit.documentChanges")->whole != 0;
	if (parent > 0 && parent <= INT32_MAX)
		server->stream.parent = (pid_t)parent;
	take_folders(request, json_value_at(params, "workspaceFolders"));
	if (server->folder_count == 0)
		add_folder(request, json_value_at(params, "rootUri")->text);
}

static void put_text_list(struct json_node parent, const char *key, const char *const *texts, size_t count)
{
	struct json_node list = json_node_list(parent, key);

	for (size_t i = 0; i < count; i++)
		json_node_text(list, NULL, text_from(texts[i]));
}

static void put_capabilities(struct json_node parent, const struct server *server)
{
	struct json_node capabilities = json_node_object(parent, "capabilities");
	struct json_node part = json_node_object(capabilities, "textDocumentSync");

	json_node_text(capabilities, "positionEncoding", server->units == PLACE_UTF8 ? TEXT("utf-8") : TEXT("utf-16"));
	json_node_flag(part, "openClose", true);
	json_node_whole(part, "change", SYNC_INCREMENTAL);
	json_node_flag(part, "save", true);
	json_node_flag(capabilities, "hoverProvider", true);
	part = json_node_object(capabilities, "completionProvider");
	put_text_list(part, "triggerCharacters", (const char *const[]){ " " }, 1);
	json_node_flag(capabilities, "definitionProvider", true);
	json_node_flag(capabilities, "referencesProvider", true);
	json_node_flag(capabilities, "documentHighlightProvider", true);
	part = json_node_object(capabilities, "renameProvider");
	json_node_flag(part, "prepareProvider", true);
	json_node_flag(capabilities, "documentSymbolProvider", true);
	json_node_flag(capabilities, "foldingRangeProvider", true);
	json_node_flag(capabilities, "documentFormattingProvider", true);
	part = json_node_object(capabilities, "codeActionProvider");
	put_text_list(part, "codeActionKinds", (const char *const[]){ "quickfix" }, 1);
	json_node_flag(capabilities, "inlayHintProvider", true);
	part = json_node_object(json_node_object(capabilities, "workspace"), "workspaceFolders");
	json_node_flag(part, "supported", true);
	json_node_flag(part, "changeNotifications", true);
}

void lifecycle_initialize(struct request *request)
{
	struct json_node result = json_node_object(request->answer, "result");
	struct json_node info;

	take_client(request);
	put_capabilities(result, request->server);
	info = json_node_object(result, "serverInfo");
	json_node_text(info, "name", TEXT("wetside"));
	json_node_text(info, "version", TEXT(WETSIDE_VERSION));
	request->server->phase = SERVER_RUNS;
}

/* Nothing is asked of the client, and nothing can be configured. */
void lifecycle_initialized(struct request *request)
{
	(void)request;
}

void lifecycle_shutdown(struct request *request)
{
	request->server->phase = SERVER_IS_SHUT_DOWN;
	answer_null(request);
}

void lifecycle_exit(struct request *request)
{
	request->server->status = request->server->phase == SERVER_IS_SHUT_DOWN ? 0 : 1;
	request->server->phase = SERVER_EXITS;
}

void folders_did_change(struct request *request)
{
	struct server *server = request->server;
	const struct json_value *removed = json_value_path(request->params, "event.removed");

	for (const struct json_value *item = removed->first; item != NULL; item = item->next) {
		struct text path = uri_to_path(request->arena, json_value_at(item, "uri")->text);

		for (size_t i = 0; i < server->folder_count; i++)
			if (text_equal(server->folders[i], path))
				server->folders[i] = server->folders[--server->folder_count];
	}
	take_folders(request, json_value_path(request->params, "event.added"));
}

/* ---- texts ---- */

void text_did_open(struct request *request)
{
	const struct json_value *item = json_value_at(request->params, "textDocument");
	const struct json_value *text = json_value_at(item, "text");

	if (json_value_at(item, "uri")->text.length > 0 && text->kind == JSON_VALUE_TEXT)
		document_open(&request->server->documents, json_value_at(item, "uri")->text, text->text,
			      json_value_whole(json_value_at(item, "version"), 0));
}

static struct text changed(const struct request *request, struct text content, const struct json_value *change)
{
	const struct json_value *range = json_value_at(change, "range");
	struct text fresh = json_value_at(change, "text")->text;
	struct text_builder builder;
	size_t begin;
	size_t end;

	if (json_value_at(change, "text")->kind != JSON_VALUE_TEXT)
		return content;
	if (range->kind != JSON_VALUE_OBJECT)
		return fresh;
	begin = place_offset(content, request->server->units, json_value_at(range, "start"));
	end = place_offset(content, request->server->units, json_value_at(range, "end"));
	end = end < begin ? begin : end;
	builder = text_builder_start(request->arena);
	text_append(&builder, (struct text){ content.data, begin });
	text_append(&builder, fresh);
	text_append(&builder, (struct text){ content.data + end, content.length - end });
	return text_builder_text(&builder);
}

void text_did_change(struct request *request)
{
	struct documents *documents = &request->server->documents;
	struct document *document =
		documents_find(documents, json_value_path(request->params, "textDocument.uri")->text);
	const struct json_value *changes = json_value_at(request->params, "contentChanges");
	struct text content;

	if (document == NULL)
		return;
	content = document->content;
	for (const struct json_value *change = changes->first; change != NULL; change = change->next)
		content = changed(request, content, change);
	document_change(documents, document, content,
			json_value_whole(json_value_path(request->params, "textDocument.version"), document->version));
}

void text_did_save(struct request *request)
{
	documents_doubt(&request->server->documents);
}

void files_did_change(struct request *request)
{
	documents_doubt(&request->server->documents);
}

void text_did_close(struct request *request)
{
	struct documents *documents = &request->server->documents;
	struct document *document =
		documents_find(documents, json_value_path(request->params, "textDocument.uri")->text);

	if (document == NULL)
		return;
	document_close(documents, document);
	documents_refresh(documents);
	findings_publish(request->server);
}
