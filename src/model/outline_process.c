/* Processes as facts: by themselves, and with all that their run depends on. */
#include <inttypes.h>

#include "model/outline_build.h"

static void add_load(const struct outliner *outliner, struct outline *object, const struct process *process)
{
	struct outline *fact = outline_add(outliner, object, "load", "load", OUTLINE_RUN);
	struct text rolls;

	if (!span_is_set(process->load_span))
		return;
	rolls = outline_print(outliner, process->load_milli_rolls, OUTLINE_ROLLS);
	outline_become(outliner, fact, OUTLINE_OBJECT,
		       process->load_pieces * 1000 == process->load_milli_rolls
			       ? rolls
			       : text_format(outliner->arena, "%" PRId64 " piece%s, as much as %.*s",
					     process->load_pieces, process->load_pieces == 1 ? "" : "s",
					     TEXT_ARGUMENT(rolls)));
	outline_put_figure(outliner, fact, "rolls", process->load_milli_rolls, 1000);
	outline_put_figure(outliner, fact, "pieces", process->load_pieces, 1);
}

/* Names of what the process chose; what it did not choose, such as all graduates there are, is not listed. */
static void add_names(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      struct declared *const *named, size_t count)
{
	struct outline *fact = outline_add(outliner, object, key, label, OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (size_t i = 0; i < count; i++) {
		struct text name = intern_text(outliner->recipe->names, named[i]->name);

		outline_put_text(outliner, fact, NULL, name);
		outline_join(&words, ", ");
		text_append(&words, name);
	}
	fact->words = text_builder_text(&words);
}

static void add_equipment(const struct outliner *outliner, struct outline *object, const struct process *process)
{
	size_t graduates = span_is_set(process->graduates_span) ? process->graduate_count : 0;
	struct declared **named = ARENA_ARRAY(outliner->arena, struct declared *, graduates + process->film_count + 1);

	outline_add_name(outliner, object, "tank", "tank", process->tank == NULL ? 0 : process->tank->declared.name);
	outline_add_name(outliner, object, "heater", "heater",
			 process->heater == NULL ? 0 : process->heater->declared.name);
	outline_add_name(outliner, object, "thermometer", "thermometer",
			 process->thermometer == NULL ? 0 : process->thermometer->declared.name);
	for (size_t i = 0; i < graduates; i++)
		named[i] = &process->graduates[i]->declared;
	add_names(outliner, object, "graduates", "graduates", named, graduates);
	for (size_t i = 0; i < process->film_count; i++)
		named[i] = &process->films[i]->declared;
	add_names(outliner, object, "films", "film", named, process->film_count);
}

static struct outline *process_outline(const struct outliner *outliner, const struct process *process)
{
	struct outline *object =
		outline_named(outliner, "process", intern_text(outliner->recipe->names, process->declared.name));
	struct outline *steps;

	outline_add_title(outliner, object, &process->declared);
	outline_add_name(outliner, object, "varies", "varies", process->parent);
	object->last->matter = OUTLINE_ASIDE;
	outline_add_text(outliner, object, "fingerprint", "fingerprint", OUTLINE_ASIDE, process->fingerprint);
	outline_add_text(outliner, object, "develops", "develops", OUTLINE_RUN,
			 span_is_set(process->family_span) ? family_row(process->family)->word : TEXT(""));
	add_equipment(outliner, object, process);
	outline_add_quantity(outliner, object, "push", "push", &process->push, OUTLINE_STOPS);
	outline_add_quantity(outliner, object, "wet_time_limit", "wet time at most", &process->wet_time_limit,
			     OUTLINE_DURATION);
	add_load(outliner, object, process);
	outline_add_quantity(outliner, object, "room", "room", &process->room, OUTLINE_TEMPERATURE);
	outline_add_flag(outliner, object, "rescue", "rescue", process->is_rescue);
	outline_add_flag(outliner, object, "washless", "washless", process->is_washless);
	outline_add_prose(outliner, object, process->declared.notes, process->declared.allowances);
	steps = outline_add_list(outliner, object, "steps");
	for (size_t i = 0; i < process->step_count; i++)
		outline_attach(steps, outline_step(outliner, &process->steps[i]));
	return object;
}

struct outline *outline_process(const struct recipe *recipe, const struct process *process, struct arena *arena)
{
	const struct outliner outliner = { recipe, arena };

	return process_outline(&outliner, process);
}

/* ---- with what the run depends on ---- */

static bool has(const struct outline *list, struct text name)
{
	for (const struct outline *item = list->first; item != NULL; item = item->next)
		if (text_equal(item->name, name))
			return true;
	return false;
}

static void attach_once(struct outline *list, struct outline *item)
{
	if (!has(list, item->name))
		outline_attach(list, item);
}

static void add_solution(const struct outliner *outliner, struct outline *baths, struct outline *graduates,
			 const struct solution *solution)
{
	struct text name = intern_text(outliner->recipe->names, solution->declared.name);
	struct outline *object;
	struct outline *on_hand;

	if (has(baths, name))
		return;
	object = outline_solution(outliner, solution);
	on_hand = outline_add_list(outliner, object, "on_hand");
	if (solution->on_hand != NULL)
		outline_attach(on_hand, outline_on_hand(outliner, solution->on_hand));
	outline_attach(baths, object);
	if (solution->graduate != NULL)
		attach_once(graduates, outline_graduate(outliner, solution->graduate));
}

static void add_steps_things(const struct outliner *outliner, struct outline *object, const struct process *process)
{
	struct outline *graduates = outline_child(object, "graduates_used");
	struct outline *dryers = outline_add_list(outliner, object, "dryers_used");
	struct outline *baths = outline_add_list(outliner, object, "baths_used");

	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];

		if (step->dryer != NULL)
			attach_once(dryers, outline_dryer(outliner, step->dryer));
		for (const struct solution *solution = step->solution; solution != NULL; solution = solution->stock)
			add_solution(outliner, baths, graduates, solution);
	}
}

struct outline *outline_run(const struct recipe *recipe, const struct process *process, struct arena *arena)
{
	const struct outliner outliner = { recipe, arena };
	struct outline *object = process_outline(&outliner, process);
	struct outline *list = outline_add_list(&outliner, object, "tools_used");
	struct outline *file;

	if (process->tank != NULL)
		outline_attach(list, outline_tank(&outliner, process->tank));
	if (process->heater != NULL)
		outline_attach(list, outline_heater(&outliner, process->heater));
	if (process->thermometer != NULL)
		outline_attach(list, outline_thermometer(&outliner, process->thermometer));
	list = outline_add_list(&outliner, object, "graduates_used");
	for (size_t i = 0; span_is_set(process->graduates_span) && i < process->graduate_count; i++)
		attach_once(list, outline_graduate(&outliner, process->graduates[i]));
	list = outline_add_list(&outliner, object, "films_used");
	for (size_t i = 0; i < process->film_count; i++)
		attach_once(list, outline_film(&outliner, process->films[i]));
	add_steps_things(&outliner, object, process);
	list = outline_add_list(&outliner, object, "file_used");
	file = outline_unnamed(&outliner, "file", TEXT(""));
	outline_add_allows(&outliner, file, recipe->allowances);
	outline_attach(list, file);
	return object;
}
