/* What is in a mix: the chemicals of its parts and the classes that are declared. The rows of never_mix.def and
 * add_order.def ask for things by words. */
#ifndef CHECK_MIXTURE_H
#define CHECK_MIXTURE_H

#include "check/run.h"

struct mixture {
	const struct solution *solution;
	bool with_stocks;  /* what its stocks hold counts too */
	class_set classes; /* all of them, with acids by their strength */
};

/** What one solution is mixed of; with its stocks, what a bath ends up with. Below pH 4 it counts as a strong acid;
 * acetic acid from a glacial part counts as a weak one, since mixes are dilute. */
struct mixture mixture_of(const struct solution *solution, bool with_stocks);

/** True where the mixture holds one of the things. */
bool mixture_holds(const struct mixture *mixture, const char *things);

/** The classes that one of the things may have, whether it is named by class or as a chemical. */
class_set mixture_classes_asked(const char *things);

/** True where the mixture holds anything besides a thing, which is the word for a class. */
bool mixture_holds_else(const struct mixture *mixture, const char *thing);

/** True where a chemical is one of the things by its own word or by one of its classes. */
bool mixture_is_one_of(enum chemical_id chemical, const char *things);

/** Where the mixture came by one of the things: the last part that brings it, else `contains`, else its pH, else its
 * name. */
struct span mixture_place(const struct mixture *mixture, const char *things);

/** What the mixture has of the things, in a reader's words: the chemical, the class, or the pH that makes it a strong
 * acid. */
struct text mixture_name(const struct mixture *mixture, const char *things, struct arena *arena);

/** A row of never_mix.def. */
struct never_mix_row {
	const char *one;
	const char *other;
	const char *unless;
	enum never_mix_when { NEVER_MIX_ALWAYS, NEVER_MIX_DRY } when;
	const char *reason;
	const char *source;
};

/** The rows; `count` is set. */
const struct never_mix_row *never_mix_rows(size_t *count);

/** A row of add_order.def. */
struct add_order_row {
	const char *first;
	const char *second;
	const char *where;
	int64_t percent_before;
	const char *reason;
	const char *source;
};

/** The rows; `count` is set. */
const struct add_order_row *add_order_rows(size_t *count);

#endif
