/* Days and rolls, from recipes and from rolls files. Private to model/. */
#ifndef MODEL_RESOLVE_DAY_H
#define MODEL_RESOLVE_DAY_H

#include "model/day.h"
#include "model/resolver.h"

/** A text with the place where it stands: in a clause, or in a field of a rolls file. */
struct placed_text {
	struct text text;
	struct span span;
};

/** Rolls in a row, growing at its end. */
struct roll_list {
	struct roll *first;
	struct roll **end; /* where the next one is hung in; null: at `first` */
	size_t count;
};

/** Resolves the days of all files and the rolls of the top level. */
void days_resolve(struct recipe *recipe);

/** A roll with nothing said of it. */
struct roll *roll_new(struct recipe *recipe);

/** Hangs a roll in at the end. */
void roll_list_add(struct roll_list *list, struct roll *roll);

/** Reads a `roll` declaration. */
struct roll *roll_read(const struct reader *reader);

/** Reads a rolls file that a day names, and adds its rolls. A row that cannot be read is a finding and no roll. */
void rolls_file_read(struct recipe *recipe, struct source_file *source, struct span named, struct roll_list *rolls);

/** A text by which rolls are told apart or belong together: the same bytes for what is the same after NFC. */
struct text roll_text(struct recipe *recipe, struct text text);

/** Facts of a roll, from a clause or a field. */
void roll_set_label(struct recipe *recipe, struct roll *roll, struct placed_text value);
void roll_set_format(struct recipe *recipe, struct roll *roll, struct placed_text value);
void roll_set_needs(struct recipe *recipe, struct roll *roll, struct placed_text value);
void roll_set_develop_as(struct recipe *recipe, struct roll *roll, struct placed_text value);
void roll_add_condition(struct recipe *recipe, struct roll *roll, struct placed_text value);
void roll_set_name(struct recipe *recipe, struct name_reference *name, struct placed_text value);

/** What follows once all that is said of a roll was read: what it names, its area, the family of its stock, and what is
 * missing. */
void roll_finish(struct recipe *recipe, struct roll *roll);

/** Finds what a day's process develops, and gives it its number for process_resolve. */
struct day_run day_run_of(struct recipe *recipe, struct symbol *process, struct name_reference name);

/** Gives each roll of a day its process, where one of the day's is right for it and no other. */
void day_assign(struct day *day);

#endif
