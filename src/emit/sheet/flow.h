/* Text set in lines, as a browser will set it, reckoned from the widths that the usual sans-serifs share and on the
 * generous side. Lengths in 1/100 mm, type in points. */
#ifndef EMIT_SHEET_FLOW_H
#define EMIT_SHEET_FLOW_H

#include <stdbool.h>
#include <stdint.h>

#include "support/text.h"

#define MOST_POINTS 48

/** Widths of characters, reckoned when they are first asked for: starts with its arena. */
struct advances {
	struct arena *arena;
	short *of[MOST_POINTS][2]; /* by type size, and whether it is bold: from the space on */
};

/** Lines as wide as there is room past what floats at the left: up to `until` below the start, so much of the width is
 * `taken`. */
struct flow {
	struct advances *advances;
	int width;
	int line;
	struct beside {
		int until;
		int taken;
	} beside[2];
	int lines;    /* begun so far */
	int64_t used; /* of the last line */
};

/** Begins another line, of which so much is used. */
void flow_new_line(struct flow *flow, int64_t used);

/** Sets text behind what is there; it breaks at spaces, and within words that are longer than a line. */
void flow_text(struct flow *flow, struct text text, int points, bool is_bold);

/** How wide a text is in one line. */
int flow_width(struct advances *advances, struct text text, int points, bool is_bold);

#endif
