/* What differs, in a technician's words. */
#include "emit/diff/wording.h"

#include <inttypes.h>
#include <string.h>

#define ARROW " → "
#define MINUS "−"

static bool is_key(const struct outline *fact, const char *key)
{
	return strcmp(fact->key, key) == 0;
}

static bool is_thing(const struct difference_subject *subject, const char *label)
{
	return strcmp(subject->thing->label, label) == 0;
}

static void begin_clause(struct text_builder *words)
{
	if (words->length > 0)
		text_append_string(words, "; ");
}

/* ---- facts ---- */

static const struct outline *first_unlike(const struct outline *fact, const struct outline *other)
{
	const struct outline *a = fact->first;
	const struct outline *b = other->first;

	while (a != NULL && b != NULL && outline_equal(a, b)) {
		a = a->next;
		b = b->next;
	}
	return a;
}

/* The unit that ends a key, as it is printed. */
static const char *unit_of(const char *key)
{
	static const char *const units[][2] = { { "_ml", " mL" }, { "_c", " °C" }, { "_s", " s" },
						{ "_k", " K" },	  { "_g", " g" },  { "_m", " m" } };
	size_t length = key == NULL ? 0 : strlen(key);

	for (size_t i = 0; i < sizeof(units) / sizeof(*units); i++) {
		size_t end = strlen(units[i][0]);

		if (length >= end && strcmp(key + length - end, units[i][0]) == 0)
			return units[i][1];
	}
	return "";
}

/* Two that are not the same but read alike, for a figure is rounded or a window is written in two ways. */
static void append_exact(struct text_builder *words, const struct outline *fact, const struct outline *other)
{
	const struct outline *part = first_unlike(fact, other);

	if (part == NULL)
		return;
	if (part->form == OUTLINE_TEXT)
		text_append_format(words, " (%.*s)", TEXT_ARGUMENT(part->text));
	else if (part->form == OUTLINE_FIGURE)
		text_append_format(words, " (%.15g%s)", (double)part->count / (double)part->per, unit_of(part->key));
}

struct text difference_fact_words(const struct outline *fact, const struct outline *other, struct arena *arena)
{
	struct text_builder words = text_builder_start(arena);

	if (fact->words.length == 0)
		return TEXT("not said");
	if (fact->matter == OUTLINE_WORDING || (is_key(fact, "reason") && fact->matter == OUTLINE_RECORD))
		return text_format(arena, "“%.*s”", TEXT_ARGUMENT(fact->words));
	text_append(&words, fact->words);
	if (text_equal(fact->words, other->words))
		append_exact(&words, fact, other);
	return text_builder_text(&words);
}

static int64_t gain_of(const struct difference *times)
{
	return times->new->first->count - times->old->first->count;
}

static void append_gain(struct text_builder *words, int64_t gain_ms)
{
	text_append_string(words, gain_ms < 0 ? MINUS : "+");
	text_append(words, quantity_print_duration(words->arena, gain_ms < 0 ? -gain_ms : gain_ms));
}

static void append_fact(struct text_builder *words, const struct difference *difference)
{
	const struct outline *old = difference->old;
	const struct outline *new = difference->new;

	begin_clause(words);
	if (new->label[0] != '\0')
		text_append_format(words, "%s ", new->label);
	if (is_key(new, "total")) { /* of a step: what it does to the run */
		append_gain(words, gain_of(difference));
		return;
	}
	text_append(words, difference_fact_words(old, new, words->arena));
	text_append_string(words, ARROW);
	text_append(words, difference_fact_words(new, old, words->arena));
	if (new->matter == OUTLINE_DERIVED &&new->form == OUTLINE_OBJECT && gain_of(difference) != 0) {
		text_append_string(words, ", ");
		append_gain(words, gain_of(difference));
	}
}

static const struct difference *find_difference(const struct difference_subject *subject, const char *key)
{
	const struct difference *difference = subject->first;

	while (difference != NULL && !is_key(difference->new, key))
		difference = difference->next;
	return difference;
}

/* Whoever reads a new time asks at once whether the temperature is still the same. */
static void append_window_unchanged(struct text_builder *words, const struct difference_subject *subject)
{
	if (!is_thing(subject, "step") || find_difference(subject, "time") == NULL ||
	    find_difference(subject, "at") != NULL || outline_child(subject->new, "at")->words.length == 0)
		return;
	begin_clause(words);
	text_append_string(words, "window unchanged");
}

/* ---- things that came, went or moved ---- */

static void append_after(struct text_builder *words, struct text after)
{
	if (after.length > 0)
		text_append_format(words, "after %.*s", TEXT_ARGUMENT(after));
	else
		text_append_string(words, "first");
}

/* The facts by which a thing is known at a glance. */
static void append_glance(struct text_builder *words, const struct outline *thing, bool is_gone)
{
	static const char *const keys[] = { "role",   "in",	  "bath",     "time",  "at",	 "total", "reason",
					    "amount", "stirring", "dilution", "holds", "volume", "family" };

	for (size_t i = 0; i < sizeof(keys) / sizeof(*keys); i++) {
		const struct outline *fact = outline_child(thing, keys[i]);

		if (fact == NULL || fact->words.length == 0)
			continue;
		begin_clause(words);
		if (fact->label[0] != '\0' && !is_key(fact, "reason"))
			text_append_format(words, "%s ", fact->label);
		if (is_key(fact, "total"))
			append_gain(words, is_gone ? -fact->first->count : fact->first->count);
		else
			text_append(words, difference_fact_words(fact, thing, words->arena));
	}
}

static bool stands_in_order(const struct difference_subject *subject)
{
	return is_thing(subject, "step") || is_thing(subject, "part");
}

static void append_coming(struct text_builder *words, const struct difference_subject *subject)
{
	if (subject->old == NULL) {
		text_append_string(words, "new");
		if (stands_in_order(subject)) {
			text_append_string(words, ", ");
			append_after(words, subject->after);
		}
		append_glance(words, subject->new, false);
	} else if (subject->new == NULL) {
		text_append_string(words, "removed");
		if (stands_in_order(subject)) {
			text_append_string(words, ", was ");
			append_after(words, subject->after);
		}
		append_glance(words, subject->old, true);
	} else if (subject->is_moved) {
		begin_clause(words);
		text_append_string(words, "moved, now ");
		append_after(words, subject->after);
	}
}

/* A step or bath is what it does, by whatever name; a tool of another name is another tool. */
static void append_old_name(struct text_builder *words, const struct difference_subject *subject)
{
	bool is_same_thing = is_thing(subject, "step") || is_thing(subject, "bath");

	text_append_format(words, "%s %.*s", is_same_thing ? "was called" : "in place of",
			   TEXT_ARGUMENT(subject->old->name));
}

/* ---- a thing ---- */

static struct text own_name(const struct difference_subject *subject, struct arena *arena)
{
	const struct outline *thing = subject->thing;
	bool has_label = strcmp(thing->label, "step") != 0 && strcmp(thing->label, "file") != 0;

	if (strcmp(thing->label, "file") == 0)
		return TEXT("the whole file");
	return text_format(arena, "%s%s%.*s", has_label ? thing->label : "", has_label ? " " : "",
			   TEXT_ARGUMENT(thing->name));
}

static bool is_outermost(const struct difference_subject *subject)
{
	return is_thing(subject, "process") || (is_thing(subject, "file") && subject->within == NULL &&
						outline_child(subject->thing, "processes") != NULL);
}

struct text difference_subject_name(const struct difference_subject *subject, struct arena *arena)
{
	struct text name;
	struct text within;

	if (is_outermost(subject))
		return TEXT("");
	name = own_name(subject, arena);
	if (subject->within == NULL)
		return name;
	within = own_name(subject->within, arena);
	return text_format(arena, "%.*s, %.*s", TEXT_ARGUMENT(within), TEXT_ARGUMENT(name));
}

struct text difference_subject_words(const struct difference_subject *subject, struct arena *arena)
{
	struct text_builder words = text_builder_start(arena);

	if (is_outermost(subject) && (subject->old == NULL || subject->new == NULL))
		return TEXT("");
	if (subject->is_renamed)
		append_old_name(&words, subject);
	append_coming(&words, subject);
	for (const struct difference *difference = subject->first; difference != NULL; difference = difference->next)
		if (difference_matter(difference) != OUTLINE_WORDING &&
		    (difference_matter(difference) != OUTLINE_DERIVED || !is_outermost(subject)))
			append_fact(&words, difference);
	append_window_unchanged(&words, subject);
	return text_builder_text(&words);
}

struct text difference_subject_wording(const struct difference_subject *subject, struct arena *arena)
{
	struct text_builder words = text_builder_start(arena);

	for (const struct difference *difference = subject->first; difference != NULL; difference = difference->next)
		if (difference_matter(difference) == OUTLINE_WORDING)
			append_fact(&words, difference);
	return text_builder_text(&words);
}

/* ---- processes ---- */

struct text difference_pair_name(const struct difference_pair *pair, struct arena *arena)
{
	const struct outline *one = pair->new != NULL ? pair->new : pair->old;

	if (one->name.length == 0)
		return TEXT("declarations");
	if (pair->old == NULL || pair->new == NULL || text_equal(pair->old->name, pair->new->name))
		return one->name;
	return text_format(arena, "%.*s" ARROW "%.*s", TEXT_ARGUMENT(pair->old->name), TEXT_ARGUMENT(pair->new->name));
}

static struct text at_a_glance(const struct outline *process, const char *what, struct arena *arena)
{
	const struct outline *steps = outline_child(process, "steps");
	const struct outline *bath_time = outline_child(process, "bath_time");
	int64_t count = 0;

	if (steps == NULL || bath_time == NULL)
		return text_format(arena, "%s", what);
	for (const struct outline *step = steps->first; step != NULL; step = step->next)
		count++;
	return text_format(arena, "%s: %" PRId64 " step%s, bath time %.*s", what, count, count == 1 ? "" : "s",
			   TEXT_ARGUMENT(bath_time->words));
}

struct text difference_pair_remark(const struct difference_pair *pair, struct arena *arena)
{
	if (pair->old == NULL)
		return at_a_glance(pair->new, "new", arena);
	if (pair->new == NULL)
		return at_a_glance(pair->old, "removed", arena);
	if (pair->counts[OUTLINE_RUN] == 0 && pair->first != NULL)
		return TEXT("the same run");
	return pair->is_renamed ? TEXT("renamed") : TEXT("");
}

struct text difference_pair_total(const struct difference_pair *pair, struct arena *arena)
{
	struct text_builder words = text_builder_start(arena);
	const struct difference_subject *process = pair->first;
	const struct difference *bath_time;
	const struct difference *drying;

	if (process == NULL || !is_outermost(process))
		return TEXT("");
	bath_time = find_difference(process, "bath_time");
	drying = find_difference(process, "time_with_drying");
	if (bath_time != NULL)
		append_fact(&words, bath_time);
	if (drying != NULL && (bath_time == NULL || gain_of(drying) != gain_of(bath_time)))
		append_fact(&words, drying);
	return text_builder_text(&words);
}
