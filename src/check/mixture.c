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

_Static_assert(NEVER_MIX_COUNT <= 8 * sizeof(row_set), "a row_set has one bit for each row");

/* Something that is known by its label only. */
#define FREE_TEXT_BIT ((chemical_set)1 << CHEMICAL_COUNT)

_Static_assert(CHEMICAL_COUNT < 8 * sizeof(chemical_set), "a chemical_set has one bit for each, and one for free text");

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

static chemical_set chemical_bit(enum chemical_id chemical)
{
	return chemical == CHEMICAL_free_text ? FREE_TEXT_BIT : (chemical_set)1 << chemical;
}

static void add_held(struct held *sum, struct held held)
{
	sum->classes |= held.classes;
	sum->chemicals |= held.chemicals;
}

struct held held_of_part(const struct part *part)
{
	if (part->kind != PART_ADD)
		return (struct held){ 0 };
	return (struct held){ classes_in_mix(part->chemical), chemical_bit(part->chemical) };
}

/* What is declared beside the chemicals, and what these bring. The model has already added theirs to `contains`, the
 * strong acid of a glacial part too: it is taken out again. */
static struct held held_of(const struct solution *solution)
{
	struct held held = { 0 };
	for (const struct part *part = solution->parts; part; part = part->next) {
		add_held(&held, held_of_part(part));
	}
	bool has_glacial = (held.chemicals & chemical_bit(CHEMICAL_acetic_acid_glacial)) != 0;
	held.classes |= has_glacial ? solution->contains & ~CLASS_BIT(strong_acid) : solution->contains;
	if (span_is_set(solution->ph.span) && solution->ph.value < STRONG_ACID_BELOW_PH)
		held.classes |= CLASS_BIT(strong_acid);
	return held;
}

struct mixture mixture_of(const struct solution *solution, bool with_stocks)
{
	struct mixture mixture = { solution, { 0 } };
	for (int length = 0; solution && length < LONGEST_CHAIN; length++) {
		add_held(&mixture.held, held_of(solution));
		solution = with_stocks ? solution->stock : NULL;
	}
	return mixture;
}

/* The class that a word names, as a set; none where it names none, and then `class_` is not set. */
static class_set class_of_word(struct text word, enum class_id *class_)
{
	size_t index = vocabulary_find(VOCABULARY_CLASSES, word);
	if (index >= CLASS_COUNT)
		return 0;
	*class_ = (enum class_id)index;
	return (class_set)1 << index;
}

/* The chemicals that bring each class: found once, since the words of the tables name the same classes again and
 * again. */
struct bringers {
	chemical_set of_class[CLASS_COUNT];
};

static struct bringers bringers_find(void)
{
	struct bringers bringers = { { 0 } };
	for (int id = 0; id < CHEMICAL_COUNT; id++) {
		class_set classes = classes_in_mix((enum chemical_id)id);
		for (size_t i = 0; classes != 0; i++, classes >>= 1)
			bringers.of_class[i] |= (classes & 1) != 0 ? chemical_bit((enum chemical_id)id) : 0;
	}
	return bringers;
}

/* A class stands for every chemical that brings it; a word may be both a class and a chemical. */
static struct held held_by_word(struct text word, const struct bringers *bringers)
{
	struct held held = { 0 };
	enum class_id class_;
	class_set classes = class_of_word(word, &class_);
	size_t chemical = vocabulary_find(VOCABULARY_CHEMICALS, word);
	if (classes != 0)
		held = (struct held){ classes, bringers->of_class[class_] };
	if (chemical < CHEMICAL_COUNT)
		held.chemicals |= chemical_bit((enum chemical_id)chemical);
	return held;
}

static struct things things_of(const char *words, const struct bringers *bringers)
{
	struct things things = { .words = words, .is_anything = words[0] == '*' };
	for (const char *at = words; *at != '\0';) {
		struct text word = { at, strcspn(at, " +") };
		struct held held = held_by_word(word, bringers);
		at += word.length;
		if (*at == '+') {
			struct text second = { at + 1, strcspn(at + 1, " ") };
			struct held *pair = things.pairs[things.pair_count++];
			pair[0] = held;
			pair[1] = held_by_word(second, bringers);
			at = second.data + second.length;
		} else {
			add_held(&things.one_of, held);
		}
		at += *at != '\0';
	}
	return things;
}

static bool meet(struct held a, struct held b)
{
	return (a.classes & b.classes) != 0 || (a.chemicals & b.chemicals) != 0;
}

bool things_hold_part(const struct things *things, const struct part *part)
{
	return meet(things->one_of, held_of_part(part));
}

bool mixture_holds(const struct mixture *mixture, const struct things *things)
{
	if (meet(mixture->held, things->one_of))
		return true;
	for (size_t i = 0; i < things->pair_count; i++)
		if (meet(mixture->held, things->pairs[i][0]) && meet(mixture->held, things->pairs[i][1]))
			return true;
	return false;
}

bool mixture_holds_else(const struct mixture *mixture, const struct things *things)
{
	return (mixture->held.chemicals & ~things->one_of.chemicals) != 0 ||
	       (mixture->held.classes & ~things->one_of.classes) != 0;
}

struct things things_read(const char *words)
{
	const struct bringers bringers = bringers_find();
	return things_of(words, &bringers);
}

const struct mixing_rules *mixing_rules_read(struct arena *arena)
{
	struct mixing_rules *rules = ARENA_NEW(arena, struct mixing_rules);
	const struct bringers bringers = bringers_find();
	for (size_t i = 0; i < NEVER_MIX_COUNT; i++) {
		const struct never_mix_row *row = &NEVER_MIX_ROWS[i];
		rules->never[i] =
			(struct never_mix_rule){ row, things_of(row->one, &bringers), things_of(row->other, &bringers),
						 things_of(row->unless, &bringers) };
		rules->always |= row->when == NEVER_MIX_ALWAYS ? ROW_BIT(i) : 0;
		rules->with_anything |= rules->never[i].other.is_anything ? ROW_BIT(i) : 0;
	}
	for (size_t i = 0; i < ADD_ORDER_COUNT; i++) {
		const struct add_order_row *row = &ADD_ORDER_ROWS[i];
		rules->order[i] =
			(struct add_order_rule){ row, things_of(row->first, &bringers),
						 things_of(row->second, &bringers), things_of(row->where, &bringers) };
	}
	return rules;
}

struct sides mixture_sides(const struct mixture *mixture, const struct mixing_rules *rules)
{
	struct sides sides = { 0 };
	if (mixture->held.classes == 0 && mixture->held.chemicals == 0)
		return sides;
	for (size_t i = 0; i < NEVER_MIX_COUNT; i++) {
		const struct never_mix_rule *rule = &rules->never[i];
		bool is_other = rule->other.is_anything ? mixture_holds_else(mixture, &rule->one)
							: mixture_holds(mixture, &rule->other);
		sides.one |= mixture_holds(mixture, &rule->one) ? ROW_BIT(i) : 0;
		sides.other |= is_other ? ROW_BIT(i) : 0;
		sides.unless |= mixture_holds(mixture, &rule->unless) ? ROW_BIT(i) : 0;
	}
	return sides;
}

row_set sides_meeting(struct sides sides)
{
	return sides.one & sides.other & ~sides.unless;
}

row_set sides_clashing(struct sides a, struct sides b, const struct mixing_rules *rules)
{
	row_set forth = a.one & (b.other | rules->with_anything);
	row_set back = b.one & (a.other | rules->with_anything);
	return (forth | back) & rules->always & ~(a.unless | b.unless);
}

/* The last part that is one of the things. */
static const struct part *part_of(const struct solution *solution, const struct things *things)
{
	const struct part *found = NULL;
	for (const struct part *part = solution->parts; part; part = part->next) {
		if (things_hold_part(things, part))
			found = part;
	}
	return found;
}

/* Those of the things that are classes and are declared. */
static class_set declared_of(const struct solution *solution, const struct things *things)
{
	class_set asked = things->one_of.classes;
	for (size_t i = 0; i < things->pair_count; i++)
		asked |= things->pairs[i][0].classes | things->pairs[i][1].classes;
	return span_is_set(solution->contains_span) ? asked & solution->contains : 0;
}

struct span mixture_place(const struct mixture *mixture, const struct things *things)
{
	const struct solution *solution = mixture->solution;
	const struct part *part = part_of(solution, things);
	if (part)
		return part->span;
	if (declared_of(solution, things) != 0)
		return solution->contains_span;
	return span_is_set(solution->ph.span) ? solution->ph.span : solution->declared.name_span;
}

struct text mixture_name(const struct mixture *mixture, const struct things *things, struct arena *arena)
{
	const struct solution *solution = mixture->solution;
	const struct part *part = part_of(solution, things);
	if (part)
		return chemical_row(part->chemical)->title;
	class_set declared = declared_of(solution, things);
	enum class_id class_;
	for (const char *at = things->words; *at != '\0';) {
		struct text word = { at, strcspn(at, " +") };
		if ((class_of_word(word, &class_) & declared) != 0)
			return class_row(class_)->title;
		at += word.length;
		at += *at != '\0';
	}
	return text_format(arena, "a bath below pH %d", STRONG_ACID_BELOW_PH / 1000);
}
