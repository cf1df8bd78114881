/* What is not developed on a day, for the plan and for the lists; and departures, as sheet and plan print them. */
#ifndef EMIT_DAY_LEFT_H
#define EMIT_DAY_LEFT_H

#include "emit/day/paper.h"

/** Adds why a roll is left: "set aside: clip test first". */
void left_reason(struct paper *paper, cmark_node *parent, const struct plan_left *left);

/** A table of the rolls that are left, and why. */
void left_table(struct paper *paper, cmark_node *part);

#endif
