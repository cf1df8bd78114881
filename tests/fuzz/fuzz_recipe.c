/* Any bytes as a recipe: read, resolved, checked and, where it may be, made into every product, of processes and of
 * days. Whatever it is, nothing may crash, hang or leak. */
#include <stdint.h>
#include <string.h>

#include "commands/compile.h"
#include "compute/day_plan.h"
#include "emit/emission.h"

/* A sound track is long and has no text of the recipe in it but its labels. */
#define WAV EMITTER_cues_wav

static const char *const of_process[] = { "sheet", "cues", "timer", "live", "mix", "forecast" };
static const char *const of_day[] = { "plan", "lists" };

static bool is_among(struct text product, const char *const *names, size_t count)
{
	for (size_t i = 0; i < count; i++)
		if (text_equal(product, text_from(names[i])))
			return true;
	return false;
}

static void emit_all(const struct emission *emission, const char *const *products, size_t count)
{
	for (int id = 0; id < EMITTER_COUNT; id++) {
		const struct emitter_row *row = emitter_row((enum emitter_id)id);
		struct output output;

		if (id == WAV || !is_among(row->product, products, count))
			continue;
		output_open_memory(&output, emission->arena);
		row->emit(emission, &output);
	}
}

static void make_all(struct compilation *compilation, const struct compiled *compiled, void *data)
{
	struct report own = compilation->report;
	struct emission emission = { .arena = compilation->invocation->arena,
				     .recipe = compilation->recipe,
				     .process = compiled->process,
				     .timeline = compiled->timeline,
				     .conditions = compiled->conditions,
				     .used = compiled->used,
				     .report = &own };

	(void)data;
	if (own.count > 0)
		own.items += compiled->first_finding;
	own.count -= compiled->first_finding;
	if (compilation->report.errors == 0)
		emit_all(&emission, of_process, sizeof(of_process) / sizeof(*of_process));
}

static void make_days(struct compilation *compilation)
{
	const struct invocation *invocation = compilation->invocation;

	for (size_t i = 0; compilation->report.errors == 0 && i < compilation->recipe->day_count; i++) {
		struct emission emission = { .arena = invocation->arena,
					     .recipe = compilation->recipe,
					     .conditions = invocation->conditions,
					     .report = &compilation->report };

		emission.plan = day_plan_build(compilation->recipe, compilation->recipe->days[i],
					       invocation->conditions, invocation->arena);
		emit_all(&emission, of_day, sizeof(of_day) / sizeof(*of_day));
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	struct landing landing;
	struct arena arena;

	arena_init(&arena, &landing);
	if (setjmp(landing.place) == 0) {
		struct conditions conditions = { 0 };
		struct invocation invocation = { .arena = &arena, .conditions = &conditions };
		struct source_file as = { .name = TEXT("fuzz.wet"), .real = TEXT(""), .directory = TEXT("examples") };
		struct compilation compilation;

		compile_text_for(&invocation, &as, (struct text){ (const char *)bytes, length }, &compilation, make_all,
				 NULL);
		make_days(&compilation);
	}
	arena_release(&arena);
	return 0;
}
