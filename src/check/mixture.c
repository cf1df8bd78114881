#include "check/mixture.h"

#include <string.h>

/* A chain of stocks longer than this goes in a circle, which the model reports. */
#define LONGEST_CHAIN 32

static const struct never_mix_row NEVER_MIX_ROWS[] = {
#define NEVER_MIX(one, other, unless, when, reason, source) { one, other, unless, NEVER_MIX_##when, reason, source },
#include "check/never_mix.def"
#undef NEVER_MIX
};

static const struct add_order_row ADD_ORDER_ROWS[] = {
#define ADD_ORDER(first, second, where, percent, reason, source) { first, second, where, percent, reason, source },
#include "check/add_order.def"
#undef ADD_ORDER
};

const struct never_mix_row *never_mix_rows(size_t *count)
{
	*count = sizeof(NEVER_MIX_ROWS) / sizeof(NEVER_MIX_ROWS[0]);
	return NEVER_MIX_ROWS;
}

const struct add_order_row *add_order_rows(size_t *count)
{
	*count = sizeof(ADD_ORDER_ROWS) / sizeof(ADD_ORDER_ROWS[0]);
	return ADD_ORDER_ROWS;
}

/* The classes of a chemical as it is in a mix. */
static class_set classes_in_mix(enum chemical_id chemical)
{
	if (chemical == CHEMICAL_free_text)
		return 0;
	class_set classes = chemical_row(chemical)->classes;
	if (chemical == CHEMICAL_acetic_acid_glacial)
		classes = (classes & ~CLASS_BIT(strong_acid)) | CLASS_BIT(weak_acid);
	return classes;
}

/* What is declared beside the chemicals, and what these bring. The model has already added theirs to `contains`, the
 * strong acid of a glacial part too: it is taken out again. */
static class_set classes_of(const struct solution *solution)
{
	class_set from_parts = 0;
	bool has_glacial = false;
	for (const struct part *part = solution->parts; part; part = part->next) {
		if (part->kind != PART_ADD)
			continue;
		from_parts |= classes_in_mix(part->chemical);
		has_glacial = has_glacial || part->chemical == CHEMICAL_acetic_acid_glacial;
	}
	class_set declared = has_glacial ? solution->contains & ~CLASS_BIT(strong_acid) : solution->contains;
	if (span_is_set(solution->ph.span) && solution->ph.value < STRONG_ACID_BELOW_PH)
		declared |= CLASS_BIT(strong_acid);
	return declared | from_parts;
}

struct mixture mixture_of(const struct solution *solution, bool with_stocks)
{
	struct mixture mixture = { solution, with_stocks, 0 };
	for (int length = 0; solution && length < LONGEST_CHAIN; length++) {
		mixture.classes |= classes_of(solution);
		solution = with_stocks ? solution->stock : NULL;
	}
	return mixture;
}

/* Takes the next word off a list separated by `separator`; false at its end. */
static bool next_word(const char **list, char separator, struct text *word)
{
	if (**list == '\0')
		return false;
	const char *end = strchr(*list, separator);
	size_t length = end ? (size_t)(end - *list) : strlen(*list);
	*word = (struct text){ *list, length };
	*list += length + (end ? 1 : 0);
	return true;
}

static class_set class_of_word(struct text word)
{
	size_t index = vocabulary_find(VOCABULARY_CLASSES, word);
	return index < vocabulary_size(VOCABULARY_CLASSES) ? (class_set)1 << index : 0;
}

static bool brings(enum chemical_id chemical, struct text word)
{
	if (chemical == CHEMICAL_free_text)
		return false;
	return text_equal(chemical_row(chemical)->word, word) || (classes_in_mix(chemical) & class_of_word(word)) != 0;
}

static bool has_chemical(const struct mixture *mixture, struct text word)
{
	const struct solution *solution = mixture->solution;
	for (int length = 0; solution && length < LONGEST_CHAIN; length++) {
		for (const struct part *part = solution->parts; part; part = part->next) {
			if (part->kind == PART_ADD && brings(part->chemical, word))
				return true;
		}
		solution = mixture->with_stocks ? solution->stock : NULL;
	}
	return false;
}

/* One thing: words joined by `+` must all be there. */
static bool holds_all(const struct mixture *mixture, struct text thing)
{
	size_t start = 0;
	for (size_t i = 0; i <= thing.length; i++) {
		if (i < thing.length && thing.data[i] != '+')
			continue;
		struct text word = { thing.data + start, i - start };
		if ((mixture->classes & class_of_word(word)) == 0 && !has_chemical(mixture, word))
			return false;
		start = i + 1;
	}
	return true;
}

bool mixture_holds(const struct mixture *mixture, const char *things)
{
	struct text thing;
	while (next_word(&things, ' ', &thing)) {
		if (holds_all(mixture, thing))
			return true;
	}
	return false;
}

bool mixture_is_one_of(enum chemical_id chemical, const char *things)
{
	struct text thing;
	while (next_word(&things, ' ', &thing)) {
		if (brings(chemical, thing))
			return true;
	}
	return false;
}

class_set mixture_classes_asked(const char *things)
{
	class_set classes = 0;
	for (const char *at = things; *at != '\0';) {
		struct text word = { at, strcspn(at, " +") };
		size_t chemical = vocabulary_find(VOCABULARY_CHEMICALS, word);
		classes |= class_of_word(word);
		if (chemical < CHEMICAL_COUNT)
			classes |= classes_in_mix((enum chemical_id)chemical);
		at += word.length;
		at += *at != '\0';
	}
	return classes;
}

bool mixture_holds_else(const struct mixture *mixture, const char *thing)
{
	for (const struct part *part = mixture->solution->parts; part; part = part->next) {
		if (part->kind == PART_ADD && !mixture_is_one_of(part->chemical, thing))
			return true;
	}
	size_t index = vocabulary_find(VOCABULARY_CLASSES, text_from(thing));
	return index < vocabulary_size(VOCABULARY_CLASSES) && (mixture->classes & ~((class_set)1 << index)) != 0;
}

/* The last part that is one of the things. */
static const struct part *part_of(const struct solution *solution, const char *things)
{
	const struct part *found = NULL;
	for (const struct part *part = solution->parts; part; part = part->next) {
		if (part->kind == PART_ADD && mixture_is_one_of(part->chemical, things))
			found = part;
	}
	return found;
}

/* Those of the things that are classes and are declared. */
static class_set declared_of(const struct solution *solution, const char *things)
{
	class_set asked = 0;
	for (const char *at = things; *at != '\0';) {
		struct text word = { at, strcspn(at, " +") };
		asked |= class_of_word(word);
		at += word.length;
		at += *at != '\0';
	}
	return span_is_set(solution->contains_span) ? asked & solution->contains : 0;
}

struct span mixture_place(const struct mixture *mixture, const char *things)
{
	const struct solution *solution = mixture->solution;
	const struct part *part = part_of(solution, things);
	if (part)
		return part->span;
	if (declared_of(solution, things) != 0)
		return solution->contains_span;
	return span_is_set(solution->ph.span) ? solution->ph.span : solution->declared.name_span;
}

struct text mixture_name(const struct mixture *mixture, const char *things, struct arena *arena)
{
	const struct solution *solution = mixture->solution;
	const struct part *part = part_of(solution, things);
	if (part)
		return chemical_row(part->chemical)->title;
	class_set declared = declared_of(solution, things);
	for (const char *at = things; *at != '\0';) {
		struct text word = { at, strcspn(at, " +") };
		if ((class_of_word(word) & declared) != 0)
			return class_row((enum class_id)vocabulary_find(VOCABULARY_CLASSES, word))->title;
		at += word.length;
		at += *at != '\0';
	}
	return text_format(arena, "a bath below pH %d", STRONG_ACID_BELOW_PH / 1000);
}
