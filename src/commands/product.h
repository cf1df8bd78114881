/* Products on their way out: to standard output or to a file, whole or not at all. */
#ifndef COMMANDS_PRODUCT_H
#define COMMANDS_PRODUCT_H

#include "commands/compile.h"
#include "emit/emission.h"

/** The emitter that the command and --to name; null after one line on standard error, and the exit status is 2. */
const struct emitter_row *product_emitter(const struct invocation *invocation);

/** The emitter of a command that takes one FILE; null after one line on standard error, and the exit status is 2. */
const struct emitter_row *product_begin(const struct invocation *invocation);

/** Says that no process has a name; `names` are those there are. Returns 2. */
int product_complain_of_name(const struct invocation *invocation, struct text wanted, struct text names);

/** What an emitter receives for the product of a process, all but its findings; `speaker` may be null. */
struct emission product_emission(const struct invocation *invocation, const struct compilation *compilation,
				 const struct compiled *compiled, const struct speaker *speaker);

/** Writes what was gathered in memory where --output says. Returns 0, or 2 after one line on standard error. */
int product_write(const struct invocation *invocation, const struct emitter_row *emitter,
		  const struct output *gathered);

/** Whether the product of an emitter is too large to be gathered in memory. */
bool product_is_streamed(const struct emitter_row *emitter);

/** What goes out: bytes gathered in memory or, for an emitter whose product is streamed, how it is made. */
struct product_goods {
	const struct emitter_row *emitter;
	const struct output *gathered;
	void (*make)(struct output *output, void *data);
	void *data; /* for make */
};

/** Writes a product with what it depends on, where that was asked for: both or neither. Refuses to write over one of
 * the files that were read. */
int product_write_all(const struct invocation *invocation, const struct product_goods *goods,
		      const struct source_set *sources);

/** Whether --output names one of the files that were read, so that the product would take the recipe's place. */
bool product_is_source(const struct invocation *invocation, const struct source_set *sources);

/** Says that a product from an earlier run is still there, so that it does not pass for the new one. */
void product_warn_of_old(const struct invocation *invocation);

#endif
