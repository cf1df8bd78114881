/* One file in a source set, for tests of what counts or cuts its text. */
#ifndef SOURCE_FIXTURE_H
#define SOURCE_FIXTURE_H

#include "arena_fixture.h"
#include "support/source.h"

static struct source_set sources;

static inline const struct source_file *open_file(const char *content)
{
	struct text problem;

	source_set_init(&sources, &arena);
	return source_add(&sources, TEXT("a.wet"), text_from(content), &problem);
}

#endif
