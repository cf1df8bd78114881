/* Cues as comma-separated values, one row a cue: times as exact seconds for programs and as h:mm:ss for people. */
#include <inttypes.h>

#include "emit/cues/wording.h"
#include "emit/escape/csv.h"

static const char *const columns[] = {
	"at_s",
	"at",
	"since_pour_s",
	"since_pour",
	"since_start_s",
	"since_start",
	"step",
	"step_name",
	"role",
	"bath",
	"bottle",
	"kind",
	"until_s",
	"until",
	"count",
	"rings",
	"text",
	"process",
	"assumes_earliest_end",
	"fingerprint",
};

static void put_whole(struct csv_row *row, int64_t number)
{
	if (number > 0)
		csv_row_figure(row, text_format(row->arena, "%" PRId64, number));
	else
		csv_row_empty(row);
}

static void put_time(struct csv_row *row, int64_t time_ms)
{
	csv_row_decimal(row, time_ms);
	csv_row_figure(row, wording_clock(row->arena, time_ms));
}

static void put_cue(struct csv_row *row, const struct emission *emission, const struct cue *cue, bool assumes)
{
	const struct timeline_step *timed = &emission->timeline->steps[cue->step];
	const struct step *step = &emission->process->steps[cue->step];
	put_time(row, cue->at_ms);
	put_time(row, cue->at_ms - timed->pour_ms);
	put_time(row, cue->at_ms - timed->start_ms);
	put_whole(row, (int64_t)cue->step + 1);
	csv_row_text(row, wording_step(emission, cue->step));
	csv_row_text(row, role_row(step->role)->word);
	csv_row_text(row, wording_bath(emission, cue->step));
	put_whole(row, step->bottle);
	csv_row_text(row, cue_row(cue->kind)->word);
	if (cue->until_ms == cue->at_ms) {
		csv_row_empty(row);
		csv_row_empty(row);
	} else {
		put_time(row, cue->until_ms);
	}
	put_whole(row, cue->count);
	csv_row_figure(row, cue_row(cue->kind)->is_signal ? TEXT("yes") : TEXT("no"));
	csv_row_text(row, wording_cue_plain(emission, cue));
	csv_row_text(row, intern_text(emission->recipe->names, emission->process->declared.name));
	csv_row_figure(row, assumes ? TEXT("yes") : TEXT("no"));
	csv_row_figure(row, emission->process->fingerprint);
}

void emit_cues_csv(const struct emission *emission, struct output *output)
{
	const struct timeline *timeline = emission->timeline;
	size_t first_longer = wording_first_longer(emission);
	struct csv_row row = csv_row_start(output, emission->arena);
	for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
		csv_row_figure(&row, text_from(columns[i]));
	csv_row_end(&row);
	for (size_t i = 0; i < timeline->cue_count; i++) {
		row = csv_row_start(output, emission->arena);
		put_cue(&row, emission, &timeline->cues[i], timeline->cues[i].step > first_longer);
		csv_row_end(&row);
	}
}
