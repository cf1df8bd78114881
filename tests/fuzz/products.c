#include "products.h"

#include "compute/day_plan.h"
#include "compute/difference.h"
#include "emit/day/parts.h"
#include "emit/source/canonical.h"
#include "model/outline.h"

/* A sound track is long and has no text of the recipe in it but its labels. */
#define WAV EMITTER_cues_wav

struct making {
	product_set wanted;
	size_t *made; /* by emitter; may be null */
	struct outline processes;
};

static const char *const of_process[] = { "sheet", "cues", "timer", "live", "mix", "forecast" };
static const char *const of_day[] = { "plan", "lists" };
static const char *const of_load[] = { "lists", "sheet", "cues", "timer" };
static const char *const of_model[] = { "model" };
static const char *const of_comparison[] = { "diff" };

static bool is_among(struct text product, const char *const *names, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (text_equal(product, text_from(names[i])))
			return true;
	return false;
}

static void emit_all(const struct making *making, const struct emission *emission, const char *const *products,
		     size_t count)
{
	for (int id = 0; id < EMITTER_COUNT; id++) {
		const struct emitter_row *row = emitter_row((enum emitter_id)id);
		struct output output;

		if (id == WAV || (making->wanted >> id & 1) == 0 || !is_among(row->product, products, count))
			continue;
		output_open_memory(&output, emission->arena);
		row->emit(emission, &output);
		if (making->made != NULL)
			making->made[id]++;
	}
}

#define EMIT_ALL(making, emission, products)                                                                           \
	emit_all(making, emission, products, sizeof(products) / sizeof(*(products)))

static void make_process(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct making *making = data;
	struct arena *arena = compilation->invocation->arena;
	struct report own = compilation->report;
	struct emission emission = { .arena = arena,
				     .recipe = compilation->recipe,
				     .process = compiled->process,
				     .timeline = compiled->timeline,
				     .conditions = compiled->conditions,
				     .used = compiled->used,
				     .report = &own };

	if (own.count > 0)
		own.items += compiled->first_finding;
	own.count -= compiled->first_finding;
	if (compilation->report.errors > 0)
		return;
	EMIT_ALL(making, &emission, of_process);
	outline_attach(&making->processes,
		       difference_outline(compilation->recipe, compiled->process, compiled->timeline, arena));
}

static void make_load(const struct making *making, const struct emission *of, const struct plan_load *load)
{
	struct emission emission = *of;

	emission.load = load;
	if (load->is_today) {
		struct emission run = parts_of_load(&emission, load);

		EMIT_ALL(making, &run, of_load);
	}
}

static void make_days(const struct making *making, struct compilation *compilation)
{
	const struct invocation *invocation = compilation->invocation;

	for (size_t i = 0; i < compilation->recipe->day_count; i++) {
		struct emission emission = { .arena = invocation->arena,
					     .recipe = compilation->recipe,
					     .conditions = invocation->conditions,
					     .report = &compilation->report };

		emission.plan = day_plan_build(compilation->recipe, compilation->recipe->days[i],
					       invocation->conditions, invocation->arena);
		EMIT_ALL(making, &emission, of_day);
		if (emission.plan->load_count > 0)
			make_load(making, &emission, &emission.plan->loads[0]);
	}
}

/* The model, and what differs between the first process and the last. */
static void make_outlines(const struct making *making, const struct compilation *compilation)
{
	struct arena *arena = compilation->invocation->arena;
	struct outline *model = outline_declarations(compilation->recipe, arena);
	struct outline *list = outline_child(model, "processes");
	struct emission emission = { .arena = arena, .recipe = compilation->recipe, .model = model };
	struct comparison *comparison = comparison_create(arena);

	list->first = making->processes.first;
	list->last = making->processes.last;
	EMIT_ALL(making, &emission, of_model);
	emission.model = NULL;
	if (list->first != NULL)
		comparison_add(comparison, arena, list->first, list->last, false);
	emission.comparison = comparison;
	EMIT_ALL(making, &emission, of_comparison);
}

/* A recipe that is well has a canonical form, which is well too and is its own. */
static void format(const struct compilation *compilation)
{
	struct arena *arena = compilation->invocation->arena;
	struct text form = TEXT("");
	struct source_set sources;
	struct report report;
	struct text problem;

	for (int pass = 0; pass < 2; pass++) {
		struct text before = pass == 0 ? source_original(compilation->sources.files[0]) : form;

		source_set_init(&sources, arena);
		report_init(&report, arena);
		form = canonical_form(&sources, source_add(&sources, TEXT("form.wet"), before, &problem), arena,
				      &report);
		if (form.data == NULL || (pass == 1 && !text_equal(form, before)))
			__builtin_trap();
	}
}

bool products_make(struct arena *arena, struct text recipe, product_set wanted, size_t made[EMITTER_COUNT])
{
	struct conditions conditions = { 0 };
	struct invocation invocation = { .arena = arena, .conditions = &conditions };
	struct source_file as = { .name = TEXT("fuzz.wet"), .real = TEXT(""), .directory = TEXT("examples") };
	struct making making = { wanted, made, { .key = "processes", .form = OUTLINE_LIST } };
	struct compilation compilation;

	compile_text_for(&invocation, &as, recipe, &compilation, make_process, &making);
	if (compilation.report.errors > 0)
		return false;
	make_days(&making, &compilation);
	make_outlines(&making, &compilation);
	format(&compilation);
	return true;
}

void products_in_arena(void (*run)(struct arena *arena, struct text bytes), const uint8_t *bytes, size_t length)
{
	struct landing landing;
	struct arena arena;

	arena_init(&arena, &landing);
	if (setjmp(landing.place) == 0)
		run(&arena, (struct text){ (const char *)bytes, length });
	arena_release(&arena);
}
