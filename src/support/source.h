/* The files of a run: their bytes, and where a span lies in them. */
#ifndef SUPPORT_SOURCE_H
#define SUPPORT_SOURCE_H

#include <stdbool.h>
#include <stddef.h>

#include "support/span.h"
#include "support/text.h"

struct source_file {
	struct text name;      /* as printed in messages */
	struct text real;      /* resolved path, by which a file is known to be the same; empty for standard input */
	struct text directory; /* where its `use` looks first */
	char *bytes;	       /* content, followed by two NULs for the scanner */
	uint32_t length;
	uint32_t mark_length;  /* of the byte order mark before the content; 0 where there is none */
	uint32_t base;	       /* address of the first byte */
	struct span used_from; /* the `use` that brought it in; unset for a main file */
	uint32_t *lines;       /* address of each line's first byte, built at need */
	size_t line_count;
};

/** What an editor has open: its text stands for what is stored under its path. */
struct open_text {
	struct text real; /* resolved path */
	struct text content;
};

struct open_texts {
	const struct open_text *items;
	size_t count;
};

struct source_set {
	struct arena *arena;
	const struct open_texts *open; /* asked before a file is; null: none */
	struct source_file **files;
	size_t count;
	size_t capacity;
	uint32_t next_base;
};

/** A place for people: 1-based line and display column (tab stops of 8, wide characters count two). */
struct source_place {
	const struct source_file *file;
	size_t line;
	size_t column;
};

/** An empty set whose files live in `arena`. */
void source_set_init(struct source_set *set, struct arena *arena);

/** Reads a regular file. Returns null and a reason in `problem` where that fails (not found, a folder, too large …). */
struct source_file *source_read(struct source_set *set, struct text path, struct text name, struct text *problem);

/** Reads standard input; `name` is used in messages, its folder for `use`. */
struct source_file *source_read_standard_input(struct source_set *set, struct text name, struct text *problem);

/** Says that a file stands for the one at `path`, of which it is a copy: its `use` looks beside that, and messages name
 * it so. */
void source_lie_beside(const struct source_set *set, struct source_file *file, struct text path);

/** Adds text already in memory (copied). */
struct source_file *source_add(struct source_set *set, struct text name, struct text content, struct text *problem);

/** All bytes of a file as they were read, with a byte order mark if it has one. */
struct text source_original(const struct source_file *file);

/** The folder that a path names a file in, in `arena`; "." where it names none. */
struct text source_folder(struct arena *arena, struct text path);

/** The path of a folder or file with its symbolic links followed; empty where there is none. */
struct text source_real_path(struct arena *arena, struct text path);

/** The same for a file that need not be there yet, in a folder that is. */
struct text source_future_path(struct arena *arena, struct text path);

/** The file in which a span lies; null for an unset span. */
struct source_file *source_file_of(const struct source_set *set, struct span span);

/** The bytes of a span. */
struct text source_text(const struct source_set *set, struct span span);

/** Line and display column of an address. */
struct source_place source_locate(const struct source_set *set, uint32_t address);

/** The text of a 1-based line without its line end. */
struct text source_line(const struct source_set *set, const struct source_file *file, size_t line);

#endif
