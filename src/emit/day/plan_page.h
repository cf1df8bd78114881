/* The plan of a day to read: parts of its page, in their order. */
#ifndef EMIT_DAY_PLAN_PAGE_H
#define EMIT_DAY_PLAN_PAGE_H

#include "emit/day/paper.h"

/** The loads in the order of the day, and why there are no fewer. */
void plan_page_loads(struct paper *paper);

/** Every task with its time. */
void plan_page_timetable(struct paper *paper);

/** What is taken from the cupboard and what is mixed, how much and when. */
void plan_page_chemistry(struct paper *paper);

/** What belongs together and how it is shared out. */
void plan_page_parties(struct paper *paper);

/** What is not developed on this day, and what would help. */
void plan_page_left(struct paper *paper);

/** Risks taken, departures with their reasons, cautions, waste. */
void plan_page_care(struct paper *paper);

#endif
