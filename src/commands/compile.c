/* From a file on the command line to checked processes. */
#include "commands/compile.h"

#include <stdint.h>

#include "check/run.h"
#include "commands/days.h"
#include "commands/diagnostics.h"
#include "model/date.h"
#include "model/fingerprint.h"
#include "model/soundness.h"
#include "support/utf8.h"

struct source_file *read_operand(const struct invocation *invocation, struct text file, struct source_set *sources,
				 struct text *problem)
{
	struct text name = invocation->stdin_name.length > 0 ? invocation->stdin_name : TEXT("<stdin>");

	if (text_equal(file, TEXT("-")))
		return source_read_standard_input(sources, name, problem);
	return source_read(sources, file, file, problem);
}

/* The conditions of a run concern the process that was asked for; `check` without one asks for all. */
static const struct conditions *conditions_of(const struct compilation *compilation, const struct process *process)
{
	static const struct conditions none = { 0 };
	const struct invocation *invocation = compilation->invocation;
	struct text name = intern_text(compilation->recipe->names, process->declared.name);

	if (invocation->process.length == 0 || text_equal(invocation->process, name))
		return invocation->conditions;
	return &none;
}

static void compile_one(struct compilation *compilation, struct process *process, const struct check_basis *basis,
			struct arena *scratch, compile_visitor *visit, void *data)
{
	const struct conditions *conditions = conditions_of(compilation, process);
	struct compiled compiled = { .process = process,
				     .conditions = conditions,
				     .scratch = scratch,
				     .first_finding = compilation->report.count };

	/* Of the recipe, before the conditions of a run change anything; where all is judged first, not yet then. */
	if (visit != NULL && !(basis != NULL && compilation->invocation->wants_each))
		process->fingerprint = fingerprint_of(compilation->recipe, process, scratch);
	conditions_apply(conditions, process);
	compiled.used = used_times(compilation->recipe, process, conditions, &compilation->report, scratch);
	compiled.timeline = timeline_build(process, compiled.used, scratch);
	if (basis != NULL)
		check_process(compilation->recipe, basis, process, compiled.timeline, compiled.used, conditions,
			      scratch);
	if (visit != NULL)
		visit(compilation, &compiled, data);
}

struct compile_part {
	struct compilation *compilation;
	size_t index;
	const struct check_basis *basis; /* null: nothing is checked */
	compile_visitor *visit;
	void *data;
};

static void compile_process(struct arena *scratch, void *data)
{
	struct compile_part *part = data;
	struct recipe *recipe = part->compilation->recipe;
	bool is_own = part->index < recipe_process_count(recipe); /* else one of a used file, that a day runs */
	struct process *process = process_resolve(recipe, part->index, scratch);

	if (process != NULL && process_is_sound(recipe, process))
		compile_one(part->compilation, process, part->basis, scratch, is_own ? part->visit : NULL, part->data);
}

/* One process after the other: each is resolved, checked and dropped before the next, so that memory follows the
 * largest process and not their number. */
static void compile_processes(struct compilation *compilation, const struct check_basis *basis, compile_visitor *visit,
			      void *data)
{
	struct compile_part part = { compilation, compilation->first, basis, visit, data };
	size_t count = recipe_run_count(compilation->recipe);

	for (; part.index < count && part.index < compilation->past; part.index++)
		arena_with_scratch(compilation->invocation->arena, compile_process, &part);
}

/* Whether the product is one of this day. */
static bool is_day_wanted(const struct compilation *compilation, const struct day *day)
{
	const struct invocation *invocation = compilation->invocation;
	bool is_of_day = invocation->command == command_row(COMMAND_plan) ||
			 invocation->command == command_row(COMMAND_lists) || days_is_of_load(invocation);

	if (invocation->day.length > 0)
		return is_of_day && day->date == date_days(invocation->day);
	return is_of_day && compilation->recipe->day_count == 1;
}

/* The plan of the day whose product is wanted is kept for it. */
static void check_one_day(struct arena *scratch, void *data)
{
	const struct compile_part *part = data;
	struct compilation *compilation = part->compilation;
	const struct day *day = compilation->recipe->days[part->index];

	if (is_day_wanted(compilation, day))
		compilation->plan =
			check_day(compilation->recipe, part->basis, day, scratch, compilation->invocation->arena);
	else
		check_day(compilation->recipe, part->basis, day, scratch, scratch);
}

/* Days are judged after the processes, whose mistakes are known then. */
static void check_days(struct compilation *compilation, const struct check_basis *basis, struct arena *arena)
{
	struct recipe *recipe = compilation->recipe;
	struct compile_part part = { .compilation = compilation, .basis = basis };

	for (; part.index < recipe->day_count; part.index++)
		if (recipe->days[part.index]->declared.is_in_main_file)
			arena_with_scratch(arena, check_one_day, &part);
}

static void start(const struct invocation *invocation, struct compilation *compilation)
{
	compilation->invocation = invocation;
	source_set_init(&compilation->sources, invocation->arena);
	compilation->sources.open = invocation->open_texts;
	report_init(&compilation->report, invocation->arena);
	compilation->path = (struct search_path){ invocation->folders, invocation->folder_count };
	compilation->first = 0;
	compilation->past = SIZE_MAX;
	compilation->plan = NULL;
}

static void compile_source(struct compilation *compilation, struct source_file *source, compile_visitor *visit,
			   void *data)
{
	struct arena *arena = compilation->invocation->arena;
	const struct check_basis *basis;

	compilation->recipe =
		recipe_load(&compilation->sources, source, &compilation->path, arena, &compilation->report);
	basis = check_basis_of(compilation->recipe);
	compile_processes(compilation, basis, visit, data);
	check_days(compilation, basis, arena);
	if (compilation->report.errors == 0)
		check_leftovers(compilation->recipe);
}

int compile_quietly(const struct invocation *invocation, struct text file, struct text beside,
		    struct compilation *compilation, compile_visitor *visit, void *data)
{
	struct source_file *source;
	struct text problem;

	start(invocation, compilation);
	source = read_operand(invocation, file, &compilation->sources, &problem);
	if (source == NULL) {
		struct text shown = utf8_harmless(invocation->arena, file);

		return complain("cannot read `%.*s`: %.*s", TEXT_ARGUMENT(shown), TEXT_ARGUMENT(problem));
	}
	if (beside.length > 0)
		source_lie_beside(&compilation->sources, source, beside);
	compile_source(compilation, source, visit, data);
	return compilation->report.errors > 0;
}

void compile_text_for(const struct invocation *invocation, const struct source_file *as, struct text content,
		      struct compilation *compilation, compile_visitor *visit, void *data)
{
	struct source_file *source;
	struct text problem;

	start(invocation, compilation);
	source = source_add(&compilation->sources, as->name, content, &problem);
	if (source == NULL) /* more than can be read: as little as if memory had ended */
		longjmp(invocation->arena->landing->place, 1);
	source->real = as->real;
	source->directory = as->directory;
	compile_source(compilation, source, visit, data);
}

void compile_text(const struct invocation *invocation, const struct source_file *as, struct text content,
		  struct compilation *compilation)
{
	compile_text_for(invocation, as, content, compilation, NULL, NULL);
}

void compile_again(struct compilation *compilation, compile_visitor *visit, void *data)
{
	compile_processes(compilation, NULL, visit, data);
}

int compile_status(const struct compilation *compilation)
{
	const struct report *report = &compilation->report;

	return report->errors > 0 || (compilation->invocation->denies_warnings && report->warnings > 0);
}

int compile_file(const struct invocation *invocation, struct text file, struct compilation *compilation,
		 compile_visitor *visit, void *data)
{
	int status = compile_quietly(invocation, file, TEXT(""), compilation, visit, data);

	if (status == 2)
		return status;
	status = diagnostics_print(invocation, &compilation->sources, &compilation->report);
	return status != 0 ? status : compile_status(compilation);
}

int compile_operand(const struct invocation *invocation, struct compilation *compilation, compile_visitor *visit,
		    void *data)
{
	struct findings findings = { &compilation->sources, &compilation->report };
	int status = compile_file(invocation, invocation->operands[0], compilation, visit, data);
	int written = diagnostics_end(invocation, &findings, status < 2 ? 1 : 0, status < 2);

	return written > status ? written : status;
}
