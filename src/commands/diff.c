/* `wetside diff`: what differs between two recipes, or two processes; also as git calls it, with seven operands. */
#include <stdlib.h>
#include <string.h>

#include "commands/diagnostics.h"
#include "commands/product.h"
#include "support/utf8.h"

/* git's operands: path, old file, its hash and mode, new file, its hash and mode; of a renamed file also the new path
 * and how it was renamed (git(1), GIT_EXTERNAL_DIFF). */
enum git_operand { GIT_PATH, GIT_OLD, GIT_OLD_HASH, GIT_OLD_MODE, GIT_NEW, GIT_NEW_HASH, GIT_NEW_MODE, GIT_NEW_PATH };
#define GIT_OPERANDS 7
#define GIT_OPERANDS_RENAMED 9
#define GIT_NO_FILE "/dev/null"

/* One side of a comparison. */
struct side {
	const struct invocation *invocation;
	struct text wanted; /* a process; empty: all */
	struct compilation compilation;
	struct outline *declarations;
	struct outline processes; /* a loose list */
	struct text_builder names;
};

static void side_init(struct side *side, const struct invocation *invocation, struct text wanted)
{
	*side = (struct side){ .invocation = invocation, .wanted = wanted, .processes.form = OUTLINE_LIST };
	side->processes.key = "processes";
	side->names = text_builder_start(invocation->arena);
}

/* Processes are compared as they are declared, whatever the baths on hand have done. */
static void take_process(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct side *side = data;
	struct arena *arena = side->invocation->arena;
	const struct timeline *declared = timeline_build(compiled->process, NULL, arena);
	struct outline *process = difference_outline(compilation->recipe, compiled->process, declared, arena);

	text_append_format(&side->names, "%s`%.*s`", side->names.length > 0 ? ", " : "", TEXT_ARGUMENT(process->name));
	if (side->wanted.length == 0 || text_equal(side->wanted, process->name))
		outline_attach(&side->processes, process);
}

/* Returns 0, 1 where the recipe has errors, 2 where it could not be read. */
static int side_read(struct side *side, struct text file, struct text beside)
{
	int status = compile_quietly(side->invocation, file, beside, &side->compilation, take_process, side);

	if (status == 0)
		side->declarations = outline_declarations(side->compilation.recipe, side->invocation->arena);
	return status;
}

static const struct outline *process_named(const struct outline *list, struct text name)
{
	const struct outline *process = list->first;

	while (process != NULL && !text_equal(process->name, name))
		process = process->next;
	return process;
}

/* ---- what is compared ---- */

/* Files without processes, such as a shelf of baths, are compared by what they declare. */
static void compare_sides(struct comparison *comparison, const struct side *old, const struct side *new)
{
	struct arena *arena = new->invocation->arena;
	const struct outline *old_process = old->processes.first;
	const struct outline *new_process = new->processes.first;

	if (old->names.length == 0 && new->names.length == 0)
		comparison_add(comparison, arena, old->declarations, new->declarations, false);
	else if (new->invocation->with.length > 0)
		comparison_add(comparison, arena, old_process, new_process, false);
	else
		comparison_add_lists(comparison, arena, &old->processes, &new->processes);
}

static int compare_files(const struct invocation *invocation, struct comparison **comparison, struct side *old,
			 struct side *new)
{
	struct text *files = invocation->operands;
	struct side *sides[] = { old, new };
	int worst = 0;

	if (text_equal(files[0], TEXT("-")) && text_equal(files[1], TEXT("-")))
		return complain("standard input can be one of the two files only");
	side_init(old, invocation, invocation->process);
	side_init(new, invocation, invocation->with.length > 0 ? invocation->with : invocation->process);
	for (int i = 0; i < 2; i++) {
		int status = side_read(sides[i], files[i], TEXT(""));

		if (status == 1)
			diagnostics_print(invocation, &sides[i]->compilation.sources, &sides[i]->compilation.report);
		worst = status != 0 ? 2 : worst;
	}
	if (worst != 0)
		return worst;
	for (int i = 0; i < 2; i++) {
		bool may_lack = invocation->with.length == 0 && sides[1 - i]->processes.first != NULL;

		if (sides[i]->wanted.length > 0 && sides[i]->processes.first == NULL && !may_lack)
			return product_complain_of_name(invocation, sides[i]->wanted,
							text_builder_text(&sides[i]->names));
	}
	*comparison = comparison_create(invocation->arena);
	compare_sides(*comparison, old, new);
	return 0;
}

/* Two processes of one file: the one that is varied and its variant, or any two. */
static int compare_within(const struct invocation *invocation, struct comparison **comparison, struct side *side)
{
	const struct outline *named;
	const struct outline *other;
	struct text other_name = invocation->with;
	int status;

	if (invocation->process.length == 0)
		return complain("diff wants OLD and NEW, or one FILE and --process; see `wetside diff --help`");
	side_init(side, invocation, TEXT(""));
	status = side_read(side, invocation->operands[0], TEXT(""));
	if (status == 1)
		diagnostics_print(invocation, &side->compilation.sources, &side->compilation.report);
	if (status != 0)
		return 2;
	named = process_named(&side->processes, invocation->process);
	if (named == NULL)
		return product_complain_of_name(invocation, invocation->process, text_builder_text(&side->names));
	if (other_name.length == 0)
		other_name = outline_child(named, "varies")->text;
	if (other_name.length == 0)
		return complain("`%.*s` varies no other process; name one with --with",
				TEXT_ARGUMENT(utf8_harmless(invocation->arena, named->name)));
	other = process_named(&side->processes, other_name);
	if (other == NULL)
		return product_complain_of_name(invocation, other_name, text_builder_text(&side->names));
	*comparison = comparison_create(invocation->arena);
	if (invocation->with.length > 0)
		comparison_add(*comparison, invocation->arena, named, other, false);
	else
		comparison_add(*comparison, invocation->arena, other, named, false);
	return 0;
}

static void emit(const struct invocation *invocation, const struct emitter_row *emitter,
		 const struct comparison *comparison, struct output *output)
{
	struct emission emission = { .arena = invocation->arena, .comparison = comparison };

	emitter->emit(&emission, output);
}

/* ---- for git ---- */

/* Why one side cannot be compared: the first error, in one line. */
static void say_why_not(const struct invocation *invocation, const struct side *side, const char *which,
			struct output *output)
{
	struct report report = side->compilation.report;

	report_sort(&report);
	for (size_t i = 0; i < report.count; i++) {
		const struct diagnostic *finding = &report.items[i];
		struct text message = utf8_harmless(invocation->arena, finding->message);
		size_t line = source_locate(&side->compilation.sources, finding->span.begin).line;

		if (finding->severity != SEVERITY_ERROR || finding->allowed.data != NULL)
			continue;
		output_format(output, "  the %s text does not compile: line %zu: ", which, line);
		output_write(output, message);
		output_string(output, "\n");
		return;
	}
}

static int read_git_side(struct side *side, struct text file, struct text path, const char *which,
			 struct output *output)
{
	int status;

	if (text_equal(file, TEXT(GIT_NO_FILE)))
		return 0;
	status = side_read(side, file, path);
	if (status == 1)
		say_why_not(side->invocation, side, which, output);
	if (status == 2)
		output_format(output, "  the %s text cannot be read\n", which);
	return status;
}

/* git stops at any other status than 0, so that whatever can be said is said in the output. */
static int diff_for_git(const struct invocation *invocation, const struct emitter_row *emitter)
{
	struct text *operands = invocation->operands;
	bool is_renamed = invocation->operand_count == GIT_OPERANDS_RENAMED;
	struct text new_path = operands[is_renamed ? GIT_NEW_PATH : GIT_PATH];
	struct comparison *comparison = comparison_create(invocation->arena);
	struct output output;
	struct side old;
	struct side new;
	int old_status;
	int new_status;

	output_open_memory(&output, invocation->arena);
	side_init(&old, invocation, TEXT(""));
	side_init(&new, invocation, TEXT(""));
	output_write(&output, utf8_harmless(invocation->arena, new_path));
	output_string(&output, "\n");
	old_status = read_git_side(&old, operands[GIT_OLD], operands[GIT_PATH], "old", &output);
	new_status = read_git_side(&new, operands[GIT_NEW], new_path, "new", &output);
	if (old_status != 0 || new_status != 0) {
		output_string(&output, "  `git diff --no-ext-diff` shows the lines\n");
	} else {
		compare_sides(comparison, &old, &new);
		emit(invocation, emitter, comparison, &output);
		if (!comparison_differs(comparison) && comparison->counts[OUTLINE_WORDING] == 0)
			output_string(&output, "  nothing that changes a run\n");
	}
	return product_write(invocation, emitter, &output);
}

/* Of a file that is not merged yet git tells nothing but its path. */
static int tell_unmerged(const struct invocation *invocation, const struct emitter_row *emitter)
{
	struct output output;

	output_open_memory(&output, invocation->arena);
	output_write(&output, utf8_harmless(invocation->arena, invocation->operands[0]));
	output_string(&output, "\n  not merged yet\n");
	return product_write(invocation, emitter, &output);
}

/* git counts the files that it hands over. */
static bool is_for_git(const struct invocation *invocation)
{
	size_t count = invocation->operand_count;

	return count == GIT_OPERANDS || count == GIT_OPERANDS_RENAMED ||
	       (count == 1 && invocation->process.length == 0 && getenv("GIT_DIFF_PATH_COUNTER") != NULL);
}

/* ---- the command ---- */

static int compare(const struct invocation *invocation, struct comparison **comparison, bool *is_source)
{
	struct side old;
	struct side new;
	int status;

	if (invocation->operand_count == 1) {
		status = compare_within(invocation, comparison, &new);
		*is_source = status == 0 && product_is_source(invocation, &new.compilation.sources);
		return status;
	}
	status = compare_files(invocation, comparison, &old, &new);
	*is_source = status == 0 && (product_is_source(invocation, &old.compilation.sources) ||
				     product_is_source(invocation, &new.compilation.sources));
	return status;
}

int command_diff(const struct invocation *invocation)
{
	const struct emitter_row *emitter = product_emitter(invocation);
	struct comparison *comparison = NULL;
	struct output output;
	bool is_source = false;
	size_t count = invocation->operand_count;
	int status;

	if (emitter == NULL)
		return 2;
	if (invocation->with.length > 0 && invocation->process.length == 0)
		return complain("--with wants --process beside it: which process is compared?");
	if (is_for_git(invocation)) {
		if (emitter != emitter_row(EMITTER_diff_text) || invocation->process.length > 0)
			return complain("an external diff of git is text, and of all processes");
		return count == 1 ? tell_unmerged(invocation, emitter) : diff_for_git(invocation, emitter);
	}
	if (count != 1 && count != 2)
		return complain("diff wants OLD and NEW, or one FILE and --process; see `wetside diff --help`");
	status = compare(invocation, &comparison, &is_source);
	if (status != 0) {
		product_warn_of_old(invocation);
		return status;
	}
	if (is_source)
		return complain("--output names one of the recipes");
	output_open_memory(&output, invocation->arena);
	emit(invocation, emitter, comparison, &output);
	status = product_write(invocation, emitter, &output);
	return status != 0 ? status : comparison_differs(comparison);
}
