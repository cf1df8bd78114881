/* All that is worked out for mixing the baths of a process: which, in what order, in how many mixes, each act with its
 * amount and temperature, and how long the mix cools. The mixing card and its data are made from this one value.
 *
 * Amounts are rounded here, once, as they are printed (model/quantity.h); temperatures that are worked out, to 0.1 K.
 * Temperatures are true ones, not readings. Everything lives in the arena given. */
#ifndef COMPUTE_PREPARATION_H
#define COMPUTE_PREPARATION_H

#include "compute/blending.h"
#include "compute/mixing.h"
#include "compute/mixing_order.h"
#include "model/conditions.h"

/** A temperature that may not be known. */
struct preparation_temp {
	bool is_known;
	int64_t value;
};

enum preparation_kind {
	PREPARE_WATER,
	PREPARE_PART,  /* something is added */
	PREPARE_STOCK, /* one of the concentrates of a dilution */
	PREPARE_STIR,
	PREPARE_STAND,
	PREPARE_TOP_UP,
};

/** The same acid of another strength, in place of the one named; or nothing. */
struct preparation_acid {
	enum chemical_id chemical; /* CHEMICAL_COUNT: nothing */
	int64_t volume;
	int64_t water; /* that goes with it; below 0: so much more comes with the weaker acid, and less tops up */
};

/** One act of mixing. */
struct preparation_act {
	enum preparation_kind kind;
	const struct part *part; /* as declared; null in a dilution */
	size_t stock;		 /* PREPARE_STOCK: its place in the dilution, from 0 */
	bool has_amount;
	bool is_volume;
	int64_t amount;		      /* a volume or a mass; of a top-up, the mark */
	int64_t exact;		      /* the same, not rounded, to be said in another unit */
	int64_t milli_packets;	      /* of a kit's part without an amount: how many of them, in thousandths; else 0 */
	struct temperature_window at; /* of the water; span unset: not known */
	bool has_taps;
	struct blending_taps taps;
	struct preparation_temp after; /* known where dissolving changes it: of the mix, once the part has dissolved */
	struct preparation_temp ready; /* of a top-up: with water of this temperature the mix is at its working point */
	struct preparation_acid acid;
	int64_t percent;	/* of a solution that may be measured in place of a mass too small to weigh; 0: none */
	int64_t percent_volume; /* of that solution */
};

/** Mixes that are alike. */
struct preparation_mix {
	size_t times;
	struct mixing_mix mix;
	bool has_room; /* dry parts go into a vessel that is known */
	int64_t room;  /* what stays free of it then */
	struct preparation_act *acts;
	size_t act_count;
};

/** What is made in one go: a kit or formula, or a dilution. A kit that is diluted has both. */
struct preparation_stage {
	bool is_dilution;
	struct mixing_plan plan;
	const struct graduate *vessel;	 /* null: not known */
	const struct graduate *together; /* where several mixes are poured together; null: not known, or one mix */
	struct preparation_mix *mixes;
	size_t mix_count;
	struct preparation_temp temp; /* once all is in */
	bool tops_up_warm;	      /* nothing said how warm the water of the top-up is: as warm as the mix */
};

enum preparation_way { WAY_UNKNOWN, WAY_READY, WAY_COOL, WAY_WARM };

/** From the temperature of mixing to that of working. */
struct preparation_cooling {
	enum preparation_way way;
	int64_t start;
	int64_t target;
	const struct graduate *vessel;	      /* that it stands in; null: not known */
	struct preparation_temp surroundings; /* the water bath, else the room */
	bool is_in_bath;
	bool is_reached; /* the surroundings are cool enough */
	int64_t time_ms; /* whole minutes; 0: not known */
	int64_t ice_ng;	 /* a mass, to 10 g; 0: not asked for */
};

/** A bath to mix. */
struct preparation_bath {
	const struct solution *solution;
	const struct step *step; /* the first that pours it, or something diluted from it */
	uint32_t bottle;	 /* 0: a stock that is not poured itself */
	enum mixing_reason reason;
	int64_t needed; /* what the pours take */
	int64_t makes;
	int64_t over;
	int64_t concentrate_over; /* of opened liquid kits: what the rest would make */
	struct preparation_stage stages[2];
	size_t stage_count;
	struct preparation_cooling cooling;
};

/** A bath of which enough is mixed already. */
struct preparation_in_hand {
	const struct solution *solution;
	uint32_t bottle;
	int64_t volume;
	int64_t done_milli_rolls;
	const struct on_hand *declared; /* null: only --done says so */
};

struct preparation {
	int64_t poured; /* what one pour takes */
	/* True temperatures. Taps and water bath are told as the process's thermometer reads them, the room is not. */
	struct preparation_temp room;
	struct preparation_temp hot, cold;
	struct preparation_temp water_bath; /* in which mixed baths are cooled */
	struct preparation_bath *baths;	    /* in the order of mixing */
	size_t bath_count;
	struct preparation_in_hand *in_hand; /* left out of them */
	size_t in_hand_count;
};

/** Works it all out. With --volume everything is mixed; else a bath of which enough is on hand is left out. */
struct preparation *preparation_build(const struct recipe *recipe, const struct process *process,
				      const struct conditions *conditions, struct arena *arena);

/** Another form of the chemical of an act, by index: its word and the mass that stands for the act's, rounded. False
 * where there is none. */
bool preparation_other_form(const struct preparation_act *act, size_t index, struct text *form, int64_t *mass);

/* The parts of the work, for preparation.c. */

/** What the acts of a stage depend on. */
struct preparation_scene {
	const struct preparation *preparation;
	const struct process *process;
	const struct solution *solution;
	struct temperature_window target; /* the working point and its window; span unset: not known */
	struct arena *arena;
};

/** Fills in the mixes of a stage whose plan and vessel are known, and the temperature at its end. */
void preparation_mixes(const struct preparation_scene *scene, struct preparation_stage *stage);

/** Fills in what may be taken in place of an act's part; `left` is the volume that the top-up adds, 0 where there is
 * none. */
void preparation_instead(struct preparation_act *act, int64_t left);

/** Fills in a bath's cooling from the temperature at the end of its first stage. */
void preparation_cool(const struct preparation_scene *scene, struct preparation_bath *bath);

#endif
