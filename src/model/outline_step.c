/* Steps as facts. */
#include <inttypes.h>

#include "model/outline_build.h"

static void add_bath(const struct outliner *outliner, struct outline *object, const struct step *step)
{
	static const char *const kinds[] = { [BATH_NONE] = "none",   [BATH_SOLUTION] = "solution",
					     [BATH_WATER] = "water", [BATH_RUNNING_WATER] = "running water",
					     [BATH_LIGHT] = "light", [BATH_AIR] = "air",
					     [BATH_DRYER] = "dryer" };
	struct outline *fact = outline_add(outliner, object, "bath", "in", OUTLINE_RUN);
	struct text name = TEXT("");

	if (step->bath == BATH_NONE)
		return;
	if (step->solution != NULL)
		name = intern_text(outliner->recipe->names, step->solution->declared.name);
	else if (step->dryer != NULL)
		name = intern_text(outliner->recipe->names, step->dryer->declared.name);
	outline_become(outliner, fact, OUTLINE_OBJECT, name.length > 0 ? name : text_from(kinds[step->bath]));
	outline_put_text(outliner, fact, "kind", text_from(kinds[step->bath]));
	outline_put_text(outliner, fact, "name", name);
}

static void append_duration(const struct outliner *outliner, struct text_builder *words, const char *before,
			    const struct quantity *duration)
{
	if (!span_is_set(duration->span))
		return;
	text_append_string(words, before);
	text_append(words, quantity_print_duration(outliner->arena, duration->value));
}

static void append_phase(const struct outliner *outliner, struct text_builder *words,
			 const struct agitation_phase *phase)
{
	outline_join(words, ", then ");
	if (phase->is_continuous) {
		text_append_string(words, "continuous");
	} else {
		append_duration(outliner, words, "", &phase->burst);
		append_duration(outliner, words, " every ", &phase->every);
	}
	append_duration(outliner, words, " for ", &phase->length);
}

static void add_agitation(const struct outliner *outliner, struct outline *object, const struct step *step)
{
	struct outline *fact = outline_add(outliner, object, "agitation", "agitation", OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	if (!step->agitates_never && !span_is_set(step->agitation_span))
		return;
	fact->form = OUTLINE_LIST;
	for (const struct agitation_phase *phase = step->agitates_never ? NULL : step->agitation; phase != NULL;
	     phase = phase->next) {
		struct outline *item = outline_put_object(outliner, fact, NULL);

		outline_put_flag(outliner, item, "continuous", phase->is_continuous);
		outline_put_quantity(outliner, item, "agitation_s", &phase->burst, OUTLINE_DURATION);
		outline_put_quantity(outliner, item, "every_s", &phase->every, OUTLINE_DURATION);
		outline_put_quantity(outliner, item, "for_s", &phase->length, OUTLINE_DURATION);
		append_phase(outliner, &words, phase);
	}
	fact->words = step->agitates_never ? TEXT("none") : text_builder_text(&words);
}

static void add_taps(const struct outliner *outliner, struct outline *object, const struct step *step)
{
	struct outline *fact = outline_add(outliner, object, "taps", "taps", OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	if (!span_is_set(step->taps_span))
		return;
	text_append_format(&words, "%" PRId64, step->taps);
	append_duration(outliner, &words, " in ", &step->taps_last);
	outline_become(outliner, fact, OUTLINE_OBJECT, text_builder_text(&words));
	outline_put_figure(outliner, fact, "taps", step->taps, 1);
	outline_put_quantity(outliner, fact, "last_s", &step->taps_last, OUTLINE_DURATION);
}

static void add_lights(const struct outliner *outliner, struct outline *object, const struct step *step)
{
	struct outline *fact = outline_add(outliner, object, "lights_on", "lights on", OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	if (!span_is_set(step->lights_span))
		return;
	if (!span_is_set(step->lights_after.span))
		text_append_string(&words, "at once");
	append_duration(outliner, &words, "after ", &step->lights_after);
	outline_become(outliner, fact, OUTLINE_OBJECT, text_builder_text(&words));
	outline_put_quantity(outliner, fact, "after_s", &step->lights_after, OUTLINE_DURATION);
}

/* The table of times, what it rests on, and the other ways of computing a time. */
static void add_times(const struct outliner *outliner, struct outline *object, const struct step *step)
{
	struct outline *fact = outline_add(outliner, object, "times", "time table", OUTLINE_RUN);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (const struct time_row *row = step->times; row != NULL; row = row->next) {
		struct outline *item = outline_put_object(outliner, fact, NULL);

		outline_put_quantity(outliner, item, "temperature_c", &row->temperature, OUTLINE_TEMPERATURE);
		outline_put_quantity(outliner, item, "time_s", &row->time, OUTLINE_DURATION);
		outline_join(&words, ", ");
		text_append(&words, outline_print(outliner, row->temperature.value, OUTLINE_TEMPERATURE));
		append_duration(outliner, &words, " ", &row->time);
	}
	fact->words = text_builder_text(&words);
	outline_add_flag(outliner, object, "times_are_makers", "time table is the maker's", step->times_are_makers);
	outline_add_quantity(outliner, object, "round_to", "times rounded to", &step->round_to, OUTLINE_DURATION);
	outline_add_quantity(outliner, object, "coefficient", "coefficient per kelvin", &step->coefficient,
			     OUTLINE_PERCENT);
	outline_add_quantity(outliner, object, "activation_energy", "activation energy", &step->activation_energy,
			     OUTLINE_ENERGY);
}

struct outline *outline_step(const struct outliner *outliner, const struct step *step)
{
	struct outline *object = outline_named(outliner, "step", intern_text(outliner->recipe->names, step->name));

	outline_add_text(outliner, object, "role", "role", OUTLINE_RUN, role_row(step->role)->word);
	add_bath(outliner, object, step);
	outline_add_time(outliner, object, "time", "", &step->time);
	outline_add_window(outliner, object, "at", "at", &step->at);
	outline_add_window(outliner, object, "pour_at", "pour at", &step->pour_at);
	outline_add_window(outliner, object, "mean", "mean", &step->mean);
	outline_add_text(outliner, object, "time_starts", "time starts", OUTLINE_RUN,
			 step->starts == TIME_STARTS_WHEN_FULL ? TEXT("when full") : TEXT("at first pour"));
	outline_add_flag(outliner, object, "time_includes_draining", "time includes draining", step->includes_draining);
	add_agitation(outliner, object, step);
	add_taps(outliner, object, step);
	outline_add_flag(outliner, object, "measures", "measured", step->measures);
	outline_add_quantity(outliner, object, "flow", "flow", &step->flow, OUTLINE_FLOW);
	outline_add_quantity(outliner, object, "changes", "changes of water", &step->changes, OUTLINE_COUNT);
	outline_add_quantity(outliner, object, "expose", "exposed, each side,", &step->expose, OUTLINE_DURATION);
	add_lights(outliner, object, step);
	add_times(outliner, object, step);
	outline_add_prose(outliner, object, step->notes, step->allowances);
	return object;
}
