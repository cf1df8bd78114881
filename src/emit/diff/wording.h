/* What differs, in a technician's words: the lines that text, Markdown and data share. */
#ifndef EMIT_DIFF_WORDING_H
#define EMIT_DIFF_WORDING_H

#include "compute/difference.h"

/** What two processes are called: "film", "film → film-2". */
struct text difference_pair_name(const struct difference_pair *pair, struct arena *arena);

/** What is to be said of two processes as such: "new: 4 steps, bath time 33:30", "the same run"; may be empty. */
struct text difference_pair_remark(const struct difference_pair *pair, struct arena *arena);

/** What becomes of the bath time: "bath time 33:30 → 34:15, +0:45"; empty where it stays. */
struct text difference_pair_total(const struct difference_pair *pair, struct arena *arena);

/** What a thing is called: "develop", "bath developer", "bath developer, part borax"; empty for a process itself. */
struct text difference_subject_name(const struct difference_subject *subject, struct arena *arena);

/** All that changes the run, or what is recorded of it, in a thing: "8:00 → 9:00; agitations 8 → 9; total +1:00;
 * window unchanged"; empty where nothing does. */
struct text difference_subject_words(const struct difference_subject *subject, struct arena *arena);

/** The same of its title and notes. */
struct text difference_subject_wording(const struct difference_subject *subject, struct arena *arena);

/** One of two facts, as it has to be said beside the other so that they do not read alike. */
struct text difference_fact_words(const struct outline *fact, const struct outline *other, struct arena *arena);

#endif
