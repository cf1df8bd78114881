/* What a step's temperature does from the pour to its end: the pour itself, and the drift of the tank. Temperatures and
 * differences are in the model's unit (1/9000 K), shares in millionths of a per cent, each rounded once. */
#ifndef COMPUTE_DRIFT_H
#define COMPUTE_DRIFT_H

#include "compute/timeline.h"
#include "model/recipe.h"

/** The pour of a step: what the bath meets in the tank, and what comes out. */
struct drift_pour {
	size_t before;	  /* the step whose bath left its water in the reels; the step itself where there is none */
	int64_t poured;	  /* the declared pour temperature: `pour at`, else `at` */
	int64_t met;	  /* what reels and tank have taken on */
	int64_t after;	  /* once bath, tank and water have mixed */
	int64_t pour_for; /* the pour temperature after which the bath is at `poured` */
	int64_t carried;  /* volume of water in the reels */
	int64_t absorbs;  /* the tank as so much water */
};

/** Works the pour of a step out. A bath before it whose window is a range may be anywhere in it, so it counts at the
 * point nearest to the pour. The tank has the temperature of the bath before; a first bath finds it at that of its
 * water bath, else of the room. False where the step pours nothing, where a temperature is not declared, or where the
 * tank declares neither what it absorbs nor what its reels carry. */
bool drift_pour(const struct process *process, const struct timeline *timeline, size_t step, struct drift_pour *pour);

/** The pour temperature after which the bath of a step is at `after` in the tank; `after` itself where drift_pour is
 * false. */
int64_t drift_pour_for(const struct process *process, const struct timeline *timeline, size_t step, int64_t after);

/** The temperature that the bath before must have, so that the pour comes out at `after`; false where nothing carries
 * or no water has it. */
bool drift_before_for(const struct process *process, const struct drift_pour *pour, int64_t after, int64_t *before);

/** The drift of a step over its time, to its earliest end. */
struct drift {
	int64_t start;
	int64_t end;
	int64_t mean;
	int64_t surroundings;	/* what the tank goes towards */
	int64_t start_for_mean; /* the start that gives the working point as mean */
	bool has_effective;	/* the step says how its time depends on temperature, and the table holds all along */
	int64_t effective;	/* over or under the time as declared */
};

/** Works the drift out from a start temperature. False where the tank has no usable heat-loss test or the step no
 * declared time or window. */
bool drift_from(const struct process *process, size_t step, int64_t start, struct drift *drift);

/** The temperature of surroundings towards which the step would have `mean` as its mean from the same start. False
 * where drift_from is, or where no water has that temperature: the tank then hardly drifts. */
bool drift_bath_for_mean(const struct process *process, size_t step, int64_t start, int64_t mean, int64_t *bath);

#endif
