#include "commands/lsp/documents.h"

#include <string.h>

#include "emit/escape/uri.h"

#define FILE_SCHEME "file://"

/* ---- URIs and paths ---- */

static int hex_digit(char byte)
{
	if (byte >= '0' && byte <= '9')
		return byte - '0';
	if (byte >= 'a' && byte <= 'f')
		return byte - 'a' + 10;
	return byte >= 'A' && byte <= 'F' ? byte - 'A' + 10 : -1;
}

struct text uri_to_path(struct arena *arena, struct text uri)
{
	size_t scheme = sizeof(FILE_SCHEME) - 1;
	struct text_builder path = text_builder_start(arena);

	if (uri.length <= scheme || memcmp(uri.data, FILE_SCHEME, scheme) != 0 || uri.data[scheme] != '/')
		return TEXT("");
	for (size_t i = scheme; i < uri.length; i++) {
		int high = uri.data[i] == '%' && i + 2 < uri.length ? hex_digit(uri.data[i + 1]) : -1;
		int low = high >= 0 ? hex_digit(uri.data[i + 2]) : -1;

		if (low >= 0) {
			text_append_byte(&path, (char)(high * 16 + low));
			i += 2;
		} else {
			text_append_byte(&path, uri.data[i]);
		}
	}
	return text_builder_text(&path);
}

struct text documents_uri_of(const struct documents *documents, struct arena *arena, const struct source_file *file)
{
	const struct document *document = documents_of_file(documents, file);

	if (document != NULL)
		return document->uri;
	return uri_path(arena, file->real.length > 0 ? file->real : file->name);
}

/* ---- the table ---- */

void documents_init(struct documents *documents, const struct invocation *invocation)
{
	*documents = (struct documents){ .invocation = invocation };
	arena_init(&documents->open_arena, invocation->arena->landing);
}

struct document *documents_find(const struct documents *documents, struct text uri)
{
	for (size_t i = 0; i < documents->count; i++)
		if (documents->items[i]->is_open && text_equal(documents->items[i]->uri, uri))
			return documents->items[i];
	return NULL;
}

struct document *documents_of_file(const struct documents *documents, const struct source_file *file)
{
	for (size_t i = 0; i < documents->count; i++) {
		struct document *document = documents->items[i];

		if (!document->is_open)
			continue;
		if (document->real.length > 0 ? text_equal(document->real, file->real)
					      : file->real.length == 0 && text_equal(document->name, file->name))
			return document;
	}
	return NULL;
}

static struct document *free_document(struct documents *documents)
{
	struct arena *arena = documents->invocation->arena;

	for (size_t i = 0; i < documents->count; i++)
		if (!documents->items[i]->is_open)
			return documents->items[i];
	ARENA_RESERVE(arena, documents->items, documents->count, documents->capacity);
	documents->items[documents->count] = ARENA_NEW(arena, struct document);
	return documents->items[documents->count++];
}

static bool cannot_find(const struct document *document)
{
	const struct report *report = &document->compilation.report;

	for (size_t i = 0; document->is_compiled && i < report->count; i++)
		if (report->items[i].check == CHECK_unreadable_file)
			return true;
	return false;
}

static bool reads(const struct document *document, struct text real)
{
	const struct source_set *sources = &document->compilation.sources;

	for (size_t i = 0; document->is_compiled && real.length > 0 && i < sources->count; i++)
		if (text_equal(sources->files[i]->real, real))
			return true;
	return false;
}

/* A text has changed, come or gone. */
static void doubt_users(struct documents *documents, const struct document *changed, bool came_or_went)
{
	documents->is_listed = false;
	for (size_t i = 0; i < documents->count; i++) {
		struct document *document = documents->items[i];

		if (document == changed || reads(document, changed->real) || (came_or_went && cannot_find(document)))
			document->is_stale = true;
	}
}

void documents_doubt(struct documents *documents)
{
	for (size_t i = 0; i < documents->count; i++)
		documents->items[i]->is_stale = true;
}

/* ---- texts ---- */

/* The new text takes the old one's place, which it may have been made from. */
static void take_text(struct documents *documents, struct document *document, struct text uri, struct text content)
{
	struct arena arena;
	struct document fresh = *document; /* the old text stands until the new one is whole */
	struct landing *const landing = documents->invocation->arena->landing;
	struct landing here;

	arena_init(&arena, &here);
	if (setjmp(here.place) != 0) {
		arena_release(&arena);
		longjmp(landing->place, 1);
	}
	fresh.uri = text_copy(&arena, uri);
	fresh.content = text_copy(&arena, content);
	fresh.name = uri_to_path(&arena, fresh.uri);
	fresh.real = fresh.name.length > 0 ? source_future_path(&arena, fresh.name) : TEXT("");
	if (fresh.name.length == 0)
		fresh.name = fresh.uri;
	arena.landing = landing;
	fresh.text_arena = arena;
	arena_release(&document->text_arena);
	*document = fresh;
}

void document_open(struct documents *documents, struct text uri, struct text content, int64_t version)
{
	struct document *document = documents_find(documents, uri);

	if (document == NULL)
		document = free_document(documents);
	take_text(documents, document, uri, content);
	document->is_open = true;
	document->version = version;
	doubt_users(documents, document, true);
}

void document_change(struct documents *documents, struct document *document, struct text content, int64_t version)
{
	take_text(documents, document, document->uri, content);
	document->version = version;
	doubt_users(documents, document, false);
}

static void forget(struct document *document)
{
	arena_release(&document->arena);
	document->is_compiled = false;
	document->moments = NULL;
}

void document_close(struct documents *documents, struct document *document)
{
	doubt_users(documents, document, true);
	document->is_open = false;
	document->is_stale = false;
	forget(document);
	arena_release(&document->text_arena);
	document->uri = document->name = document->real = document->content = TEXT("");
}

void documents_drop(struct documents *documents)
{
	for (size_t i = 0; i < documents->count; i++) {
		forget(documents->items[i]);
		arena_release(&documents->items[i]->text_arena);
	}
	arena_release(&documents->open_arena);
}

/* ---- compiling ---- */

/* A process is dropped when the next one is resolved; when its steps come stays. */
static void take_moments(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct document *document = data;
	const struct process *process = compiled->process;

	(void)compilation;
	for (size_t i = process->step_count; i-- > 0;) {
		const struct timeline_step *step = &compiled->timeline->steps[i];
		struct moment *moment = ARENA_NEW(&document->arena, struct moment);

		*moment = (struct moment){ .step = process->steps[i].name,
					   .process = process->declared.name,
					   .pour_ms = step->pour_ms,
					   .start_ms = step->start_ms,
					   .drain_ms = step->drain_ms,
					   .end_ms = step->end_ms,
					   .next = document->moments };
		document->moments = moment;
	}
}

static void compile_now(const struct documents *documents, struct document *document)
{
	/* The text may go before its compilation does. What lies under no path has nothing beside it. */
	bool is_path = document->name.length > 0 && document->name.data[0] == '/';
	struct source_file as = { .name = document->name,
				  .real = text_copy(&document->arena, document->real),
				  .directory = is_path ? source_folder(&document->arena, document->name) : TEXT(".") };

	document->invocation = *documents->invocation;
	document->invocation.arena = &document->arena;
	document->invocation.open_texts = &documents->open;
	compile_text_for(&document->invocation, &as, document->content, &document->compilation, take_moments, document);
	report_sort(&document->compilation.report);
	for (size_t i = 0; i < document->compilation.sources.count; i++) /* its lines are known from here on */
		source_locate(&document->compilation.sources, document->compilation.sources.files[i]->base);
	document->is_compiled = true;
}

static void compile(const struct documents *documents, struct document *document)
{
	struct landing here;

	forget(document);
	document->is_stale = false;
	arena_init(&document->arena, &here);
	if (setjmp(here.place) != 0) {
		forget(document);
		complain("there is not enough memory for `%.*s`", TEXT_ARGUMENT(document->uri));
		return;
	}
	compile_now(documents, document);
	document->arena.landing = documents->invocation->arena->landing;
}

static void list_open(struct documents *documents)
{
	struct open_text *items;

	documents->is_listed = false;
	arena_release(&documents->open_arena);
	documents->open_arena.landing = documents->invocation->arena->landing;
	documents->open = (struct open_texts){ NULL, 0 };
	items = ARENA_ARRAY(&documents->open_arena, struct open_text, documents->count + 1);
	documents->open.items = items;
	for (size_t i = 0; i < documents->count; i++) {
		const struct document *document = documents->items[i];

		if (document->is_open && document->real.length > 0)
			items[documents->open.count++] = (struct open_text){ document->real, document->content };
	}
	documents->is_listed = true;
}

bool documents_refresh(struct documents *documents)
{
	bool was_stale = false;

	if (!documents->is_listed)
		list_open(documents);
	for (size_t i = 0; i < documents->count; i++) {
		struct document *document = documents->items[i];

		if (!document->is_open || !document->is_stale)
			continue;
		was_stale = true;
		compile(documents, document);
	}
	return was_stale;
}

const struct source_file *document_file(const struct document *document)
{
	return document->compilation.sources.files[0];
}

const struct tree *document_tree(const struct document *document)
{
	return recipe_tree(document->compilation.recipe, 0);
}

const struct moment *document_moment(const struct document *document, const struct name_use *step)
{
	const struct moment *moment = document->moments;

	while (moment != NULL && (moment->step != step->name || moment->process != step->process))
		moment = moment->next;
	return moment;
}
