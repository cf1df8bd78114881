/* `wetside plan` and `lists`, and `sheet`, `cues` and `timer` of one load of a plan. */
#include "commands/days.h"

#include "commands/diagnostics.h"
#include "commands/product.h"
#include "compute/day_plan.h"
#include "emit/day/parts.h"
#include "model/date.h"
#include "support/utf8.h"

/* The findings of a process, kept before all are sorted by their place. */
struct kept_findings {
	uint32_t process; /* name */
	struct diagnostic *items;
	size_t count;
};

struct day_product {
	const struct invocation *invocation;
	const struct emitter_row *emitter;
	const struct speaker *speaker; /* null: nobody speaks */
	struct compilation compilation;
	struct output output;
	struct kept_findings *kept;
	size_t kept_count, kept_capacity;
};

static void keep_findings(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct day_product *product = data;
	struct arena *arena = product->invocation->arena;
	size_t count = compilation->report.count - compiled->first_finding;
	struct kept_findings kept = { compiled->process->declared.name, ARENA_ARRAY(arena, struct diagnostic, count),
				      count };

	for (size_t i = 0; i < count; i++)
		kept.items[i] = compilation->report.items[compiled->first_finding + i];
	ARENA_RESERVE(arena, product->kept, product->kept_count, product->kept_capacity);
	product->kept[product->kept_count++] = kept;
}

/* The findings of one process, for what a sheet says of its departures. */
static struct report findings_of(const struct day_product *product, const struct process *process)
{
	struct report own = product->compilation.report;

	own.count = 0;
	for (size_t i = 0; i < product->kept_count; i++) {
		const struct kept_findings *kept = &product->kept[i];

		if (kept->process == process->declared.name) {
			own.items = kept->items;
			own.count = kept->count;
		}
	}
	return own;
}

/* ---- the day ---- */

static struct text list_days(const struct day_product *product)
{
	const struct recipe *recipe = product->compilation.recipe;
	struct text_builder names = text_builder_start(product->invocation->arena);

	for (size_t i = 0; i < recipe->day_count; i++)
		text_append_format(&names, "%s%.*s", i > 0 ? ", " : "",
				   TEXT_ARGUMENT(date_print(product->invocation->arena, recipe->days[i]->date)));
	return text_builder_text(&names);
}

/* Null after one line on standard error. */
static const struct day *choose_day(const struct day_product *product)
{
	const struct recipe *recipe = product->compilation.recipe;
	struct text wanted = product->invocation->day;
	struct text names = list_days(product);

	if (recipe->day_count == 0) {
		complain("the file declares no day, so there is nothing to plan");
		return NULL;
	}
	if (wanted.length == 0 && recipe->day_count == 1)
		return recipe->days[0];
	for (size_t i = 0; wanted.length > 0 && i < recipe->day_count; i++)
		if (recipe->days[i]->date == date_days(wanted))
			return recipe->days[i];
	if (wanted.length == 0)
		complain("the file has several days; choose one with --day: %.*s", TEXT_ARGUMENT(names));
	else
		complain("there is no day %.*s; the file has %.*s", TEXT_ARGUMENT(wanted), TEXT_ARGUMENT(names));
	return NULL;
}

/* ---- the load ---- */

bool days_is_of_load(const struct invocation *invocation)
{
	return invocation->load > 0 || invocation->day.length > 0;
}

static bool is_of_run(const struct invocation *invocation)
{
	return invocation->command != command_row(COMMAND_plan) && invocation->command != command_row(COMMAND_lists);
}

/* 0, or the exit status 2 after one line on standard error. */
static int complain_of_options(const struct invocation *invocation)
{
	const struct conditions *run = invocation->conditions;

	if (!is_of_run(invocation))
		return 0;
	if (invocation->load == 0)
		return complain("--day goes with --load: whose %.*s is it?", TEXT_ARGUMENT(invocation->command->name));
	if (invocation->process.length > 0)
		return complain("--load says the process; leave --process out");
	if (run->done != NULL || run->has_date || run->temperatures != NULL)
		return complain(
			"the plan says what a load's baths have done and when it is; --load takes no --done, --on "
			"or --at");
	return 0;
}

static int complain_of_load(const struct invocation *invocation, const struct day_plan *plan)
{
	if (invocation->load > plan->load_count)
		return complain("there is no load %zu; the plan has %zu", invocation->load, plan->load_count);
	return complain("load %zu is not done on this day, so its times are not known; the plan does %zu of %zu",
			invocation->load, plan->today_count, plan->load_count);
}

static const struct plan_load *find_load(const struct invocation *invocation, const struct day_plan *plan)
{
	for (size_t i = 0; i < plan->load_count; i++) {
		const struct plan_load *load = &plan->loads[i];

		if (load->number == invocation->load)
			return is_of_run(invocation) && !load->is_today ? NULL : load;
	}
	return NULL;
}

/* ---- all of it ---- */

static int emit(struct day_product *product, const struct day_plan *plan)
{
	const struct invocation *invocation = product->invocation;
	struct emission emission = { .arena = invocation->arena,
				     .recipe = product->compilation.recipe,
				     .conditions = invocation->conditions,
				     .report = &product->compilation.report,
				     .plan = plan,
				     .speaker = product->speaker };
	struct report own;

	if (invocation->load > 0) {
		emission.load = find_load(invocation, plan);
		if (emission.load == NULL)
			return complain_of_load(invocation, plan);
	}
	if (is_of_run(invocation)) {
		own = findings_of(product, parts_process(plan, emission.load));
		emission = parts_of_load(&emission, emission.load);
		emission.report = &own;
	}
	product->emitter->emit(&emission, &product->output);
	return 0;
}

static int make(struct day_product *product)
{
	const struct invocation *invocation = product->invocation;
	const struct day *day = choose_day(product);

	if (day == NULL)
		return product->compilation.recipe->day_count == 0 ? 1 : 2;
	return emit(product,
		    day_plan_build(product->compilation.recipe, day, invocation->conditions, invocation->arena));
}

static int write_day(void *data)
{
	const struct day_product *product = data;

	return product_write(product->invocation, product->emitter, &product->output);
}

int days_run(const struct invocation *invocation, const struct speaker *speaker)
{
	struct day_product product = { .invocation = invocation,
				       .emitter = product_begin(invocation),
				       .speaker = speaker };
	struct findings findings = { &product.compilation.sources, &product.compilation.report };
	int status, written;

	if (product.emitter == NULL || complain_of_options(invocation) != 0)
		return 2;
	output_open_memory(&product.output, invocation->arena);
	status = compile_file(invocation, invocation->operands[0], &product.compilation, keep_findings, &product);
	written = diagnostics_end(invocation, &findings, status < 2 ? 1 : 0, status < 2);
	if (written > status)
		status = written;
	if (status == 0)
		status = make(&product);
	if (status != 0) {
		product_warn_of_old(invocation);
		return status;
	}
	return product_deliver(invocation, &product.compilation.sources, write_day, &product);
}

int command_plan(const struct invocation *invocation)
{
	return days_run(invocation, NULL);
}

int command_lists(const struct invocation *invocation)
{
	return days_run(invocation, NULL);
}
