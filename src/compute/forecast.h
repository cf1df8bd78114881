/* The forecast: what temperature each bath of a run has from its pour to its earliest end, what it develops, and the
 * pour or water bath that would make it exact. Newton's law from the tank's heat-loss test, after the heat balance of
 * the pour; docs/formulas.md has the sources. Temperatures in °C and times in s, not rounded; the figures that leave
 * the program go through forecast_temperature, forecast_time and forecast_percent, once. */
#ifndef COMPUTE_FORECAST_H
#define COMPUTE_FORECAST_H

#include "compute/drift.h"
#include "compute/timeline.h"

enum forecast_state {
#define FORECAST(id, word, summary) FORECAST_##id,
#include "compute/forecasts.def"
#undef FORECAST
	FORECAST_STATE_COUNT
};

enum forecast_fit {
#define FORECAST_FIT(id, word, summary) FORECAST_FIT_##id,
#include "compute/forecast_fits.def"
#undef FORECAST_FIT
	FORECAST_FIT_COUNT
};

enum forecast_pour {
#define FORECAST_POUR(id, word, summary) FORECAST_POUR_##id,
#include "compute/forecast_pours.def"
#undef FORECAST_POUR
	FORECAST_POUR_COUNT
};

/** A row of one of the three tables. */
struct forecast_word {
	struct text word;
	struct text summary;
};

const struct forecast_word *forecast_state_row(enum forecast_state state);
const struct forecast_word *forecast_fit_row(enum forecast_fit fit);
const struct forecast_word *forecast_pour_row(enum forecast_pour pour);

/** A stretch of the step's time. */
struct forecast_stretch {
	double from_s;
	double to_s;
};

/** What would make a step exact: its development where it has a rule, else its mean. */
struct forecast_exact {
	bool is_by_development; /* else the mean comes out at the working point */
	enum forecast_pour pour;
	double pour_c; /* unless FORECAST_POUR_none */
	bool has_bath; /* a water bath does it from the pour as it is */
	double bath_c;
};

/** The forecast of one step. */
struct forecast {
	enum forecast_state state;
	bool has_pour; /* a temperature is declared or was measured */
	bool is_measured;
	double pour_c;
	bool is_met;   /* what tank and reels hold is known; else the bath starts as it is poured */
	bool is_first; /* no bath before it: the reels are dry */
	double met_c;
	/* from here on only where made */
	double start_c; /* once bath, tank and water have mixed */
	double mid_c;	/* at half the time */
	double end_c;
	double mean_c;
	struct drift_course course;
	enum forecast_fit fit;
	struct forecast_stretch outside[2]; /* of the window of `at` */
	size_t outside_count;
	bool has_effective;
	double effective_s; /* at the working point */
	double wanted_s;    /* the declared time, lengthened by what the bath has done */
	bool strays;	    /* by more than DRIFT_BEARABLE_PERCENT */
	bool has_exact;
	struct forecast_exact exact;
};

/** Forecasts one step of a run. */
struct forecast forecast_step(const struct process *process, const struct timeline *timeline, size_t step);

/** Forecasts all steps of a run into `arena`, an array with one for each step. */
struct forecast *forecast_run(const struct process *process, const struct timeline *timeline, struct arena *arena);

/** True where the mean leaves its window or the development strays: something must be done. */
bool forecast_wants_remedy(const struct forecast *forecast);

/** The temperature at a time of the step. */
double forecast_temp_c(const struct forecast *forecast, double time_s);

/** The most stretches of a curve in data. */
#define FORECAST_STRETCHES_MOST 24

/** How far apart the points of a curve are, so that there are at most `most` stretches between them: a round number of
 * seconds. */
double forecast_interval_s(const struct forecast *forecast, size_t most);

/** How many points that makes, start and end included. */
size_t forecast_point_count(const struct forecast *forecast, double interval_s);

/** The time of one of them, the last being the end of the step's time. */
double forecast_point_s(const struct forecast *forecast, double interval_s, size_t point);

/** A temperature as it leaves the program: to 0.01 K, in the model's unit. */
int64_t forecast_temperature(double temp_c);

/** A time as it leaves the program: to 1 s, in ms. */
int64_t forecast_time(double time_s);

/** Effective development over what is wanted, as it leaves the program: to 0.1 %, in the model's unit. */
int64_t forecast_percent(const struct forecast *forecast);

#endif
