/* From files to a recipe. */
#include "model/load.h"

#include "model/resolve_day.h"
#include "syntax/parse.h"

/* Files that one recipe may use. */
#define FILE_LIMIT 10000

/* Comparisons of a wrong name with a right one in a run: about a second of them. */
#define SUGGESTIONS_MOST 2000000

static void load_file(struct recipe *recipe, struct source_file *file, struct span used_from);

static enum symbol_kind symbol_kind_of(enum node_kind kind)
{
	switch (kind) {
	case NODE_tank:
		return SYMBOL_TANK;
	case NODE_graduate:
		return SYMBOL_GRADUATE;
	case NODE_heater:
		return SYMBOL_HEATER;
	case NODE_thermometer:
		return SYMBOL_THERMOMETER;
	case NODE_solution:
	case NODE_dryer:
		return SYMBOL_BATH;
	case NODE_film:
		return SYMBOL_FILM;
	case NODE_day:
		return SYMBOL_DAY;
	default:
		return SYMBOL_PROCESS;
	}
}

static struct symbol *symbol_new(struct recipe *recipe, enum node_kind kind, struct span name)
{
	struct symbol *symbol = ARENA_NEW(recipe->arena, struct symbol);

	symbol->node_kind = kind;
	symbol->kind = symbol_kind_of(kind);
	symbol->name = intern_name(recipe->names, source_text(recipe->sources, name));
	symbol->name_span = name;
	return symbol;
}

static void collect_lost(struct recipe *recipe, const struct tree *tree)
{
	for (size_t i = 0; i < tree->lost_count; i++) {
		const struct tree_lost *lost = &tree->lost[i];

		for (int kind = 0; kind < SYMBOL_KIND_COUNT; kind++) {
			struct symbol *symbol;

			if (lost->kind != NODE_none && lost->kind != NODE_use &&
			    symbol_kind_of(lost->kind) != (enum symbol_kind)kind)
				continue;
			if (!span_is_set(lost->name)) {
				recipe->resolver->lost_kinds |= 1u << kind;
				continue;
			}
			symbol = symbol_new(recipe, lost->kind, lost->name);
			symbol->kind = (enum symbol_kind)kind;
			symbol->is_lost = true;
			symbol_add(recipe, symbol);
		}
	}
}

static void collect_declaration(struct recipe *recipe, const struct tree *tree, node_index node)
{
	node_index name = tree_node(tree, node)->first;
	struct symbol *symbol =
		symbol_new(recipe, (enum node_kind)tree_node(tree, node)->kind, tree_node(tree, name)->span);

	symbol->tree = tree;
	symbol->node = node;
	symbol->is_in_main_file = tree->file == recipe->resolver->main_file;
	symbol_add(recipe, symbol);
}

/* The first declaration says the language's version, and no other does. */
static void check_version(struct recipe *recipe, const struct tree *tree)
{
	struct reader reader = { recipe, tree, 0 };
	node_index first = tree->first;
	struct span start = { tree->file->base, tree->file->length > 0 ? 1 : 0 };
	struct diagnostic *finding = NULL;

	if (first == 0 && recipe->has_parse_errors)
		return;
	if (first == 0 || tree_node(tree, first)->kind != NODE_wetside) {
		if (!recipe->has_parse_errors || (first != 0 && tree_node(tree, first)->span.begin == start.begin))
			finding = report_add(recipe->report, CHECK_language_version, start,
					     "the file does not begin with the language version");
		if (finding != NULL && first != 0)
			report_fix(recipe->report, finding, FIX_SAFE, (struct span){ start.begin, 0 },
				   TEXT("wetside 1\n"));
	} else if (!text_equal(read_text(&reader, tree_node(tree, first)->first), TEXT("1"))) {
		finding = report_add(recipe->report, CHECK_language_version, tree_node(tree, first)->span,
				     "a language version that this program does not know");
	}
	if (finding != NULL)
		report_help(recipe->report, finding, "the first line is `wetside 1`");
	for (node_index node = first; node != 0; node = tree_node(tree, node)->next) {
		struct span span = tree_node(tree, node)->span;

		if (tree_node(tree, node)->kind != NODE_wetside || node == first)
			continue;
		finding = report_add(recipe->report, CHECK_out_of_place, span,
				     "the language version stands in the first line only");
		report_fix(recipe->report, finding, FIX_ASKS, fix_whole_clause(recipe->sources, span), TEXT(""));
	}
}

/* `folder` is a real path, empty where there is no such folder: nothing lies below that. */
static bool is_below(struct text path, struct text folder)
{
	if (folder.length == 0)
		return false;
	while (folder.length > 0 && folder.data[folder.length - 1] == '/')
		folder.length--;
	return path.length > folder.length && text_equal((struct text){ path.data, folder.length }, folder) &&
	       path.data[folder.length] == '/';
}

/* A used file lies in the folder of the main file or of a search path, or below, wherever its links lead. */
static bool is_in_bounds(const struct recipe *recipe, const struct source_file *file)
{
	const struct resolver *resolver = recipe->resolver;

	if (is_below(file->real, source_real_path(recipe->arena, resolver->main_file->directory)))
		return true;
	for (size_t i = 0; i < resolver->path->count; i++)
		if (is_below(file->real, source_real_path(recipe->arena, resolver->path->folders[i])))
			return true;
	return false;
}

static struct source_file *find_used(struct recipe *recipe, const struct source_file *from, struct text wanted,
				     struct text *problem)
{
	const struct resolver *resolver = recipe->resolver;
	struct text first_problem = { NULL, 0 };

	for (size_t i = 0; i <= resolver->path->count; i++) {
		struct text folder = i == 0 ? from->directory : resolver->path->folders[i - 1];
		struct text path =
			text_equal(folder, TEXT("."))
				? wanted
				: text_format(recipe->arena, "%.*s/%.*s", TEXT_ARGUMENT(folder), TEXT_ARGUMENT(wanted));
		struct source_file *file = source_read(recipe->sources, path, path, problem);

		if (file != NULL)
			return file;
		if (first_problem.data == NULL)
			first_problem = *problem;
	}
	*problem = first_problem;
	return NULL;
}

static bool is_known(struct recipe *recipe, const struct source_file *file, struct span use)
{
	struct resolver *resolver = recipe->resolver;

	for (size_t i = 0; i < resolver->file_count; i++) {
		const struct file_state *state = &resolver->files[i];
		struct diagnostic *finding;

		if (state->file->real.length == 0 || !text_equal(state->file->real, file->real))
			continue;
		if (!state->is_open)
			return true;
		finding = report_add(recipe->report, CHECK_use_cycle, use, "this file is already being read");
		for (size_t j = i + 1; j < resolver->file_count; j++)
			if (resolver->files[j].is_open)
				report_note(recipe->report, finding, resolver->files[j].used_from,
					    "the circle goes through here");
		report_help(recipe->report, finding, "move what both need into a file of its own");
		return true;
	}
	return false;
}

static struct source_file *complain_file(struct recipe *recipe, struct span span, struct text wanted,
					 struct text problem)
{
	struct diagnostic *finding = report_add(recipe->report, CHECK_unreadable_file, span, "cannot use `%.*s`: %.*s",
						TEXT_ARGUMENT(wanted), TEXT_ARGUMENT(problem));

	report_help(recipe->report, finding, "files are looked for beside the using file, then in each -I folder");
	return NULL;
}

struct source_file *load_named_file(struct recipe *recipe, const struct source_file *from, struct text wanted,
				    struct span span)
{
	struct text problem = { "", 0 };
	struct source_file *file;

	if (wanted.length == 0)
		return complain_file(recipe, span, wanted, TEXT("it names no file"));
	if (wanted.data[0] == '/')
		return complain_file(recipe, span, wanted, TEXT("a path here is relative"));
	file = find_used(recipe, from, wanted, &problem);
	if (file == NULL)
		return complain_file(recipe, span, wanted, problem);
	if (!is_in_bounds(recipe, file))
		return complain_file(recipe, span, wanted, TEXT("it lies outside the folders that may be read"));
	if (recipe->resolver->file_count >= FILE_LIMIT)
		return complain_file(recipe, span, wanted, TEXT("more than 10,000 files are used"));
	return file;
}

static void follow_use(struct recipe *recipe, const struct tree *tree, node_index node)
{
	struct reader reader = { recipe, tree, node };
	node_index path = tree_node(tree, node)->first;
	struct text wanted = read_prose(&reader, path).text;
	struct span span = tree_node(tree, path)->span;
	struct source_file *file = NULL;

	if (wanted.length > 0 || span.length >= 2) /* else a quote and nothing else: reported when it was scanned */
		file = load_named_file(recipe, tree->file, wanted, span);
	if (file == NULL) {
		recipe->resolver->lost_kinds = ~0u; /* what it declares is not to be called unknown */
	} else if (!is_known(recipe, file, span)) {
		file->used_from = span;
		load_file(recipe, file, span);
	}
}

static void load_file(struct recipe *recipe, struct source_file *file, struct span used_from)
{
	struct resolver *resolver = recipe->resolver;
	size_t state = resolver->file_count;
	size_t errors = recipe->report->errors;
	struct tree *tree;

	ARENA_RESERVE(recipe->arena, resolver->files, resolver->file_count, resolver->file_capacity);
	resolver->files[resolver->file_count++] = (struct file_state){ file, true, used_from, NULL };
	tree = parse_file(recipe->sources, file, recipe->arena, recipe->report);
	resolver->files[state].tree = tree;
	if (recipe->report->errors > errors)
		recipe->has_parse_errors = true;
	check_version(recipe, tree);
	for (node_index node = tree->first; node != 0; node = tree_node(tree, node)->next) {
		struct reader reader = { recipe, tree, node };
		struct note *notes = NULL;

		switch (tree_node(tree, node)->kind) {
		case NODE_wetside:
			break;
		case NODE_use:
			follow_use(recipe, tree, node);
			break;
		case NODE_on_hand:
			on_hand_read(&reader, node);
			break;
		case NODE_allow:
			read_common(&reader, node, &notes, &recipe->allowances);
			break;
		case NODE_roll: /* what it names is known once everything is collected */
			break;
		default:
			collect_declaration(recipe, tree, node);
			break;
		}
	}
	collect_lost(recipe, tree);
	resolver->files[state].is_open = false;
}

/* A chain of stock solutions ends: one that comes back to itself is cut where that is said. */
static void cut_stock_circles(struct recipe *recipe)
{
	for (size_t i = 0; i < recipe->solution_count; i++) {
		struct solution *solution = recipe->solutions[i];
		const struct solution *behind = solution->stock;

		for (size_t length = 0; behind != NULL && behind != solution; length++)
			behind = length > recipe->solution_count ? NULL : behind->stock;
		if (behind == NULL)
			continue;
		report_add(recipe->report, CHECK_use_cycle, solution->dilution_of.span,
			   "these solutions are diluted from each other in a circle");
		solution->stock = NULL;
	}
}

static void resolve_declarations(struct recipe *recipe)
{
	struct resolver *resolver = recipe->resolver;
	size_t solutions = 0;

	recipe->declarations = ARENA_ARRAY(recipe->arena, struct declared *, resolver->symbol_count + 1);
	recipe->solutions = ARENA_ARRAY(recipe->arena, struct solution *, resolver->symbol_count + 1);
	recipe->graduates = ARENA_ARRAY(recipe->arena, struct graduate *, resolver->symbol_count + 1);
	for (size_t i = 0; i < resolver->symbol_count; i++) {
		struct symbol *symbol = resolver->symbols[i];

		if (symbol->kind == SYMBOL_PROCESS || symbol->kind == SYMBOL_DAY || symbol->is_lost)
			continue;
		if (symbol->node_kind == NODE_solution) {
			struct solution *solution = solution_resolve(recipe, symbol);

			symbol->declared = &solution->declared;
			solution->number = solutions;
			recipe->solutions[solutions++] = solution;
		} else {
			symbol->declared = vessel_resolve(recipe, symbol);
		}
		if (symbol->kind == SYMBOL_GRADUATE)
			recipe->graduates[recipe->graduate_count++] = (struct graduate *)symbol->declared;
		recipe->declarations[recipe->declaration_count++] = symbol->declared;
	}
	recipe->solution_count = solutions;
	for (size_t i = 0; i < resolver->symbol_count; i++)
		if (resolver->symbols[i]->node_kind == NODE_solution && !resolver->symbols[i]->is_lost)
			solution_refer(recipe, resolver->symbols[i]);
	cut_stock_circles(recipe);
	on_hand_refer(recipe);
}

static void collect_processes(struct recipe *recipe)
{
	struct resolver *resolver = recipe->resolver;

	for (size_t i = 0; i < resolver->symbol_count; i++) {
		struct symbol *symbol = resolver->symbols[i];

		if (symbol->kind != SYMBOL_PROCESS || symbol->is_lost || !symbol->is_in_main_file)
			continue;
		ARENA_RESERVE(recipe->arena, resolver->processes, resolver->process_count, resolver->process_capacity);
		resolver->processes[resolver->process_count++] = symbol;
	}
	resolver->main_process_count = resolver->process_count;
}

struct recipe *recipe_load(struct source_set *sources, struct source_file *file, const struct search_path *path,
			   struct arena *arena, struct report *report)
{
	struct recipe *recipe = ARENA_NEW(arena, struct recipe);

	recipe->arena = arena;
	recipe->sources = sources;
	recipe->names = intern_create(arena);
	recipe->report = report;
	recipe->resolver = ARENA_NEW(arena, struct resolver);
	recipe->resolver->path = path;
	recipe->resolver->main_file = file;
	recipe->resolver->suggestions_left = SUGGESTIONS_MOST;
	load_file(recipe, file, (struct span){ 0, 0 });
	resolve_declarations(recipe);
	collect_processes(recipe);
	days_resolve(recipe);
	return recipe;
}
