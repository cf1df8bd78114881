/* The table of emitters, made from emitters.def. */
#include "emit/emission.h"

static const struct emitter_row rows[] = {
#define EMITTER(product, format, extension, media_type, is_executable, summary)                                        \
	{ { #product, sizeof(#product) - 1 },                                                                          \
	  { #format, sizeof(#format) - 1 },                                                                            \
	  { extension, sizeof(extension) - 1 },                                                                        \
	  { media_type, sizeof(media_type) - 1 },                                                                      \
	  is_executable,                                                                                               \
	  { summary, sizeof(summary) - 1 },                                                                            \
	  emit_##product##_##format },
#include "emit/emitters.def"
#undef EMITTER
};

const struct emitter_row *emitter_row(enum emitter_id emitter)
{
	return &rows[emitter];
}

bool emitter_is_streamed(enum emitter_id emitter)
{
	return emitter == EMITTER_cues_wav;
}

enum emitter_id emitter_find(struct text product, struct text format)
{
	for (size_t i = 0; i < EMITTER_COUNT; i++) {
		if (!text_equal(rows[i].product, product))
			continue;
		if (format.length == 0 || text_equal(rows[i].format, format))
			return (enum emitter_id)i;
	}
	return EMITTER_COUNT;
}
