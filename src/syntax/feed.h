/* Between the scanner and the grammar. The scanner knows characters, the grammar knows sentences; the feed knows
 * lines: it drops line ends that end nothing, turns names behind a number into units, tells keywords from names. What
 * it does after a mistake stands in recovery.h. */
#ifndef SYNTAX_FEED_H
#define SYNTAX_FEED_H

#include "support/diagnostic.h"
#include "syntax/tree.h"
#include "syntax/units.h"
#include "syntax/words.h"

struct feed_block {
	struct span brace;
	enum word_context context; /* the kind of block the brace opened */
	enum word_id clause_word;  /* of the clause that opened it */
	struct span clause_name;
	uint32_t indent;     /* blanks before the line that opened it */
	bool has_lost_close; /* its `}` went into a text without an end, and that was said */
};

struct feed_token {
	int kind; /* of enum yytokentype; 0: end of file */
	struct span span;
	enum unit_id unit; /* of a UNIT */
	uint32_t indent;   /* bytes before the first token of its line */
	bool is_first;	   /* it is that token */
};

/** What may stand at the end of a text that is not finished, and where that is. */
struct feed_fitting {
	bool is_asked;
	bool is_known; /* false where the clause is spoilt by what stands before */
	bool words[WORD_COUNT];
	bool name, unit;
	enum word_context context; /* of the block that is open */
	enum word_id clause_word;  /* that the clause begins with; WORD_COUNT where it does not begin with a keyword */
	struct span last;	   /* the token before; unset where there is none */
};

/** State of one parse, shared by the scanner (as its extra data), the feed and the grammar's actions. */
struct feed {
	struct arena *arena;
	struct tree *tree;
	struct report *report;
	struct source_set *sources;
	const struct source_file *file;
	void *scanner;
	bool has_hidden; /* there is a character in the file that cannot be seen */

	uint32_t line_begin; /* of the line that is being scanned */
	uint32_t indent;     /* of that line, once its first token was scanned */
	bool is_line_new;    /* that is still to come */

	struct span span;	   /* of the token last scanned */
	char held;		   /* the byte behind it, where a NUL stands for as long as it is in hand */
	struct span complained;	   /* the last token that was reported for itself */
	int previous;		   /* kind of the token last given to the grammar */
	struct span before;	   /* place of the token given before the last one */
	struct span last;	   /* place of the token given last */
	struct feed_token pending; /* read but not yet given */
	bool has_pending;
	enum word_id clause_word; /* keyword that starts the clause; WORD_COUNT: something else */
	struct span clause_start; /* place of the clause's first token */
	uint32_t clause_indent;	  /* of its line */
	struct span clause_name;  /* place of its second token; unset until that is given */
	bool wants_lost_name;	  /* what follows may be the name of the declaration that is given up */
	bool is_cut;		  /* the clause was given up at the end of its line */
	bool follows_cut;	  /* the clause before was */
	bool follows_step;	  /* nothing but what is indented further has come since a step has ended */
	uint32_t step_indent;	  /* of that step */
	struct span step_end;	  /* its last token, where it opened no block */
	struct span last_close;	  /* place of the last `}` that closed a block */
	struct feed_block closed; /* that block */
	struct span suspect;	  /* the brace that is not closed, if one is not: a `}` further left closed its block */
	bool has_mistake;	  /* of syntax, told for itself or not: the tree is not quite what the file says */
	bool is_skipping;	  /* a mistake was reported: skip to the end of the clause */
	size_t skip_depth;	  /* braces opened while skipping */
	bool is_stray_close;	  /* the last `}` closed nothing */
	bool lacks_brace;	  /* the mistake is a `{` that is missing before the token */
	size_t braces_to_close;	  /* forgotten braces still to be closed */

	struct feed_fitting *fitting; /* asked for at the end of the text; null: nobody asks */
	struct feed_token *given;     /* every token that the grammar got, where `keeps_given` says so */
	size_t given_count;
	size_t given_capacity;
	bool keeps_given;

	struct feed_block *blocks; /* open braces */
	size_t block_count;
	size_t block_capacity;
};

/** The next token for the grammar, which fills all of `token`. */
void feed_next(struct feed *feed, struct feed_token *token);

/** Takes down what fits where that was asked: false where it was not. */
bool feed_take_fitting(struct feed *feed, int found, const int *fits, size_t fit_count);

/** The kind of block that is open. */
enum word_context feed_context(const struct feed *feed);

#endif
