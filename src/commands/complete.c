/* `wetside complete`: what may come next on a command line. The completion scripts of the shells (completions/) ask it,
 * so that they know every command, option, format and word of the tables, and the processes of a recipe.
 *
 * One line a candidate: the word, a tab, what it means. `:recipes`, `:files` and `:folders` ask the shell for names of
 * files. Nothing is said of mistakes: a shell asks while a line is half written. */
#include <stdint.h>
#include <string.h>

#include "commands/explanation.h"
#include "commands/help.h"
#include "emit/emission.h"
#include "model/load.h"

/** A command line up to the word that is being written, which is `last`. */
struct line {
	struct arena *arena;
	const struct text *words;
	size_t count;
	struct text last;
	const struct command_row *command; /* null: none yet */
	struct text operand;		   /* the first after the command; empty: none yet */
	enum option_id open;		   /* the option whose argument is being written; OPTION_COUNT: none */
	struct text before;		   /* what of the last word stands before that argument: "--to=" */
	bool is_past_options;		   /* behind `--` */
	struct text_builder out;
};

static bool begins_with(struct text text, struct text beginning)
{
	return text.length >= beginning.length && memcmp(text.data, beginning.data, beginning.length) == 0;
}

/* A candidate is offered where it goes on from the last word. */
static void offer(struct line *line, struct text word, struct text meaning)
{
	struct text whole = text_format(line->arena, "%.*s%.*s", TEXT_ARGUMENT(line->before), TEXT_ARGUMENT(word));

	if (begins_with(whole, line->last))
		text_append_format(&line->out, "%.*s\t%.*s\n", TEXT_ARGUMENT(whole), TEXT_ARGUMENT(meaning));
}

/* The option of a word such as "--to", "--to=html" or "-o"; OPTION_COUNT where it is none. */
static enum option_id option_of_word(struct text word)
{
	const char *equals = memchr(word.data, '=', word.length);
	struct text name = { word.data, equals == NULL ? word.length : (size_t)(equals - word.data) };

	for (int i = 0; i < OPTION_COUNT; i++) {
		const struct option_row *row = option_row((enum option_id)i);

		if (name.length == 2 && name.data[0] == '-' && row->letter != 0 && name.data[1] == row->letter)
			return (enum option_id)i;
		if (name.length > 2 && begins_with(name, TEXT("--")) &&
		    text_equal((struct text){ name.data + 2, name.length - 2 }, text_from(row->long_name)))
			return (enum option_id)i;
	}
	return OPTION_COUNT;
}

static void take_operand(struct line *line, struct text word)
{
	if (line->command != NULL) {
		if (line->operand.length == 0)
			line->operand = word;
		return;
	}
	for (int i = 0; i < COMMAND_COUNT; i++)
		if (text_equal(command_row((enum command_id)i)->name, word))
			line->command = command_row((enum command_id)i);
}

static void read_words(struct line *line)
{
	for (size_t i = 0; i + 1 < line->count; i++) {
		struct text word = line->words[i];
		enum option_id option = line->is_past_options ? OPTION_COUNT : option_of_word(word);

		line->open = OPTION_COUNT;
		if (option != OPTION_COUNT) {
			if (option_row(option)->argument[0] != '\0' && memchr(word.data, '=', word.length) == NULL)
				line->open = option;
			if (line->open != OPTION_COUNT && i + 2 < line->count)
				i++; /* its argument */
		} else if (!line->is_past_options && text_equal(word, TEXT("--"))) {
			line->is_past_options = true;
		} else if (line->is_past_options || !begins_with(word, TEXT("-")) || text_equal(word, TEXT("-"))) {
			take_operand(line, word);
		}
	}
}

/* "--to=ht" is the argument "ht" with its option in one word. */
static void read_last(struct line *line)
{
	const char *equals = memchr(line->last.data, '=', line->last.length);
	enum option_id option = option_of_word(line->last);

	if (line->open != OPTION_COUNT || line->is_past_options || equals == NULL || option == OPTION_COUNT)
		return;
	line->open = option;
	line->before = (struct text){ line->last.data, (size_t)(equals - line->last.data) + 1 };
}

static void offer_commands(struct line *line)
{
	for (int i = 0; i < COMMAND_COUNT; i++) {
		const struct command_row *row = command_row((enum command_id)i);

		offer(line, row->name, text_from(row->summary));
	}
}

static void offer_options(struct line *line)
{
	uint64_t taken = ALWAYS_TAKEN | (line->command == NULL ? 0 : line->command->options);

	for (int i = 0; i < OPTION_COUNT; i++) {
		const struct option_row *row = option_row((enum option_id)i);

		if ((taken >> i & 1) == 0)
			continue;
		offer(line, text_format(line->arena, "--%s%s", row->long_name, row->argument[0] == '\0' ? "" : "="),
		      text_from(row->summary));
		if (row->letter != 0)
			offer(line, text_format(line->arena, "-%c", row->letter), text_from(row->summary));
	}
}

static void offer_formats(struct line *line)
{
	for (int i = 0; i < EMITTER_COUNT; i++) {
		const struct emitter_row *row = emitter_row((enum emitter_id)i);

		if (line->command != NULL && text_equal(row->product, line->command->name))
			offer(line, row->format, row->summary);
	}
}

/* The processes of the recipe on the line, where it can be read; what is wrong with it does not matter here. */
static void offer_processes(struct line *line)
{
	struct search_path path = { NULL, 0 };
	struct source_set sources;
	struct source_file *file;
	struct report report;
	struct recipe *recipe;
	struct text problem;

	source_set_init(&sources, line->arena);
	report_init(&report, line->arena);
	if (line->operand.length == 0 || text_equal(line->operand, TEXT("-")))
		return;
	file = source_read(&sources, line->operand, line->operand, &problem);
	if (file == NULL)
		return;
	recipe = recipe_load(&sources, file, &path, line->arena, &report);
	for (size_t i = 0; i < recipe_process_count(recipe); i++)
		offer(line, intern_text(recipe->names, recipe_process_name(recipe, i)), TEXT("process"));
}

/* The word of small letters and digits that ends at `*end`, which moves before it; brackets are passed over. */
static struct text word_before(const char *start, const char **end)
{
	const char *at = *end;
	const char *behind;

	if (at > start && at[-1] == ')') {
		while (at > start && *at != '(')
			at--;
		at -= at > start && at[-1] == ' ';
	}
	behind = at;
	while (at > start && strchr("abcdefghijklmnopqrstuvwxyz0123456789-", at[-1]) != NULL)
		at--;
	*end = at;
	return (struct text){ at, (size_t)(behind - at) };
}

/* Where the summary of an option ends in a list ("auto, always or never", behind a colon also "a4 or letter"), its
 * words are what the option takes. */
static void offer_listed(struct line *line, const char *summary)
{
	const char *end = summary + strlen(summary);
	struct text words[8] = { word_before(summary, &end) };
	size_t count = 1;

	if (words[0].length == 0 || end - summary < 4 || memcmp(end - 4, " or ", 4) != 0)
		return;
	end -= 4;
	words[count++] = word_before(summary, &end);
	while (count < sizeof words / sizeof words[0] && end - summary > 2 && memcmp(end - 2, ", ", 2) == 0) {
		end -= 2;
		words[count++] = word_before(summary, &end);
	}
	while (count > 2 && words[count - 1].length == 0) /* no list but a sentence with a comma */
		count--;
	bool is_list = count > 2 || (end - summary > 2 && memcmp(end - 2, ": ", 2) == 0);

	for (size_t i = count; i > 0 && is_list; i--)
		offer(line, words[i - 1], TEXT(""));
}

static void offer_argument(struct line *line)
{
	const struct option_row *row = option_row(line->open);

	if (line->open == OPTION_process ||
	    (strcmp(row->argument, "NAME") == 0 && strstr(row->summary, "process") != NULL))
		offer_processes(line);
	else if (line->open == OPTION_to)
		offer_formats(line);
	else if (strcmp(row->argument, "DIR") == 0)
		text_append_string(&line->out, ":folders\n");
	else if (strcmp(row->argument, "OUT") == 0 || strcmp(row->argument, "PATH") == 0 ||
		 strcmp(row->argument, "FILE") == 0)
		text_append_string(&line->out, ":files\n");
	else
		offer_listed(line, row->summary);
}

/* The lines of `explain --list`: kind, word, meaning. */
static void offer_explained(struct line *line)
{
	struct text list = explanation_list(line->arena);
	const char *end = list.data + list.length;

	for (const char *at = list.data; at < end;) {
		const char *word = strchr(at, '\t') + 1;
		const char *meaning = strchr(word, '\t') + 1;
		const char *behind = strchr(meaning, '\n');

		offer(line, (struct text){ word, (size_t)(meaning - word) - 1 },
		      text_format(line->arena, "%.*s: %.*s", (int)(word - at - 1), at, (int)(behind - meaning),
				  meaning));
		at = behind + 1;
	}
}

static void offer_next(struct line *line)
{
	if (line->open != OPTION_COUNT)
		offer_argument(line);
	else if (!line->is_past_options && begins_with(line->last, TEXT("-")))
		offer_options(line);
	else if (line->command == NULL)
		offer_commands(line);
	else if (begins_with(text_from(line->command->operands), TEXT("WORD")))
		offer_explained(line);
	else if (line->command->operands[0] != '\0' && line->command->operands[0] != '-')
		text_append_string(&line->out, ":recipes\n");
}

int command_complete(const struct invocation *invocation)
{
	struct line line = { .arena = invocation->arena,
			     .words = invocation->operands,
			     .count = invocation->operand_count,
			     .open = OPTION_COUNT,
			     .out = text_builder_start(invocation->arena) };

	if (line.count == 0)
		return complain(
			"complete wants the words of a command line behind --; the last is the one to complete");
	line.last = line.words[line.count - 1];
	read_words(&line);
	read_last(&line);
	offer_next(&line);
	return help_write(invocation, text_builder_text(&line.out));
}
