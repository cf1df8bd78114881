/* Where an address lies, in every way that is counted: bytes, code points, UTF-16 units, columns of a screen. */
#ifndef SUPPORT_POSITION_H
#define SUPPORT_POSITION_H

#include "support/source.h"

/** Lines and columns count from 1; `file` is null where the address lies nowhere. A byte that is no UTF-8 counts as one
 * character. */
struct position {
	const struct source_file *file;
	size_t offset; /* bytes from the start of the file as it is stored, its byte order mark counted */
	size_t line;
	size_t byte_column;
	size_t code_point_column;
	size_t utf16_column;
	size_t display_column;
};

/** Where an address lies. */
struct position position_of(const struct source_set *sources, uint32_t address);

/** Where a span ends: the place behind its last byte. */
struct position position_of_end(const struct source_set *sources, struct span span);

#endif
