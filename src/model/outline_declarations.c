/* Declarations as facts: one function a kind. */
#include <inttypes.h>

#include "model/date.h"
#include "model/outline_build.h"
#include "model/resolver.h"

static struct outline *declaration(const struct outliner *outliner, const char *label, const struct declared *declared)
{
	struct outline *object = outline_named(outliner, label, intern_text(outliner->recipe->names, declared->name));

	outline_add_title(outliner, object, declared);
	return object;
}

static void add_takes(const struct outliner *outliner, struct outline *object, const struct takes *takes)
{
	struct outline *fact = outline_add(outliner, object, "takes", "takes", OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (; takes != NULL; takes = takes->next) {
		struct outline *item = outline_put_object(outliner, fact, NULL);
		struct text format = format_row(takes->format)->word;

		outline_put_text(outliner, item, "film", format);
		outline_put_figure(outliner, item, "pieces", takes->count, 1);
		outline_join(&words, " or ");
		text_append_format(&words, "%" PRId64 " × %.*s", takes->count, TEXT_ARGUMENT(format));
	}
	fact->words = text_builder_text(&words);
}

struct outline *outline_tank(const struct outliner *outliner, const struct tank *tank)
{
	static const char *const ways[] = { [EMPTIED_THROUGH_LID] = "through lid",
					    [EMPTIED_FROM_BOTTOM] = "from bottom",
					    [REELS_LOWERED] = "reels lowered" };
	struct outline *object = declaration(outliner, "tank", &tank->declared);

	outline_add_quantity(outliner, object, "holds", "holds", &tank->holds, OUTLINE_VOLUME);
	add_takes(outliner, object, tank->takes);
	outline_add_quantity(outliner, object, "fill", "fills in", &tank->fill, OUTLINE_DURATION);
	outline_add_quantity(outliner, object, "drain", "drains in", &tank->drain, OUTLINE_DURATION);
	outline_add_text(outliner, object, "emptied", "emptied", OUTLINE_RUN, text_from(ways[tank->emptying]));
	outline_add_window(outliner, object, "water_bath", "water bath", &tank->bath);
	outline_add_heat_loss(outliner, object, &tank->cools);
	outline_add_quantity(outliner, object, "absorbs", "absorbs heat of", &tank->absorbs, OUTLINE_VOLUME);
	outline_add_quantity(outliner, object, "carries", "carries over a reel", &tank->carries, OUTLINE_VOLUME);
	outline_add_prose(outliner, object, tank->declared.notes, tank->declared.allowances);
	return object;
}

struct outline *outline_graduate(const struct outliner *outliner, const struct graduate *graduate)
{
	struct outline *object = declaration(outliner, "graduate", &graduate->declared);

	outline_add_quantity(outliner, object, "holds", "holds", &graduate->holds, OUTLINE_VOLUME);
	outline_add_heat_loss(outliner, object, &graduate->cools);
	outline_add_prose(outliner, object, graduate->declared.notes, graduate->declared.allowances);
	return object;
}

struct outline *outline_heater(const struct outliner *outliner, const struct heater *heater)
{
	struct outline *object = declaration(outliner, "heater", &heater->declared);

	outline_add_quantity(outliner, object, "gives", "gives", &heater->gives, OUTLINE_FLOW);
	outline_add_quantity(outliner, object, "stores", "stores", &heater->stores, OUTLINE_VOLUME);
	outline_add_prose(outliner, object, heater->declared.notes, heater->declared.allowances);
	return object;
}

struct outline *outline_dryer(const struct outliner *outliner, const struct dryer *dryer)
{
	struct outline *object = declaration(outliner, "dryer", &dryer->declared);

	outline_add_quantity(outliner, object, "takes", "takes", &dryer->takes_rolls, OUTLINE_PIECES);
	outline_add_quantity(outliner, object, "lasts", "lasts", &dryer->lasts, OUTLINE_DURATION);
	outline_add_quantity(outliner, object, "up_to", "up to", &dryer->up_to, OUTLINE_TEMPERATURE);
	outline_add_quantity(outliner, object, "length", "hangs a length of", &dryer->length, OUTLINE_LENGTH);
	outline_add_prose(outliner, object, dryer->declared.notes, dryer->declared.allowances);
	return object;
}

struct outline *outline_thermometer(const struct outliner *outliner, const struct thermometer *thermometer)
{
	struct outline *object = declaration(outliner, "thermometer", &thermometer->declared);

	outline_add_quantity(outliner, object, "reads", "reads to", &thermometer->reads, OUTLINE_DIFFERENCE);
	outline_add_quantity(outliner, object, "within", "within", &thermometer->within, OUTLINE_DIFFERENCE);
	outline_add_quantity(outliner, object, "correction", "correction", &thermometer->correction,
			     OUTLINE_DIFFERENCE);
	outline_add_text(outliner, object, "checked", "checked", OUTLINE_RECORD,
			 span_is_set(thermometer->checked)
				 ? source_text(outliner->recipe->sources, thermometer->checked)
				 : TEXT(""));
	outline_add_prose(outliner, object, thermometer->declared.notes, thermometer->declared.allowances);
	return object;
}

struct outline *outline_film(const struct outliner *outliner, const struct film *film)
{
	static const char *const emulsions[] = { [EMULSION_UNSTATED] = "",
						 [EMULSION_SOFT] = "soft",
						 [EMULSION_HARDENED] = "hardened",
						 [EMULSION_TABULAR] = "tabular" };
	struct outline *object = declaration(outliner, "film", &film->declared);

	outline_add_text(outliner, object, "family", "family", OUTLINE_RUN,
			 span_is_set(film->family_span) ? family_row(film->family)->word : TEXT(""));
	outline_add_text(outliner, object, "backing", "backing", OUTLINE_RUN,
			 film->has_rem_jet ? TEXT("rem-jet") : TEXT(""));
	outline_add_text(outliner, object, "emulsion", "emulsion", OUTLINE_RUN, text_from(emulsions[film->emulsion]));
	outline_add_quantity(outliner, object, "made", "made", &film->made, OUTLINE_COUNT);
	outline_add_prose(outliner, object, film->declared.notes, film->declared.allowances);
	return object;
}

/* What is in the cupboard changes no process, but what has to be mixed for it. */
struct outline *outline_on_hand(const struct outliner *outliner, const struct on_hand *bath)
{
	struct outline *object =
		outline_named(outliner, "on hand", intern_text(outliner->recipe->names, bath->name.name));

	outline_add_quantity(outliner, object, "volume", "volume", &bath->volume, OUTLINE_VOLUME);
	outline_add_text(outliner, object, "mixed", "mixed", OUTLINE_RECORD,
			 span_is_set(bath->mixed) ? date_print(outliner->arena, bath->mixed_on) : TEXT(""));
	outline_add_quantity(outliner, object, "done", "has done", &bath->done, OUTLINE_ROLLS);
	object->matter = OUTLINE_RECORD;
	for (struct outline *fact = object->first; fact != NULL; fact = fact->next)
		fact->matter = OUTLINE_RECORD;
	return object;
}

/* ---- all of them ---- */

/* The casts are those of symbol->declared, which lies at the start of what it is part of. */
static struct outline *outline_of(const struct outliner *outliner, const struct symbol *symbol)
{
	const void *thing = symbol->declared;

	switch (symbol->node_kind) {
	case NODE_tank:
		return outline_tank(outliner, thing);
	case NODE_graduate:
		return outline_graduate(outliner, thing);
	case NODE_heater:
		return outline_heater(outliner, thing);
	case NODE_dryer:
		return outline_dryer(outliner, thing);
	case NODE_thermometer:
		return outline_thermometer(outliner, thing);
	case NODE_film:
		return outline_film(outliner, thing);
	case NODE_solution:
		return outline_solution(outliner, thing);
	default:
		return NULL;
	}
}

/* The lists, in order: what they hold and their key. */
static const struct {
	enum node_kind kind;
	const char *key;
} lists[] = {
	{ NODE_tank, "tanks" },		{ NODE_graduate, "graduates" },	      { NODE_heater, "heaters" },
	{ NODE_dryer, "dryers" },	{ NODE_thermometer, "thermometers" }, { NODE_film, "films" },
	{ NODE_solution, "solutions" },
};

struct outline *outline_declarations(const struct recipe *recipe, struct arena *arena)
{
	const struct outliner outliner = { recipe, arena };
	const struct resolver *resolver = recipe->resolver;
	struct outline *root = outline_unnamed(&outliner, "file", TEXT(""));
	struct outline *list;

	outline_add_allows(&outliner, root, recipe->allowances);
	for (size_t kind = 0; kind < sizeof(lists) / sizeof(*lists); kind++) {
		list = outline_add_list(&outliner, root, lists[kind].key);
		for (size_t i = 0; i < resolver->symbol_count; i++) {
			const struct symbol *symbol = resolver->symbols[i];

			if (symbol->node_kind == lists[kind].kind && symbol->declared != NULL)
				outline_attach(list, outline_of(&outliner, symbol));
		}
	}
	list = outline_add_list(&outliner, root, "on_hand");
	for (const struct on_hand *bath = recipe->on_hand; bath != NULL; bath = bath->next)
		outline_attach(list, outline_on_hand(&outliner, bath));
	list = outline_add_list(&outliner, root, "days");
	for (size_t i = 0; i < recipe->day_count; i++)
		outline_attach(list, outline_day(&outliner, recipe->days[i]));
	outline_add_loose_rolls(&outliner, root);
	outline_add_list(&outliner, root, "processes");
	return root;
}
