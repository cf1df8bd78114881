/* The resolved model as a tree of facts, each exact and in a reader's words: what `wetside model` writes and
 * `wetside diff` compares.
 *
 * It holds what is declared, not how: no places, no comments, no spelling. An object has the same keys in the same
 * order whatever is declared; what is not, is a node without a value.
 *
 * Ownership: a tree lives in the arena it was made in and points to nothing outside it. */
#ifndef MODEL_OUTLINE_H
#define MODEL_OUTLINE_H

#include "model/recipe.h"

/** What it means that a fact has changed. */
enum outline_matter {
	OUTLINE_RUN,	 /* another run: the fingerprint covers it */
	OUTLINE_RECORD,	 /* the same run, with something else stated or owned up to: hazards none, a date, an `allow` */
	OUTLINE_WORDING, /* titles and notes */
	OUTLINE_DERIVED, /* follows from other facts */
	OUTLINE_ASIDE	 /* how it came to be so; never compared */
};

enum outline_form { OUTLINE_NOTHING, OUTLINE_TEXT, OUTLINE_FIGURE, OUTLINE_FLAG, OUTLINE_OBJECT, OUTLINE_LIST };

struct outline {
	enum outline_form form;
	enum outline_matter matter;
	bool is_fact;	   /* said as a whole, by its words; else an object or list of things with facts of their own */
	const char *key;   /* in data, with the unit of a figure; null in a list */
	const char *label; /* to a reader; null: told by no word of its own */
	struct text words; /* of a fact */
	struct text name;  /* of an object: what it is known by among its kind */
	struct text text;
	int64_t count, per; /* of a figure: count / per; of a flag: count is 0 or 1 */
	struct outline *first, *last, *next;
};

/** All that the files of a recipe declare but its processes: an object of lists by kind, with empty "processes". */
struct outline *outline_declarations(const struct recipe *recipe, struct arena *arena);

/** A process with its steps; what it names is named. */
struct outline *outline_process(const struct recipe *recipe, const struct process *process, struct arena *arena);

/** A process with all that its run depends on inside it: tank, tools, film, baths. */
struct outline *outline_run(const struct recipe *recipe, const struct process *process, struct arena *arena);

/** The child of an object by its key; null where there is none. */
struct outline *outline_child(const struct outline *object, const char *key);

/** Hangs a loose object in a list, at its end. */
void outline_attach(struct outline *list, struct outline *item);

/** True where nothing is declared: no value, a flag that is not set, an empty list. */
bool outline_is_empty(const struct outline *outline);

/** True where two facts, or two whole trees, say the same; texts and figures are compared exactly. */
bool outline_equal(const struct outline *a, const struct outline *b);

/** Adds a figure that follows from others, to a timeline's account of a process or step: a duration, or a count in
 * thousandths. */
void outline_add_derived_time(struct arena *arena, struct outline *object, const char *key, const char *label,
			      int64_t low_ms, bool is_open);
void outline_add_derived_count(struct arena *arena, struct outline *object, const char *key, const char *label,
			       int64_t milli);

#endif
