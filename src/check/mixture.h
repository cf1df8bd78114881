/* What is in a mix: the chemicals of its parts and the classes that are declared. The rows of never_mix.def and
 * add_order.def ask for things by words, which are read once. */
#ifndef CHECK_MIXTURE_H
#define CHECK_MIXTURE_H

#include "model/recipe.h"

/** One bit for each chemical, and one for whatever is known by its label only. */
typedef uint64_t chemical_set;

/** Chemicals and classes. */
struct held {
	class_set classes;
	chemical_set chemicals;
};

struct mixture {
	const struct solution *solution;
	struct held held; /* all of it, with acids by their strength */
};

/** What a part brings: nothing where it is water or an act. */
struct held held_of_part(const struct part *part);

/** What one solution is mixed of; with its stocks, what a bath ends up with. Below pH 4 it counts as a strong acid;
 * acetic acid from a glacial part counts as a weak one, since mixes are dilute. */
struct mixture mixture_of(const struct solution *solution, bool with_stocks);

/** Most pairs among the things of a row. */
#define PAIRS_MOST 2

/** Things asked for by words: one of a list, of which `a+b` is both at once, or `*`, anything. A class stands for every
 * chemical that brings it. */
struct things {
	const char *words;
	bool is_anything;
	struct held one_of;
	struct held pairs[PAIRS_MOST][2];
	size_t pair_count;
};

/** Reads words, which must outlive what is returned. */
struct things things_read(const char *words);

/** True where a part is one of the things by its own word or by one of its classes. */
bool things_hold_part(const struct things *things, const struct part *part);

/** True where the mixture holds one of the things. */
bool mixture_holds(const struct mixture *mixture, const struct things *things);

/** True where the mixture holds anything besides the things. */
bool mixture_holds_else(const struct mixture *mixture, const struct things *things);

/** Where the mixture came by one of the things: the last part that brings it, else `contains`, else its pH, else its
 * name. */
struct span mixture_place(const struct mixture *mixture, const struct things *things);

/** What the mixture has of the things, in a reader's words: the chemical, the class, or the pH that makes it a strong
 * acid. */
struct text mixture_name(const struct mixture *mixture, const struct things *things, struct arena *arena);

/** A row of never_mix.def. */
struct never_mix_row {
	const char *one;
	const char *other;
	const char *unless;
	enum never_mix_when { NEVER_MIX_ALWAYS, NEVER_MIX_DRY } when;
	const char *reason;
	const char *source;
};

enum {
#define NEVER_MIX(one, other, unless, when, reason, source) +1
	NEVER_MIX_COUNT = 0
#include "check/never_mix.def"
#undef NEVER_MIX
	,
#define ADD_ORDER(first, second, where, percent, reason, source) +1
	ADD_ORDER_COUNT = 0
#include "check/add_order.def"
#undef ADD_ORDER
};

/** One bit for each row of never_mix.def. */
typedef uint32_t row_set;
#define ROW_BIT(index) ((row_set)1 << (index))

struct never_mix_rule {
	const struct never_mix_row *row;
	struct things one, other, unless;
};

/** A row of add_order.def. */
struct add_order_row {
	const char *first;
	const char *second;
	const char *where;
	int64_t percent_before;
	const char *reason;
	const char *source;
};

struct add_order_rule {
	const struct add_order_row *row;
	struct things first, second, where;
};

/** The rows of both tables, read. */
struct mixing_rules {
	struct never_mix_rule never[NEVER_MIX_COUNT];
	struct add_order_rule order[ADD_ORDER_COUNT];
	row_set always;	       /* those that hold for more than dry powders */
	row_set with_anything; /* those whose other side is `*` */
};

/** Reads both tables into `arena`. */
const struct mixing_rules *mixing_rules_read(struct arena *arena);

/** The rows of which a mixture is one side, or the other (of `*`: holds anything besides), or is made harmless. */
struct sides {
	row_set one, other, unless;
};

struct sides mixture_sides(const struct mixture *mixture, const struct mixing_rules *rules);

/** The rows of which both sides are in one mixture. */
row_set sides_meeting(struct sides sides);

/** The rows by which two mixtures must never be poured together. */
row_set sides_clashing(struct sides a, struct sides b, const struct mixing_rules *rules);

#endif
