/* What a step's temperature does from the pour to its end: the pour itself, and the drift of the tank. Temperatures and
 * differences are in the model's unit (1/9000 K), shares in millionths of a per cent, each rounded once. */
#ifndef COMPUTE_DRIFT_H
#define COMPUTE_DRIFT_H

#include "compute/heat_balance.h"
#include "compute/timeline.h"
#include "model/recipe.h"

/** What a bath meets when it is poured, nothing rounded. */
struct drift_meeting {
	size_t before; /* the step whose bath left its water in the reels; the step itself where there is none */
	double poured_c;
	double met_c; /* what reels and tank have taken on */
	double bath_ml;
	struct heat_carried carried;
};

/** What the bath of a step meets. It is poured as it was measured in this run, else as declared: `pour at`, else `at`.
 * A bath before it whose window is a range may be anywhere in it, so it counts at the point nearest to the pour. The
 * tank has the temperature of the bath before; a first bath finds it at that of its water bath, else of the room.
 * False where the step pours nothing, where a temperature is not declared, or where the tank declares neither what it
 * absorbs nor what its reels carry. */
bool drift_meets(const struct process *process, const struct timeline *timeline, size_t step,
		 struct drift_meeting *meeting);

/** The temperature at which the bath of a step is poured: as measured, else as declared. False where there is none. */
bool drift_poured(const struct process *process, const struct timeline *timeline, size_t step, int64_t *poured);

/** The pour of a step: what the bath meets in the tank, and what comes out. */
struct drift_pour {
	size_t before; /* as above */
	int64_t poured;
	int64_t met;
	int64_t after;	  /* once bath, tank and water have mixed */
	int64_t pour_for; /* the pour temperature after which the bath is at `poured` */
	int64_t carried;  /* volume of water in the reels */
	int64_t absorbs;  /* the tank as so much water */
};

/** Works the pour of a step out; false as drift_meets. */
bool drift_pour(const struct process *process, const struct timeline *timeline, size_t step, struct drift_pour *pour);

/** The temperature that the bath before must have, so that the pour comes out at `after`; false where nothing carries
 * or no water has it. */
bool drift_before_for(const struct process *process, const struct drift_pour *pour, int64_t after, int64_t *before);

/** The way of a step's bath over its time in this run, to its earliest end, by Newton's law. Nothing is rounded. */
struct drift_course {
	double start_c;
	double surroundings_c; /* what the tank goes towards */
	double rate;	       /* per s */
	double time_s;
};

/** The course of a step from a start temperature. False where the tank has no usable heat-loss test, or the step no
 * declared time. */
bool drift_course(const struct process *process, const struct timeline *timeline, size_t step, double start_c,
		  struct drift_course *course);

/** Effective development of a course: seconds at the step's working point. False where the step says nothing about it,
 * or its table does not hold all along. */
bool drift_effective_s(const struct step *step, const struct drift_course *course, double *effective_s);

/** Effective development may stray by so much from what is wanted: a warning beyond the first, an error beyond the
 * second. Trade practice, no source. */
#define DRIFT_BEARABLE_PERCENT (2 * PERCENT_ONE)
#define DRIFT_SPOILT_PERCENT (5 * PERCENT_ONE)

/** The drift of a step over its time in this run, to its earliest end. */
struct drift {
	int64_t start;
	int64_t end;
	int64_t mean;
	int64_t surroundings; /* what the tank goes towards */
	bool has_effective;   /* the step says how its time depends on temperature, and the table holds all along */
	int64_t effective;    /* over or under the time that is wanted at the working point, as a share of it */
};

/** True where a temperature lies outside a window; a point has no outside. */
bool drift_is_outside(const struct temperature_window *window, int64_t temperature);

/** True where a look at both ends of the drift shows that it stays within the window, and that effective development
 * cannot stray by more than is bearable: then drift_from, which has an integral to work out, would say so too. False
 * where that cannot be seen so easily, or there is no drift. */
bool drift_is_slight(const struct process *process, const struct timeline *timeline, size_t step, int64_t start);

/** Works the drift out from a start temperature. False where the tank has no usable heat-loss test or the step no
 * declared time or window. */
bool drift_from(const struct process *process, const struct timeline *timeline, size_t step, int64_t start,
		struct drift *drift);

#endif
