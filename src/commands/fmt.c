/* `wetside fmt`: recipes in their canonical form, in place or as a difference. */
#include <string.h>

#include "commands/compile.h"
#include "commands/findings.h"
#include "emit/source/canonical.h"
#include "support/line_diff.h"
#include "support/output.h"
#include "support/utf8.h"

static int write_output(const struct invocation *invocation, struct output *output, struct text name)
{
	int error = output_commit(output);

	output_drop(output);
	if (error == 0)
		return 0;
	name = utf8_harmless(invocation->arena, name);
	return complain("cannot write `%.*s`: %s", TEXT_ARGUMENT(name), strerror(error));
}

static int write_standard(const struct invocation *invocation, struct text text)
{
	struct output output;

	output_open_standard(&output, invocation->arena);
	output_write(&output, text);
	return write_output(invocation, &output, TEXT("standard output"));
}

static int write_file(const struct invocation *invocation, struct text path, struct text text)
{
	struct output output;

	output_open_file(&output, invocation->arena, path, false);
	output_write(&output, text);
	return write_output(invocation, &output, path);
}

/* What was asked for of a file and its canonical form. A file that has it already is not touched. */
static int deliver(const struct invocation *invocation, struct text operand, const struct source_file *file,
		   struct text form)
{
	struct text old = source_original(file);
	struct output report;
	int status;

	if (invocation->checks || invocation->shows_difference) {
		if (text_equal(old, form))
			return 0;
		output_open_memory(&report, invocation->arena);
		if (invocation->shows_difference) {
			output_write(&report, line_diff(invocation->arena, file->name, file->name, old, form));
		} else {
			output_write(&report, file->name);
			output_string(&report, "\n");
		}
		status = write_standard(invocation, output_memory(&report));
		return status == 0 ? 1 : status;
	}
	if (text_equal(operand, TEXT("-")))
		return write_standard(invocation, form);
	return text_equal(old, form) ? 0 : write_file(invocation, operand, form);
}

static int format_file(const struct invocation *invocation, struct text operand)
{
	struct source_set sources;
	struct report report;
	struct source_file *file;
	struct text problem;
	struct text form;

	source_set_init(&sources, invocation->arena);
	report_init(&report, invocation->arena);
	file = read_operand(invocation, operand, &sources, &problem);
	if (file == NULL) {
		operand = utf8_harmless(invocation->arena, operand);
		return complain("cannot read `%.*s`: %.*s", TEXT_ARGUMENT(operand), TEXT_ARGUMENT(problem));
	}
	form = canonical_form(&sources, file, invocation->arena, &report);
	if (form.data == NULL) {
		findings_print(invocation, &sources, &report);
		return 2;
	}
	return deliver(invocation, operand, file, form);
}

int command_fmt(const struct invocation *invocation)
{
	int worst = 0;

	if (invocation->operand_count == 0)
		return complain("fmt wants a FILE; see `wetside fmt --help`");
	if (invocation->checks && invocation->shows_difference)
		return complain("--check lists files and --diff shows what would change: give one of them");
	for (size_t i = 0; i < invocation->operand_count; i++) {
		int status = format_file(invocation, invocation->operands[i]);

		if (status > worst)
			worst = status;
	}
	return worst;
}
