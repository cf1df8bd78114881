/* What the reference says of a keyword: its rules in the grammar (grammar/reference.ebnf) and examples of its use
 * (examples.def), as CommonMark. */
#ifndef SYNTAX_REFERENCE_H
#define SYNTAX_REFERENCE_H

#include "support/text.h"

/** Appends every example in which the keyword is written: what it says, then the clause as a fenced block. */
void reference_append_examples(struct text_builder *builder, struct text keyword);

/** Appends the forms of the grammar in which the keyword stands, one a line (`step-clause = "changes" number`), then
 * the small rules that they name. */
void reference_append_grammar(struct text_builder *builder, struct text keyword);

#endif
