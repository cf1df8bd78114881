/* The model: everything a source declares, names resolved, units normalised, every value knowing where it was
 * written.
 *
 * Ownership: a recipe and all it points to live in the arena it was loaded in; a struct process lives in the arena
 * given to process_resolve. A value that was not declared has an unset span. Names are interned numbers
 * (recipe->names). */
#ifndef MODEL_RECIPE_H
#define MODEL_RECIPE_H

#include "model/quantity.h"
#include "model/vocabulary.h"
#include "support/diagnostic.h"
#include "support/intern.h"
#include "support/source.h"

/** A reference to something by its name. */
struct name_reference {
	uint32_t name; /* 0: not given */
	struct span span;
};

/** A piece of text that the user wrote between quotes, unescaped; CommonMark inline in notes and titles. */
struct prose {
	struct text text;
	struct span span; /* unset: not given */
};

/** A departure declared in the file. */
struct allowance {
	enum check_id check;
	struct prose reason;
	struct span span; /* of the whole clause */
	bool *used;	  /* set where it covers a finding; copies in variants share it */
	struct allowance *next;
	struct allowance *next_in_recipe; /* chain of all that were written down, see struct recipe */
};

struct note {
	struct prose prose;
	struct note *next;
};

/** What every declaration has. */
struct declared {
	uint32_t name;
	struct span name_span;
	struct span span; /* the whole declaration */
	struct prose title;
	struct note *notes;
	struct allowance *allowances;
	bool is_in_main_file;
	bool is_used; /* by a process of the main file, directly or not */
};

struct takes {
	int64_t count;
	enum format_id format;
	struct span span;
	struct takes *next;
};

/** A heat-loss test: plain water went from one temperature to another within a time, in surroundings of a third. */
struct heat_loss_test {
	struct span span; /* unset: none declared */
	struct quantity from, to, within, surroundings;
};

enum emptying { EMPTIED_THROUGH_LID, EMPTIED_FROM_BOTTOM, REELS_LOWERED };

struct tank {
	struct declared declared;
	struct quantity holds;
	struct takes *takes;
	struct quantity fill, drain; /* durations */
	enum emptying emptying;
	struct span emptying_span;	/* unset: through the lid, as most are */
	struct temperature_window bath; /* the water bath it stands in; span unset: none */
	struct heat_loss_test cools;
	struct quantity absorbs; /* as so much water */
	struct quantity carries; /* volume of water left in one wet reel with its film */
};

struct graduate {
	struct declared declared;
	struct quantity holds;
	struct heat_loss_test cools;
};

struct heater {
	struct declared declared;
	struct quantity gives;	/* volume a minute */
	struct quantity stores; /* volume of tempered water in all; may be unset */
};

struct dryer {
	struct declared declared;
	struct quantity takes_rolls;
	struct quantity lasts;
	struct quantity up_to;	/* temperature */
	struct quantity length; /* of the longest film it hangs */
};

struct thermometer {
	struct declared declared;
	struct quantity reads;	    /* smallest division, a difference */
	struct quantity within;	    /* how far it may be wrong, a difference */
	struct quantity correction; /* to be added to its reading, a difference, may be negative */
	struct span checked;	    /* the date, as written; unset: never */
};

enum part_kind { PART_WATER, PART_ADD, PART_STIR, PART_STAND, PART_TOP_UP };

/** One act of mixing, in order. */
struct part {
	enum part_kind kind;
	struct span span;
	enum chemical_id chemical; /* PART_ADD */
	struct prose label;	   /* PART_ADD of something known by its label only */
	struct text hydrate;	   /* as written; empty where not said */
	struct quantity amount; /* of water: a volume; of an addition: mass or volume, unset for the whole part of the
				   kit; of a top-up: the mark, unset for that of the whole */
	bool is_volume;		/* the amount is a volume, not a mass */
	struct temperature_window at; /* PART_WATER */
	struct quantity stirring;     /* PART_ADD, PART_STIR, PART_STAND: duration */
	struct quantity drops;	      /* PART_ADD: by how much dissolving cools the bath, a difference */
	struct part *next;
};

struct hazard {
	struct text code; /* "H302", "EUH031" */
	bool is_known;	  /* there is such a statement */
	struct span span;
	struct hazard *next;
};

enum stock_use { USE_UNSTATED, USE_ONE_SHOT, USE_REUSE, USE_REPLENISH };

struct solution {
	struct declared declared;
	size_t number; /* in order of declaration */
	enum role_id role;
	struct span role_span;
	struct quantity kit_makes; /* volume; unset: no kit */
	enum kit_form { KIT_POWDER, KIT_LIQUID } kit_form;
	struct span stock_span;
	bool is_pooled; /* several kits are kept as one stock */
	struct span blend_span;
	bool is_blended; /* mixes made in parts are poured together before use */
	enum stock_use use;
	struct span use_span;
	struct quantity replenish; /* volume a roll */
	int64_t *dilution;	   /* parts in thousandths, e.g. 1000, 9000; null: none */
	size_t dilution_count;
	struct span dilution_span;
	struct name_reference dilution_of; /* a stock solution declared here, or not given */
	const struct solution *stock;	   /* behind dilution_of */
	struct quantity formula_makes;	   /* volume the listed amounts make; unset: not a formula */
	struct part *parts;		   /* of `mix` or `formula`, in order */
	struct span parts_span;
	struct temperature_window usable;
	struct quantity capacity_rolls, capacity_volume;
	struct quantity lengthen_percent, lengthen_volume; /* per roll per so much volume */
	bool lengthen_compounds;
	struct quantity least_per_roll;				    /* volume of stock a roll needs */
	struct quantity keeps_full, keeps_part_full, keeps_in_tank; /* durations */
	struct hazard *hazards;
	bool hazards_none; /* stated to have none */
	struct span hazards_span;
	struct span hazards_sheet_dated; /* date of the safety data sheet, as written; unset: not said */
	enum stream_id waste;
	struct span waste_span;
	class_set contains; /* declared classes and those of the formula's chemicals */
	struct span contains_span;
	struct quantity ph;			  /* in thousandths, as a count */
	struct quantity clears_fresh, clears_now; /* durations */
	struct name_reference graduate_name;
	struct graduate *graduate;     /* the vessel it is mixed in; null: the largest that the process names */
	const struct on_hand *on_hand; /* what of it is in the cupboard; null: nothing is said */
};

enum emulsion { EMULSION_UNSTATED, EMULSION_SOFT, EMULSION_HARDENED, EMULSION_TABULAR };

struct film {
	struct declared declared;
	enum family_id family;
	struct span family_span;
	bool has_rem_jet;
	struct span backing_span;
	enum emulsion emulsion;
	struct span emulsion_span;
	struct quantity made; /* the year, a count */
};

/** One phase of agitation; the interval of a later phase counts from the end of the phase before. */
struct agitation_phase {
	struct span span;
	bool is_continuous;	/* agitate all the time, for `length` or to the end */
	struct quantity burst;	/* how long each agitation lasts */
	struct quantity every;	/* from start to start */
	struct quantity length; /* how long the phase lasts; unset: to the end of the step */
	struct agitation_phase *next;
};

struct time_row {
	struct quantity temperature;
	struct quantity time;
	struct time_row *next;
};

enum bath_kind { BATH_NONE, BATH_SOLUTION, BATH_WATER, BATH_RUNNING_WATER, BATH_LIGHT, BATH_AIR, BATH_DRYER };
enum time_start { TIME_STARTS_AT_POUR, TIME_STARTS_WHEN_FULL };

struct step {
	uint32_t name;
	struct span name_span;
	struct span span; /* the sentence and its block */
	enum role_id role;
	struct span role_span; /* of `as`; unset: the bath's own role */
	enum bath_kind bath;
	struct span bath_span;
	struct solution *solution; /* BATH_SOLUTION */
	struct dryer *dryer;	   /* BATH_DRYER */
	struct temperature_window at;
	struct temperature_window pour_at; /* span unset: `at` is both */
	struct temperature_window mean;	   /* span unset: `at` is both */
	struct time_window time;
	enum time_start starts;
	struct span starts_span; /* unset: the process's, or the language's, default */
	bool includes_draining;
	struct span draining_span;  /* likewise */
	bool agitates_never;	    /* `agitate none` was said */
	struct span agitation_span; /* unset: nothing was said */
	struct agitation_phase *agitation;
	int64_t taps;		   /* after each agitation */
	struct quantity taps_last; /* duration; unset: TAP_MS each */
	struct span taps_span;
	bool measures;
	struct span measure_span;
	struct quantity flow;	      /* volume a minute, running water */
	struct quantity changes;      /* count, fill-and-dump wash */
	struct quantity expose;	      /* duration, each side */
	struct span lights_span;      /* `lights on` was said */
	struct quantity lights_after; /* from the step's start; unset: at once */
	struct time_row *times;	      /* by temperature, rising */
	struct span times_span;
	bool times_are_makers;
	struct quantity round_to;    /* duration to which computed times are rounded; unset: 1 s */
	struct quantity coefficient; /* a percentage per kelvin */
	struct quantity activation_energy;
	struct note *notes;
	struct allowance *allowances;
	bool is_from_parent; /* taken unchanged from the process it varies */
	uint32_t bottle;     /* number of the bottle in pour order, from 1; 0 for baths without one */
};

/** Below this pH, in thousandths, a bath counts as a strong acid: trade practice, "about 4". */
#define STRONG_ACID_BELOW_PH 4000

/** One tap where the recipe gives no length (common practice, no source). */
#define TAP_MS 1000

struct process {
	struct declared declared;
	uint32_t parent; /* name of the process it varies; 0: none */
	enum family_id family;
	struct span family_span;
	struct tank *tank; /* null where it names none (an error was reported) */
	struct span tank_span;
	struct heater *heater;
	struct span heater_span;
	struct thermometer *thermometer;
	struct span thermometer_span;
	struct graduate **graduates; /* named by the process, else all declared */
	size_t graduate_count;
	struct span graduates_span;
	struct film **films;
	size_t film_count;
	struct span films_span;
	struct span starts_span; /* `time starts …` for all steps; unset: at first pour */
	enum time_start starts;
	struct span draining_span; /* `time includes draining` or not, for all steps; unset: included */
	bool includes_draining;
	struct quantity push; /* stops, in thousandths, as a count; negative for a pull */
	struct quantity wet_time_limit;
	struct span load_span;	  /* unset: a full tank */
	int64_t load_milli_rolls; /* its area in rolls of 80 square inches, 1/1000 */
	int64_t load_pieces;	  /* rolls, sheets or lengths, each on a reel of its own */
	struct quantity room;	  /* temperature */
	bool is_rescue;		  /* re-fix, re-wash, re-bleach: no developer is expected */
	struct span rescue_span;
	bool is_washless;
	struct span washless_span;
	struct step *steps;
	size_t step_count;
	struct text fingerprint; /* empty until it is asked for, see model/fingerprint.h */
};

/** A bath in the cupboard: what is left, when it was mixed, what it has done. */
struct on_hand {
	struct span span;
	struct name_reference name;
	const struct solution *solution; /* null where no solution has the name (an error was reported) */
	struct quantity volume;
	struct span mixed;    /* the date, as written; unset: not said */
	int64_t mixed_on;     /* in days since 1970-01-01 */
	struct quantity done; /* in 1/1000 roll; unset: none */
	struct on_hand *next;
};

struct recipe;
struct day;
struct roll;

/** The processes declared in the main files, in order of declaration. */
size_t recipe_process_count(const struct recipe *recipe);

/** These, and behind them the processes of used files that days run. */
size_t recipe_run_count(const struct recipe *recipe);

/** The name of one of them. */
uint32_t recipe_process_name(const struct recipe *recipe, size_t index);

/** Resolves one process into `arena`: parents applied, baths and vessels found, defaults filled in. Mistakes go to the
 * report. Null where so much is wrong that nothing can be said about it. */
struct process *process_resolve(struct recipe *recipe, size_t index, struct arena *arena);

/** Everything declared; see the functions above for processes. */
struct recipe {
	struct arena *arena;
	struct source_set *sources;
	struct intern *names;
	struct report *report;
	struct resolver *resolver; /* private to model/ */
	struct solution **solutions;
	size_t solution_count;
	struct graduate **graduates;
	size_t graduate_count;
	struct allowance *allowances;	  /* at the top level of a file: hold everywhere in it */
	struct allowance *all_allowances; /* every one in the files, by next_in_recipe */
	struct declared **declarations;	  /* all but processes, in order of declaration */
	size_t declaration_count;
	struct on_hand *on_hand; /* in order of declaration */
	struct day **days;	 /* in order of declaration; see model/day.h */
	size_t day_count;
	struct roll *rolls; /* declared at the top level, in order; where a main file has a day, they are its last */
	bool has_parse_errors; /* some text was not understood, so that what is missing may have been there */
};

/** The rolls (80 square inches each) in one load: as `load` says, or a full tank; 0 where nothing says. In 1/1000 roll.
 */
int64_t process_load_milli_rolls(const struct process *process);

#endif
