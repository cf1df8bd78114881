#include "commands/depfile.h"

#include <getopt.h>
#include <string.h>

#include "commands/delivery.h"
#include "support/utf8.h"

/* ---- options ---- */

static enum option_id option_of_letter(char letter)
{
	switch (letter) {
	case 'D':
		return OPTION_depend;
	case 'F':
		return OPTION_depfile;
	case 'T':
		return OPTION_deptarget;
	case 'P':
		return OPTION_depstubs;
	default:
		return OPTION_COUNT;
	}
}

int depfile_option_read(int argc, char **argv, enum option_id *option, char **argument)
{
	char *written = *argument;
	bool takes_argument;

	*option = option_of_letter(written[0]);
	takes_argument = *option == OPTION_depfile || *option == OPTION_deptarget;
	if (*option == OPTION_COUNT || (!takes_argument && written[1] != '\0'))
		return complain("`-M%s` is not an option; see `wetside --help`", written);
	if (takes_argument && written[1] == '\0' && optind >= argc)
		return complain("`-M%s` wants an argument; see `wetside --help`", written);
	*argument = !takes_argument || written[1] != '\0' ? written + 1 : argv[optind++];
	return 0;
}

int depfile_option_take(struct invocation *invocation, enum option_id option, const char *argument)
{
	struct text *text = option == OPTION_depfile ? &invocation->depfile : &invocation->deptarget;

	if (option == OPTION_depend) {
		invocation->wants_depfile = true;
	} else if (option == OPTION_depstubs) {
		invocation->wants_stubs = true;
	} else if (argument[0] == '\0' || strcmp(argument, "-") == 0) {
		return complain("--%s wants the name of a file", option_row(option)->long_name);
	} else {
		*text = text_from(argument);
	}
	return 0;
}

bool depfile_is_wanted(const struct invocation *invocation)
{
	return invocation->wants_depfile || invocation->depfile.length > 0;
}

static bool has_product(const struct invocation *invocation)
{
	return invocation->output.length > 0 && !text_equal(invocation->output, TEXT("-"));
}

int depfile_complain(const struct invocation *invocation)
{
	if (!depfile_is_wanted(invocation)) {
		if (invocation->deptarget.length > 0 || invocation->wants_stubs)
			return complain("--%s wants -MD or -MF beside it",
					invocation->wants_stubs ? "depstubs" : "deptarget");
		return 0;
	}
	if (!has_product(invocation) && invocation->depfile.length == 0)
		return complain("-MD wants -o OUT, or -MF to name the file that it writes");
	if (!has_product(invocation) && invocation->deptarget.length == 0)
		return complain("-MD wants -o OUT, or -MT to name what depends on the recipe");
	return 0;
}

/* ---- the file ---- */

/* A name as make and ninja read it back. */
static void append_name(struct text_builder *rule, struct text name)
{
	for (size_t i = 0; i < name.length; i++) {
		char byte = name.data[i];

		if (byte == ' ' || byte == '\t') /* backslashes before it would else escape it no more */
			for (size_t j = i; j > 0 && name.data[j - 1] == '\\'; j--)
				text_append_byte(rule, '\\');
		if (byte == ' ' || byte == '\t' || byte == '#' || byte == ':')
			text_append_byte(rule, '\\');
		if (byte == '$')
			text_append_byte(rule, '$');
		text_append_byte(rule, byte);
	}
}

static bool has_line_end(struct text name)
{
	return memchr(name.data, '\n', name.length) != NULL || memchr(name.data, '\r', name.length) != NULL;
}

void depfile_open(struct depfile *depfile, const struct invocation *invocation)
{
	struct arena *arena = invocation->arena;
	struct text target = invocation->deptarget.length > 0 ? invocation->deptarget : invocation->output;

	*depfile = (struct depfile){ .invocation = invocation,
				     .path = invocation->depfile,
				     .rule = text_builder_start(arena),
				     .stubs = text_builder_start(arena) };
	if (depfile->path.length == 0)
		depfile->path = text_format(arena, "%.*s.d", TEXT_ARGUMENT(invocation->output));
	depfile->has_odd_name = has_line_end(target);
	append_name(&depfile->rule, target);
	text_append_byte(&depfile->rule, ':');
	output_open_file(&depfile->output, arena, depfile->path, false);
}

static bool is_known(const struct depfile *depfile, struct text real)
{
	for (size_t i = 0; i < depfile->known_count; i++)
		if (text_equal(depfile->known[i], real))
			return true;
	return false;
}

void depfile_add(struct depfile *depfile, const struct source_set *sources)
{
	for (size_t i = 0; i < sources->count; i++) {
		const struct source_file *file = sources->files[i];

		if (file->real.length == 0 || is_known(depfile, file->real)) /* standard input is no file */
			continue;
		ARENA_RESERVE(depfile->invocation->arena, depfile->known, depfile->known_count,
			      depfile->known_capacity);
		depfile->known[depfile->known_count++] = file->real;
		depfile->has_odd_name = depfile->has_odd_name || has_line_end(file->name);
		text_append_string(&depfile->rule, " \\\n  ");
		append_name(&depfile->rule, file->name);
		if (i == 0 || !depfile->invocation->wants_stubs)
			continue;
		text_append_byte(&depfile->stubs, '\n');
		append_name(&depfile->stubs, file->name);
		text_append_string(&depfile->stubs, ":\n");
	}
}

/* True where the file would take the place of what it lists, or of the product. */
static bool is_taken(const struct depfile *depfile)
{
	struct arena *arena = depfile->invocation->arena;
	struct text real = source_real_path(arena, depfile->path);

	if (has_product(depfile->invocation) &&
	    (text_equal(depfile->path, depfile->invocation->output) ||
	     (real.length > 0 && text_equal(real, source_real_path(arena, depfile->invocation->output)))))
		return true;
	return real.length > 0 && is_known(depfile, real);
}

bool depfile_finish(struct depfile *depfile)
{
	depfile->is_taken = is_taken(depfile);
	text_append_byte(&depfile->rule, '\n');
	output_write(&depfile->output, text_builder_text(&depfile->rule));
	output_write(&depfile->output, text_builder_text(&depfile->stubs));
	return !depfile->has_odd_name && !depfile->is_taken && output_finish(&depfile->output) == 0;
}

void depfile_drop(struct depfile *depfile)
{
	output_drop(&depfile->output);
}

int depfile_commit(struct depfile *depfile)
{
	struct arena *arena = depfile->invocation->arena;

	if (depfile->has_odd_name) {
		struct text shown = utf8_harmless(arena, depfile->path);

		output_drop(&depfile->output);
		return complain("cannot write `%.*s`: a name in it holds a line end", TEXT_ARGUMENT(shown));
	}
	if (depfile->is_taken) {
		output_drop(&depfile->output);
		return complain("--depfile names the recipe itself, or the product");
	}
	return delivery_end(arena, &depfile->output, depfile->path);
}
