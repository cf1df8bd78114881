/* Any bytes as a recipe, read only: scanner, grammar, recovery; what may come next where it breaks off; its canonical
 * form, which is its own. */
#include <stdlib.h>

#include "emit/source/canonical.h"
#include "products.h"
#include "syntax/parse.h"

static const struct source_file *file_of(struct source_set *sources, struct arena *arena, struct text bytes)
{
	struct text problem;

	source_set_init(sources, arena);
	return source_add(sources, TEXT("fuzz.wet"), bytes, &problem);
}

static struct text form_of(struct arena *arena, struct text bytes, size_t *errors)
{
	struct source_set sources;
	struct report report;
	struct text form;

	report_init(&report, arena);
	form = canonical_form(&sources, file_of(&sources, arena, bytes), arena, &report);
	*errors = report.errors;
	return form;
}

static void run(struct arena *arena, struct text bytes)
{
	struct source_set sources;
	struct report report;
	struct text form;
	size_t errors;
	const struct source_file *file = file_of(&sources, arena, bytes);

	report_init(&report, arena);
	if (parse_file(&sources, file, arena, &report) == NULL)
		abort();
	for (size_t i = 0; i < report.count; i++) /* each in the file, or at its end */
		if (report.items[i].span.begin + report.items[i].span.length > file->base + file->length + 1)
			abort();
	parse_fitting(&sources, file_of(&sources, arena, (struct text){ bytes.data, bytes.length / 2 }), arena);
	form = form_of(arena, bytes, &errors);
	if (form.data == NULL && errors == 0)
		abort();
	if (form.data != NULL && !text_equal(form_of(arena, form, &errors), form))
		abort();
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	products_in_arena(run, bytes, length);
	return 0;
}
