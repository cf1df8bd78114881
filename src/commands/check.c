/* `wetside check`: findings only, and with --fix what of them can be put right. */
#include "commands/compile.h"
#include "commands/depfile.h"
#include "commands/diagnostics.h"
#include "commands/mend.h"

static int check_one(const struct invocation *invocation, struct text file, struct compilation *compilation)
{
	if (invocation->fixes)
		return mend_file(invocation, file, compilation);
	return compile_file(invocation, file, compilation, NULL, NULL);
}

static int worse(int a, int b)
{
	return a > b ? a : b;
}

static int check_all(const struct invocation *invocation)
{
	size_t count = invocation->operand_count;
	struct compilation *compilations = ARENA_ARRAY(invocation->arena, struct compilation, count);
	struct findings *files = ARENA_ARRAY(invocation->arena, struct findings, count);
	size_t read = 0;
	int worst = 0;

	for (size_t i = 0; i < count; i++) {
		struct compilation *compilation = &compilations[read];
		int status = check_one(invocation, invocation->operands[i], compilation);

		if (status < 2)
			files[read++] = (struct findings){ &compilation->sources, &compilation->report };
		worst = worse(worst, status);
	}
	worst = worse(worst, diagnostics_end(invocation, files, read, read == count));
	if (worst == 0 && depfile_is_wanted(invocation)) {
		struct depfile depfile;

		depfile_open(&depfile, invocation);
		for (size_t i = 0; i < read; i++)
			depfile_add(&depfile, &compilations[i].sources);
		depfile_finish(&depfile);
		worst = depfile_commit(&depfile);
	}
	return worst;
}

int command_check(const struct invocation *invocation)
{
	if (invocation->operand_count == 0)
		return complain("check wants a FILE; see `wetside check --help`");
	if (invocation->shows_difference && !invocation->fixes)
		return complain("--diff wants --fix beside it");
	if (invocation->shows_difference && diagnostics_take_standard_output(invocation))
		return complain("--diff and --diagnostics both want standard output");
	if (depfile_complain(invocation) != 0)
		return 2;
	return check_all(invocation);
}
