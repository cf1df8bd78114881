/* `wetside model`: everything a recipe declares, resolved. */
#include "commands/product.h"

struct modelling {
	const struct invocation *invocation;
	struct outline processes; /* a loose list of those to be written */
	struct text_builder names;
};

/* A process is dropped when the next one is resolved; its outline stays. */
static void take_process(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct modelling *modelling = data;
	const struct invocation *invocation = modelling->invocation;
	struct outline *process = outline_process(compilation->recipe, compiled->process, invocation->arena);

	text_append_format(&modelling->names, "%s`%.*s`", modelling->names.length > 0 ? ", " : "",
			   TEXT_ARGUMENT(process->name));
	if (invocation->process.length == 0 || text_equal(invocation->process, process->name))
		outline_attach(&modelling->processes, process);
}

static bool is_missing(const struct modelling *modelling)
{
	return modelling->invocation->process.length > 0 && modelling->processes.first == NULL;
}

static struct outline *model_of(const struct modelling *modelling, const struct recipe *recipe)
{
	struct outline *model = outline_declarations(recipe, modelling->invocation->arena);
	struct outline *list = outline_child(model, "processes");

	list->first = modelling->processes.first;
	list->last = modelling->processes.last;
	return model;
}

static int write_model(const struct modelling *modelling, const struct emitter_row *emitter,
		       const struct compilation *compilation, int status)
{
	const struct invocation *invocation = modelling->invocation;
	struct emission emission = { .arena = invocation->arena, .recipe = compilation->recipe };
	const struct source_file *file = compilation->sources.files[0];
	struct output output;

	if (status == 0)
		emission.model = model_of(modelling, compilation->recipe);
	else
		emission.written = (struct text){ file->bytes, file->length };
	output_open_memory(&output, invocation->arena);
	emitter->emit(&emission, &output);
	return product_write(invocation, emitter, &output);
}

int command_model(const struct invocation *invocation)
{
	struct compilation compilation;
	struct modelling modelling = { .invocation = invocation, .processes.form = OUTLINE_LIST };
	const struct emitter_row *emitter = product_emitter(invocation);
	int status;

	if (emitter == NULL)
		return 2;
	if (invocation->operand_count != 1)
		return complain("model wants one FILE; see `wetside model --help`");
	if (invocation->is_forgiving && emitter != emitter_row(EMITTER_model_text))
		return complain("--forgiving goes with --to text: there is no data of a recipe that has errors");
	modelling.names = text_builder_start(invocation->arena);
	status = invocation->is_forgiving ? compile_quietly(invocation, invocation->operands[0], TEXT(""), &compilation,
							    take_process, &modelling)
					  : compile_operand(invocation, &compilation, take_process, &modelling);
	if (status == 0 && is_missing(&modelling))
		status = product_complain_of_name(invocation, invocation->process, text_builder_text(&modelling.names));
	if (status != 0 && (status == 2 || !invocation->is_forgiving)) {
		product_warn_of_old(invocation);
		return status;
	}
	if (product_is_source(invocation, &compilation.sources))
		return complain("--output names the recipe itself");
	return write_model(&modelling, emitter, &compilation, status);
}
