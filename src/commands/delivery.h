/* Texts that leave the program whole or not at all, with one line on standard error where they could not. */
#ifndef COMMANDS_DELIVERY_H
#define COMMANDS_DELIVERY_H

#include "support/output.h"

/** Writes to standard output. Returns 0 or 2. */
int delivery_to_standard_output(struct arena *arena, struct text text);

/** Writes to a file. Returns 0 or 2. */
int delivery_to_file(struct arena *arena, struct text path, struct text text, bool is_executable);

/** Ends an output for `path`, which names it where it is a file. Returns 0 or 2. */
int delivery_end(struct arena *arena, struct output *output, struct text path);

#endif
