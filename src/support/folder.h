/* Which files lie in a folder. */
#ifndef SUPPORT_FOLDER_H
#define SUPPORT_FOLDER_H

#include <stdbool.h>

#include "support/text.h"

struct folder_files {
	struct text *paths; /* in no order that can be relied on */
	size_t count;
	size_t capacity;
};

/** Adds the regular files of a folder whose names end in `suffix`; with `is_deep` also those in folders below, but for
 * hidden ones and symbolic links. What cannot be read is left out. */
void folder_find(struct folder_files *files, struct arena *arena, struct text folder, struct text suffix, bool is_deep);

#endif
