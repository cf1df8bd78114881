/* `wetside sheet`, `cues`, `timer`, `live`, `mix`: one process, one product, whole or not at all. */
#include "commands/product.h"

#include <stdio.h>
#include <string.h>
#include <unistd.h>

#include "commands/days.h"
#include "commands/delivery.h"
#include "commands/depfile.h"
#include "commands/each.h"
#include "commands/voice.h"
#include "support/utf8.h"

struct product {
	const struct invocation *invocation;
	const struct emitter_row *emitter;
	const struct speaker *speaker; /* of a sound track; null: nobody speaks */
	struct text wanted;	       /* the process asked for; empty: the only one */
	struct compilation *compilation;
	struct output *output;
	struct text_builder names; /* of the processes seen */
	size_t seen;
	bool is_made;
};

/* A forecast shows what drift-leaves-window is about, so that this finding does not stand in its way. */
static size_t errors_in_the_way(const struct invocation *invocation, const struct report *report)
{
	size_t count = report->errors;

	if (invocation->command != command_row(COMMAND_forecast))
		return count;
	for (size_t i = 0; i < report->count; i++) {
		const struct diagnostic *finding = &report->items[i];

		if (finding->check == CHECK_drift_leaves_window && finding->severity == SEVERITY_ERROR &&
		    finding->allowed.data == NULL)
			count--;
	}
	return count;
}

struct emission product_emission(const struct invocation *invocation, const struct compilation *compilation,
				 const struct compiled *compiled, const struct speaker *speaker)
{
	return (struct emission){ .arena = invocation->arena,
				  .recipe = compilation->recipe,
				  .process = compiled->process,
				  .timeline = compiled->timeline,
				  .conditions = compiled->conditions,
				  .used = compiled->used,
				  .form = invocation->form,
				  .speaker = speaker };
}

static void emit(struct product *product, const struct compilation *compilation, const struct compiled *compiled)
{
	struct report own = compilation->report; /* the findings of this process only */
	struct emission emission = product_emission(product->invocation, compilation, compiled, product->speaker);

	if (own.count > 0)
		own.items += compiled->first_finding;
	own.count -= compiled->first_finding;
	emission.report = &own;
	product->emitter->emit(&emission, product->output);
}

bool product_is_streamed(const struct emitter_row *emitter)
{
	return emitter_is_streamed((enum emitter_id)(emitter - emitter_row((enum emitter_id)0)));
}

/* The product is made in memory while its process is at hand; it is written once all findings are known. One that is
 * streamed is made then. */
static void make_product(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct product *product = data;
	struct text name = intern_text(compilation->recipe->names, compiled->process->declared.name);

	text_append_format(&product->names, "%s`%.*s`", product->seen == 0 ? "" : ", ", TEXT_ARGUMENT(name));
	product->seen++;
	if (product->wanted.length > 0 ? !text_equal(product->wanted, name) : product->seen > 1)
		return;
	if (errors_in_the_way(product->invocation, &compilation->report) > 0)
		return;
	if (!product_is_streamed(product->emitter))
		emit(product, compilation, compiled);
	product->is_made = true;
}

static void stream_process(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct product *product = data;
	struct text name = intern_text(compilation->recipe->names, compiled->process->declared.name);

	if (product->wanted.length == 0 || text_equal(product->wanted, name))
		emit(product, compilation, compiled);
}

static void stream(struct output *output, void *data)
{
	struct product *product = data;

	product->output = output;
	compile_again(product->compilation, stream_process, product);
}

int product_complain_of_name(const struct invocation *invocation, struct text wanted, struct text names)
{
	wanted = utf8_harmless(invocation->arena, wanted);
	names = utf8_harmless(invocation->arena, names);
	if (names.length == 0)
		return complain("no process is called `%.*s`; the file has none", TEXT_ARGUMENT(wanted));
	return complain("no process is called `%.*s`; the file has %.*s", TEXT_ARGUMENT(wanted), TEXT_ARGUMENT(names));
}

static int complain_processes(const struct product *product)
{
	struct product copy = *product;
	struct text names = text_builder_text(&copy.names);

	names = utf8_harmless(product->invocation->arena, names);
	if (product->seen == 0) {
		complain("the file declares no process, so there is nothing to write");
		return 1;
	}
	if (product->wanted.length > 0)
		return product_complain_of_name(product->invocation, product->wanted, names);
	return complain("the file has several processes; choose one with --process: %.*s", TEXT_ARGUMENT(names));
}

static bool goes_to_standard_output(const struct invocation *invocation)
{
	return invocation->output.length == 0 || text_equal(invocation->output, TEXT("-"));
}

bool product_is_source(const struct invocation *invocation, const struct source_set *sources)
{
	struct text real = source_real_path(invocation->arena, invocation->output);

	if (goes_to_standard_output(invocation))
		return false;
	for (size_t i = 0; real.length > 0 && i < sources->count; i++)
		if (text_equal(sources->files[i]->real, real))
			return true;
	return false;
}

int product_write(const struct invocation *invocation, const struct emitter_row *emitter, const struct output *gathered)
{
	struct output memory = *gathered;
	struct text text = output_memory(&memory);

	if (goes_to_standard_output(invocation))
		return delivery_to_standard_output(invocation->arena, text);
	return delivery_to_file(invocation->arena, invocation->output, text, emitter->is_executable);
}

/* Makes and writes a product at once. */
static int write_stream(const struct invocation *invocation, const struct product_goods *goods)
{
	struct arena *arena = invocation->arena;
	struct output output;

	if (goes_to_standard_output(invocation))
		output_open_standard(&output, arena);
	else
		output_open_file(&output, arena, invocation->output, goods->emitter->is_executable);
	output_release(&output);
	goods->make(&output, goods->data);
	return delivery_end(arena, &output, goes_to_standard_output(invocation) ? TEXT("-") : invocation->output);
}

void product_warn_of_old(const struct invocation *invocation)
{
	struct text path = text_copy(invocation->arena, invocation->output);
	struct text shown = utf8_harmless(invocation->arena, path);

	if (!goes_to_standard_output(invocation) && access(path.data, F_OK) == 0)
		complain("nothing was written; `%.*s` is still the OLD %.*s", TEXT_ARGUMENT(shown),
			 TEXT_ARGUMENT(invocation->command->name));
}

/* A product that is made in spite of the errors in its recipe, because it tells of them itself. */
static bool is_told_by_product(const struct product *product, const struct report *report, int status)
{
	const struct invocation *invocation = product->invocation;
	bool is_denied = invocation->denies_warnings && report->warnings > 0;
	bool is_chosen = product->wanted.length > 0 || product->seen == 1;

	return status == 1 && product->is_made && is_chosen && report->errors > 0 && !is_denied &&
	       errors_in_the_way(invocation, report) == 0;
}

const struct emitter_row *product_emitter(const struct invocation *invocation)
{
	struct text name = invocation->command->name;
	struct text shown = utf8_harmless(invocation->arena, invocation->to);
	enum emitter_id emitter = emitter_find(name, invocation->to);

	if (emitter != EMITTER_COUNT)
		return emitter_row(emitter);
	complain("%.*s has no format `%.*s`; see `wetside %.*s --help`", TEXT_ARGUMENT(name), TEXT_ARGUMENT(shown),
		 TEXT_ARGUMENT(name));
	return NULL;
}

static int write_one(const struct invocation *invocation, const struct product_goods *goods)
{
	if (product_is_streamed(goods->emitter))
		return write_stream(invocation, goods);
	return product_write(invocation, goods->emitter, goods->gathered);
}

int product_write_all(const struct invocation *invocation, const struct product_goods *goods,
		      const struct source_set *sources)
{
	struct depfile depfile;
	int written;

	if (product_is_source(invocation, sources))
		return complain("--output names the recipe itself");
	if (!depfile_is_wanted(invocation))
		return write_one(invocation, goods);
	depfile_open(&depfile, invocation);
	depfile_add(&depfile, sources);
	written = depfile_finish(&depfile) ? write_one(invocation, goods) : 0;
	if (written == 0)
		return depfile_commit(&depfile);
	depfile_drop(&depfile);
	return written;
}

const struct emitter_row *product_begin(const struct invocation *invocation)
{
	const struct emitter_row *emitter = product_emitter(invocation);
	struct text name = invocation->command->name;

	if (emitter == NULL)
		return NULL;
	if (invocation->operand_count != 1)
		complain("%.*s wants one FILE; see `wetside %.*s --help`", TEXT_ARGUMENT(name), TEXT_ARGUMENT(name));
	else if (depfile_complain(invocation) == 0)
		return emitter;
	return NULL;
}

static int run_product(const struct invocation *invocation, const struct speaker *speaker)
{
	struct compilation compilation;
	struct output gathered;
	struct product product = { .invocation = invocation,
				   .emitter = product_begin(invocation),
				   .wanted = invocation->process,
				   .speaker = speaker,
				   .compilation = &compilation,
				   .output = &gathered };
	struct product_goods goods = { product.emitter, &gathered, stream, &product };
	int status, written;

	if (product.emitter == NULL)
		return 2;
	product.names = text_builder_start(invocation->arena);
	output_open_memory(&gathered, invocation->arena);
	status = compile_operand(invocation, &compilation, make_product, &product);
	if (status == 0 && (!product.is_made || (product.wanted.length == 0 && product.seen > 1)))
		status = complain_processes(&product);
	if (status != 0 && !is_told_by_product(&product, &compilation.report, status)) {
		product_warn_of_old(invocation);
		return status;
	}
	written = product_write_all(invocation, &goods, &compilation.sources);
	return written != 0 ? written : status;
}

/* Whether the product is another one than an option is for, which is said. */
static bool is_out_of_place(const struct invocation *invocation, bool is_given, enum option_id option,
			    enum emitter_id wanted)
{
	enum emitter_id chosen = emitter_find(invocation->command->name, invocation->to);

	if (!is_given || chosen == wanted || chosen == EMITTER_COUNT)
		return false;
	complain("--%s is of use with `--to %.*s` only", option_row(option)->long_name,
		 TEXT_ARGUMENT(emitter_row(wanted)->format));
	return true;
}

/* The product of a process, of each, or of one load of a day. */
static int run(const struct invocation *invocation, const struct speaker *speaker)
{
	if (invocation->wants_each)
		return each_run(invocation, speaker);
	if (invocation->jobs > 0)
		return complain("--jobs wants --each beside it");
	return days_is_of_load(invocation) ? days_run(invocation, speaker) : run_product(invocation, speaker);
}

int command_sheet(const struct invocation *invocation)
{
	if (is_out_of_place(invocation, invocation->conditions->width != 0, OPTION_width, EMITTER_sheet_text))
		return 2;
	return run(invocation, NULL);
}

int command_cues(const struct invocation *invocation)
{
	const struct conditions *conditions = invocation->conditions;
	struct speaker speaker;
	int status;

	if (is_out_of_place(invocation, conditions->wants_voice, OPTION_voice, EMITTER_cues_wav) ||
	    is_out_of_place(invocation, conditions->lead_in_ms != 0, OPTION_lead_in, EMITTER_cues_wav))
		return 2;
	if (!conditions->wants_voice || emitter_find(invocation->command->name, invocation->to) == EMITTER_COUNT)
		return run(invocation, NULL);
	status = voice_open(&speaker, invocation->arena);
	if (status != 0)
		return status;
	status = run(invocation, &speaker);
	voice_close(&speaker);
	return status;
}

int command_forecast(const struct invocation *invocation)
{
	return run_product(invocation, NULL);
}

int command_timer(const struct invocation *invocation)
{
	return run(invocation, NULL);
}

int command_live(const struct invocation *invocation)
{
	return run(invocation, NULL);
}

/* The taps are only of use together, and only where one of them is the warmer. */
int command_mix(const struct invocation *invocation)
{
	const struct conditions *conditions = invocation->conditions;

	if (conditions->has_hot && !conditions->has_cold)
		return complain("--hot wants --cold beside it: what mixes with the hot water?");
	if (conditions->has_hot && conditions->hot <= conditions->cold)
		return complain("the hot tap is no warmer than the cold one");
	if (conditions->has_volume && conditions->volume <= 0)
		return complain("--volume wants more than nothing");
	return run(invocation, NULL);
}
