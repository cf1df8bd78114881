/* `wetside fmt`: recipes in their canonical form, in place or as a difference. */
#include "commands/compile.h"
#include "commands/delivery.h"
#include "commands/findings.h"
#include "emit/source/canonical.h"
#include "support/line_diff.h"
#include "support/utf8.h"

/* What was asked for of a file and its canonical form. A file that has it already is not touched. */
static int deliver(const struct invocation *invocation, struct text operand, const struct source_file *file,
		   struct text form)
{
	struct arena *arena = invocation->arena;
	struct text old = source_original(file);
	struct text shown;
	int status;

	if (invocation->checks || invocation->shows_difference) {
		if (text_equal(old, form))
			return 0;
		shown = invocation->shows_difference ? line_diff(arena, file->name, file->name, old, form)
						     : text_format(arena, "%.*s\n", TEXT_ARGUMENT(file->name));
		status = delivery_to_standard_output(arena, shown);
		return status == 0 ? 1 : status;
	}
	if (text_equal(operand, TEXT("-")))
		return delivery_to_standard_output(arena, form);
	return text_equal(old, form) ? 0 : delivery_to_file(arena, operand, form, false);
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
