/* What a word of the language, a unit or a check means. */
#ifndef COMMANDS_EXPLAIN_H
#define COMMANDS_EXPLAIN_H

#include "support/text.h"

/** All that a word may mean, in Markdown; empty where it means nothing. */
struct text explain_meaning(struct arena *arena, struct text word);

#endif
