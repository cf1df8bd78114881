/* What differs between two texts, line by line, in the unified form that patch and review tools read. */
#ifndef SUPPORT_LINE_DIFF_H
#define SUPPORT_LINE_DIFF_H

#include "support/text.h"

/** Unified diff of two texts, with 3 lines of context; empty where they are the same. */
struct text line_diff(struct arena *arena, struct text old_name, struct text new_name, struct text old_text,
		      struct text new_text);

#endif
