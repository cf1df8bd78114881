/* What was asked for on the command line. */
#include "commands/invocation.h"

#include <errno.h>
#include <getopt.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "commands/depfile.h"
#include "commands/run_options.h"
#include "model/date.h"
#include "support/suggest.h"
#include "support/utf8.h"

static const struct option_row options[OPTION_COUNT] = {
#define OPTION(id, long_name, letter, argument, summary) { long_name, letter, argument, summary },
#include "commands/options.def"
#undef OPTION
};

static const struct command_row commands[COMMAND_COUNT] = {
#define COMMAND(id, operands, options, example, summary)                                                               \
	{ { #id, sizeof(#id) - 1 }, operands, options, example, summary, command_##id },
#include "commands/commands.def"
#undef COMMAND
};

/* getopt's value for an option: beyond every letter. */
#define LONG_BASE 256

/* More at a time than any machine has use for. */
#define MOST_JOBS 256

const struct option_row *option_row(enum option_id option)
{
	return &options[option];
}

const struct command_row *command_row(enum command_id command)
{
	return &commands[command];
}

int complain(const char *format, ...)
{
	va_list arguments;

	fputs("wetside: ", stderr);
	va_start(arguments, format);
	vfprintf(stderr, format, arguments);
	va_end(arguments);
	fputc('\n', stderr);
	return 2;
}

static const struct command_row *command_find(struct text name)
{
	for (int i = 0; i < COMMAND_COUNT; i++)
		if (text_equal(commands[i].name, name))
			return &commands[i];
	return NULL;
}

static int complain_command(struct arena *arena, struct text name)
{
	struct suggestion_list list;
	struct text help;

	suggest_start(&list, name);
	for (int i = 0; i < COMMAND_COUNT; i++)
		suggest_offer(&list, commands[i].name);
	help = suggest_sentence(arena, &list);
	name = utf8_harmless(arena, name);
	return complain("`%.*s` is not a command%s%.*s; see `wetside --help`", TEXT_ARGUMENT(name),
			help.length > 0 ? "; " : "", TEXT_ARGUMENT(help));
}

static int complain_option(struct arena *arena, const char *written)
{
	struct text name = text_from(written);
	struct text shown = utf8_harmless(arena, name);
	struct suggestion_list list;
	struct text help = { "", 0 };
	size_t length = strcspn(written, "=");

	if (length > 2 && written[1] == '-') {
		suggest_start(&list, (struct text){ written + 2, length - 2 });
		for (int i = 0; i < OPTION_COUNT; i++)
			suggest_offer(&list, text_from(options[i].long_name));
		help = suggest_sentence(arena, &list);
	}
	return complain("`%.*s` is not an option%s%.*s; see `wetside --help`", TEXT_ARGUMENT(shown),
			help.length > 0 ? "; " : "", TEXT_ARGUMENT(help));
}

/* getopt's own tables, made from options.def. */
static void list_options(struct option *long_options, char *letters)
{
	size_t used = 0;

	letters[used++] = '+'; /* what is no option is taken one by one, whatever POSIXLY_CORRECT says */
	letters[used++] = ':'; /* a missing argument is told apart from an unknown option */
	for (int i = 0; i < OPTION_COUNT; i++) {
		bool takes_argument = options[i].argument[0] != '\0';

		long_options[i] =
			(struct option){ options[i].long_name, takes_argument ? required_argument : no_argument, NULL,
					 LONG_BASE + i };
		if (options[i].letter == 0)
			continue;
		letters[used++] = options[i].letter;
		if (takes_argument)
			letters[used++] = ':';
	}
	long_options[OPTION_COUNT] = (struct option){ 0 };
	letters[used++] = DEPFILE_LETTER;
	letters[used++] = ':';
	letters[used] = '\0';
}

static enum option_id option_of(int value)
{
	if (value >= LONG_BASE)
		return (enum option_id)(value - LONG_BASE);
	for (int i = 0; i < OPTION_COUNT; i++)
		if (options[i].letter == value)
			return (enum option_id)i;
	return OPTION_COUNT;
}

static int read_color(struct invocation *invocation, const char *word)
{
	if (strcmp(word, "auto") == 0)
		invocation->color = COLOR_AUTO;
	else if (strcmp(word, "always") == 0)
		invocation->color = COLOR_ALWAYS;
	else if (strcmp(word, "never") == 0)
		invocation->color = COLOR_NEVER;
	else
		return complain("--color takes auto, always or never");
	return 0;
}

static int read_diagnostics(struct invocation *invocation, const char *word)
{
	if (strcmp(word, "gnu") == 0)
		invocation->diagnostics = DIAGNOSTICS_GNU;
	else if (strcmp(word, "json") == 0)
		invocation->diagnostics = DIAGNOSTICS_JSON;
	else if (strcmp(word, "sarif") == 0)
		invocation->diagnostics = DIAGNOSTICS_SARIF;
	else
		return complain("--diagnostics takes gnu, json or sarif");
	return 0;
}

static int read_paper(struct invocation *invocation, const char *word)
{
	invocation->form.paper = paper_find(text_from(word));
	return invocation->form.paper == PAPER_COUNT ? complain("--paper takes a4 or letter") : 0;
}

static int read_size(struct invocation *invocation, const char *word)
{
	if (strcmp(word, "compact") == 0)
		invocation->form.size = PAGE_SIZE_COMPACT;
	else if (strcmp(word, "large") == 0)
		invocation->form.size = PAGE_SIZE_LARGE;
	else
		return complain("--size takes compact or large");
	return 0;
}

static bool is_number(const char *word, size_t *number)
{
	char *end;

	errno = 0;
	*number = strtoul(word, &end, 10);
	return word[0] >= '0' && word[0] <= '9' && *end == '\0' && errno == 0;
}

static int read_max_errors(struct invocation *invocation, const char *word)
{
	size_t number;

	if (!is_number(word, &number))
		return complain("--max-errors takes a number");
	invocation->max_errors = number;
	return 0;
}

static int read_jobs(struct invocation *invocation, const char *word)
{
	size_t number;

	if (!is_number(word, &number) || number == 0 || number > MOST_JOBS)
		return complain("--jobs takes a number from 1 to %d", MOST_JOBS);
	invocation->jobs = number;
	return 0;
}

static int read_load(struct invocation *invocation, const char *word)
{
	size_t number;

	if (!is_number(word, &number) || number == 0)
		return complain("--load takes the number of a load, from 1");
	invocation->load = number;
	return 0;
}

static int read_day(struct invocation *invocation, const char *word)
{
	invocation->day = text_from(word);
	if (!date_is_valid(invocation->day))
		return complain("--day wants a day of the calendar, as 2026-03-14");
	return 0;
}

/* The flag that an option sets; null where it is of another kind. */
static bool *flag_of(struct invocation *invocation, enum option_id option)
{
	switch (option) {
	case OPTION_forgiving:
		return &invocation->is_forgiving;
	case OPTION_deny_warnings:
		return &invocation->denies_warnings;
	case OPTION_each:
		return &invocation->wants_each;
	case OPTION_fix:
		return &invocation->fixes;
	case OPTION_diff:
		return &invocation->shows_difference;
	case OPTION_check:
		return &invocation->checks;
	case OPTION_list:
		return &invocation->lists;
	case OPTION_help:
		return &invocation->wants_help;
	case OPTION_version:
		return &invocation->wants_version;
	default:
		return NULL;
	}
}

/* Where the argument of an option is kept as it stands; null where more is to be done with it. */
static struct text *text_of(struct invocation *invocation, enum option_id option)
{
	switch (option) {
	case OPTION_process:
		return &invocation->process;
	case OPTION_with:
		return &invocation->with;
	case OPTION_to:
		return &invocation->to;
	case OPTION_stdin_name:
		return &invocation->stdin_name;
	case OPTION_include:
		return &invocation->folders[invocation->folder_count++];
	default:
		return NULL;
	}
}

static int take_option(struct invocation *invocation, enum option_id option, char *argument)
{
	bool *flag = flag_of(invocation, option);
	struct text *text = flag != NULL ? NULL : text_of(invocation, option);

	if (flag != NULL) {
		*flag = true;
		return 0;
	}
	if (text != NULL) {
		*text = text_from(argument);
		return 0;
	}
	switch (option) {
	case OPTION_output:
		if (argument[0] == '\0')
			return complain("--output wants the name of a file");
		invocation->output = text_from(argument);
		return 0;
	case OPTION_day:
		return read_day(invocation, argument);
	case OPTION_load:
		return read_load(invocation, argument);
	case OPTION_jobs:
		return read_jobs(invocation, argument);
	case OPTION_max_errors:
		return read_max_errors(invocation, argument);
	case OPTION_color:
		return read_color(invocation, argument);
	case OPTION_diagnostics:
		return read_diagnostics(invocation, argument);
	case OPTION_paper:
		return read_paper(invocation, argument);
	case OPTION_size:
		return read_size(invocation, argument);
	case OPTION_depend:
	case OPTION_depfile:
	case OPTION_deptarget:
	case OPTION_depstubs:
		return depfile_option_take(invocation, option, argument);
	default: /* what is different in this run */
		return run_option_take(invocation, option, text_from(argument == NULL ? "" : argument));
	}
}

static size_t count_pieces(const char *list)
{
	size_t pieces = 1;

	for (; *list != '\0'; list++)
		pieces += *list == ':';
	return pieces;
}

/* WETSIDE_PATH: folders separated by colons, after those of -I. */
static void take_environment(struct invocation *invocation, const char *list)
{
	while (list != NULL && *list != '\0') {
		size_t length = strcspn(list, ":");

		if (length > 0)
			invocation->folders[invocation->folder_count++] = (struct text){ list, length };
		list += length + (list[length] == ':');
	}
}

/* Every option of the program is known before the command is, so that they may stand anywhere. */
static int read_options(struct invocation *invocation, int argc, char **argv, uint64_t *given)
{
	struct option long_options[OPTION_COUNT + 1];
	char letters[2 * OPTION_COUNT + 5];

	list_options(long_options, letters);
	opterr = 0;
	for (;;) {
		int before = optind;
		int value = getopt_long(argc, argv, letters, long_options, NULL);
		enum option_id option = option_of(value);
		char *argument = optarg;
		int status = 0;

		if (value == -1 && optind < argc && (optind == before || strcmp(argv[optind - 1], "--") != 0)) {
			invocation->operands[invocation->operand_count++] = text_from(argv[optind++]);
			continue;
		}
		if (value == -1)
			break;
		if (value == ':')
			return complain("`%s` wants an argument; see `wetside --help`", argv[optind - 1]);
		if (value == DEPFILE_LETTER)
			status = depfile_option_read(argc, argv, &option, &argument);
		if (status != 0)
			return status;
		if (value == '?' || option == OPTION_COUNT)
			return complain_option(invocation->arena, optopt > 0 && optopt < LONG_BASE
									  ? (char[]){ '-', (char)optopt, '\0' }
									  : argv[optind - 1]);
		*given |= UINT64_C(1) << option;
		status = take_option(invocation, option, argument);
		if (status != 0)
			return status;
	}
	for (; optind < argc; optind++) /* behind `--` */
		invocation->operands[invocation->operand_count++] = text_from(argv[optind]);
	return 0;
}

static int check_options(const struct invocation *invocation, uint64_t given)
{
	uint64_t taken = ALWAYS_TAKEN | (invocation->command == NULL ? 0 : invocation->command->options);

	for (int i = 0; i < OPTION_COUNT; i++)
		if ((given & ~taken & (UINT64_C(1) << i)) != 0)
			return complain("%s%.*s takes no --%s; see `wetside %.*s --help`",
					invocation->command == NULL ? "no command" : "",
					TEXT_ARGUMENT(invocation->command->name), options[i].long_name,
					TEXT_ARGUMENT(invocation->command->name));
	return 0;
}

int invocation_read(struct invocation *invocation, struct arena *arena, int argc, char **argv)
{
	const char *path = getenv("WETSIDE_PATH");
	uint64_t given = 0;
	int status;

	*invocation = (struct invocation){ .arena = arena, .max_errors = 20 };
	invocation->folders = ARENA_ARRAY(arena, struct text, (size_t)argc + count_pieces(path == NULL ? "" : path));
	invocation->conditions = ARENA_NEW(arena, struct conditions);
	invocation->operands = ARENA_ARRAY(arena, struct text, (size_t)argc);
	status = read_options(invocation, argc, argv, &given);
	if (status != 0)
		return status;
	take_environment(invocation, path);
	if (invocation->diagnostics != DIAGNOSTICS_GNU && (given & TAKES(max_errors)) == 0)
		invocation->max_errors = 0;  /* a program that reads findings wants all of them */
	if (invocation->operand_count > 0) { /* the first is the command */
		struct text name = *invocation->operands++;

		invocation->operand_count--;
		invocation->command = command_find(name);
		if (invocation->command == NULL)
			return complain_command(arena, name);
		status = check_options(invocation, given);
	}
	return status;
}
