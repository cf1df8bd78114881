/* The help texts. */
#include "commands/help.h"

#include <string.h>

#include "commands/delivery.h"
#include "commands/version.h"
#include "emit/emission.h"

int help_write(const struct invocation *invocation, struct text text)
{
	return delivery_to_standard_output(invocation->arena, text);
}

static void add_options(struct text_builder *help, uint64_t options)
{
	for (int i = 0; i < OPTION_COUNT; i++) {
		const struct option_row *row = option_row((enum option_id)i);
		struct text name;

		if ((options & (UINT64_C(1) << i)) == 0)
			continue;
		name = text_format(help->arena, "--%s%s%s", row->long_name, row->argument[0] == '\0' ? "" : "=",
				   row->argument);
		text_append_string(help, "  ");
		if (row->letter != 0)
			text_append_format(help, "-%c, ", row->letter);
		else
			text_append_string(help, "    ");
		text_append_format(help, "%-20.*s  %s\n", TEXT_ARGUMENT(name), row->summary);
	}
}

static void add_formats(struct text_builder *help, struct text product)
{
	bool is_first = true;

	for (int i = 0; i < EMITTER_COUNT; i++) {
		const struct emitter_row *row = emitter_row((enum emitter_id)i);

		if (!text_equal(row->product, product))
			continue;
		if (is_first)
			text_append_string(help, "\nFormats (the first is the default):\n");
		is_first = false;
		text_append_format(help, "  %-12.*s  %.*s\n", TEXT_ARGUMENT(row->format), TEXT_ARGUMENT(row->summary));
	}
}

static struct text command_help(const struct invocation *invocation)
{
	const struct command_row *row = invocation->command;
	struct text_builder help = text_builder_start(invocation->arena);

	text_append_format(&help, "Example: %s\n\nUsage: wetside %.*s [OPTION]... %s\n", row->example,
			   TEXT_ARGUMENT(row->name), row->operands);
	text_append_format(&help, "Purpose: %s.\n", row->summary);
	if (strncmp(row->operands, "FILE", 4) == 0)
		text_append_string(&help, "FILE is a recipe; - is standard input.\n");
	if (strncmp(row->operands, "LOG", 3) == 0)
		text_append_string(&help, "LOG is what a timer or a live page wrote; - is standard input.\n");
	if (row == command_row(COMMAND_diff))
		text_append_string(
			&help, "OLD and NEW are recipes; - is standard input. With --process, one FILE is enough: a\n"
			       "variant is compared with the process that it varies, or with --with with any other.\n"
			       "Exit status: 0 the same, 1 not the same, 2 it could not be done. Titles and notes do "
			       "not count.\n");
	add_formats(&help, row->name);
	text_append_string(&help, "\nOptions:\n");
	add_options(&help, row->options | ALWAYS_TAKEN);
	return text_builder_text(&help);
}

static struct text program_help(const struct invocation *invocation)
{
	struct text_builder help = text_builder_start(invocation->arena);

	text_append_string(&help,
			   "Example: wetside sheet colour-negative.wet -o sheet.html\n\n"
			   "Usage: wetside COMMAND [OPTION]... [OPERAND]...\n"
			   "Purpose: process sheets, cue lists and timers for hand-developed film, from plain text.\n\n"
			   "Commands:\n");
	for (int i = 0; i < COMMAND_COUNT; i++) {
		const struct command_row *row = command_row((enum command_id)i);

		text_append_format(&help, "  %-10.*s  %s\n", TEXT_ARGUMENT(row->name), row->summary);
	}
	text_append_string(&help, "\nOptions of most commands (`wetside COMMAND --help` has each):\n");
	add_options(&help, (UINT64_C(1) << OPTION_COUNT) - 1);
	text_append_string(
		&help, "\nExit status: 0 fine, 1 the recipe has errors or, of diff, differs, 2 it could not be done.\n"
		       "WETSIDE_PATH names folders, separated by colons, in which used files are looked for last.\n");
	return text_builder_text(&help);
}

int help_print(const struct invocation *invocation)
{
	return help_write(invocation,
			  invocation->command == NULL ? program_help(invocation) : command_help(invocation));
}

int help_print_version(const struct invocation *invocation)
{
	return help_write(invocation, TEXT("wetside " WETSIDE_VERSION "\n"
					   "Reads language version 1. MIT licence; there is no warranty.\n"));
}
