/* From a file on the command line to checked processes: what every command that reads recipes begins with. */
#ifndef COMMANDS_COMPILE_H
#define COMMANDS_COMPILE_H

#include "commands/invocation.h"
#include "compute/timeline.h"
#include "model/conditions.h"
#include "model/load.h"

struct day_plan;

struct compilation {
	const struct invocation *invocation;
	struct source_set sources;
	struct report report;
	struct search_path path;
	struct recipe *recipe;
	size_t first, past;    /* which of its processes are compiled: all, unless somebody says otherwise */
	struct day_plan *plan; /* of the day that was asked for, as it was judged; null: of none */
};

/** One process of a recipe, resolved and checked. */
struct compiled {
	const struct process *process;
	const struct conditions *conditions;
	const struct used_time *used;
	const struct timeline *timeline;
	struct arena *scratch; /* of this process */
	size_t first_finding;  /* in the report: its findings are from here on */
};

/** What to do with each process once it is checked; what is compiled lives until it returns. */
typedef void compile_visitor(struct compilation *compilation, const struct compiled *compiled, void *data);

/** Reads a FILE of the command line ("-": standard input). Null and a reason in `problem` where that fails. */
struct source_file *read_operand(const struct invocation *invocation, struct text file, struct source_set *sources,
				 struct text *problem);

/** Reads, resolves and checks FILE ("-": standard input) and prints nothing but why it could not be read, which is 2;
 * else 0, or 1 where the recipe has errors. `beside`: what is used lies where this path does, not where FILE does;
 * empty: beside FILE. `visit` may be null. */
int compile_quietly(const struct invocation *invocation, struct text file, struct text beside,
		    struct compilation *compilation, compile_visitor *visit, void *data);

/** The same for text that may come to stand in the file `as`. */
void compile_text(const struct invocation *invocation, const struct source_file *as, struct text content,
		  struct compilation *compilation);

/** The same with a visitor, which may be null. */
void compile_text_for(const struct invocation *invocation, const struct source_file *as, struct text content,
		      struct compilation *compilation, compile_visitor *visit, void *data);

/** Visits every process, or those from `first` to before `past`, once more, as compiled before from what has been read:
 * for what can only be made when all findings are known. Nothing is checked again. */
void compile_again(struct compilation *compilation, compile_visitor *visit, void *data);

/** The exit status that agrees with the findings: 0, or 1 where there are errors (or warnings that are denied). */
int compile_status(const struct compilation *compilation);

/** The same, and prints the findings. Returns 0, 1 where the recipe has errors
 * (or warnings that are denied), or 2 where it could not be read; findings have been printed then,
 * but for a format that is one document of the whole run (see diagnostics_end). */
int compile_file(const struct invocation *invocation, struct text file, struct compilation *compilation,
		 compile_visitor *visit, void *data);

/** The same for the first operand, where it is the only one: all is said of it that was found, in every format. Returns
 * what compile_file does, or 2 where the findings could not be written. */
int compile_operand(const struct invocation *invocation, struct compilation *compilation, compile_visitor *visit,
		    void *data);

#endif
