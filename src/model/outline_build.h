/* Building blocks of an outline. Private to model/. */
#ifndef MODEL_OUTLINE_BUILD_H
#define MODEL_OUTLINE_BUILD_H

#include "model/outline.h"

/** Where an outline is built from and into. */
struct outliner {
	const struct recipe *recipe;
	struct arena *arena;
};

/** How a figure is counted and printed. */
enum outline_unit {
	OUTLINE_VOLUME,
	OUTLINE_FLOW,
	OUTLINE_TEMPERATURE,
	OUTLINE_DIFFERENCE,
	OUTLINE_DURATION,
	OUTLINE_KEEPING,
	OUTLINE_MASS,
	OUTLINE_LENGTH,
	OUTLINE_PERCENT,
	OUTLINE_ENERGY,
	OUTLINE_COUNT,
	OUTLINE_PIECES, /* rolls, counted whole */
	OUTLINE_ROLLS,	/* in thousandths, like the rest */
	OUTLINE_STOPS,
	OUTLINE_PARTS,
	OUTLINE_PH
};

/** A loose object that is known by a name, with its key "name". */
struct outline *outline_named(const struct outliner *outliner, const char *label, struct text name);

/** A loose object that has no key "name". */
struct outline *outline_unnamed(const struct outliner *outliner, const char *label, struct text name);

/** An empty list of objects. */
struct outline *outline_add_list(const struct outliner *outliner, struct outline *object, const char *key);

/** A fact without a value yet; null label: it is no fact by itself. */
struct outline *outline_add(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
			    enum outline_matter matter);

/** Facts. An empty text, a flag that is not set and a figure that was not declared count as not said. */
void outline_add_text(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      enum outline_matter matter, struct text text);
void outline_add_name(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      uint32_t name);
void outline_add_flag(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      bool flag);
void outline_add_quantity(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
			  const struct quantity *quantity, enum outline_unit unit);
void outline_add_window(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
			const struct temperature_window *window);
void outline_add_time(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		      const struct time_window *time);
void outline_add_heat_loss(const struct outliner *outliner, struct outline *object, const struct heat_loss_test *test);

/** Makes a fact out of a node that outline_add gave: an object or list, said by `words`, whose parts follow. */
void outline_become(const struct outliner *outliner, struct outline *fact, enum outline_form form, struct text words);

/** Parts of such a fact, without words of their own. */
void outline_put_text(const struct outliner *outliner, struct outline *fact, const char *key, struct text text);
void outline_put_figure(const struct outliner *outliner, struct outline *fact, const char *key, int64_t count,
			int64_t per);
void outline_put_quantity(const struct outliner *outliner, struct outline *fact, const char *key,
			  const struct quantity *quantity, enum outline_unit unit);
void outline_put_flag(const struct outliner *outliner, struct outline *fact, const char *key, bool flag);

/** A part of such a fact that has parts itself. */
struct outline *outline_put_object(const struct outliner *outliner, struct outline *fact, const char *key);

/** A figure in a reader's words. */
struct text outline_print(const struct outliner *outliner, int64_t value, enum outline_unit unit);

/** The parts of a sentence, with `separator` between them. */
void outline_join(struct text_builder *builder, const char *separator);

/** Title, notes and allowances of a declaration or step. */
void outline_add_prose(const struct outliner *outliner, struct outline *object, const struct note *notes,
		       const struct allowance *allowances);
void outline_add_allows(const struct outliner *outliner, struct outline *object, const struct allowance *allowances);
void outline_add_title(const struct outliner *outliner, struct outline *object, const struct declared *declared);

/** One declaration each, with its name, title, notes and allowances. */
struct outline *outline_tank(const struct outliner *outliner, const struct tank *tank);
struct outline *outline_graduate(const struct outliner *outliner, const struct graduate *graduate);
struct outline *outline_heater(const struct outliner *outliner, const struct heater *heater);
struct outline *outline_dryer(const struct outliner *outliner, const struct dryer *dryer);
struct outline *outline_thermometer(const struct outliner *outliner, const struct thermometer *thermometer);
struct outline *outline_film(const struct outliner *outliner, const struct film *film);
struct outline *outline_solution(const struct outliner *outliner, const struct solution *solution);
struct outline *outline_on_hand(const struct outliner *outliner, const struct on_hand *bath);
struct outline *outline_day(const struct outliner *outliner, const struct day *day);
struct outline *outline_step(const struct outliner *outliner, const struct step *step);

/** The list of the rolls that are declared outside of all days, where no day has them. */
void outline_add_loose_rolls(const struct outliner *outliner, struct outline *root);

#endif
