/* The times that are used in this run: the declared ones, changed by the measured temperature and by what the bath
 * has already done. One product rule: t = t(process, push) × (1 + p·N/V) / r(T), with r = 1 at the working point, N
 * rolls done before this load, V litres, p the lengthening per roll per litre. Rounded once, here, half up to the
 * step's `round to` (1 s where it says nothing). */
#ifndef COMPUTE_USED_TIME_H
#define COMPUTE_USED_TIME_H

#include "model/conditions.h"

/** Why and by how much the time of one step differs from the declared one. */
struct used_time {
	struct time_window time;    /* to be used */
	bool is_measured;           /* --at gave the pour's temperature */
	int64_t reading;            /* that one, as the declared thermometer shows it */
	int64_t temperature;        /* the true one behind the reading */
	bool is_for_temperature;    /* the time was worked out for it */
	bool is_for_done;           /* the bath has done film */
	int64_t done_milli_rolls;
	int64_t bath_volume;        /* of the bath in hand */
	int64_t lengthened_percent; /* in millionths of a per cent */
};

/** Works out the times of all steps into `arena` (an array, one for each step). A temperature inside the step's window
 * needs no rule: where there is none, the declared time stands. One outside it that the step has no rule for, or that
 * lies outside its declared range, is reported; the declared time stands then too. */
struct used_time *used_times(const struct recipe *recipe, const struct process *process,
			     const struct conditions *conditions, struct report *report, struct arena *arena);

/** The time of a step where the thermometer reads `reading` at its pour: by the same sums as --at, so it is the same
 * to the millisecond, and lengthened by what `used`, the step's own, says of its bath. False where the recipe gives no
 * time: no rule, a colour developer without its maker's table, a reading outside the declared range, or a time that
 * cannot be meant. */
bool used_time_at(const struct process *process, const struct step *step, const struct used_time *used, int64_t reading,
		  struct time_window *time);

/** The readings, the coldest and the warmest, between which the recipe gives a step's time by its temperature. False
 * where it does not. */
bool used_time_range(const struct process *process, const struct step *step, int64_t *coldest, int64_t *warmest);

/** The film a bath in hand has done before this load, in 1/1000 roll: --done, else `on hand`, else 0. */
int64_t used_done_milli_rolls(const struct recipe *recipe, const struct conditions *conditions,
			      const struct solution *solution);

/** The volume of a bath in hand: `on hand`, else the pooled stock of whole kits, else what the tank holds. */
int64_t used_bath_volume(const struct process *process, const struct solution *solution, struct arena *arena);

/** The time that a step needs at its working point in this run: the declared one, lengthened by what the bath has done.
 * Not rounded. `used` null: as declared. */
double used_wanted_s(const struct step *step, const struct used_time *used);

#endif
