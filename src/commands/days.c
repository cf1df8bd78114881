/* `wetside plan` and `lists`, and `sheet`, `cues` and `timer` of one load of a plan. */
#include "commands/days.h"

#include "commands/kept.h"
#include "commands/product.h"
#include "compute/day_plan.h"
#include "emit/day/parts.h"
#include "model/date.h"
#include "support/utf8.h"

struct day_product {
	const struct invocation *invocation;
	const struct emitter_row *emitter;
	struct compilation compilation;
	struct kept kept;
};

static void keep_findings(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct day_product *product = data;

	kept_add(&product->kept, compilation, compiled);
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
	if (run->done != NULL || run->has_date)
		return complain(
			"the plan says what a load's baths have done and when it is; --load takes no --done or --on");
	if (run->temperatures != NULL)
		return complain(
			"--load takes no --at: its timer and live page ask for what was measured, its sheet has "
			"times by reading");
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

/* What the emitter gets, in `emission`. Returns 0, or 2 after one line on standard error. */
static int prepare(struct day_product *product, const struct day_plan *plan, struct emission *emission)
{
	const struct invocation *invocation = product->invocation;
	struct report *own = ARENA_NEW(invocation->arena, struct report);

	emission->recipe = product->compilation.recipe;
	emission->report = &product->compilation.report;
	emission->plan = plan;
	if (invocation->load > 0) {
		emission->load = find_load(invocation, plan);
		if (emission->load == NULL)
			return complain_of_load(invocation, plan);
	}
	if (is_of_run(invocation)) {
		*own = kept_report(&product->kept, &product->compilation, parts_process(plan, emission->load));
		*emission = parts_of_load(emission, emission->load);
		emission->report = own;
	}
	return 0;
}

/* The plan by which the day was judged, where nothing is to be different from what the recipe declares. */
static const struct day_plan *plan_of(struct day_product *product, const struct day *day)
{
	const struct invocation *invocation = product->invocation;
	struct day_plan *judged = product->compilation.plan;

	if (judged == NULL || judged->day != day || !conditions_are_as_declared(invocation->conditions))
		return day_plan_build(product->compilation.recipe, day, invocation->conditions, invocation->arena);
	day_plan_find_remedies(judged);
	return judged;
}

static int plan_day(struct day_product *product, struct emission *emission)
{
	const struct day *day = choose_day(product);

	if (day == NULL)
		return product->compilation.recipe->day_count == 0 ? 1 : 2;
	return prepare(product, plan_of(product, day), emission);
}

struct streaming {
	const struct emitter_row *emitter;
	const struct emission *emission;
};

static void stream(struct output *output, void *data)
{
	const struct streaming *streaming = data;

	streaming->emitter->emit(streaming->emission, output);
}

int days_run(const struct invocation *invocation, const struct speaker *speaker)
{
	struct day_product product = { .invocation = invocation,
				       .emitter = product_begin(invocation),
				       .kept = { .arena = invocation->arena } };
	struct emission emission = { .arena = invocation->arena,
				     .conditions = invocation->conditions,
				     .form = invocation->form,
				     .speaker = speaker };
	struct streaming streaming = { product.emitter, &emission };
	struct output gathered;
	struct product_goods goods = { product.emitter, &gathered, stream, &streaming };
	int status;

	if (product.emitter == NULL || complain_of_options(invocation) != 0)
		return 2;
	status = compile_operand(invocation, &product.compilation, keep_findings, &product);
	if (status == 0)
		status = plan_day(&product, &emission);
	if (status != 0) {
		product_warn_of_old(invocation);
		return status;
	}
	output_open_memory(&gathered, invocation->arena);
	if (!product_is_streamed(product.emitter))
		product.emitter->emit(&emission, &gathered);
	return product_write_all(invocation, &goods, &product.compilation.sources);
}

int command_plan(const struct invocation *invocation)
{
	return days_run(invocation, NULL);
}

int command_lists(const struct invocation *invocation)
{
	return days_run(invocation, NULL);
}
