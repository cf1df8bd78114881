#include "emit/review/wording.h"

#include <inttypes.h>
#include <stdlib.h>

#include "emit/this_run.h"

#define MS_PER_CS 10
#define TEMPERATURE_PER_MILLI_KELVIN (TEMPERATURE_PER_KELVIN / 1000)
#define VOLUME_PER_TENTH_ML (VOLUME_PER_ML / 10)

struct text review_celsius(int64_t milli_c, struct arena *arena)
{
	int64_t hundredths = (milli_c + (milli_c < 0 ? -5 : 5)) / 10;

	return quantity_print_temperature(arena, hundredths * 10 * TEMPERATURE_PER_MILLI_KELVIN);
}

/* Times of a log are hundredths; people get tenths. */
static struct text seconds(int64_t time_cs, struct arena *arena)
{
	int64_t tenths = (time_cs + (time_cs < 0 ? -5 : 5)) / 10;

	return quantity_print_duration(arena, tenths * 10 * MS_PER_CS);
}

struct text review_end_word(const struct run_log *log)
{
	static const char *const words[] = {
		[RUN_LOG_CUT_OFF] = "cut-off", [RUN_LOG_FINISHED] = "finished", [RUN_LOG_STOPPED] = "stopped"
	};

	return text_from(words[log->end]);
}

struct text review_kind_word(const struct review *review)
{
	if (review->log->speed > 1)
		return TEXT("rehearsal");
	return review->copy_of != NULL ? TEXT("copy") : TEXT("run");
}

struct text review_state(const struct run_log *log, struct arena *arena)
{
	static const char *const ends[] = {
		[RUN_LOG_CUT_OFF] = "cut off", [RUN_LOG_FINISHED] = "finished", [RUN_LOG_STOPPED] = "stopped by hand"
	};
	struct text_builder state = text_builder_start(arena);

	text_append_string(&state, ends[log->end]);
	if (log->last_stamp.length > 0)
		text_append_format(&state, " at %.*s", TEXT_ARGUMENT(log->last_stamp));
	if (log->resumed_times > 0)
		text_append_format(&state, "; gone on with after a break, %zu time%s", log->resumed_times,
				   log->resumed_times == 1 ? "" : "s");
	if (log->speed > 1)
		text_append_format(&state, "; a REHEARSAL, %" PRId64 " times as fast", log->speed);
	if (log->unread_count > 0)
		text_append_format(&state, "; DAMAGED: %zu line%s cannot be read, the first of them line %zu",
				   log->unread_count, log->unread_count == 1 ? "" : "s", log->unread_first);
	if (log->is_last_cut_off)
		text_append_string(&state, "; its last line is cut off and left out");
	return text_builder_text(&state);
}

struct text review_times(const struct review_step *step, struct arena *arena)
{
	const struct run_log_step *run = step->run;
	const struct review_verdict_row *verdict = review_verdict_row(step->verdict);
	bool has_drain = run->plan.drain_cs != RUN_LOG_NONE;
	int64_t planned_cs = has_drain ? run->plan.drain_cs : run->plan.end_cs;
	struct text_builder words = text_builder_start(arena);

	if (planned_cs != RUN_LOG_NONE)
		text_append_format(&words, "%s planned at %s%.*s, ", has_drain ? "drain" : "end",
				   run->plan.form == RUN_LOG_LEAST ? "least " : "",
				   TEXT_ARGUMENT(seconds(planned_cs, arena)));
	if (step->has_off) {
		text_append_format(&words, "done at %.*s", TEXT_ARGUMENT(seconds(planned_cs + step->off_cs, arena)));
		if (llabs(step->off_cs) >= 10)
			text_append_format(&words, " (%.*s %s)", TEXT_ARGUMENT(seconds(llabs(step->off_cs), arena)),
					   step->off_cs < 0 ? "earlier" : "later");
		text_append_string(&words, ": ");
	}
	text_append(&words, verdict->title);
	return text_builder_text(&words);
}

struct text review_temperature(const struct review_step *step, struct arena *arena)
{
	const struct run_log_step *run = step->run;
	struct text_builder words = text_builder_start(arena);

	if (run->measured_milli_c == RUN_LOG_NONE)
		return TEXT("");
	text_append_format(&words, "read %.*s", TEXT_ARGUMENT(run->reading));
	if (run->correction_milli_k != 0)
		text_append_format(&words, ", which is truly %.*s",
				   TEXT_ARGUMENT(review_celsius(run->measured_milli_c, arena)));
	if (run->aim_milli_c != RUN_LOG_NONE)
		text_append_format(&words, ", %s %.*s to %.*s", step->is_outside ? "OUTSIDE" : "inside",
				   TEXT_ARGUMENT(review_celsius(run->low_milli_c, arena)),
				   TEXT_ARGUMENT(review_celsius(run->high_milli_c, arena)));
	return text_builder_text(&words);
}

struct text review_development(const struct review_step *step, struct arena *arena)
{
	int64_t percent = llabs(step->stray_percent);

	if (!step->has_effective)
		return TEXT("");
	return text_format(arena, "developed as %.*s at %.*s: %s%.*s %s than the %.*s wanted%s",
			   TEXT_ARGUMENT(quantity_print_duration(arena, step->effective_ms)),
			   TEXT_ARGUMENT(review_celsius(step->run->development.working_milli_c, arena)),
			   step->is_spoilt ? "SPOILT, "
			   : step->strays  ? "strays, "
					   : "",
			   TEXT_ARGUMENT(quantity_print_percent(arena, percent)),
			   step->stray_percent < 0 ? "less" : "more",
			   TEXT_ARGUMENT(quantity_print_duration(arena, step->wanted_ms)),
			   step->is_measured ? "" : "; no temperature is in the log, so that to aim at was taken");
}

/* ---- departures ---- */

static struct text print_remark(const struct run_log_remark *remark, struct arena *arena)
{
	if (text_equal(remark->word, TEXT("wrong-bottle")))
		return text_format(arena, "the number of a wrong bottle was typed: %.*s",
				   TEXT_ARGUMENT(remark->remark));
	if (text_equal(remark->word, TEXT("begun")))
		return TEXT("the time was counted again from a later moment");
	return remark->remark.length > 0 ? remark->remark : remark->word;
}

struct text review_departure(const struct review_step *step, size_t index, struct arena *arena)
{
	const struct run_log_step *run = step->run;
	const struct review_verdict_row *verdict = review_verdict_row(step->verdict);

	if (verdict->departs && index-- == 0)
		return verdict->title;
	if (step->is_outside && !run->has_used && index-- == 0)
		return text_format(arena, "measured %.*s, outside its window",
				   TEXT_ARGUMENT(review_celsius(run->measured_milli_c, arena)));
	if (step->strays && index-- == 0)
		return review_development(step, arena);
	if (step->missed_agitations > 0 && index-- == 0)
		return text_format(arena, "%zu of %zu agitations are not in the log", step->missed_agitations,
				   run->plan.agitations);
	if (run->latest_cue_cs > REVIEW_LATE_CS && index-- == 0)
		return text_format(arena, "a cue came %.*s late", TEXT_ARGUMENT(seconds(run->latest_cue_cs, arena)));
	for (const struct run_log_remark *remark = run->remarks; remark != NULL; remark = remark->next)
		if (index-- == 0)
			return print_remark(remark, arena);
	return TEXT("");
}

struct text review_departures(const struct review *review, struct arena *arena)
{
	struct text_builder words = text_builder_start(arena);

	for (size_t i = 0; i < review->log->step_count; i++) {
		const struct review_step *step = &review->steps[i];
		struct text departure;

		for (size_t k = 0; (departure = review_departure(step, k, arena)).length > 0; k++)
			text_append_format(&words, "%s%.*s: %.*s", words.length > 0 ? "; " : "",
					   TEXT_ARGUMENT(step->run->name), TEXT_ARGUMENT(departure));
	}
	return text_builder_text(&words);
}

/* ---- the next day ---- */

/* A volume as the language reads it: "3 L", "2500 mL" without surplus zeros. */
static struct text print_volume(int64_t tenth_ml, struct arena *arena)
{
	if (tenth_ml % 10000 == 0)
		return text_format(arena, "%" PRId64 " L", tenth_ml / 10000);
	if (tenth_ml % 10 == 0)
		return text_format(arena, "%" PRId64 " mL", tenth_ml / 10);
	return text_format(arena, "%" PRId64 ".%" PRId64 " mL", tenth_ml / 10, tenth_ml % 10);
}

struct text review_bath_words(const struct review_bath *bath, struct arena *arena)
{
	struct text_builder line = text_builder_start(arena);

	text_append_format(&line, "%.*s %.*s", TEXT_ARGUMENT(bath->name),
			   TEXT_ARGUMENT(print_volume(bath->volume_tenth_ml, arena)));
	if (bath->mixed.length > 0)
		text_append_format(&line, " mixed %.*s", TEXT_ARGUMENT(bath->mixed));
	if (bath->done_milli_rolls > 0)
		text_append_format(&line, " done %.*s rolls",
				   TEXT_ARGUMENT(this_run_rolls(arena, bath->done_milli_rolls)));
	return text_builder_text(&line);
}

struct text review_on_hand(const struct review_bath *bath, struct arena *arena)
{
	return text_format(arena, "on hand %.*s", TEXT_ARGUMENT(review_bath_words(bath, arena)));
}

const struct review_step *review_first_development(const struct review *review)
{
	for (size_t i = 0; i < review->log->step_count; i++)
		if (review->log->steps[i].development.is_told)
			return &review->steps[i];
	return NULL;
}
