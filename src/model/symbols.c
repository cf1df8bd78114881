/* Declarations by kind and name. */
#include "model/resolver.h"

#include <string.h>

#include "support/suggest.h"

static const char *const kind_names[SYMBOL_KIND_COUNT] = { "tank", "graduate", "heater",  "thermometer",
							   "bath", "film",     "process", "day" };

static size_t symbol_slot(const struct resolver *resolver, enum symbol_kind kind, uint32_t name)
{
	return ((size_t)name * 31u + (size_t)kind * 7u) % resolver->slot_count;
}

static void symbol_place(struct resolver *resolver, struct symbol *symbol)
{
	size_t slot = symbol_slot(resolver, symbol->kind, symbol->name);

	while (resolver->slots[slot] != NULL)
		slot = (slot + 1) % resolver->slot_count;
	resolver->slots[slot] = symbol;
}

static void symbols_make_room(struct recipe *recipe)
{
	struct resolver *resolver = recipe->resolver;

	if (resolver->symbol_count * 2 < resolver->slot_count)
		return;
	resolver->slot_count = resolver->slot_count == 0 ? 64 : resolver->slot_count * 2;
	resolver->slots = ARENA_ARRAY(recipe->arena, struct symbol *, resolver->slot_count);
	for (size_t i = 0; i < resolver->symbol_count; i++)
		symbol_place(resolver, resolver->symbols[i]);
}

struct symbol *symbol_find(const struct recipe *recipe, enum symbol_kind kind, uint32_t name)
{
	const struct resolver *resolver = recipe->resolver;

	if (resolver->slot_count == 0)
		return NULL;
	for (size_t slot = symbol_slot(resolver, kind, name); resolver->slots[slot] != NULL;
	     slot = (slot + 1) % resolver->slot_count)
		if (resolver->slots[slot]->kind == kind && resolver->slots[slot]->name == name)
			return resolver->slots[slot];
	return NULL;
}

static bool is_predeclared(const struct recipe *recipe, const struct symbol *symbol)
{
	struct text name = intern_text(recipe->names, symbol->name);

	return symbol->kind == SYMBOL_BATH &&
	       (text_equal(name, TEXT("water")) || text_equal(name, TEXT("light")) || text_equal(name, TEXT("air")));
}

void symbol_add(struct recipe *recipe, struct symbol *symbol)
{
	struct resolver *resolver = recipe->resolver;
	struct symbol *earlier = symbol_find(recipe, symbol->kind, symbol->name);
	struct text name = intern_text(recipe->names, symbol->name);

	if (is_predeclared(recipe, symbol) && symbol->is_lost)
		return;
	if (is_predeclared(recipe, symbol)) {
		report_help(recipe->report,
			    report_add(recipe->report, CHECK_defined_twice, symbol->name_span,
				       "`%.*s` is a bath of the language", TEXT_ARGUMENT(name)),
			    "give it another name");
		return;
	}
	if (earlier != NULL && symbol->is_lost)
		return;
	if (earlier != NULL && earlier->is_lost) {
		*earlier = *symbol;
		return;
	}
	if (earlier != NULL) {
		report_note(recipe->report,
			    report_add(recipe->report, CHECK_defined_twice, symbol->name_span,
				       "the %s `%.*s` is declared twice", kind_names[symbol->kind],
				       TEXT_ARGUMENT(name)),
			    earlier->name_span, "it was declared here before");
		return;
	}
	symbols_make_room(recipe);
	ARENA_RESERVE(recipe->arena, resolver->symbols, resolver->symbol_count, resolver->symbol_capacity);
	resolver->symbols[resolver->symbol_count++] = symbol;
	symbol_place(resolver, symbol);
}

/* A wrong name is compared with all others. Where there are thousands of both, the later ones go without. */
bool symbols_may_suggest(struct recipe *recipe, size_t names)
{
	if (recipe->resolver->suggestions_left < names)
		return false;
	recipe->resolver->suggestions_left -= names;
	return true;
}

struct symbol *symbol_refer(struct recipe *recipe, enum symbol_kind kind, struct name_reference reference)
{
	const struct resolver *resolver = recipe->resolver;
	struct symbol *symbol = symbol_find(recipe, kind, reference.name);
	struct suggestion_list list;
	struct diagnostic *finding;

	if (symbol != NULL)
		return symbol->is_lost ? NULL : symbol;
	if ((resolver->lost_kinds & 1u << kind) != 0)
		return NULL;
	finding = report_add(recipe->report, CHECK_unknown_name, reference.span, "no %s is called `%.*s`",
			     kind_names[kind], TEXT_ARGUMENT(intern_text(recipe->names, reference.name)));
	if (!symbols_may_suggest(recipe, resolver->symbol_count))
		return NULL;
	suggest_start(&list, intern_text(recipe->names, reference.name));
	for (size_t i = 0; i < resolver->symbol_count; i++)
		if (resolver->symbols[i]->kind == kind)
			suggest_offer(&list, intern_text(recipe->names, resolver->symbols[i]->name));
	if (kind == SYMBOL_BATH) {
		suggest_offer(&list, TEXT("water"));
		suggest_offer(&list, TEXT("light"));
		suggest_offer(&list, TEXT("air"));
	}
	report_suggest(recipe->report, finding, reference.span, &list, SUGGESTION_OF_RECIPE);
	return NULL;
}

struct reader symbol_reader(struct recipe *recipe, const struct symbol *symbol)
{
	return (struct reader){ recipe, symbol->tree, symbol->node };
}

node_index symbol_open(const struct reader *reader, const struct symbol *symbol, struct declared *declared)
{
	const struct tree_node *node = tree_node(symbol->tree, symbol->node);
	node_index child = tree_node(symbol->tree, node->first)->next;

	declared->name = symbol->name;
	declared->name_span = symbol->name_span;
	declared->span = node->span;
	declared->is_in_main_file = symbol->is_in_main_file;
	if (child != 0 && tree_node(symbol->tree, child)->kind == NODE_string) {
		declared->title = read_prose(reader, child);
		child = tree_node(symbol->tree, child)->next;
	}
	return child;
}

void complain_missing(struct recipe *recipe, struct span span, const char *what, const char *help)
{
	if (recipe->has_parse_errors) /* what is missing may have been in a clause that was not understood */
		return;
	report_help(recipe->report, report_add(recipe->report, CHECK_missing_clause, span, "%s", what), "%s", help);
}
