/* The files that `--each` makes of names: whether every system could hold them beside each other. */
#ifndef COMMANDS_FILE_NAMES_H
#define COMMANDS_FILE_NAMES_H

#include "support/text.h"

/** Names of processes that are to become files of one folder, in the order of the recipe, and what is put behind. */
struct file_names {
	const struct text *items;
	size_t count;
	struct text extension;
};

/** 0 where each becomes a file of its own wherever the folder may lie or be copied to; else says which does not, and
 * why, and returns 2. Two names that differ in capitals only are one file on many systems; some names are devices
 * there; no name is longer than 255 bytes. */
int file_names_complain(struct arena *arena, const struct file_names *names);

#endif
