/* The model as a tree of facts: nodes, figures, comparison. What is declared where is in outline_*.c. */
#include "model/outline.h"

#include <inttypes.h>
#include <string.h>

#include "model/outline_build.h"

#define NO_BREAK_SPACE "\xC2\xA0"
#define MINUS "\xE2\x88\x92"
#define MILLI 1000

/* ---- nodes ---- */

static struct outline *node_new(struct arena *arena, const char *key, const char *label, enum outline_matter matter)
{
	struct outline *node = ARENA_NEW(arena, struct outline);

	node->key = key;
	node->label = label;
	node->matter = matter;
	node->per = 1;
	return node;
}

void outline_attach(struct outline *list, struct outline *item)
{
	if (list->last == NULL)
		list->first = item;
	else
		list->last->next = item;
	list->last = item;
}

struct outline *outline_add(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
			    enum outline_matter matter)
{
	struct outline *node = node_new(outliner->arena, key, label, matter);

	node->is_fact = true;
	outline_attach(object, node);
	return node;
}

struct outline *outline_unnamed(const struct outliner *outliner, const char *label, struct text name)
{
	struct outline *object = node_new(outliner->arena, NULL, label, OUTLINE_RUN);

	object->form = OUTLINE_OBJECT;
	object->name = text_copy(outliner->arena, name);
	return object;
}

struct outline *outline_named(const struct outliner *outliner, const char *label, struct text name)
{
	struct outline *object = outline_unnamed(outliner, label, name);

	outline_add_text(outliner, object, "name", "name", OUTLINE_RUN, name);
	return object;
}

struct outline *outline_add_list(const struct outliner *outliner, struct outline *object, const char *key)
{
	struct outline *list = node_new(outliner->arena, key, NULL, OUTLINE_RUN);

	list->form = OUTLINE_LIST;
	outline_attach(object, list);
	return list;
}

void outline_become(const struct outliner *outliner, struct outline *fact, enum outline_form form, struct text words)
{
	fact->form = form;
	fact->words = text_copy(outliner->arena, words);
}

/* ---- facts ---- */

void outline_add_text(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      enum outline_matter matter, struct text text)
{
	struct outline *fact = outline_add(outliner, object, key, label, matter);

	if (text.length == 0)
		return;
	fact->text = text_copy(outliner->arena, text);
	outline_become(outliner, fact, OUTLINE_TEXT, text);
}

void outline_add_name(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      uint32_t name)
{
	outline_add_text(outliner, object, key, label, OUTLINE_RUN, intern_text(outliner->recipe->names, name));
}

void outline_add_flag(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      bool flag)
{
	struct outline *fact = outline_add(outliner, object, key, label, OUTLINE_RUN);

	fact->count = flag;
	outline_become(outliner, fact, OUTLINE_FLAG, flag ? TEXT("yes") : TEXT("no"));
}

void outline_put_text(const struct outliner *outliner, struct outline *fact, const char *key, struct text text)
{
	struct outline *part = node_new(outliner->arena, key, NULL, fact->matter);

	part->form = text.length > 0 ? OUTLINE_TEXT : OUTLINE_NOTHING;
	part->text = text_copy(outliner->arena, text);
	outline_attach(fact, part);
}

void outline_put_figure(const struct outliner *outliner, struct outline *fact, const char *key, int64_t count,
			int64_t per)
{
	struct outline *part = node_new(outliner->arena, key, NULL, fact->matter);

	part->form = OUTLINE_FIGURE;
	part->count = count;
	part->per = per;
	outline_attach(fact, part);
}

void outline_put_flag(const struct outliner *outliner, struct outline *fact, const char *key, bool flag)
{
	outline_put_figure(outliner, fact, key, flag, 1);
	fact->last->form = OUTLINE_FLAG;
}

struct outline *outline_put_object(const struct outliner *outliner, struct outline *fact, const char *key)
{
	struct outline *part = node_new(outliner->arena, key, NULL, fact->matter);

	part->form = OUTLINE_OBJECT;
	outline_attach(fact, part);
	return part;
}

static void put_nothing(const struct outliner *outliner, struct outline *fact, const char *key)
{
	outline_attach(fact, node_new(outliner->arena, key, NULL, fact->matter));
}

/* ---- figures ---- */

static struct text print_thousandths(struct arena *arena, int64_t milli)
{
	uint64_t size = milli < 0 ? (uint64_t)0 - (uint64_t)milli : (uint64_t)milli;
	uint64_t rest = size % MILLI;
	int decimals = 3;

	if (rest == 0)
		return text_format(arena, "%s%" PRIu64, milli < 0 ? MINUS : "", size / MILLI);
	for (; rest % 10 == 0; decimals--)
		rest /= 10;
	return text_format(arena, "%s%" PRIu64 ".%0*" PRIu64, milli < 0 ? MINUS : "", size / MILLI, decimals, rest);
}

static struct text print_rolls(struct arena *arena, int64_t milli)
{
	struct text number = print_thousandths(arena, milli);

	return text_format(arena, "%.*s" NO_BREAK_SPACE "roll%s", TEXT_ARGUMENT(number), milli == MILLI ? "" : "s");
}

static struct text print_count(struct arena *arena, int64_t count)
{
	return text_format(arena, "%" PRId64, count);
}

static struct text print_pieces(struct arena *arena, int64_t count)
{
	return text_format(arena, "%" PRId64 NO_BREAK_SPACE "roll%s", count, count == 1 ? "" : "s");
}

static struct text print_stops(struct arena *arena, int64_t milli)
{
	struct text number = print_thousandths(arena, milli < 0 ? -milli : milli);

	return text_format(arena, "%s%.*s", milli < 0 ? MINUS : "+", TEXT_ARGUMENT(number));
}

static struct text print_flow(struct arena *arena, int64_t volume)
{
	struct text number = quantity_print_volume(arena, volume);

	return text_format(arena, "%.*s per" NO_BREAK_SPACE "min", TEXT_ARGUMENT(number));
}

static struct text print_length(struct arena *arena, int64_t length_um)
{
	struct text number = print_thousandths(arena, length_um / 1000);

	return text_format(arena, "%.*s" NO_BREAK_SPACE "m", TEXT_ARGUMENT(number));
}

static struct text print_energy(struct arena *arena, int64_t energy)
{
	struct text number = print_thousandths(arena, energy);

	return text_format(arena, "%.*s" NO_BREAK_SPACE "kJ/mol", TEXT_ARGUMENT(number));
}

/* Values are counts of the base units of model/quantity.h. */
static const struct {
	const char *key;
	int64_t per;
	struct text (*print)(struct arena *arena, int64_t value);
} units[] = {
	[OUTLINE_VOLUME] = { "volume_ml", VOLUME_PER_ML, quantity_print_volume },
	[OUTLINE_FLOW] = { "volume_ml_per_min", VOLUME_PER_ML, print_flow },
	[OUTLINE_TEMPERATURE] = { "temperature_c", TEMPERATURE_PER_KELVIN, quantity_print_temperature },
	[OUTLINE_DIFFERENCE] = { "difference_k", TEMPERATURE_PER_KELVIN, quantity_print_difference },
	[OUTLINE_DURATION] = { "time_s", MILLISECONDS_PER_SECOND, quantity_print_duration },
	[OUTLINE_KEEPING] = { "time_s", MILLISECONDS_PER_SECOND, quantity_print_keeping },
	[OUTLINE_MASS] = { "mass_g", 1000000000LL, quantity_print_mass },
	[OUTLINE_LENGTH] = { "length_m", 1000000, print_length },
	[OUTLINE_PERCENT] = { "percent", PERCENT_ONE, quantity_print_percent },
	[OUTLINE_ENERGY] = { "energy_kj_per_mol", 1000, print_energy },
	[OUTLINE_COUNT] = { "count", 1, print_count },
	[OUTLINE_PIECES] = { "rolls", 1, print_pieces },
	[OUTLINE_ROLLS] = { "rolls", MILLI, print_rolls },
	[OUTLINE_STOPS] = { "stops", MILLI, print_stops },
	[OUTLINE_PARTS] = { "parts", MILLI, print_thousandths },
	[OUTLINE_PH] = { "ph", MILLI, print_thousandths },
};

struct text outline_print(const struct outliner *outliner, int64_t value, enum outline_unit unit)
{
	return units[unit].print(outliner->arena, value);
}

void outline_add_quantity(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
			  const struct quantity *quantity, enum outline_unit unit)
{
	struct outline *fact = outline_add(outliner, object, key, label, OUTLINE_RUN);

	if (!span_is_set(quantity->span))
		return;
	outline_become(outliner, fact, OUTLINE_OBJECT, outline_print(outliner, quantity->value, unit));
	outline_put_figure(outliner, fact, units[unit].key, quantity->value, units[unit].per);
}

void outline_put_quantity(const struct outliner *outliner, struct outline *fact, const char *key,
			  const struct quantity *quantity, enum outline_unit unit)
{
	if (span_is_set(quantity->span))
		outline_put_figure(outliner, fact, key, quantity->value, units[unit].per);
	else
		put_nothing(outliner, fact, key);
}

void outline_add_window(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
			const struct temperature_window *window)
{
	static const char *const forms[] = {
		[WINDOW_POINT] = "point", [WINDOW_TOLERANCE] = "tolerance", [WINDOW_RANGE] = "range"
	};
	struct outline *fact = outline_add(outliner, object, key, label, OUTLINE_RUN);

	if (!span_is_set(window->span))
		return;
	outline_become(outliner, fact, OUTLINE_OBJECT, quantity_print_window(outliner->arena, window));
	outline_put_text(outliner, fact, "form", text_from(forms[window->form]));
	outline_put_figure(outliner, fact, "nominal_c", window->nominal, TEMPERATURE_PER_KELVIN);
	outline_put_figure(outliner, fact, "low_c", window->low, TEMPERATURE_PER_KELVIN);
	outline_put_figure(outliner, fact, "high_c", window->high, TEMPERATURE_PER_KELVIN);
}

void outline_add_time(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      const struct time_window *time)
{
	static const char *const forms[] = {
		[TIME_EXACT] = "exact", [TIME_AT_LEAST] = "at-least", [TIME_RANGE] = "range"
	};
	struct outline *fact = outline_add(outliner, object, key, label, OUTLINE_RUN);

	if (!span_is_set(time->span))
		return;
	outline_become(outliner, fact, OUTLINE_OBJECT, quantity_print_time_window(outliner->arena, time));
	outline_put_text(outliner, fact, "form", text_from(forms[time->form]));
	outline_put_figure(outliner, fact, "min_s", time->low_ms, MILLISECONDS_PER_SECOND);
	if (time->high_ms == TIME_OPEN)
		put_nothing(outliner, fact, "max_s");
	else
		outline_put_figure(outliner, fact, "max_s", time->high_ms, MILLISECONDS_PER_SECOND);
}

void outline_add_heat_loss(const struct outliner *outliner, struct outline *object, const struct heat_loss_test *test)
{
	struct outline *fact = outline_add(outliner, object, "cools", "heat-loss test", OUTLINE_RUN);
	struct arena *arena = outliner->arena;
	struct text from, to, within, around;

	if (!span_is_set(test->span))
		return;
	from = quantity_print_temperature(arena, test->from.value);
	to = quantity_print_temperature(arena, test->to.value);
	within = quantity_print_duration(arena, test->within.value);
	around = quantity_print_temperature(arena, test->surroundings.value);
	outline_become(outliner, fact, OUTLINE_OBJECT,
		       text_format(arena, "%.*s to %.*s within %.*s in %.*s", TEXT_ARGUMENT(from), TEXT_ARGUMENT(to),
				   TEXT_ARGUMENT(within), TEXT_ARGUMENT(around)));
	outline_put_quantity(outliner, fact, "from_c", &test->from, OUTLINE_TEMPERATURE);
	outline_put_quantity(outliner, fact, "to_c", &test->to, OUTLINE_TEMPERATURE);
	outline_put_quantity(outliner, fact, "within_s", &test->within, OUTLINE_DURATION);
	outline_put_quantity(outliner, fact, "surroundings_c", &test->surroundings, OUTLINE_TEMPERATURE);
}

void outline_join(struct text_builder *builder, const char *separator)
{
	if (builder->length > 0)
		text_append_string(builder, separator);
}

void outline_add_title(const struct outliner *outliner, struct outline *object, const struct declared *declared)
{
	outline_add_text(outliner, object, "title", "title", OUTLINE_WORDING, declared->title.text);
}

void outline_add_prose(const struct outliner *outliner, struct outline *object, const struct note *notes,
		       const struct allowance *allowances)
{
	struct outline *fact = outline_add(outliner, object, "notes", "note", OUTLINE_WORDING);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (; notes != NULL; notes = notes->next) {
		outline_put_text(outliner, fact, NULL, notes->prose.text);
		outline_join(&words, " ");
		text_append(&words, notes->prose.text);
	}
	fact->words = text_builder_text(&words);
	outline_add_allows(outliner, object, allowances);
}

void outline_add_allows(const struct outliner *outliner, struct outline *object, const struct allowance *allowances)
{
	struct outline *list = outline_add_list(outliner, object, "allows");

	for (; allowances != NULL; allowances = allowances->next) {
		struct text check = check_row(allowances->check)->name;
		struct outline *allow = outline_unnamed(outliner, "allow", check);

		allow->matter = OUTLINE_RECORD;
		outline_add_text(outliner, allow, "check", "check", OUTLINE_RECORD, check);
		outline_add_text(outliner, allow, "reason", "reason", OUTLINE_RECORD, allowances->reason.text);
		outline_attach(list, allow);
	}
}

/* ---- what follows from others ---- */

void outline_add_derived_time(struct arena *arena, struct outline *object, const char *key, const char *label,
			      int64_t low_ms, bool is_open)
{
	const struct outliner outliner = { NULL, arena };
	struct outline *fact = outline_add(&outliner, object, key, label, OUTLINE_DERIVED);
	struct text words = quantity_print_duration(arena, low_ms);

	outline_become(&outliner, fact, OUTLINE_OBJECT,
		       text_format(arena, "%s%.*s", is_open ? "at least " : "", TEXT_ARGUMENT(words)));
	outline_put_figure(&outliner, fact, "min_s", low_ms, MILLISECONDS_PER_SECOND);
	outline_put_flag(&outliner, fact, "has_no_end", is_open);
}

void outline_add_derived_count(struct arena *arena, struct outline *object, const char *key, const char *label,
			       int64_t milli)
{
	const struct outliner outliner = { NULL, arena };
	struct outline *fact = outline_add(&outliner, object, key, label, OUTLINE_DERIVED);

	outline_become(&outliner, fact, OUTLINE_FIGURE, print_thousandths(arena, milli));
	fact->count = milli;
	fact->per = MILLI;
}

/* ---- comparison ---- */

struct outline *outline_child(const struct outline *object, const char *key)
{
	struct outline *child = object->first;

	while (child != NULL && strcmp(child->key, key) != 0)
		child = child->next;
	return child;
}

bool outline_is_empty(const struct outline *outline)
{
	switch (outline->form) {
	case OUTLINE_NOTHING:
		return true;
	case OUTLINE_FLAG:
		return outline->count == 0;
	case OUTLINE_LIST:
		return outline->first == NULL;
	default:
		return false;
	}
}

bool outline_equal(const struct outline *a, const struct outline *b)
{
	const struct outline *left = a->first;
	const struct outline *right = b->first;

	if (a->form != b->form || !text_equal(a->text, b->text) || a->count != b->count || a->per != b->per)
		return false;
	for (; left != NULL && right != NULL; left = left->next, right = right->next)
		if (!outline_equal(left, right))
			return false;
	return left == right;
}
