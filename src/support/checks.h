/* The table of checks (checks.def): ids, severities, what each is about. The functions are bound to it in check/run. */
#ifndef SUPPORT_CHECKS_H
#define SUPPORT_CHECKS_H

#include <stdbool.h>
#include <stddef.h>

#include "support/text.h"

enum severity { SEVERITY_ERROR, SEVERITY_WARNING, SEVERITY_HINT };

/** Which kind of thing a row looks at; SUBJECT_SOURCE rows are raised while the text is read and resolved. */
enum check_subject {
	SUBJECT_SOURCE,
	SUBJECT_SOLUTION,
	SUBJECT_PROCESS,
	SUBJECT_STEP,
	SUBJECT_ROLL,
	SUBJECT_DAY,
	SUBJECT_COUNT
};

enum check_id {
	CHECK_none = -1,
#define CHECK(id, severity, subject, may_allow, needs, summary) CHECK_##id,
#include "support/checks.def"
#undef CHECK
	CHECK_COUNT
};

struct check_row {
	struct text name; /* the user's word, with hyphens */
	enum severity severity;
	enum check_subject subject;
	bool may_allow;	     /* `allow` may cover it; not where the text has no meaning */
	enum check_id needs; /* a row above that silences this one for its subject; CHECK_none where there is none */
	struct text summary;
};

/** The row of a check. */
const struct check_row *check_row(enum check_id check);

/** Finds a check by its name; returns CHECK_COUNT where there is none. */
enum check_id check_find(struct text name);

/** "error", "warning" or "hint". */
const char *severity_name(enum severity severity);

#endif
