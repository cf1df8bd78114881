/* A review as comma-separated values for an archive's catalogue: one row a roll, or one row for a run whose log names
 * no rolls. */
#include <inttypes.h>

#include "emit/emission.h"
#include "emit/escape/csv.h"
#include "emit/review/wording.h"

static const char *const columns[] = {
	"label",
	"format",
	"origin",
	"together",
	"mark",
	"day",
	"load",
	"reel",
	"process",
	"title",
	"begun",
	"ended",
	"end",
	"develop_reading",
	"develop_c",
	"develop_s",
	"develop_effective_s",
	"develop_stray_percent",
	"departures",
	"fingerprint",
	"this_run",
	"log",
	"kind",
	"day_title",
	"conditions",
};

static void put_count(struct csv_row *row, int64_t count)
{
	if (count > 0)
		csv_row_figure(row, text_format(row->arena, "%" PRId64, count));
	else
		csv_row_empty(row);
}

static void put_roll(struct csv_row *row, const struct run_log *log, const struct run_log_roll *roll)
{
	csv_row_text(row, roll->label);
	csv_row_text(row, roll->format);
	csv_row_text(row, roll->origin);
	csv_row_text(row, roll->together);
	csv_row_text(row, roll->mark);
	csv_row_text(row, log->day);
	put_count(row, log->load_number);
	put_count(row, roll->reel);
}

static void put_development(struct csv_row *row, const struct review *review)
{
	const struct review_step *step = review_first_development(review);
	const struct run_log_step *run = step == NULL ? NULL : step->run;
	bool is_measured = run != NULL && run->measured_milli_c != RUN_LOG_NONE;
	bool is_over = run != NULL && run->over_cs != RUN_LOG_NONE;
	bool has_effective = step != NULL && step->has_effective;

	csv_row_text(row, is_measured ? run->reading : TEXT(""));
	if (is_measured)
		csv_row_decimal(row, run->measured_milli_c);
	else
		csv_row_empty(row);
	if (is_over)
		csv_row_decimal(row, run->over_cs * 10);
	else
		csv_row_empty(row);
	if (!has_effective) {
		csv_row_empty(row);
		csv_row_empty(row);
		return;
	}
	csv_row_decimal(row, step->effective_ms);
	csv_row_decimal(row, step->stray_percent / (PERCENT_ONE / 1000));
}

/* What was said of the roll; behind what a catalogue may already count on by its place. */
static void put_words(struct csv_row *row, const struct run_log_roll *roll)
{
	csv_row_text(row, roll->conditions);
	for (size_t i = 0; i < ROLL_WORDS_COUNT; i++)
		csv_row_text(row, roll->words.said[i]);
}

static void put_row(struct output *output, struct arena *arena, const struct review *review,
		    const struct run_log_roll *roll)
{
	static const struct run_log_roll none = { 0 };
	const struct run_log *log = review->log;
	struct csv_row row = csv_row_start(output, arena);

	if (roll == NULL)
		roll = &none;
	put_roll(&row, log, roll);
	csv_row_text(&row, log->process);
	csv_row_text(&row, log->title);
	csv_row_text(&row, log->started_stamp);
	csv_row_text(&row, log->last_stamp);
	csv_row_figure(&row, review_end_word(log));
	put_development(&row, review);
	csv_row_text(&row, review_departures(review, arena));
	csv_row_text(&row, log->fingerprint);
	csv_row_text(&row, log->this_run);
	csv_row_text(&row, log->name);
	csv_row_figure(&row, review_kind_word(review));
	csv_row_text(&row, log->day_title);
	put_words(&row, roll);
	csv_row_end(&row);
}

void emit_review_csv(const struct emission *emission, struct output *output)
{
	struct csv_row row = csv_row_start(output, emission->arena);

	for (size_t i = 0; i < sizeof columns / sizeof columns[0]; i++)
		csv_row_figure(&row, text_from(columns[i]));
	for (int id = 0; id < ROLL_WORDS_COUNT; id++)
		csv_row_figure(&row, roll_words_row((enum roll_words_id)id)->column);
	csv_row_end(&row);
	for (size_t i = 0; i < emission->reviews->count; i++) {
		const struct review *review = &emission->reviews->items[i];

		for (const struct run_log_roll *roll = review->log->rolls; roll != NULL; roll = roll->next)
			put_row(output, emission->arena, review, roll);
		if (review->log->rolls == NULL)
			put_row(output, emission->arena, review, NULL);
	}
}
