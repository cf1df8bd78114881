/* What an emitter receives, and the table of emitters (emitters.def). Same input, same bytes: an emitter reads no
 * clock, no locale, no environment. */
#ifndef EMIT_EMISSION_H
#define EMIT_EMISSION_H

#include "compute/difference.h"
#include "compute/timeline.h"
#include "compute/used_time.h"
#include "emit/page/form.h"
#include "model/conditions.h"
#include "model/recipe.h"
#include "support/output.h"

struct day_plan;
struct page_memory;
struct plan_load;
struct reviews;
struct speaker;

struct emission {
	struct arena *arena; /* scratch */
	const struct recipe *recipe;
	const struct process *process;
	const struct timeline *timeline;
	const struct conditions *conditions; /* of this run; never null */
	const struct used_time *used;	     /* one for each step of the process */
	struct page_form form;		     /* of what is printed on pages */
	struct page_memory *pages;	     /* what they have in common; null where no others are made */
	const struct report *report;	     /* findings of this process that an `allow` covers, for the sheet */
	const struct outline *model;	     /* of `model`: everything declared; nothing of one process is set then */
	struct text written;		     /* of `model --forgiving`: a recipe with errors; model is null then */
	const struct comparison *comparison; /* of `diff`, likewise */
	const struct day_plan *plan;	     /* of a day's products, and of those of one of its loads; else null */
	const struct reviews *reviews; /* of `review`: the logs, read; nothing of a recipe is set then */
	const struct plan_load *load;	     /* of the plan, where the product is that of one load; else null */
	const struct speaker *speaker;	     /* of a sound track: who speaks its cues; null: nobody */
};

enum emitter_id {
#define EMITTER(product, format, extension, media_type, is_executable, summary) EMITTER_##product##_##format,
#include "emit/emitters.def"
#undef EMITTER
	EMITTER_COUNT
};

struct emitter_row {
	struct text product; /* the command: "sheet" */
	struct text format;  /* what --to names: "html" */
	struct text extension;
	struct text media_type;
	bool is_executable;
	struct text summary;
	void (*emit)(const struct emission *emission, struct output *output);
};

/** The row of an emitter. The first row of a product is its default format. */
const struct emitter_row *emitter_row(enum emitter_id emitter);

/** True for a product too large to be gathered in memory: its bytes are passed on as they are made. */
bool emitter_is_streamed(enum emitter_id emitter);

/** Finds an emitter; an empty format means the product's default. EMITTER_COUNT where there is none. */
enum emitter_id emitter_find(struct text product, struct text format);

#define EMITTER(product, format, extension, media_type, is_executable, summary)                                        \
	void emit_##product##_##format(const struct emission *emission, struct output *output);
#include "emit/emitters.def"
#undef EMITTER

#endif
