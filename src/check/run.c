#include "check/run.h"

#include <stdarg.h>
#include <string.h>

#include "check/allowance.h"
#include "check/checks.h"
#include "check/sequence.h"

typedef void check_function(struct check_run *run);

/* The function of each row, by its id; null for rows that are raised while the source is read. */
static check_function *const functions[CHECK_COUNT] = {
#define FUNCTION_SOURCE(id) NULL
#define FUNCTION_SOLUTION(id) check_##id
#define FUNCTION_PROCESS(id) check_##id
#define FUNCTION_STEP(id) check_##id
#define FUNCTION_ROLL(id) check_##id
#define FUNCTION_DAY(id) check_##id
#define CHECK(id, severity, subject, may_allow, needs, summary) [CHECK_##id] = FUNCTION_##subject(id),
#include "support/checks.def"
#undef CHECK
};

/* What a variant makes of its parent's clause is found at that clause: say for which process it is wrong. */
static void name_variant(struct check_run *run, struct diagnostic *finding)
{
	const struct declared *declared;

	if (run->process == NULL || run->day != NULL || run->process->parent == 0)
		return;
	declared = &run->process->declared;
	if (finding->span.begin >= declared->span.begin &&
	    finding->span.begin < declared->span.begin + declared->span.length)
		return;
	report_note(run->report, finding, declared->name_span, "for the process `%.*s`",
		    TEXT_ARGUMENT(intern_text(run->recipe->names, declared->name)));
}

struct diagnostic *check_add(struct check_run *run, struct span span, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	struct diagnostic *finding = report_add_list(run->report, run->check, span, format, arguments);
	va_end(arguments);
	run->has_spoken[run->check] = true;
	name_variant(run, finding);
	const struct allowance *allowance = allowance_find(run, span);
	if (allowance) {
		*allowance->used = true;
		report_allow(run->report, finding, allowance->reason.text);
	}
	return finding;
}

void check_help(struct check_run *run, struct diagnostic *finding, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	struct text help = text_format_list(run->report->arena, format, arguments);
	va_end(arguments);
	report_help(run->report, finding, "%.*s", TEXT_ARGUMENT(help));
}

void check_fix(struct check_run *run, struct diagnostic *finding, struct span span, struct text text)
{
	report_fix(run->report, finding, FIX_ASKS, span, text);
}

void check_fix_clause(struct check_run *run, struct diagnostic *finding, const struct declared *declared,
		      enum fix_confidence confidence, struct text clause)
{
	const struct fix *fix =
		fix_added_clause(run->report->arena, run->recipe->sources, declared->span, clause, confidence);
	if (fix)
		report_fix(run->report, finding, fix->confidence, fix->span, fix->text);
}

void check_note(struct check_run *run, struct diagnostic *finding, struct span span, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	struct text message = text_format_list(run->report->arena, format, arguments);
	va_end(arguments);
	report_note(run->report, finding, span, "%.*s", TEXT_ARGUMENT(message));
}

/* A row is silent where the row that it needs has spoken or was silent for the same reason. An `allow` of it is then
 * not to be called unused: nobody knows yet whether it covers something. */
static bool is_silenced(struct check_run *run, enum check_id needs, struct span span)
{
	if (needs == CHECK_none || !run->has_spoken[needs])
		return false;
	run->has_spoken[run->check] = true;
	const struct allowance *allowance = allowance_find(run, span);
	if (allowance)
		*allowance->used = true;
	return true;
}

void check_rows(struct check_run *run, enum check_subject subject, struct span span)
{
	memset(run->has_spoken, 0, CHECK_COUNT * sizeof(*run->has_spoken));
	const struct subject_rows *rows = &run->basis->rows[subject];
	for (size_t i = 0; i < rows->count; i++) {
		check_function *function = functions[rows->ids[i]];
		run->check = rows->ids[i];
		if (function != NULL && !is_silenced(run, rows->needs[i], span))
			function(run);
	}
}

/* How many steps back a solution is looked for before its rows run again. A solution that comes back later than that is
 * checked twice, which costs a little time; repeated findings are dropped when the report is sorted. */
#define STEPS_BACK 32

static bool was_just_run(const struct process *process, size_t index)
{
	const struct solution *solution = process->steps[index].solution;
	for (size_t back = 1; back <= STEPS_BACK && back <= index; back++)
		if (process->steps[index - back].solution == solution)
			return true;
	return false;
}

/* The solution of a step and the stocks behind it. A chain longer than there are solutions goes in a circle. */
static void run_solutions_of_step(struct check_run *run, size_t index)
{
	if (was_just_run(run->process, index))
		return;
	const struct solution *solution = run->process->steps[index].solution;
	for (size_t length = 0; solution && length < run->recipe->solution_count; length++) {
		run->step = NULL;
		run->step_index = 0;
		run->solution = solution;
		check_rows(run, SUBJECT_SOLUTION, solution->declared.name_span);
		solution = solution->stock;
	}
}

static void run_step(struct check_run *run, size_t index)
{
	run->step = &run->process->steps[index];
	run->step_index = index;
	run->solution = run->step->solution;
	check_rows(run, SUBJECT_STEP, run->step->name_span);
}

void check_process(struct recipe *recipe, const struct check_basis *basis, const struct process *process,
		   const struct timeline *timeline, const struct used_time *used, const struct conditions *conditions,
		   struct arena *arena)
{
	struct check_run run = {
		.recipe = recipe,
		.basis = basis,
		.process = process,
		.timeline = timeline,
		.used = used,
		.conditions = conditions,
		.report = recipe->report,
		.arena = arena,
		.has_spoken = ARENA_ARRAY(arena, bool, CHECK_COUNT),
	};
	run.is_complete = sequence_is_complete(&run);
	for (size_t i = 0; i < process->step_count; i++)
		run_solutions_of_step(&run, i);
	for (size_t i = 0; i < process->step_count; i++)
		run_step(&run, i);
	run.step = NULL;
	run.step_index = 0;
	run.solution = NULL;
	check_rows(&run, SUBJECT_PROCESS, process->declared.name_span);
}
