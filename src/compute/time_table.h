/* The times of a step over all that a thermometer may read in its bath at the pour, for whoever has no computer at the
 * sink. The figures are those of compute/used_time. */
#ifndef COMPUTE_TIME_TABLE_H
#define COMPUTE_TIME_TABLE_H

#include "compute/used_time.h"

/** The most rows: 61 a regular step apart, the ends and the working point. */
#define TIME_TABLE_ROWS_MOST 64

/** One row: what the thermometer reads, in 1/9000 K, a whole number of hundredths of a degree of its scale; and the
 * time. */
struct timed_reading {
	int64_t reading;
	struct time_window time;
};

struct time_table {
	size_t count;					 /* 0: the recipe gives no times by temperature, or only one */
	struct timed_reading rows[TIME_TABLE_ROWS_MOST]; /* rising */
};

/** Fills the table of a step, lengthened by what `used`, the step's own, says of its bath. Its rows lie at divisions of
 * the process's thermometer (tenths of a degree where it names none), at every one or, where those are too many, at
 * every second, third …, and always at both ends of the declared range and at the working point. */
void time_table_fill(const struct process *process, const struct step *step, const struct used_time *used,
		     struct time_table *table);

#endif
