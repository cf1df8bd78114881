/* From a file on the command line to checked processes. */
#include "commands/compile.h"

#include "check/run.h"
#include "commands/findings.h"
#include "model/soundness.h"
#include "support/utf8.h"

static struct source_file *read_main(const struct invocation *invocation, struct text file, struct source_set *sources,
				     struct text *problem)
{
	struct text name = invocation->stdin_name.length > 0 ? invocation->stdin_name : TEXT("<stdin>");

	if (text_equal(file, TEXT("-")))
		return source_read_standard_input(sources, name, problem);
	return source_read(sources, file, file, problem);
}

/* One process after the other: each is resolved, checked and dropped before the next, so that memory follows the
 * largest process and not their number. */
static void check_processes(struct compilation *compilation, struct arena *arena, compile_visitor *visit, void *data)
{
	struct recipe *recipe = compilation->recipe;
	struct arena scratch;

	arena_init(&scratch, arena->landing);
	for (size_t i = 0; i < recipe_process_count(recipe); i++) {
		struct landing here;
		struct process *process;

		scratch.landing = &here;
		if (setjmp(here.place) != 0) {
			arena_release(&scratch);
			longjmp(arena->landing->place, 1);
		}
		process = process_resolve(recipe, i, &scratch);
		if (process != NULL && process_is_sound(recipe, process)) {
			const struct timeline *timeline = timeline_build(process, &scratch);

			check_process(recipe, process, timeline, &scratch);
			if (visit != NULL)
				visit(compilation, process, timeline, data);
		}
		scratch.landing = arena->landing;
		arena_release(&scratch);
	}
}

int compile_file(const struct invocation *invocation, struct text file, struct compilation *compilation,
		 compile_visitor *visit, void *data)
{
	struct arena *arena = invocation->arena;
	struct source_file *source;
	struct text problem;

	source_set_init(&compilation->sources, arena);
	report_init(&compilation->report, arena);
	compilation->path = (struct search_path){ invocation->folders, invocation->folder_count };
	source = read_main(invocation, file, &compilation->sources, &problem);
	if (source == NULL) {
		struct text shown = utf8_harmless(arena, file);

		return complain("cannot read `%.*s`: %.*s", TEXT_ARGUMENT(shown), TEXT_ARGUMENT(problem));
	}
	compilation->recipe =
		recipe_load(&compilation->sources, source, &compilation->path, arena, &compilation->report);
	check_processes(compilation, arena, visit, data);
	if (compilation->report.errors == 0)
		check_leftovers(compilation->recipe);
	findings_print(invocation, &compilation->sources, &compilation->report);
	if (compilation->report.errors > 0 || (invocation->denies_warnings && compilation->report.warnings > 0))
		return 1;
	return 0;
}
