/* Definition, references, highlights. */
#include "commands/lsp/names.h"

#include "support/folder.h"

#define RECIPE_SUFFIX ".wet"

const char *names_kind_word(enum name_kind kind)
{
	static const char *const words[] = { "tank", "graduate", "heater",  "thermometer",
					     "bath", "film",	 "process", "step" };

	return words[kind];
}

const struct name_use *names_at(const struct name_uses *uses, uint32_t address)
{
	for (size_t i = 0; i < uses->count; i++) {
		struct span span = uses->items[i].span;

		if (address >= span.begin && address <= span.begin + span.length)
			return &uses->items[i];
	}
	return NULL;
}

const struct name_use *names_declaration(const struct name_uses *uses, const struct name_use *use)
{
	for (size_t i = 0; i < uses->count; i++)
		if (uses->items[i].is_declaration && name_use_is_same(&uses->items[i], use))
			return &uses->items[i];
	return NULL;
}

/* ---- everywhere ---- */

static size_t offset_of(const struct recipe *recipe, struct span span)
{
	const struct source_file *file = source_file_of(recipe->sources, span);

	return span.begin - file->base;
}

static void add_place(struct names_search *search, const struct names_recipe *recipe, const struct name_use *use)
{
	struct arena *arena = search->request->arena;
	const struct source_file *file = source_file_of(recipe->recipe->sources, use->span);
	struct text uri = documents_uri_of(&search->request->server->documents, arena, file);
	size_t offset = offset_of(recipe->recipe, use->span);

	for (size_t i = 0; i < search->count; i++)
		if (offset_of(search->places[i].recipe->recipe, search->places[i].use->span) == offset &&
		    text_equal(search->places[i].uri, uri))
			return;
	ARENA_RESERVE(arena, search->places, search->count, search->capacity);
	search->places[search->count++] = (struct names_place){ uri, recipe, use };
}

/* Another recipe speaks of the same thing where it reads the same declaration. */
static bool declares_it(const struct names_search *search, const struct names_recipe *other)
{
	struct name_use wanted = search->wanted;
	const struct name_use *found;
	const struct source_file *own;
	const struct source_file *others;

	wanted.name = other->name;
	wanted.owner = other->owner;
	found = names_declaration(&other->uses, &wanted);
	if (search->declaration == NULL || found == NULL)
		return false;
	own = source_file_of(search->origin->sources, search->declaration->span);
	others = source_file_of(other->recipe->sources, found->span);
	return own->real.length > 0 && text_equal(own->real, others->real);
}

static uint32_t number_in(const struct recipe *recipe, const struct recipe *origin, uint32_t name)
{
	return name == 0 ? 0 : intern_find(recipe->names, intern_text(origin->names, name));
}

static void look_into(struct names_search *search, const struct recipe *recipe)
{
	struct arena *arena = search->request->arena;
	struct names_recipe *other = ARENA_NEW(arena, struct names_recipe);

	other->recipe = recipe;
	other->uses = name_uses_of(recipe, arena);
	other->name = number_in(recipe, search->origin, search->wanted.name);
	other->owner = number_in(recipe, search->origin, search->wanted.owner);
	other->root = number_in(recipe, search->origin, search->wanted.root);
	if (recipe != search->origin && !declares_it(search, other))
		return;
	ARENA_RESERVE(arena, search->recipes, search->recipe_count, search->recipe_capacity);
	search->recipes[search->recipe_count++] = other;
	for (size_t i = 0; i < other->uses.count; i++) {
		const struct name_use *use = &other->uses.items[i];

		if (use->kind == search->wanted.kind && use->name == other->name && use->owner == other->owner)
			add_place(search, other, use);
	}
}

/* A recipe of the workspace that is not open. */
static void look_into_file(struct names_search *search, struct text path)
{
	struct server *server = search->request->server;
	struct arena *arena = search->request->arena;
	struct source_set *sources = ARENA_NEW(arena, struct source_set);
	struct report *report = ARENA_NEW(arena, struct report);
	struct search_path *folders = ARENA_NEW(arena, struct search_path);
	struct source_file *file;
	struct text problem;

	source_set_init(sources, arena);
	sources->open = &server->documents.open;
	report_init(report, arena);
	*folders = (struct search_path){ server->invocation->folders, server->invocation->folder_count };
	file = source_read(sources, path, path, &problem);
	if (file != NULL && documents_of_file(&server->documents, file) == NULL)
		look_into(search, recipe_load(sources, file, folders, arena, report));
}

static void look_into_workspace(struct names_search *search)
{
	const struct server *server = search->request->server;
	struct arena *arena = search->request->arena;
	const struct source_file *file = source_file_of(search->origin->sources, search->declaration->span);
	struct folder_files files = { 0 };

	for (size_t i = 0; i < server->folder_count; i++)
		folder_find(&files, arena, server->folders[i], TEXT(RECIPE_SUFFIX), true);
	if (server->folder_count == 0 && file->real.length > 0)
		folder_find(&files, arena, file->directory, TEXT(RECIPE_SUFFIX), false);
	for (size_t i = 0; i < files.count; i++)
		look_into_file(search, files.paths[i]);
}

void names_search(struct names_search *search, const struct request *request, const struct document *document,
		  const struct name_uses *uses, const struct name_use *use)
{
	const struct documents *documents = &request->server->documents;

	*search = (struct names_search){ .request = request,
					 .wanted = *use,
					 .declaration = names_declaration(uses, use),
					 .origin = document->compilation.recipe };
	look_into(search, search->origin);
	if (search->declaration == NULL)
		return;
	for (size_t i = 0; i < documents->count; i++)
		if (documents->items[i] != document && documents->items[i]->is_open && documents->items[i]->is_compiled)
			look_into(search, documents->items[i]->compilation.recipe);
	look_into_workspace(search);
}

/* ---- requests ---- */

/* The name under the cursor; null after an answer of null. */
static const struct name_use *use_at(const struct request *request, struct document **document, struct name_uses *uses)
{
	const struct name_use *use;

	*document = request_document(request);
	if (*document == NULL)
		return NULL;
	*uses = name_uses_of((*document)->compilation.recipe, request->arena);
	use = names_at(uses, request_address(request, *document));
	if (use == NULL)
		answer_null(request);
	return use;
}

/* The file that a `use` names is where that leads. */
static bool answer_used_file(const struct request *request, const struct document *document)
{
	const struct source_set *sources = &document->compilation.sources;
	uint32_t address = request_address(request, document);

	for (size_t i = 0; i < sources->count; i++) {
		struct span use = sources->files[i]->used_from;

		if (!span_is_set(use) || address < use.begin || address > use.begin + use.length)
			continue;
		location_put(request->answer, "result", request, sources, (struct span){ sources->files[i]->base, 0 });
		return true;
	}
	return false;
}

void names_definition(struct request *request)
{
	struct document *document = request_document(request);
	struct name_uses uses;
	const struct name_use *use;
	const struct name_use *declaration;

	if (document == NULL || answer_used_file(request, document))
		return;
	uses = name_uses_of(document->compilation.recipe, request->arena);
	use = names_at(&uses, request_address(request, document));
	declaration = use == NULL ? NULL : names_declaration(&uses, use);
	if (declaration == NULL)
		answer_null(request);
	else
		location_put(request->answer, "result", request, &document->compilation.sources, declaration->span);
}

void names_references(struct request *request)
{
	bool with_declaration = json_value_path(request->params, "context.includeDeclaration")->whole != 0;
	struct document *document;
	struct name_uses uses;
	const struct name_use *use = use_at(request, &document, &uses);
	struct names_search search;
	struct json_node list;

	if (use == NULL)
		return;
	names_search(&search, request, document, &uses, use);
	list = json_node_list(request->answer, "result");
	for (size_t i = 0; i < search.count; i++)
		if (with_declaration || !search.places[i].use->is_declaration)
			location_put(list, NULL, request, search.places[i].recipe->recipe->sources,
				     search.places[i].use->span);
}

void names_highlight(struct request *request)
{
	enum { HIGHLIGHT_READ = 2, HIGHLIGHT_WRITE = 3 };
	struct document *document;
	struct name_uses uses;
	const struct name_use *use = use_at(request, &document, &uses);
	struct json_node list;

	if (use == NULL)
		return;
	list = json_node_list(request->answer, "result");
	for (size_t i = 0; i < uses.count; i++) {
		const struct name_use *other = &uses.items[i];
		const struct source_set *sources = &document->compilation.sources;
		struct json_node item;

		if (!name_use_is_same(other, use) || source_file_of(sources, other->span) != document_file(document))
			continue;
		item = json_node_object(list, NULL);
		place_put_range(item, "range", sources, request->server->units, other->span);
		json_node_whole(item, "kind", other->is_declaration ? HIGHLIGHT_WRITE : HIGHLIGHT_READ);
	}
}
