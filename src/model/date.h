/* Days of the calendar (Gregorian), as YYYY-MM-DD and as days since 1970-01-01. */
#ifndef MODEL_DATE_H
#define MODEL_DATE_H

#include <stdbool.h>
#include <stdint.h>

#include "support/text.h"

/** True for a text of the shape YYYY-MM-DD that is a day of the calendar. */
bool date_is_valid(struct text date);

/** Days since 1970-01-01 of a valid date. */
int64_t date_days(struct text date);

/** The date of so many days since 1970-01-01, from year 0 to 9999, in `arena`. */
struct text date_print(struct arena *arena, int64_t days);

/** The same with the day of the week before it: "Saturday 2026-03-14". */
struct text date_print_with_weekday(struct arena *arena, int64_t days);

/** The day of the week: "Saturday". */
const char *date_weekday(int64_t days);

#endif
