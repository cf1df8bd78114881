/* What was asked for on the command line. */
#ifndef COMMANDS_INVOCATION_H
#define COMMANDS_INVOCATION_H

#include <stdbool.h>
#include <stdint.h>

#include "emit/page/form.h"
#include "support/text.h"

enum option_id {
#define OPTION(id, long_name, letter, argument, summary) OPTION_##id,
#include "commands/options.def"
#undef OPTION
	OPTION_COUNT
};

struct option_row {
	const char *long_name;
	char letter;	      /* 0: none */
	const char *argument; /* "": it takes none */
	const char *summary;
};

enum command_id {
#define COMMAND(id, operands, options, example, summary) COMMAND_##id,
#include "commands/commands.def"
#undef COMMAND
	COMMAND_COUNT
};

#define TAKES(option) (UINT64_C(1) << OPTION_##option)
#define DEPFILE_OPTIONS (TAKES(depend) | TAKES(depfile) | TAKES(deptarget) | TAKES(depstubs))
#define PRODUCT_OPTIONS                                                                                                \
	(TAKES(process) | TAKES(to) | TAKES(output) | TAKES(include) | TAKES(stdin_name) | TAKES(max_errors) |         \
	 TAKES(deny_warnings) | TAKES(color) | TAKES(diagnostics) | DEPFILE_OPTIONS)
#define RUN_OPTIONS (TAKES(at) | TAKES(done) | TAKES(room) | TAKES(on))
#define EACH_OPTIONS (TAKES(each) | TAKES(jobs))
#define LOAD_OPTIONS (TAKES(day) | TAKES(load))
#define DAY_OPTIONS ((PRODUCT_OPTIONS & ~TAKES(process)) | TAKES(day))
#define MIX_OPTIONS                                                                                                    \
	(TAKES(volume) | TAKES(hot) | TAKES(cold) | TAKES(room) | TAKES(water_bath) | TAKES(avoirdupois) |             \
	 TAKES(done) | TAKES(on))
#define DIFF_OPTIONS                                                                                                   \
	(TAKES(process) | TAKES(with) | TAKES(to) | TAKES(output) | TAKES(include) | TAKES(stdin_name) |               \
	 TAKES(max_errors) | TAKES(color))
#define ALWAYS_TAKEN (TAKES(help) | TAKES(version))

enum color_choice { COLOR_AUTO, COLOR_ALWAYS, COLOR_NEVER };
enum diagnostics_format { DIAGNOSTICS_GNU, DIAGNOSTICS_JSON, DIAGNOSTICS_SARIF };

struct invocation;
struct conditions;
struct open_texts;

struct command_row {
	struct text name;
	const char *operands;
	uint64_t options; /* bits: TAKES(…) */
	const char *example;
	const char *summary;
	int (*run)(const struct invocation *invocation);
};

struct invocation {
	struct arena *arena;
	const struct command_row *command; /* null: none was named */
	struct text *operands;
	size_t operand_count;
	struct text process; /* empty: not given; likewise below */
	struct text with;
	struct text to;
	struct text output;
	struct text stdin_name;
	struct text day;  /* a date */
	size_t load;	  /* 0: not given */
	struct text depfile;
	struct text deptarget;
	struct text *folders; /* -I, then WETSIDE_PATH */
	size_t folder_count;
	size_t max_errors; /* 0: all */
	size_t jobs;	   /* 0: not given */
	bool wants_each;
	bool denies_warnings;
	bool fixes;
	bool shows_difference;
	bool wants_depfile;
	bool wants_stubs; /* in the depfile, a rule for each used file */
	bool lists;
	bool is_forgiving;
	bool checks; /* fmt --check */
	bool wants_help;
	bool wants_version;
	enum color_choice color;
	enum diagnostics_format diagnostics;
	struct page_form form;	       /* of printed pages */
	struct conditions *conditions; /* of this run */
	const struct open_texts *open_texts; /* of an editor; null: none */
};

/** The row of an option. */
const struct option_row *option_row(enum option_id option);

/** The row of a command. */
const struct command_row *command_row(enum command_id command);

/** Reads the command line. Returns 0, or the exit status 2 after one line on standard error. */
int invocation_read(struct invocation *invocation, struct arena *arena, int argc, char **argv);

/** One line on standard error, as `wetside: …`; returns the exit status 2. */
int complain(const char *format, ...) __attribute__((format(printf, 1, 2)));

#define COMMAND(id, operands, options, example, summary) int command_##id(const struct invocation *invocation);
#include "commands/commands.def"
#undef COMMAND

#endif
