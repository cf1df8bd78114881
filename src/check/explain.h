/* The longer texts about the checks: what, why, what to do, source (check/explain/ID.md, embedded). */
#ifndef CHECK_EXPLAIN_H
#define CHECK_EXPLAIN_H

#include "support/checks.h"

/** The text about a check, in Markdown; empty where it has none. */
struct text explain_text(enum check_id check);

#endif
