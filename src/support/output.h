/* Where products go: a file that appears whole or not at all, standard output, or memory.
 *
 * Bytes are gathered in memory-bounded buffers; errors stay in the output until it is committed. Only this module opens
 * a file to write. */
#ifndef SUPPORT_OUTPUT_H
#define SUPPORT_OUTPUT_H

#include <stdbool.h>
#include <stddef.h>

#include "support/text.h"

enum output_kind { OUTPUT_MEMORY, OUTPUT_STREAM, OUTPUT_FILE };

struct output {
	enum output_kind kind;
	struct text_builder buffer;
	struct text path; /* OUTPUT_FILE: the name asked for */
	char *target;	  /* OUTPUT_FILE: what the name resolves to */
	char *temporary;  /* OUTPUT_FILE: the file beside it, until committed */
	int descriptor;	  /* -1 where closed */
	int error;	  /* the first errno, 0 where all is well */
	bool executable;  /* OUTPUT_FILE: the product is a script */
	bool is_released; /* bytes need not be gathered */
	bool is_finished; /* all bytes are where they belong */
};

/** Starts gathering bytes in `arena`, to be read back with output_memory. */
void output_open_memory(struct output *output, struct arena *arena);

/** Starts a product for standard output; nothing is written before output_commit. */
void output_open_standard(struct output *output, struct arena *arena);

/** Starts a file beside `path` that takes its name at output_commit; an existing file's mode and a symbolic link's
 * target are kept. The error, if any, shows at output_commit. */
void output_open_file(struct output *output, struct arena *arena, struct text path, bool executable);

/** Makes a folder, unless there is one. Returns 0 or the errno. */
int output_make_folder(struct arena *arena, struct text path);

/** Says that the product is known to be well: from here on its bytes are passed on as they come, so that memory does
 * not grow with it. A file still takes its name at output_commit. */
void output_release(struct output *output);

/** Notes why the product cannot be made, an errno; the first one stays. */
void output_fail(struct output *output, int error);

/** Appends bytes. */
void output_write(struct output *output, struct text text);

/** Appends a NUL-terminated string that is not user text. */
void output_string(struct output *output, const char *string);

/** Appends printf-formatted text that holds no user text. */
void output_format(struct output *output, const char *format, ...) __attribute__((format(printf, 2, 3)));

/** What a memory output holds. */
struct text output_memory(struct output *output);

/** Removes every temporary file of a product that is neither committed nor dropped. For a handler of signals and for
 * the place where a program lands without memory: it may be called at any moment, and allocates nothing. */
void output_abandon(void);

/** Writes, flushes and closes, so that only the name is left to output_commit; returns 0 or the errno that spoilt
 * it. */
int output_finish(struct output *output);

/** Writes, flushes, closes and renames; returns 0 or the errno that spoilt it, in which case the old file stands. */
int output_commit(struct output *output);

/** Gives the product up: the temporary file is removed, the old one stays. Safe to call twice and after a commit. */
void output_drop(struct output *output);

#endif
