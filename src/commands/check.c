/* `wetside check`: findings only, and with --fix what of them can be put right. */
#include "commands/compile.h"
#include "commands/depfile.h"
#include "commands/diagnostics.h"
#include "commands/findings.h"
#include "commands/jobs.h"
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

struct checking {
	const struct invocation *invocation;
	struct compilation *compilations;
};

static int check_piece(size_t index, void *data)
{
	const struct checking *checking = data;

	return check_one(checking->invocation, checking->invocation->operands[index], &checking->compilations[index]);
}

static struct text subject_of_piece(size_t index, void *data)
{
	return ((const struct checking *)data)->invocation->operands[index];
}

/* What is said of each file is said by its child. */
static int check_at_a_time(const struct invocation *invocation)
{
	struct invocation settled = *invocation;
	struct checking checking = { &settled,
				     ARENA_ARRAY(invocation->arena, struct compilation, invocation->operand_count) };
	struct jobs jobs = { check_piece, subject_of_piece, &checking, invocation->operand_count };

	settled.color = findings_wants_color(invocation) ? COLOR_ALWAYS : COLOR_NEVER; /* a child speaks into a pipe */
	return jobs_run(&settled, &jobs);
}

/* False where the files are not independent: one document holds all findings, one rule all sources, fixes may meet in a
 * used file, standard input is read once. */
static bool may_be_divided(const struct invocation *invocation)
{
	size_t count = 0;

	for (size_t i = 0; i < invocation->operand_count; i++)
		count += text_equal(invocation->operands[i], TEXT("-"));
	return invocation->jobs > 1 && count < 2 && invocation->diagnostics != DIAGNOSTICS_SARIF &&
	       !invocation->fixes && !depfile_is_wanted(invocation);
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
	return may_be_divided(invocation) ? check_at_a_time(invocation) : check_all(invocation);
}
