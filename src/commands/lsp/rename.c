/* Renaming: every place where a name stands, in every recipe that reads its declaration, or none. */
#include "commands/lsp/names.h"
#include "syntax/parse.h"

void rename_prepare(struct request *request)
{
	struct document *document = request_document(request);
	const struct name_use *use;
	struct name_uses uses;
	struct json_node result;

	if (document == NULL)
		return;
	uses = name_uses_of(document->compilation.recipe, request->arena);
	use = names_at(&uses, request_address(request, document));
	if (use == NULL || names_declaration(&uses, use) == NULL) {
		answer_null(request);
		return;
	}
	result = json_node_object(request->answer, "result");
	place_put_range(result, "range", &document->compilation.sources, request->server->units, use->span);
	json_node_text(result, "placeholder", source_text(&document->compilation.sources, use->span));
}

/* ---- what a new name must be ---- */

/* A name is what the compiler reads as one. */
static bool is_name(struct arena *arena, struct text name)
{
	struct source_set sources;
	struct report report;
	const struct source_file *file;
	const struct tree *tree;
	struct text problem;
	struct span span;
	struct text declaration = text_format(arena, "tank %.*s {\n}\n", TEXT_ARGUMENT(name));

	source_set_init(&sources, arena);
	report_init(&report, arena);
	file = source_add(&sources, TEXT("name"), declaration, &problem);
	if (file == NULL)
		return false;
	tree = parse_file(&sources, file, arena, &report);
	if (report.count > 0 || tree->first == 0 || tree_node(tree, tree->first)->first == 0)
		return false;
	span = tree_node(tree, tree_node(tree, tree->first)->first)->span;
	return text_equal(source_text(&sources, span), name);
}

static bool is_word_of_language(struct text name)
{
	return word_find(name) != WORD_COUNT || text_equal(name, TEXT("light")) ||
	       text_equal(name, TEXT("air"));
}

static bool is_taken(const struct names_search *search, struct text name)
{
	for (size_t i = 0; i < search->recipe_count; i++) {
		const struct names_recipe *recipe = search->recipes[i];
		uint32_t number = intern_find(recipe->recipe->names, name);
		uint32_t root = recipe->root;

		for (size_t j = 0; number != 0 && j < recipe->uses.count; j++) {
			const struct name_use *use = &recipe->uses.items[j];

			if (use->kind == search->wanted.kind && use->name == number && use->root == root)
				return true;
		}
	}
	return false;
}

/* Why it cannot be done; empty where it can. */
static struct text refusal(const struct names_search *search, struct arena *arena, struct text name)
{
	const char *kind = names_kind_word(search->wanted.kind);

	if (search->declaration == NULL)
		return TEXT("it is declared nowhere");
	if (!is_name(arena, name))
		return text_format(arena,
				   "`%.*s` is not a name: a name begins with a letter and goes on with letters, "
				   "digits and single hyphens",
				   TEXT_ARGUMENT(name));
	if (is_word_of_language(name))
		return text_format(arena, "`%.*s` is a word of the language", TEXT_ARGUMENT(name));
	if (is_taken(search, name))
		return text_format(arena, "another %s is called `%.*s`", kind, TEXT_ARGUMENT(name));
	for (size_t i = 0; i < search->recipe_count; i++) {
		const struct recipe *recipe = search->recipes[i]->recipe;

		if (recipe->has_parse_errors)
			return text_format(arena, "`%.*s`, or a file it uses, has a mistake that may hide the name",
					   TEXT_ARGUMENT(recipe->sources->files[0]->name));
	}
	return TEXT("");
}

/* ---- edits ---- */

static bool is_first_of_its_file(const struct names_search *search, size_t index)
{
	for (size_t i = 0; i < index; i++)
		if (text_equal(search->places[i].uri, search->places[index].uri))
			return false;
	return true;
}

static void put_edits(struct json_node list, const struct names_search *search, struct text uri, struct text name)
{
	for (size_t i = 0; i < search->count; i++) {
		const struct names_place *place = &search->places[i];
		struct json_node edit;

		if (!text_equal(place->uri, uri))
			continue;
		edit = json_node_object(list, NULL);
		place_put_range(edit, "range", place->recipe->recipe->sources, search->request->server->units,
				place->use->span);
		json_node_text(edit, "newText", name);
	}
}

static void put_changes(const struct request *request, const struct names_search *search, struct text name)
{
	struct json_node changes = edit_changes(json_node_object(request->answer, "result"), request);

	for (size_t i = 0; i < search->count; i++)
		if (is_first_of_its_file(search, i)) {
			struct text uri = search->places[i].uri;

			put_edits(edits_put(changes, request, uri), search, uri, name);
		}
}

void rename_answer(struct request *request)
{
	struct document *document = request_document(request);
	struct text name = json_value_at(request->params, "newName")->text;
	struct names_search search;
	struct name_uses uses;
	const struct name_use *use;
	struct text why;

	if (document == NULL)
		return;
	uses = name_uses_of(document->compilation.recipe, request->arena);
	use = names_at(&uses, request_address(request, document));
	if (use == NULL) {
		answer_error(request, RPC_REQUEST_FAILED, TEXT("there is no name here"));
		return;
	}
	names_search(&search, request, document, &uses, use);
	why = refusal(&search, request->arena, name);
	if (why.length > 0)
		answer_error(request, RPC_REQUEST_FAILED, why);
	else
		put_changes(request, &search, name);
}
