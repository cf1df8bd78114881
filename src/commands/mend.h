/* `check --fix`: writes into a file what is sure to be meant. */
#ifndef COMMANDS_MEND_H
#define COMMANDS_MEND_H

#include "commands/compile.h"

/** Applies the safe fixes of one main file, those that leave it without a finding that it did not have before, and
 * writes it whole or not at all; under --diff it shows what would change instead. Files that it uses are left alone.
 * What was done is said on standard error, then what remains is printed as compile_file does. Returns its status. */
int mend_file(const struct invocation *invocation, struct text file, struct compilation *compilation);

#endif
