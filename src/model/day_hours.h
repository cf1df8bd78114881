/* The hours of a `day`. Private to model/. */
#ifndef MODEL_DAY_HOURS_H
#define MODEL_DAY_HOURS_H

#include "model/day.h"
#include "model/read.h"

/** Hours as they are written, in seconds since midnight; -1: not said. They become those of a day that runs on once all
 * of them are known. */
struct day_hours {
	struct day *day;
	int64_t finish_s;
	size_t break_capacity;
};

/** Those of a day of which nothing was read yet. */
struct day_hours day_hours_of(struct day *day);

/** Reads a clause of a day, where it is one about hours; returns whether it is. */
bool day_hours_read(const struct reader *reader, node_index clause, struct day_hours *hours);

/** Makes them the hours of a day that runs on, with its breaks in order. */
void day_hours_settle(const struct reader *reader, struct day_hours *hours);

#endif
