/* This run: what is different today from what the recipe declares. It comes from the command line, never from a
 * clock or a setting, is printed beside the fingerprint and is no part of it. */
#ifndef MODEL_CONDITIONS_H
#define MODEL_CONDITIONS_H

#include "model/recipe.h"

/** A figure given for something by its name. */
struct condition {
	struct text name; /* of a step or solution, as typed; of --done: empty for every bath that is used again */
	int64_t value;	  /* temperature in 1/9000 K, or 1/1000 roll */
	struct condition *next;
};

struct conditions {
	struct condition *temperatures; /* --at STEP=TEMPERATURE: the bath was measured at this */
	struct condition *done;		/* --done SOLUTION=ROLLS: film the bath in hand has done before this load */
	struct condition *in_hand;	/* volume of a bath in hand, where a day's plan tells it (no option does) */
	bool has_room;			/* --room TEMPERATURE */
	int64_t room;
	bool has_date; /* --on DATE: the day of the run, in days since 1970-01-01 */
	int64_t date;
	bool wants_forecast; /* --forecast: the temperature forecast on the sheet's bench side */
	size_t width;	     /* --width COLUMNS of a sheet in characters; 0: as usual */
	bool wants_voice;    /* --voice: the sound track speaks its cues */
	int64_t lead_in_ms;  /* --lead-in TIME: the sound track begins so long before the first pour */
	/* for mixing */
	bool has_volume; /* --volume VOLUME: mix this much of each bath instead of what the tank holds */
	int64_t volume;
	bool has_hot, has_cold; /* --hot, --cold TEMPERATURE of the taps, as the thermometer reads */
	int64_t hot, cold;
	bool has_water_bath; /* --water-bath TEMPERATURE in which mixed baths are cooled, as it reads */
	int64_t water_bath;
	bool wants_avoirdupois; /* --avoirdupois: ounces and grains beside grams */
};

/** True where nothing about baths, room and date is different from what the recipe declares. */
bool conditions_are_as_declared(const struct conditions *conditions);

/** Applies what concerns a whole process: the room. */
void conditions_apply(const struct conditions *conditions, struct process *process);

#endif
