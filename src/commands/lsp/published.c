/* Findings as an editor shows them: each under the file it lies in, sent again only where something has changed. */
#include "commands/lsp/server.h"

#define SOURCE_NAME "wetside"
#define EXPLAINED_AT "man:wetside(1)"

/* A finding, and the document that was compiled. */
struct found {
	struct text uri;
	const struct document *document;
	const struct diagnostic *finding;
};

struct gathering {
	struct server *server;
	struct arena *arena;
	struct found *items;
	size_t count;
	size_t capacity;
};

static struct text uri_of(const struct gathering *gathering, const struct document *document, struct span span)
{
	const struct source_file *file = source_file_of(&document->compilation.sources, span);

	if (file == NULL || file == document_file(document))
		return document->uri;
	return documents_uri_of(&gathering->server->documents, gathering->arena, file);
}

/* The same finding from another recipe that uses the file. */
static bool is_there(const struct gathering *gathering, const struct found *fresh)
{
	const struct source_set *sources = &fresh->document->compilation.sources;
	size_t offset = position_of(sources, fresh->finding->span.begin).offset;

	for (size_t i = 0; i < gathering->count; i++) {
		const struct found *item = &gathering->items[i];

		if (item->document != fresh->document && item->finding->check == fresh->finding->check &&
		    item->finding->span.length == fresh->finding->span.length && text_equal(item->uri, fresh->uri) &&
		    text_equal(item->finding->message, fresh->finding->message) &&
		    position_of(&item->document->compilation.sources, item->finding->span.begin).offset == offset)
			return true;
	}
	return false;
}

static void gather(struct gathering *gathering)
{
	const struct documents *documents = &gathering->server->documents;

	for (size_t i = 0; i < documents->count; i++) {
		const struct document *document = documents->items[i];
		const struct report *report = &document->compilation.report;

		for (size_t j = 0; document->is_open && document->is_compiled && j < report->count; j++) {
			struct found found = { .document = document, .finding = &report->items[j] };

			if (found.finding->allowed.data != NULL)
				continue;
			found.uri = uri_of(gathering, document, found.finding->span);
			if (is_there(gathering, &found))
				continue;
			ARENA_RESERVE(gathering->arena, gathering->items, gathering->count, gathering->capacity);
			gathering->items[gathering->count++] = found;
		}
	}
}

/* ---- one finding ---- */

static int severity_number(enum severity severity)
{
	return severity == SEVERITY_ERROR ? 1 : severity == SEVERITY_WARNING ? 2 : 4;
}

static void put_related(struct json_node list, const struct gathering *gathering, const struct document *document,
			struct span span, struct text message)
{
	struct json_node item = json_node_object(list, NULL);
	struct json_node location = json_node_object(item, "location");

	json_node_text(location, "uri", uri_of(gathering, document, span));
	place_put_range(location, "range", &document->compilation.sources, gathering->server->units, span);
	json_node_text(item, "message", message);
}

static void put_all_related(struct json_node node, const struct gathering *gathering, const struct found *found)
{
	const struct source_set *sources = &found->document->compilation.sources;
	const struct source_file *file = source_file_of(sources, found->finding->span);
	struct json_node list = json_node_list(node, "relatedInformation");

	for (const struct diagnostic_note *note = found->finding->notes; note != NULL; note = note->next)
		if (span_is_set(note->span))
			put_related(list, gathering, found->document, note->span, note->message);
	for (; file != NULL && span_is_set(file->used_from); file = source_file_of(sources, file->used_from))
		put_related(list, gathering, found->document, file->used_from, TEXT("used from here"));
}

/* What is wrong, what would be right, and remarks without a place. */
static struct text message_of(struct arena *arena, const struct diagnostic *finding)
{
	struct text_builder message = text_builder_start(arena);
	struct text help = report_help_text(arena, finding);

	text_append(&message, finding->message);
	if (help.length > 0)
		text_append_format(&message, "\n%.*s", TEXT_ARGUMENT(help));
	for (const struct diagnostic_note *note = finding->notes; note != NULL; note = note->next)
		if (!span_is_set(note->span))
			text_append_format(&message, "\n%.*s", TEXT_ARGUMENT(note->message));
	return text_builder_text(&message);
}

static void put_finding(struct json_node list, const struct gathering *gathering, const struct found *found)
{
	struct json_node node = json_node_object(list, NULL);
	const struct diagnostic *finding = found->finding;
	struct json_node description;

	place_put_range(node, "range", &found->document->compilation.sources, gathering->server->units, finding->span);
	json_node_whole(node, "severity", severity_number(finding->severity));
	json_node_text(node, "code", check_row(finding->check)->name);
	description = json_node_object(node, "codeDescription");
	json_node_text(description, "href", TEXT(EXPLAINED_AT));
	json_node_text(node, "source", TEXT(SOURCE_NAME));
	json_node_text(node, "message", message_of(gathering->arena, finding));
	put_all_related(node, gathering, found);
}

void finding_put(struct json_node list, const struct request *request, const struct document *document,
		 const struct diagnostic *finding)
{
	struct gathering gathering = { .server = request->server, .arena = request->arena };
	struct found found = { .document = document, .finding = finding };

	put_finding(list, &gathering, &found);
}

/* ---- what is sent ---- */

struct notice {
	const struct gathering *gathering;
	struct text uri;
};

static void fill_notice(struct json_node root, const void *subject)
{
	const struct notice *notice = subject;
	const struct gathering *gathering = notice->gathering;
	const struct document *document = documents_find(&gathering->server->documents, notice->uri);
	struct json_node params;
	struct json_node list;

	json_node_text(root, "jsonrpc", TEXT("2.0"));
	json_node_text(root, "method", TEXT("textDocument/publishDiagnostics"));
	params = json_node_object(root, "params");
	json_node_text(params, "uri", notice->uri);
	if (document != NULL)
		json_node_whole(params, "version", document->version);
	list = json_node_list(params, "diagnostics");
	for (size_t i = 0; i < gathering->count; i++)
		if (text_equal(gathering->items[i].uri, notice->uri))
			put_finding(list, gathering, &gathering->items[i]);
}

/* FNV-1a: only ever compared with what the same program said before. */
static uint64_t digest_of(struct text text)
{
	uint64_t digest = UINT64_C(14695981039346656037);

	for (size_t i = 0; i < text.length; i++)
		digest = (digest ^ (unsigned char)text.data[i]) * UINT64_C(1099511628211);
	return digest;
}

struct publishing {
	struct gathering gathering;
	struct publication *fresh;
	size_t count;
	size_t capacity;
};

static const struct publication *published_find(const struct publication *list, size_t count, struct text uri)
{
	for (size_t i = 0; i < count; i++)
		if (text_equal(list[i].uri, uri))
			return &list[i];
	return NULL;
}

/* Sends what is found in one file, where it is something else than the last time. `is_kept`: it is remembered. */
static void publish_one(struct publishing *publishing, struct text uri, bool is_kept)
{
	struct server *server = publishing->gathering.server;
	struct arena *arena = publishing->gathering.arena;
	struct notice notice = { &publishing->gathering, uri };
	const struct publication *last = published_find(server->published, server->published_count, uri);
	struct output output;
	uint64_t digest;

	if (published_find(publishing->fresh, publishing->count, uri) != NULL)
		return;
	output_open_memory(&output, arena);
	json_tree_write_line(&output, arena, fill_notice, &notice);
	digest = digest_of(output_memory(&output));
	if (last == NULL || last->digest != digest)
		message_write(output_memory(&output));
	if (!is_kept)
		return;
	ARENA_RESERVE(arena, publishing->fresh, publishing->count, publishing->capacity);
	publishing->fresh[publishing->count++] = (struct publication){ text_copy(arena, uri), digest };
}

static void publish_all(struct publishing *publishing)
{
	struct server *server = publishing->gathering.server;

	gather(&publishing->gathering);
	for (size_t i = 0; i < server->documents.count; i++)
		if (server->documents.items[i]->is_open)
			publish_one(publishing, server->documents.items[i]->uri, true);
	for (size_t i = 0; i < publishing->gathering.count; i++)
		publish_one(publishing, publishing->gathering.items[i].uri, true);
	for (size_t i = 0; i < server->published_count; i++) /* where nothing is found any more */
		publish_one(publishing, server->published[i].uri, false);
}

void findings_publish(struct server *server)
{
	struct arena scratch;
	struct arena kept;
	struct landing *const outer = server->invocation->arena->landing;
	struct landing here;
	struct publishing publishing = { .gathering = { .server = server, .arena = &scratch } };

	arena_init(&scratch, &here);
	arena_init(&kept, &here);
	if (setjmp(here.place) != 0) {
		arena_release(&scratch);
		arena_release(&kept);
		longjmp(outer->place, 1);
	}
	publish_all(&publishing);
	struct publication *list = ARENA_ARRAY(&kept, struct publication, publishing.count + 1);
	for (size_t i = 0; i < publishing.count; i++)
		list[i] = (struct publication){ text_copy(&kept, publishing.fresh[i].uri), publishing.fresh[i].digest };
	arena_release(&server->published_arena);
	server->published_arena = kept;
	server->published_arena.landing = outer;
	server->published = list;
	server->published_count = publishing.count;
	arena_release(&scratch);
}
