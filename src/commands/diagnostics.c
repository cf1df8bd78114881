#include "commands/diagnostics.h"

#include <limits.h>
#include <stdio.h>
#include <unistd.h>

#include "commands/delivery.h"
#include "commands/findings.h"
#include "commands/version.h"
#include "support/limits.h"

bool diagnostics_take_standard_output(const struct invocation *invocation)
{
	return invocation->diagnostics != DIAGNOSTICS_GNU && invocation->command == command_row(COMMAND_check);
}

/* Machine formats, gathered in memory. */
static int write_out(const struct invocation *invocation, struct output *gathered)
{
	struct text text = output_memory(gathered);

	if (!diagnostics_take_standard_output(invocation)) {
		fwrite(text.data, 1, text.length, stderr);
		return 0;
	}
	return delivery_to_standard_output(invocation->arena, text);
}

int diagnostics_print(const struct invocation *invocation, const struct source_set *sources, struct report *report)
{
	struct findings findings = { sources, report };
	struct output output;

	report_sort(report);
	if (report->surplus_count > 0)
		complain("only the first %s findings of a file are kept", limit_words(LIMIT_FINDINGS));
	if (invocation->diagnostics == DIAGNOSTICS_GNU)
		findings_print(invocation, sources, report);
	if (invocation->diagnostics != DIAGNOSTICS_JSON)
		return 0;
	output_open_memory(&output, invocation->arena);
	findings_json_write(&output, invocation->arena, &findings, invocation->max_errors);
	return write_out(invocation, &output);
}

static struct text working_folder(struct arena *arena)
{
	char folder[PATH_MAX];

	return getcwd(folder, sizeof(folder)) == NULL ? TEXT("") : text_copy(arena, text_from(folder));
}

int diagnostics_end(const struct invocation *invocation, const struct findings *files, size_t count, bool is_complete)
{
	struct findings_run run = { .arena = invocation->arena,
				    .version = TEXT(WETSIDE_VERSION),
				    .files = files,
				    .file_count = count,
				    .most = invocation->max_errors,
				    .is_complete = is_complete };
	struct output output;

	if (invocation->diagnostics != DIAGNOSTICS_SARIF)
		return 0;
	run.folder = working_folder(invocation->arena);
	output_open_memory(&output, invocation->arena);
	findings_sarif_write(&output, &run);
	return write_out(invocation, &output);
}
