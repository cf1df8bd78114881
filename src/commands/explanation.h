/* What `explain` says of a word: texts made from the tables, as CommonMark. */
#ifndef COMMANDS_EXPLANATION_H
#define COMMANDS_EXPLANATION_H

#include "model/vocabulary.h"
#include "support/checks.h"
#include "syntax/units.h"
#include "syntax/words.h"

/** Appends the text about one row. Each begins with a headline. */
void explanation_append_check(struct text_builder *builder, enum check_id check);
void explanation_append_unit(struct text_builder *builder, enum unit_id unit);
void explanation_append_word(struct text_builder *builder, enum word_id word);
void explanation_append_term(struct text_builder *builder, enum vocabulary vocabulary, size_t index);
void explanation_append_hazard(struct text_builder *builder, struct text code);

/** Appends all that a word may mean, one after the other; false where it means nothing. */
bool explanation_append(struct text_builder *builder, struct text word);

/** All that can be explained, one line each: kind, word, meaning, parted by tabs. */
struct text explanation_list(struct arena *arena);

#endif
