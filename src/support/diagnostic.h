/* Findings as values: collected while stages run, sorted and printed once by commands.
 *
 * Messages are complete sentences in lower case without a full stop. They may hold text from the recipe: whoever prints
 * makes control characters harmless. All texts live in the report's arena. */
#ifndef SUPPORT_DIAGNOSTIC_H
#define SUPPORT_DIAGNOSTIC_H

#include <stddef.h>

#include "support/checks.h"
#include "support/fix.h"
#include "support/span.h"
#include "support/suggest.h"
#include "support/text.h"

struct diagnostic_note {
	struct span span; /* may be unset: then a remark without a place */
	struct text message;
	struct diagnostic_note *next;
};

struct diagnostic {
	enum check_id check;
	enum severity severity;
	struct span span;
	struct text message;
	struct text help;    /* what would be right; may be empty */
	struct text allowed; /* the reason of the `allow` that covers it; data is null where none does */
	struct diagnostic_note *notes;
	struct diagnostic_note *last_note;
	struct fix *fixes; /* ways to put it right, the likeliest first; null where none is known exactly */
};

struct report {
	struct arena *arena;
	struct diagnostic *items;
	size_t count;
	size_t capacity;
	size_t errors;		   /* not allowed ones */
	size_t warnings;	   /* not allowed ones */
	size_t surplus_count;	   /* beyond LIMIT_FINDINGS: counted as errors and warnings, and not kept */
	struct diagnostic surplus; /* the last of them */
};

/** An empty report whose texts live in `arena`. */
void report_init(struct report *report, struct arena *arena);

/** Adds a finding with the severity of its row and returns it, so that help and notes can follow at once; the pointer
 * is valid until the next addition. */
struct diagnostic *report_add(struct report *report, enum check_id check, struct span span, const char *format, ...)
	__attribute__((format(printf, 4, 5)));

/** The same with an argument list. */
struct diagnostic *report_add_list(struct report *report, enum check_id check, struct span span, const char *format,
				   va_list arguments) __attribute__((format(printf, 4, 0)));

/** Says what would be right. */
void report_help(struct report *report, struct diagnostic *finding, const char *format, ...)
	__attribute__((format(printf, 3, 4)));

/** Says what is to be written in the place of `span`. A finding may have several: then each of them asks. */
void report_fix(struct report *report, struct diagnostic *finding, enum fix_confidence confidence, struct span span,
		struct text text);

/** "did you mean …?" for the word at `span`, and a fix for each word that may have been meant. False, and nothing done,
 * where there is none. */
bool report_suggest(struct report *report, struct diagnostic *finding, struct span span,
		    const struct suggestion_list *list, enum suggestion_trust trust);

/** What would be right, in words: the help, or where that is empty the words of the first fix; may be empty. */
struct text report_help_text(struct arena *arena, const struct diagnostic *finding);

/** Points at another place concerned. */
void report_note(struct report *report, struct diagnostic *finding, struct span span, const char *format, ...)
	__attribute__((format(printf, 4, 5)));

/** Marks a finding as covered by an `allow` with this reason; it no longer counts as an error or warning. */
void report_allow(struct report *report, struct diagnostic *finding, struct text reason);

/** Gives a finding another severity than its row's, for a case that the row's summary covers but that weighs more. */
void report_raise(struct report *report, struct diagnostic *finding, enum severity severity);

/** Sorts by place, then check, and drops repeated findings. */
void report_sort(struct report *report);

#endif
