/* How a bath is mixed for a volume: how many kits, how much water to start with, in how many mixes, in which vessel.
 *
 * Rules. Powder kits are mixed whole, so their number goes up; liquids and formulas are divided by measure. The fewest
 * mixes that fit the vessel, the fullest first. `holds` of a graduate is its topmost mark: a mix may be topped up to
 * it. Before dry parts go in, a twentieth of it (MIXING_HEAD_ROOM) stays free above the water, for powder and foam:
 * common practice, no source.
 *
 * All volumes are exact, in the model's unit (1e-10 mL). */
#ifndef COMPUTE_MIXING_H
#define COMPUTE_MIXING_H

#include "model/recipe.h"

/** One share in so many of a vessel stays free above the water when dry parts go in. */
#define MIXING_HEAD_ROOM 20

/** What a list of parts says for one batch: one kit, or what a formula makes, or the mix as written. */
struct mixing_batch {
	int64_t makes;			/* 0: not said */
	int64_t water;			/* put in before the first part */
	int64_t before_dry;		/* the most liquid there is when a dry part goes in; 0 where none does */
	int64_t measured;		/* all water and liquid parts with a volume, without the top-up */
	int64_t mark;			/* where a top-up ends: as written, else `makes`; 0 where there is none */
	const struct part *first_dry;	/* with before_dry below it; null: none */
	const struct part *last_liquid; /* with which `measured` is reached; null: none */
	const struct part *top_up;	/* null: none */
};

/** Adds up the parts of a solution. */
struct mixing_batch mixing_batch(const struct solution *solution);

/** One mix. */
struct mixing_mix {
	int64_t kits; /* whole kits in it; 0 where it is none of powder */
	int64_t makes;
	int64_t water; /* to start with */
};

struct mixing_plan {
	int64_t needed;
	int64_t makes;	/* all mixes together; what is over is makes - needed */
	int64_t vessel; /* 0: no vessel known, then it is one mix */
	int64_t kits;	/* to open; 0 where it is no kit */
	bool fits;	/* false where not even one whole kit fits the vessel: then there are no mixes */
	struct mixing_mix *mixes;
	size_t mix_count;
};

/** Shares a bath out over mixes, in `arena`. `vessel` 0 stands for any vessel. A kit or formula with a dilution of its
 * own makes the stock of that dilution: then the plan is for the stock. */
struct mixing_plan mixing_plan(const struct solution *solution, int64_t needed, int64_t vessel, struct arena *arena);

/** True where a solution is such a stock with a dilution of its own. */
bool mixing_is_stock_and_dilution(const struct solution *solution);

/** Shares the dilution of a solution out over mixes, whatever makes its stock. */
struct mixing_plan mixing_dilution_plan(const struct solution *solution, int64_t needed, int64_t vessel,
					struct arena *arena);

/** An amount that a batch of `batch` takes, for one that makes `makes`: in proportion. */
int64_t mixing_scaled(int64_t amount, int64_t makes, int64_t batch);

/** True where a mix is neither a kit nor a formula nor a dilution: its amounts are mixed once, as they are written. */
bool mixing_is_as_written(const struct solution *solution);

/** The vessel a solution is mixed in: the one it names, else the largest that the process names; null: none known. */
const struct graduate *mixing_vessel(const struct process *process, const struct solution *solution);

/** The largest vessel that the process names; null: none. */
const struct graduate *mixing_largest(const struct process *process);

/** The smallest vessel that the process names and that holds a volume, to pour mixes together in; null: none. */
const struct graduate *mixing_vessel_for(const struct process *process, int64_t volume);

/** True where a step of the process pours the solution itself, not only what is diluted from it. */
bool mixing_is_poured(const struct process *process, const struct solution *solution);

/** What one pour of the process needs of a solution: what the tank holds, or the share of it that a bath diluted from
 * the solution takes; the largest where there are several. 0 where the process does not use it. */
int64_t mixing_needed(const struct process *process, const struct solution *solution);

/** The same for pours of another volume than the tank's. */
int64_t mixing_needed_for(const struct process *process, const struct solution *solution, int64_t poured);

/** True where a bath is the solution or is diluted from it, down its chain of stocks. */
bool mixing_is_from(const struct solution *bath, const struct solution *solution);

/** The volume of one part of a solution's dilution in a total. */
int64_t mixing_dilution_part(const struct solution *solution, size_t part, int64_t total);

/** A dilution as it is measured out; its parts and what tops up make the total. */
struct mixing_dilution {
	int64_t water;	   /* to start with */
	bool is_topped_up; /* what is left to the total is no figure to measure: water is brought to the mark */
	int64_t mark;	   /* the total, as it is printed */
};

/** Measures out a total: every part but the water by mixing_dilution_measured, and the water that is left to it. */
struct mixing_dilution mixing_dilution(const struct solution *solution, int64_t total);

/** One part of a dilution but the water, as it is measured out. */
int64_t mixing_dilution_measured(const struct solution *solution, size_t part, int64_t total);

/** The stock in a volume of a solution: the first part of its dilution (in 1+1+98 that is one of the parts A and B,
 * which go in alike), or all of it where nothing is diluted. */
int64_t mixing_stock(const struct solution *solution, int64_t volume);

/** What a volume of the solution can do by its declared capacity, in 1/1000 roll. */
int64_t mixing_capacity_milli_rolls(const struct solution *solution, int64_t volume);

/** What so much a roll comes to for a load in 1/1000 roll. */
int64_t mixing_for_rolls(int64_t per_roll, int64_t milli_rolls);

/** The share of one roll in a volume, for a load in 1/1000 roll above 0. */
int64_t mixing_per_roll(int64_t volume, int64_t milli_rolls);

#endif
