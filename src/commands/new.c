/* `wetside new NAME`: a recipe to start from. */
#include <string.h>
#include <sys/stat.h>

#include "commands/compile.h"
#include "commands/delivery.h"
#include "embedded/starter_wet.h"
#include "support/utf8.h"

/* Stands in the starter where the name goes. */
#define NAME_MARK "@@"

static struct text starter_for(struct arena *arena, struct text name)
{
	struct text_builder text = text_builder_start(arena);
	const char *at = starter_wet;

	for (const char *mark = strstr(at, NAME_MARK); mark != NULL; mark = strstr(at, NAME_MARK)) {
		text_append(&text, (struct text){ at, (size_t)(mark - at) });
		text_append(&text, name);
		at = mark + strlen(NAME_MARK);
	}
	text_append_string(&text, at);
	return text_builder_text(&text);
}

static bool is_letter_or_digit(char byte)
{
	return (byte >= 'a' && byte <= 'z') || (byte >= 'A' && byte <= 'Z') || (byte >= '0' && byte <= '9');
}

/* What is a name beyond ASCII the language itself knows: a starter with it has no findings. */
static bool is_name(const struct invocation *invocation, struct text name, struct text starter)
{
	struct source_file as = { .name = TEXT("starter.wet"), .directory = TEXT("."), .real = TEXT("") };
	struct compilation compilation;

	for (size_t i = 0; i < name.length; i++)
		if ((unsigned char)name.data[i] < 0x80 && !is_letter_or_digit(name.data[i]) && name.data[i] != '-')
			return false;
	compile_text(invocation, &as, starter, &compilation);
	return name.length > 0 && compilation.report.count == 0;
}

static int write_file(const struct invocation *invocation, struct text path, struct text starter)
{
	struct text shown = utf8_harmless(invocation->arena, path);
	struct stat status;

	if (lstat(text_copy(invocation->arena, path).data, &status) == 0)
		return complain("`%.*s` is there already, and is left as it is; -o names another file",
				TEXT_ARGUMENT(shown));
	return delivery_to_file(invocation->arena, path, starter, false);
}

int command_new(const struct invocation *invocation)
{
	struct text name;
	struct text starter;

	if (invocation->operand_count != 1)
		return complain("new wants one NAME; see `wetside new --help`");
	name = invocation->operands[0];
	starter = starter_for(invocation->arena, name);
	if (!is_name(invocation, name, starter))
		return complain("`%.*s` is not a name: it begins with a letter and goes on with letters, digits and "
				"single hyphens",
				TEXT_ARGUMENT(utf8_harmless(invocation->arena, name)));
	if (text_equal(invocation->output, TEXT("-")))
		return delivery_to_standard_output(invocation->arena, starter);
	return write_file(invocation,
			  invocation->output.length > 0
				  ? invocation->output
				  : text_format(invocation->arena, "%.*s.wet", TEXT_ARGUMENT(name)),
			  starter);
}
