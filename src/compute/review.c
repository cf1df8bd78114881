#include "compute/review.h"

#include <math.h>
#include <stdlib.h>

#include "compute/drift.h"
#include "compute/quadrature.h"
#include "compute/rounding.h"

static const struct review_verdict_row rows[] = {
#define REVIEW_VERDICT(id, word, title, departs) { { word, sizeof(word) - 1 }, { title, sizeof(title) - 1 }, departs },
#include "compute/review_verdicts.def"
#undef REVIEW_VERDICT
};

const struct review_verdict_row *review_verdict_row(enum review_verdict verdict)
{
	return &rows[verdict];
}

/* ---- times ---- */

/* The later end of a range as its drain. */
static int64_t latest_drain_cs(const struct run_log_plan *plan)
{
	if (plan->latest_cs == RUN_LOG_NONE)
		return INT64_MAX;
	if (plan->drain_cs == RUN_LOG_NONE || plan->end_cs == RUN_LOG_NONE)
		return plan->latest_cs;
	return plan->latest_cs - (plan->end_cs - plan->drain_cs);
}

static int64_t bearable_cs(int64_t planned_cs)
{
	int64_t share_cs = planned_cs * REVIEW_OFF_PERCENT / 100;

	return share_cs > REVIEW_OFF_LEAST_CS ? share_cs : REVIEW_OFF_LEAST_CS;
}

/* When the step was drained, or over where it has no drain; RUN_LOG_NONE where the log does not say. */
static int64_t done_cs(const struct run_log_step *run)
{
	return run->plan.drain_cs != RUN_LOG_NONE ? run->drained_cs : run->over_cs;
}

static enum review_verdict judge(const struct run_log_step *run, int64_t off_cs, int64_t planned_cs)
{
	int64_t latest_cs = latest_drain_cs(&run->plan);

	if (off_cs < -bearable_cs(planned_cs))
		return REVIEW_too_short;
	if (off_cs <= bearable_cs(planned_cs) || planned_cs <= 0)
		return REVIEW_as_planned;
	if (run->plan.form == RUN_LOG_EXACT)
		return REVIEW_too_long;
	if (latest_cs != INT64_MAX && planned_cs + off_cs > latest_cs + bearable_cs(latest_cs))
		return REVIEW_too_long;
	return REVIEW_longer;
}

static void review_time(struct review_step *step)
{
	const struct run_log_step *run = step->run;
	int64_t planned_cs = run->plan.drain_cs != RUN_LOG_NONE ? run->plan.drain_cs : run->plan.end_cs;

	step->verdict = REVIEW_not_begun;
	if (!run->is_begun)
		return;
	step->verdict = REVIEW_not_over;
	if (done_cs(run) == RUN_LOG_NONE)
		return;
	step->verdict = REVIEW_as_planned;
	if (planned_cs == RUN_LOG_NONE)
		return;
	step->has_off = true;
	step->off_cs = done_cs(run) - planned_cs;
	step->verdict = judge(run, step->off_cs, planned_cs);
}

/* ---- development ---- */

struct course {
	const struct run_log_rate *rates;
	double start_c, surroundings_c, cooling; /* cooling 0: it stays as it is */
	bool is_known;
};

/* By straight lines over the logarithms, as the time of a table is; false outside. */
static bool rate_at(const struct run_log_rate *rates, double temp_c, double *rate)
{
	const double slack_c = 0.002;
	double milli = temp_c * 1000;

	if (rates == NULL || temp_c < (double)rates->temp_milli_c / 1000 - slack_c)
		return false;
	while (rates->next != NULL && rates->next->next != NULL && milli > (double)rates->next->temp_milli_c)
		rates = rates->next;
	double here = log((double)rates->rate_millionths);
	if (rates->next == NULL) {
		*rate = (double)rates->rate_millionths / 1e6;
		return fabs(milli - (double)rates->temp_milli_c) <= slack_c * 1000;
	}
	if (temp_c > (double)rates->next->temp_milli_c / 1000 + slack_c)
		return false;
	double share =
		(milli - (double)rates->temp_milli_c) / (double)(rates->next->temp_milli_c - rates->temp_milli_c);
	double there = log((double)rates->next->rate_millionths);
	*rate = exp(here + (there - here) * fmin(fmax(share, 0), 1)) / 1e6;
	return true;
}

static double rate_after(double time_s, const void *data)
{
	const struct course *course = data;
	double temp_c =
		course->surroundings_c + (course->start_c - course->surroundings_c) * exp(-course->cooling * time_s);
	double rate = 0;

	/* Outside the table the whole is given up, which is seen at the ends: the way there is monotonous. */
	rate_at(course->rates, temp_c, &rate);
	return rate;
}

static struct course course_of(const struct run_log_step *run, double poured_c)
{
	const struct run_log_development *development = &run->development;
	struct course course = { .rates = development->rates, .is_known = true };

	if (development->cooling_nanos == RUN_LOG_NONE || development->surroundings_milli_c == RUN_LOG_NONE) {
		double aim_c =
			(double)(run->aim_milli_c == RUN_LOG_NONE ? development->working_milli_c : run->aim_milli_c) /
			1000;

		course.start_c = poured_c - aim_c + (double)development->working_milli_c / 1000;
		course.surroundings_c = course.start_c;
		return course;
	}
	course.start_c = poured_c;
	if (development->met_milli_c != RUN_LOG_NONE && development->met_weight_millionths != RUN_LOG_NONE)
		course.start_c += ((double)development->met_milli_c / 1000 - poured_c) *
				  (double)development->met_weight_millionths / 1e6;
	course.surroundings_c = (double)development->surroundings_milli_c / 1000;
	course.cooling = (double)development->cooling_nanos / 1e9;
	return course;
}

/* The time it was really in the developer: that of the plan, and by how much its drain was later. */
static double developed_s(const struct run_log_step *run)
{
	int64_t planned_cs = run->plan.drain_cs != RUN_LOG_NONE ? run->planned_drain_cs : run->planned_end_cs;

	if (planned_cs == RUN_LOG_NONE)
		return -1;
	return (double)run->development.time_ms / 1000 + (double)(done_cs(run) - planned_cs) / 100;
}

static void review_development(struct review_step *step)
{
	const struct run_log_step *run = step->run;
	const struct run_log_development *development = &run->development;
	int64_t poured = run->measured_milli_c != RUN_LOG_NONE ? run->measured_milli_c : run->aim_milli_c;
	double time_s, effective_s, ignored;

	if (!development->is_there || poured == RUN_LOG_NONE || done_cs(run) == RUN_LOG_NONE)
		return;
	struct course course = course_of(run, (double)poured / 1000);
	time_s = developed_s(run);
	double end_c = course.surroundings_c + (course.start_c - course.surroundings_c) * exp(-course.cooling * time_s);
	if (time_s <= 0 || !rate_at(course.rates, course.start_c, &ignored) || !rate_at(course.rates, end_c, &ignored))
		return;
	effective_s = quadrature_integral(rate_after, &course, 0, time_s);
	step->has_effective = true;
	step->is_measured = run->measured_milli_c != RUN_LOG_NONE;
	step->wanted_ms = development->wanted_ms;
	step->effective_ms = rounding_whole(effective_s) * MILLISECONDS_PER_SECOND;
	double stray = effective_s * 1000 / (double)development->wanted_ms - 1;
	step->stray_percent = rounding_whole(stray * 1000) * (PERCENT_ONE / 10);
	step->strays = fabs(stray) * 100 * (double)PERCENT_ONE > (double)DRIFT_BEARABLE_PERCENT;
	step->is_spoilt = fabs(stray) * 100 * (double)PERCENT_ONE > (double)DRIFT_SPOILT_PERCENT;
}

/* ---- a step, a run ---- */

static void review_step(const struct run_log_step *run, struct review_step *step)
{
	step->run = run;
	review_time(step);
	review_development(step);
	step->is_outside = run->measured_milli_c != RUN_LOG_NONE && run->aim_milli_c != RUN_LOG_NONE &&
			   (run->measured_milli_c < run->low_milli_c || run->measured_milli_c > run->high_milli_c);
	if (run->is_over && run->agitations_done < run->plan.agitations)
		step->missed_agitations = run->plan.agitations - run->agitations_done;
	step->has_departure = review_verdict_row(step->verdict)->departs || step->strays ||
			      step->missed_agitations > 0 || run->remarks != NULL ||
			      run->latest_cue_cs > REVIEW_LATE_CS || (step->is_outside && !run->has_used);
}

static void review_run(const struct run_log *log, struct review *review, struct arena *arena)
{
	*review = (struct review){ .log = log, .steps = ARENA_ARRAY(arena, struct review_step, log->step_count) };
	for (size_t i = 0; i < log->step_count; i++) {
		review_step(&log->steps[i], &review->steps[i]);
		review->departures += review->steps[i].has_departure;
	}
}

/* ---- baths ---- */

static bool was_poured(const struct run_log *log, struct text bath)
{
	for (size_t i = 0; i < log->step_count; i++)
		if (log->steps[i].is_begun && text_equal(log->steps[i].bath, bath))
			return true;
	return false;
}

/* What is on hand on another day is the mix that was used last before, whatever its number was then. */
static bool is_same_bath(const struct review_bath *known, const struct run_log *log, const struct run_log_bath *bath)
{
	bool is_of_day = text_equal(known->day, log->day);

	return text_equal(known->name, bath->name) && text_equal(known->mixed, bath->mixed) &&
	       (is_of_day ? known->fill == bath->fill : !known->is_replaced);
}

static void count_bath(struct reviews *reviews, const struct run_log *log, const struct run_log_bath *bath,
		       struct arena *arena)
{
	struct review_bath **place = &reviews->baths;
	int64_t load = was_poured(log, bath->name) ? bath->load_milli_rolls : 0;

	while (*place != NULL && !is_same_bath(*place, log, bath))
		place = &(*place)->next;
	if (*place == NULL) {
		*place = ARENA_NEW(arena, struct review_bath);
		**place = (struct review_bath){ .name = bath->name, .mixed = bath->mixed };
	}
	(*place)->day = log->day;
	(*place)->fill = bath->fill;
	for (struct review_bath *other = reviews->baths; other != NULL; other = other->next)
		if (text_equal(other->name, bath->name))
			other->is_replaced = other != *place;
	(*place)->volume_tenth_ml = bath->volume_tenth_ml;
	if ((*place)->done_milli_rolls < bath->done_milli_rolls)
		(*place)->done_milli_rolls = bath->done_milli_rolls;
	(*place)->done_milli_rolls += load;
}

static size_t begun_steps(const struct run_log *log)
{
	size_t count = 0;

	for (size_t i = 0; i < log->step_count; i++)
		count += log->steps[i].is_begun;
	return count;
}

/* Nobody begins the same load twice in one second: logs that say so were copied, one of them perhaps while it grew. */
static bool is_same_run(const struct run_log *a, const struct run_log *b)
{
	return a->started_epoch != RUN_LOG_NONE && a->started_epoch == b->started_epoch &&
	       a->load_number == b->load_number && text_equal(a->process, b->process) &&
	       text_equal(a->fingerprint, b->fingerprint) && text_equal(a->day, b->day);
}

/* Reviews lie in the order of their starts: copies beside each other. The one that got furthest counts. */
static void find_copies(struct reviews *reviews)
{
	for (size_t i = 1, first = 0; i < reviews->count; i++) {
		struct review *best = &reviews->items[first], *other = &reviews->items[i];

		if (!is_same_run(best->log, other->log)) {
			first = i;
			continue;
		}
		if (begun_steps(other->log) > begun_steps(best->log)) {
			best->copy_of = other;
			first = i;
		} else {
			other->copy_of = best;
		}
	}
}

static int by_start(const void *a, const void *b)
{
	const struct review *first = a, *second = b;
	int64_t start = first->log->started_epoch, other = second->log->started_epoch;

	if (start != other)
		return start < other ? -1 : 1;
	return text_compare(first->log->name, second->log->name);
}

struct reviews *reviews_build(struct run_log *const *logs, size_t count, struct arena *arena)
{
	struct reviews *reviews = ARENA_NEW(arena, struct reviews);

	reviews->items = ARENA_ARRAY(arena, struct review, count);
	reviews->count = count;
	for (size_t i = 0; i < count; i++)
		review_run(logs[i], &reviews->items[i], arena);
	if (count > 1)
		qsort(reviews->items, count, sizeof(*reviews->items), by_start);
	find_copies(reviews);
	for (size_t i = 0; i < count; i++) {
		const struct run_log *log = reviews->items[i].log;

		if (log->speed > 1 || reviews->items[i].copy_of != NULL)
			continue; /* a rehearsal did no film */
		for (const struct run_log_bath *bath = log->baths; bath != NULL; bath = bath->next)
			count_bath(reviews, log, bath, arena);
	}
	return reviews;
}
