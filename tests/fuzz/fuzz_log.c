/* Any bytes as the log of a run, behind the line with which one begins: read, reviewed, and written in each format. */
#include <stdint.h>

#include "compute/review.h"
#include "emit/emission.h"

static void review(struct arena *arena, const uint8_t *bytes, size_t length)
{
	static const enum emitter_id formats[] = { EMITTER_review_markdown, EMITTER_review_json, EMITTER_review_csv };
	struct text_builder text = text_builder_start(arena);
	struct emission emission = { .arena = arena };
	struct run_log *log;

	text_append(&text, TEXT("wetside-log\t1\n"));
	text_append(&text, (struct text){ (const char *)bytes, length });
	log = run_log_read(TEXT("fuzz.log"), text_builder_text(&text), arena);
	if (log == NULL)
		return;
	emission.reviews = reviews_build(&log, 1, arena);
	for (size_t i = 0; i < sizeof(formats) / sizeof(*formats); i++) {
		struct output output;

		output_open_memory(&output, arena);
		emitter_row(formats[i])->emit(&emission, &output);
	}
}

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	struct landing landing;
	struct arena arena;

	arena_init(&arena, &landing);
	if (setjmp(landing.place) == 0)
		review(&arena, bytes, length);
	arena_release(&arena);
	return 0;
}
