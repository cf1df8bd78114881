/* `--each`: all is compiled and judged first; the products are made after that, one process at a time. */
#include "commands/each.h"

#include <string.h>

#include "commands/delivery.h"
#include "commands/depfile.h"
#include "commands/file_names.h"
#include "commands/jobs.h"
#include "commands/kept.h"
#include "commands/product.h"
#include "emit/page/page.h"
#include "support/utf8.h"

/* Pieces of work for each child: one that has the longer processes does not keep the others waiting. */
#define PIECES_EACH 8

struct each {
	const struct invocation *invocation;
	const struct emitter_row *emitter;
	const struct speaker *speaker;
	struct compilation compilation;
	struct kept kept;
	struct page_memory pages;
	size_t pieces;
	int status;
};

static int complain_of_options(const struct invocation *invocation)
{
	if (invocation->process.length > 0)
		return complain("--each is for all processes; it takes no --process");
	if (invocation->load > 0 || invocation->day.length > 0)
		return complain("--each is for processes; it takes no --day and no --load");
	if (depfile_is_wanted(invocation))
		return complain("--each writes many files; it takes no --depend");
	if (invocation->output.length == 0 || text_equal(invocation->output, TEXT("-")))
		return complain("--each wants a folder: --output=FOLDER");
	return 0;
}

static void keep_findings(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct each *each = data;

	kept_add(&each->kept, compilation, compiled);
}

static struct text path_of(const struct each *each, const struct process *process, struct arena *arena)
{
	struct text folder = each->invocation->output;
	struct text name = intern_text(each->compilation.recipe->names, process->declared.name);

	return text_format(arena, "%.*s%s%.*s%.*s", TEXT_ARGUMENT(folder),
			   folder.data[folder.length - 1] == '/' ? "" : "/", TEXT_ARGUMENT(name),
			   TEXT_ARGUMENT(each->emitter->extension));
}

static int write_product(struct each *each, const struct compiled *compiled, struct output *output)
{
	struct arena *scratch = compiled->scratch;
	struct invocation invocation = *each->invocation;
	struct report own = kept_report(&each->kept, &each->compilation, compiled->process);
	struct emission emission;

	invocation.arena = scratch;
	invocation.output = path_of(each, compiled->process, scratch);
	if (product_is_source(&invocation, &each->compilation.sources))
		return complain("--output names the recipe itself");
	emission = product_emission(&invocation, &each->compilation, compiled, each->speaker);
	emission.report = &own;
	emission.pages = &each->pages;
	output_open_file(output, scratch, invocation.output, each->emitter->is_executable);
	output_release(output);
	each->emitter->emit(&emission, output);
	return delivery_end(scratch, output, invocation.output);
}

/* The first file that cannot be written is the last. Where memory runs out, the file that was begun goes. */
static void make_product(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct each *each = data;
	struct arena *scratch = compiled->scratch;
	struct landing *outer = scratch->landing;
	struct output output = { .descriptor = -1 };
	struct landing here;

	(void)compilation;
	if (each->status != 0)
		return;
	scratch->landing = &here;
	if (setjmp(here.place) != 0) {
		output_drop(&output);
		scratch->landing = outer;
		longjmp(outer->place, 1);
	}
	each->status = write_product(each, compiled, &output);
	scratch->landing = outer;
}

static int write_piece(size_t index, void *data)
{
	struct each *each = data;
	size_t count = recipe_process_count(each->compilation.recipe);

	each->compilation.first = index * count / each->pieces;
	each->compilation.past = (index + 1) * count / each->pieces;
	compile_again(&each->compilation, make_product, each);
	return each->status;
}

static struct text subject_of_piece(size_t index, void *data)
{
	(void)index;
	return ((struct each *)data)->invocation->operands[0];
}

static int write_all(struct each *each)
{
	const struct invocation *invocation = each->invocation;
	int error = output_make_folder(invocation->arena, invocation->output);
	struct text shown = utf8_harmless(invocation->arena, invocation->output);
	struct jobs jobs = { write_piece, subject_of_piece, each, 1 };

	if (error != 0)
		return complain("cannot make the folder `%.*s`: %s", TEXT_ARGUMENT(shown), strerror(error));
	/* A voice has threads of its own, which a child does not get. */
	if (invocation->jobs > 1 && each->speaker == NULL)
		jobs.count = invocation->jobs * PIECES_EACH;
	each->pieces = jobs.count;
	return jobs_run(invocation, &jobs);
}

static int complain_of_names(const struct each *each)
{
	struct arena *arena = each->invocation->arena;
	struct text *items = ARENA_ARRAY(arena, struct text, each->kept.count);
	struct file_names names = { items, each->kept.count, each->emitter->extension };

	for (size_t i = 0; i < each->kept.count; i++)
		items[i] = intern_text(each->compilation.recipe->names, each->kept.processes[i].process);
	return file_names_complain(arena, &names);
}

int each_run(const struct invocation *invocation, const struct speaker *speaker)
{
	struct each each = { .invocation = invocation,
			     .emitter = product_begin(invocation),
			     .speaker = speaker,
			     .kept = { .arena = invocation->arena },
			     .pages = { .arena = invocation->arena } };
	int status;

	if (each.emitter == NULL || complain_of_options(invocation) != 0)
		return 2;
	status = compile_operand(invocation, &each.compilation, keep_findings, &each);
	if (status == 0 && each.kept.count == 0) {
		complain("the file declares no process, so there is nothing to write");
		status = 1;
	}
	if (status == 0)
		status = complain_of_names(&each);
	if (status == 0)
		return write_all(&each);
	product_warn_of_old(invocation);
	return status;
}
