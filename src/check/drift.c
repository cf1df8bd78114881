/* The checks of group "temperature" that need a sum: the pour and what the tank loses. compute/drift and
 * compute/forecast have the sums. */
#include "check/checks.h"
#include "check/print.h"
#include "check/sequence.h"
#include "compute/development.h"
#include "compute/forecast.h"

#define TENTH (TEMPERATURE_PER_KELVIN / 10)

/* The time was worked out for a measured temperature: the window is not that of this run. */
static bool is_compensated(const struct check_run *run)
{
	return run->used && run->used[run->step_index].is_for_temperature;
}

/* True where prewet-eats-window speaks about the step. */
static bool is_eaten(const struct check_run *run, struct drift_pour *pour)
{
	return sequence_acts(run->step, ACTIONS_DEVELOP) && !is_compensated(run) &&
	       drift_pour(run->process, run->timeline, run->step_index, pour) && pour->before != run->step_index &&
	       drift_is_outside(development_pour_window(run->step), pour->after);
}

static int64_t poured_at(const struct check_run *run)
{
	int64_t pour = 0;
	drift_poured(run->process, run->timeline, run->step_index, &pour);
	return pour;
}

/* From where the tank drifts: from the pour as it comes out. Where the pour alone leaves the window, that is said by
 * another check, and this one starts from what is poured: one mistake, one finding. */
static int64_t drift_start(const struct check_run *run)
{
	struct drift_pour pour;
	if (is_eaten(run, &pour) || !drift_pour(run->process, run->timeline, run->step_index, &pour))
		return poured_at(run);
	return pour.after;
}

static struct text percent(const struct check_run *run, int64_t value)
{
	return quantity_print_percent(run->arena,
				      (value < 0 ? -value : value) / (PERCENT_ONE / 10) * (PERCENT_ONE / 10));
}

/* What is wrong with the drift: the mean leaves the window, or the development goes too far or not far enough. */
static struct text complaint(const struct check_run *run, const struct temperature_window *window,
			     const struct drift *drift)
{
	if (!is_compensated(run) && drift_is_outside(window, drift->mean)) {
		bool is_low = drift->mean < window->low;
		struct text limit = print_temperature(run, is_low ? window->low : window->high);
		return text_format(run->arena, "the window %s at %.*s", is_low ? "begins" : "ends",
				   TEXT_ARGUMENT(limit));
	}
	struct text by = percent(run, drift->effective);
	struct text working = print_temperature(run, window->nominal);
	return text_format(run->arena, "that develops %.*s %s than at %.*s", TEXT_ARGUMENT(by),
			   drift->effective < 0 ? "less" : "more", TEXT_ARGUMENT(working));
}

/* A first bath that finds the tank colder or warmer than itself. */
static bool meets_untempered_tank(const struct forecast *forecast)
{
	return forecast->is_first && forecast->met_c != forecast->pour_c;
}

static int64_t figure(double temp_c)
{
	return forecast_temperature(temp_c);
}

static void help_against_drift(struct check_run *run, struct diagnostic *finding,
			       const struct temperature_window *window)
{
	struct forecast forecast = forecast_step(run->process, run->timeline, run->step_index);
	const struct forecast_exact *exact = &forecast.exact;
	struct text pour = print_temperature(run, figure(exact->pour_c));
	struct text bath = print_temperature(run, figure(exact->bath_c));
	struct text working = print_temperature(run, window->nominal);
	bool has_bath = exact->has_bath;
	if (exact->pour == FORECAST_POUR_none || exact->pour == FORECAST_POUR_outside_usable)
		check_help(run, finding,
			   "no pour that the bath bears mends that: stand the tank in a water bath at %.*s",
			   TEXT_ARGUMENT(has_bath ? bath : working));
	else if (meets_untempered_tank(&forecast))
		check_help(run, finding, "pour at %.*s (its own `pour at`), or temper the tank to %.*s first",
			   TEXT_ARGUMENT(pour), TEXT_ARGUMENT(working));
	else if (has_bath)
		check_help(run, finding, "pour at %.*s (its own `pour at`), or stand the tank in a water bath at %.*s",
			   TEXT_ARGUMENT(pour), TEXT_ARGUMENT(bath));
	else
		check_help(run, finding,
			   "pour at %.*s (its own `pour at`), or have tank and reels at %.*s and stand the tank in a "
			   "water bath at %.*s",
			   TEXT_ARGUMENT(pour), TEXT_ARGUMENT(working), TEXT_ARGUMENT(working));
}

static void note_drift(struct check_run *run, struct diagnostic *finding, const struct drift *drift)
{
	const struct tank *tank = run->process->tank;
	int64_t poured = poured_at(run);
	if (drift->start != poured)
		check_note(run, finding, span_is_set(tank->absorbs.span) ? tank->absorbs.span : tank->carries.span,
			   "poured at %.*s, it comes to %.*s in the tank",
			   TEXT_ARGUMENT(print_temperature(run, poured)),
			   TEXT_ARGUMENT(print_temperature(run, drift->start)));
	check_note(run, finding, tank->cools.span,
		   "the rate comes from this heat-loss test; here the tank goes towards %.*s",
		   TEXT_ARGUMENT(print_temperature(run, drift->surroundings)));
	if (span_is_set(tank->bath.span))
		check_note(run, finding, tank->bath.span, "it stands in this water bath");
}

/* Running water keeps its temperature; what ends a process stands in a vessel of its own. */
void check_drift_leaves_window(struct check_run *run)
{
	const struct step *step = run->step;
	const struct temperature_window *window = development_window(step);
	struct drift drift;
	bool stands =
		(step->bath == BATH_SOLUTION || step->bath == BATH_WATER) && !sequence_acts(step, ACTION_BIT(ENDS));
	if (!stands || !window || !run->timeline->steps[run->step_index].is_poured)
		return;
	int64_t start = drift_start(run);
	if (drift_is_slight(run->process, run->timeline, run->step_index, start) ||
	    !drift_from(run->process, run->timeline, run->step_index, start, &drift))
		return;
	int64_t off = drift.effective < 0 ? -drift.effective : drift.effective;
	bool strays = drift.has_effective && off > DRIFT_BEARABLE_PERCENT;
	if ((is_compensated(run) || !drift_is_outside(window, drift.mean)) && !strays)
		return;
	struct text mean =
		print_temperature_beside(run, drift.mean, drift.mean < window->low ? window->low : window->high);
	struct diagnostic *finding =
		check_add(run, window->span, "%.*s goes from %.*s to %.*s in %.*s, mean %.*s; %.*s",
			  TEXT_ARGUMENT(sequence_name(run, step)), TEXT_ARGUMENT(print_temperature(run, drift.start)),
			  TEXT_ARGUMENT(print_temperature(run, drift.end)),
			  TEXT_ARGUMENT(sequence_duration(run, run->timeline->steps[run->step_index].time.low_ms)),
			  TEXT_ARGUMENT(mean), TEXT_ARGUMENT(complaint(run, window, &drift)));
	if (strays && off > DRIFT_SPOILT_PERCENT)
		report_raise(run->report, finding, SEVERITY_ERROR);
	help_against_drift(run, finding, window);
	note_drift(run, finding, &drift);
}

/* To a tenth of a kelvin, away from the limit. */
static int64_t to_tenth(int64_t temperature, bool is_up)
{
	int64_t below = temperature / TENTH * TENTH;
	return is_up && below < temperature ? below + TENTH : below;
}

static void help_against_prewet(struct check_run *run, struct diagnostic *finding, const struct drift_pour *pour,
				int64_t limit, bool is_low)
{
	struct text name = sequence_name(run, &run->process->steps[pour->before]);
	int64_t before;
	if (!drift_before_for(run->process, pour, limit, &before)) {
		check_help(run, finding, "pour at %.*s", TEXT_ARGUMENT(print_temperature(run, pour->pour_for)));
		return;
	}
	check_help(run, finding, "have %.*s at %.*s or %s, or pour at %.*s", TEXT_ARGUMENT(name),
		   TEXT_ARGUMENT(print_temperature(run, to_tenth(before, is_low))), is_low ? "warmer" : "colder",
		   TEXT_ARGUMENT(print_temperature(run, pour->pour_for)));
}

void check_prewet_eats_window(struct check_run *run)
{
	struct drift_pour pour;
	if (!is_eaten(run, &pour))
		return;
	const struct temperature_window *window = development_pour_window(run->step);
	const struct step *before = &run->process->steps[pour.before];
	bool is_low = pour.after < window->low;
	int64_t limit = is_low ? window->low : window->high;
	struct diagnostic *finding =
		check_add(run, window->span, "poured at %.*s, %.*s comes to %.*s in the tank; its window %s at %.*s",
			  TEXT_ARGUMENT(print_temperature(run, pour.poured)),
			  TEXT_ARGUMENT(sequence_name(run, run->step)),
			  TEXT_ARGUMENT(print_temperature_beside(run, pour.after, limit)), is_low ? "begins" : "ends",
			  TEXT_ARGUMENT(print_temperature(run, limit)));
	help_against_prewet(run, finding, &pour, limit, is_low);
	check_note(run, finding, before->at.span, "%.*s leaves tank and reels at %.*s",
		   TEXT_ARGUMENT(sequence_name(run, before)), TEXT_ARGUMENT(print_temperature(run, pour.met)));
	const struct tank *tank = run->process->tank;
	if (pour.carried > 0)
		check_note(run, finding, tank->carries.span, "the reels of one load carry %.*s",
			   TEXT_ARGUMENT(print_volume(run, pour.carried)));
	if (pour.absorbs > 0)
		check_note(run, finding, tank->absorbs.span, "the tank counts as %.*s",
			   TEXT_ARGUMENT(print_volume(run, pour.absorbs)));
}
