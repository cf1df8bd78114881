/* Dependency files: which files a product was made from, as rules that make and ninja read (GNU make's and ninja's
 * manuals: a space and # are escaped by a backslash, $ is doubled). */
#ifndef COMMANDS_DEPFILE_H
#define COMMANDS_DEPFILE_H

#include "commands/invocation.h"
#include "support/output.h"
#include "support/source.h"

/** To getopt -MD, -MF, -MT and -MP are one letter with an argument. */
#define DEPFILE_LETTER 'M'

struct depfile {
	const struct invocation *invocation;
	struct output output;
	struct text path;
	struct text_builder rule;
	struct text_builder stubs; /* a rule without a recipe for each used file */
	struct text *known;	   /* real paths of what is listed */
	size_t known_count;
	size_t known_capacity;
	bool has_odd_name; /* one with a line end in it, which no rule can hold */
	bool is_taken;	   /* its own name is that of a file listed, or of the product */
};

/** Tells which of the options a letter -M with what follows stands for, and its argument, which may be the next word.
 * Returns 0, or 2 after one line on standard error. */
int depfile_option_read(int argc, char **argv, enum option_id *option, char **argument);

/** Takes one of the options. Returns 0, or 2 after one line on standard error. */
int depfile_option_take(struct invocation *invocation, enum option_id option, const char *argument);

/** True where a dependency file was asked for. */
bool depfile_is_wanted(const struct invocation *invocation);

/** Returns 0, or 2 after one line on standard error where the options do not say enough. */
int depfile_complain(const struct invocation *invocation);

/** Starts the dependency file beside its name. */
void depfile_open(struct depfile *depfile, const struct invocation *invocation);

/** Adds the files of a set: the first is a main file, the others are used by it. */
void depfile_add(struct depfile *depfile, const struct source_set *sources);

/** Writes all of the file but its name. False where that failed: the product had better not be written either, and
 * depfile_commit says why. */
bool depfile_finish(struct depfile *depfile);

/** Gives it up. */
void depfile_drop(struct depfile *depfile);

/** Lets the finished file take its name. Returns 0, or 2 after one line on standard error. */
int depfile_commit(struct depfile *depfile);

#endif
