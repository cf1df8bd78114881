/* What a mistake costs: which clause is given up, how far, and which brace was forgotten. It knows lines and, once
 * something is wrong, how far they are indented; what is right never depends on that. */
#ifndef SYNTAX_RECOVERY_H
#define SYNTAX_RECOVERY_H

#include "syntax/feed.h"

/** To be called when the grammar has reported a mistake at a token: what is left of its clause is skipped, outside of
 * all blocks up to what begins at the start of a line. */
void recovery_give_up(struct feed *feed, int kind);

/** Reads on to the end of what was given up; the token that ends it. */
struct feed_token recovery_skip(struct feed *feed);

/** How many blocks are open that should not be when `token` comes, after a report of the brace that was forgotten. */
size_t recovery_open_blocks(struct feed *feed, const struct feed_token *token);

/** The end of a clause right before a token. */
struct feed_token recovery_clause_end(const struct feed_token *token);

/** Takes note of the `}` that closes a block: one further left than the line that opened it was meant for another. */
void recovery_note_close(struct feed *feed, const struct feed_token *brace, const struct feed_block *closed);

/** The innermost block may have lost its `}` to a text without an end. */
void recovery_lose_close(struct feed *feed);

/** Whether a clause of a block may begin with a keyword. */
bool recovery_may_begin(const struct feed_block *block, enum word_id word);

/** True, when a clause that fits in a step begins outside of one, where the step before it lacks its `{`. */
bool recovery_lacks_step_brace(const struct feed *feed, struct span span);

/** True, when a clause ends without its `{`, where the `}` is there all the same. */
bool recovery_lacks_brace(const struct feed *feed, struct span end);

/** True where a `}` stands below for the clause that ends here, and its `{` is missing. */
bool recovery_has_close(const struct feed *feed, struct span end);

/** True where nothing more of its clause stands on a token's line. */
bool recovery_is_last_on_line(const struct feed *feed, struct span span);

/* Of feed.c, for recovery. */

/** The scanner's next token, with names told apart into units, keywords and names. */
struct feed_token feed_scan(struct feed *feed);

/** Keeps a token for the next call of feed_next. */
void feed_hold(struct feed *feed, struct feed_token token);

/** The bytes of a place. */
struct text feed_text(const struct feed *feed, struct span span);

/** The kind of block that a brace opens after a clause that begins with `word`. */
enum word_context feed_context_within(enum word_id word, enum word_context outer);

#endif
