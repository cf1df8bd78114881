/* The fingerprint of a process: one line a value, in base units, hashed. */
#include "model/fingerprint.h"

#include "support/hash.h"

struct listing {
	const struct recipe *recipe;
	struct text_builder lines;
};

static void list_figure(struct listing *listing, const char *key, int64_t value)
{
	text_append_string(&listing->lines, key);
	text_append_byte(&listing->lines, ' ');
	text_append_integer(&listing->lines, value);
	text_append_byte(&listing->lines, '\n');
}

static void list_word(struct listing *listing, const char *key, struct text word)
{
	text_append_string(&listing->lines, key);
	text_append_byte(&listing->lines, ' ');
	text_append(&listing->lines, word);
	text_append_byte(&listing->lines, '\n');
}

static void list_name(struct listing *listing, const char *key, uint32_t name)
{
	list_word(listing, key, intern_text(listing->recipe->names, name));
}

static void list_quantity(struct listing *listing, const char *key, const struct quantity *quantity)
{
	if (span_is_set(quantity->span))
		list_figure(listing, key, quantity->value);
}

static void list_window(struct listing *listing, const char *key, const struct temperature_window *window)
{
	if (!span_is_set(window->span))
		return;
	list_figure(listing, key, window->form);
	list_figure(listing, "nominal", window->nominal);
	list_figure(listing, "low", window->low);
	list_figure(listing, "high", window->high);
}

static void list_test(struct listing *listing, const struct heat_loss_test *test)
{
	if (!span_is_set(test->span))
		return;
	list_quantity(listing, "cools from", &test->from);
	list_quantity(listing, "cools to", &test->to);
	list_quantity(listing, "cools within", &test->within);
	list_quantity(listing, "surroundings", &test->surroundings);
}

static void list_tank(struct listing *listing, const struct tank *tank)
{
	list_name(listing, "tank", tank->declared.name);
	list_quantity(listing, "holds", &tank->holds);
	for (const struct takes *takes = tank->takes; takes != NULL; takes = takes->next) {
		list_word(listing, "takes", format_row(takes->format)->word);
		list_figure(listing, "pieces", takes->count);
	}
	list_quantity(listing, "fill", &tank->fill);
	list_quantity(listing, "drain", &tank->drain);
	list_figure(listing, "emptied", tank->emptying);
	list_window(listing, "bath", &tank->bath);
	list_test(listing, &tank->cools);
	list_quantity(listing, "absorbs", &tank->absorbs);
	list_quantity(listing, "carries", &tank->carries);
}

static void list_graduate(struct listing *listing, const struct graduate *graduate)
{
	list_name(listing, "graduate", graduate->declared.name);
	list_quantity(listing, "holds", &graduate->holds);
	list_test(listing, &graduate->cools);
}

static void list_part(struct listing *listing, const struct part *part)
{
	list_figure(listing, "part", part->kind);
	if (part->kind == PART_ADD && part->chemical != CHEMICAL_free_text)
		list_word(listing, "chemical", chemical_row(part->chemical)->word);
	else if (part->kind == PART_ADD)
		list_word(listing, "label", part->label.text);
	if (part->hydrate.length > 0)
		list_word(listing, "hydrate", part->hydrate);
	list_quantity(listing, part->is_volume ? "volume" : "mass", &part->amount);
	list_window(listing, "at", &part->at);
	list_quantity(listing, "stirring", &part->stirring);
	list_quantity(listing, "drops", &part->drops);
}

static void list_how_mixed(struct listing *listing, const struct solution *solution)
{
	list_quantity(listing, "kit", &solution->kit_makes);
	if (span_is_set(solution->kit_makes.span))
		list_figure(listing, "kit form", solution->kit_form);
	list_figure(listing, "pooled", solution->is_pooled);
	list_figure(listing, "blended", solution->is_blended);
	list_figure(listing, "use", solution->use);
	list_quantity(listing, "replenish", &solution->replenish);
	for (size_t i = 0; i < solution->dilution_count; i++)
		list_figure(listing, "dilution", solution->dilution[i]);
	list_quantity(listing, "formula", &solution->formula_makes);
	for (const struct part *part = solution->parts; part != NULL; part = part->next)
		list_part(listing, part);
	if (solution->graduate != NULL)
		list_graduate(listing, solution->graduate);
}

/* By their words: a row added to the vocabulary must not change what older recipes come to. */
static void list_classes(struct listing *listing, class_set classes)
{
	for (int i = 0; i < CLASS_COUNT; i++)
		if ((classes & ((class_set)1 << i)) != 0)
			list_word(listing, "contains", class_row((enum class_id)i)->word);
}

static void list_solution(struct listing *listing, const struct solution *solution)
{
	list_name(listing, "solution", solution->declared.name);
	list_word(listing, "role", role_row(solution->role)->word);
	list_how_mixed(listing, solution);
	list_window(listing, "usable", &solution->usable);
	list_quantity(listing, "capacity rolls", &solution->capacity_rolls);
	list_quantity(listing, "capacity volume", &solution->capacity_volume);
	list_quantity(listing, "lengthen percent", &solution->lengthen_percent);
	list_quantity(listing, "lengthen volume", &solution->lengthen_volume);
	list_figure(listing, "compounds", solution->lengthen_compounds);
	list_quantity(listing, "least", &solution->least_per_roll);
	list_quantity(listing, "keeps full", &solution->keeps_full);
	list_quantity(listing, "keeps part full", &solution->keeps_part_full);
	list_quantity(listing, "keeps in tank", &solution->keeps_in_tank);
	for (const struct hazard *hazard = solution->hazards; hazard != NULL; hazard = hazard->next)
		list_word(listing, "hazard", hazard->code);
	if (solution->waste != STREAM_unstated)
		list_word(listing, "waste", stream_row(solution->waste)->word);
	list_classes(listing, solution->contains);
	list_quantity(listing, "pH", &solution->ph);
	list_quantity(listing, "clears fresh", &solution->clears_fresh);
	list_quantity(listing, "clears now", &solution->clears_now);
}

static void list_agitation(struct listing *listing, const struct step *step)
{
	list_figure(listing, "agitation", step->agitates_never ? 0 : span_is_set(step->agitation_span) ? 1 : 2);
	for (const struct agitation_phase *phase = step->agitation; phase != NULL; phase = phase->next) {
		list_figure(listing, "continuous", phase->is_continuous);
		list_quantity(listing, "lasts", &phase->burst);
		list_quantity(listing, "every", &phase->every);
		list_quantity(listing, "for", &phase->length);
	}
	list_figure(listing, "taps", step->taps);
	list_quantity(listing, "taps last", &step->taps_last);
}

static void list_bath(struct listing *listing, const struct step *step)
{
	list_figure(listing, "bath", step->bath);
	if (step->dryer != NULL) {
		list_name(listing, "dryer", step->dryer->declared.name);
		list_quantity(listing, "takes", &step->dryer->takes_rolls);
		list_quantity(listing, "lasts", &step->dryer->lasts);
		list_quantity(listing, "up to", &step->dryer->up_to);
		list_quantity(listing, "length", &step->dryer->length);
	}
	for (const struct solution *solution = step->solution; solution != NULL; solution = solution->stock)
		list_solution(listing, solution);
}

static void list_step(struct listing *listing, const struct step *step)
{
	list_name(listing, "step", step->name);
	list_word(listing, "role", role_row(step->role)->word);
	list_bath(listing, step);
	list_window(listing, "at", &step->at);
	list_window(listing, "pour", &step->pour_at);
	list_window(listing, "mean", &step->mean);
	if (span_is_set(step->time.span)) {
		list_figure(listing, "time", step->time.form);
		list_figure(listing, "low", step->time.low_ms);
		list_figure(listing, "high", step->time.high_ms);
	}
	list_figure(listing, "starts", step->starts);
	list_figure(listing, "includes draining", step->includes_draining);
	list_agitation(listing, step);
	list_figure(listing, "measures", step->measures);
	list_quantity(listing, "flow", &step->flow);
	list_quantity(listing, "changes", &step->changes);
	list_quantity(listing, "expose", &step->expose);
	list_figure(listing, "lights", span_is_set(step->lights_span));
	list_quantity(listing, "lights after", &step->lights_after);
	for (const struct time_row *row = step->times; row != NULL; row = row->next) {
		list_figure(listing, "temperature", row->temperature.value);
		list_figure(listing, "time", row->time.value);
	}
	list_figure(listing, "maker", step->times_are_makers);
	list_quantity(listing, "round to", &step->round_to);
	list_quantity(listing, "coefficient", &step->coefficient);
	list_quantity(listing, "activation energy", &step->activation_energy);
}

static void list_equipment(struct listing *listing, const struct process *process)
{
	if (process->tank != NULL)
		list_tank(listing, process->tank);
	if (process->heater != NULL) {
		list_name(listing, "heater", process->heater->declared.name);
		list_quantity(listing, "gives", &process->heater->gives);
		list_quantity(listing, "stores", &process->heater->stores);
	}
	if (process->thermometer != NULL) {
		list_name(listing, "thermometer", process->thermometer->declared.name);
		list_quantity(listing, "reads", &process->thermometer->reads);
		list_quantity(listing, "within", &process->thermometer->within);
		list_quantity(listing, "correction", &process->thermometer->correction);
	}
	/* Graduates count where the process or a solution names them: one more in the cupboard changes no run. */
	for (size_t i = 0; span_is_set(process->graduates_span) && i < process->graduate_count; i++)
		list_graduate(listing, process->graduates[i]);
	for (size_t i = 0; i < process->film_count; i++) {
		const struct film *film = process->films[i];

		list_name(listing, "film", film->declared.name);
		list_word(listing, "family", family_row(film->family)->word);
		list_figure(listing, "rem-jet", film->has_rem_jet);
		list_figure(listing, "emulsion", film->emulsion);
		list_quantity(listing, "made", &film->made);
	}
}

struct text fingerprint_of(const struct recipe *recipe, const struct process *process, struct arena *arena)
{
	struct listing listing = { .recipe = recipe, .lines = text_builder_start(arena) };
	struct hash hash;

	text_append_string(&listing.lines, FINGERPRINT_RULE "\n");
	list_name(&listing, "process", process->declared.name);
	if (span_is_set(process->family_span))
		list_word(&listing, "family", family_row(process->family)->word);
	list_equipment(&listing, process);
	list_quantity(&listing, "push", &process->push);
	list_quantity(&listing, "wet time", &process->wet_time_limit);
	if (span_is_set(process->load_span)) {
		list_figure(&listing, "load", process->load_milli_rolls);
		list_figure(&listing, "pieces", process->load_pieces);
	}
	list_quantity(&listing, "room", &process->room);
	list_figure(&listing, "rescue", process->is_rescue);
	list_figure(&listing, "washless", process->is_washless);
	for (size_t i = 0; i < process->step_count; i++)
		list_step(&listing, &process->steps[i]);
	hash_start(&hash);
	hash_add(&hash, text_builder_text(&listing.lines));
	return hash_finish(&hash, arena);
}
