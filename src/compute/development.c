#include "compute/development.h"

#include <math.h>

#include "compute/cooling.h"
#include "compute/heat_balance.h"
#include "compute/quadrature.h"
#include "compute/root.h"

#define KELVIN_AT_0_C 273.15

/* A coefficient of one, which is 100 % per kelvin. */
#define COEFFICIENT_ONE (100.0 * PERCENT_ONE)

/* Rounding must not push a bath out of a table in which it stands. */
#define SLACK_K 1e-9

bool development_has_rule(const struct step *step)
{
	return step->times || span_is_set(step->coefficient.span) || span_is_set(step->activation_energy.span);
}

const struct temperature_window *development_window(const struct step *step)
{
	if (span_is_set(step->mean.span))
		return &step->mean;
	return span_is_set(step->at.span) ? &step->at : NULL;
}

const struct temperature_window *development_pour_window(const struct step *step)
{
	return span_is_set(step->pour_at.span) ? &step->pour_at : &step->at;
}

int64_t development_measured(const struct step *step, int64_t measured)
{
	const struct temperature_window *window = development_window(step);
	if (!window || !span_is_set(step->pour_at.span))
		return measured;
	return measured - step->pour_at.nominal + window->nominal;
}

static double row_c(const struct time_row *row)
{
	return quantity_celsius(row->temperature.value);
}

static const struct time_row *last_row(const struct time_row *rows)
{
	while (rows->next)
		rows = rows->next;
	return rows;
}

static bool is_in_table(const struct time_row *rows, double temp_c)
{
	return temp_c >= row_c(rows) - SLACK_K && temp_c <= row_c(last_row(rows)) + SLACK_K;
}

/* The natural logarithm of the table's time at a temperature within it. */
static double log_time(const struct time_row *rows, double temp_c)
{
	const struct time_row *row = rows;
	while (row->next && row->next->next && temp_c > row_c(row->next))
		row = row->next;
	double here = log((double)row->time.value);
	if (!row->next)
		return here;
	double share = (temp_c - row_c(row)) / (row_c(row->next) - row_c(row));
	double there = log((double)row->next->time.value);
	return here + (there - here) * fmin(fmax(share, 0), 1);
}

/* What of a step's rule is the same at every temperature: a sum asks for the rate a hundred times. */
struct rule {
	const struct step *step;
	double working_c;
	double log_working; /* log_time there, where there is a table */
};

static bool rule_of(const struct step *step, struct rule *rule)
{
	const struct temperature_window *window = development_window(step);
	if (!window)
		return false;
	*rule = (struct rule){ step, quantity_celsius(window->nominal), 0 };
	if (!step->times)
		return true;
	if (!is_in_table(step->times, rule->working_c))
		return false;
	rule->log_working = log_time(step->times, rule->working_c);
	return true;
}

static bool rule_rate(const struct rule *rule, double temp_c, double *rate)
{
	const struct step *step = rule->step;
	double working_c = rule->working_c;
	if (step->times) {
		if (!is_in_table(step->times, temp_c))
			return false;
		*rate = exp(rule->log_working - log_time(step->times, temp_c));
		return true;
	}
	if (span_is_set(step->coefficient.span)) {
		*rate = exp((double)step->coefficient.value / COEFFICIENT_ONE * (temp_c - working_c));
		return true;
	}
	if (span_is_set(step->activation_energy.span)) {
		double energy = (double)step->activation_energy.value;
		double difference = 1 / (working_c + KELVIN_AT_0_C) - 1 / (temp_c + KELVIN_AT_0_C);
		*rate = exp(energy / GAS_CONSTANT * difference);
		return true;
	}
	return false;
}

bool development_rate(const struct step *step, double temp_c, double *rate)
{
	struct rule rule;
	return rule_of(step, &rule) && rule_rate(&rule, temp_c, rate);
}

/* Between two rows, and without a table, the rate only rises or only falls. */
bool development_rates_between(const struct step *step, double from_c, double to_c, double *slowest, double *fastest)
{
	double at_end;
	if (!development_rate(step, from_c, slowest) || !development_rate(step, to_c, &at_end))
		return false;
	*fastest = fmax(*slowest, at_end);
	*slowest = fmin(*slowest, at_end);
	for (const struct time_row *row = step->times; row; row = row->next) {
		double rate;
		if ((row_c(row) - from_c) * (row_c(row) - to_c) >= 0 || !development_rate(step, row_c(row), &rate))
			continue;
		*fastest = fmax(*fastest, rate);
		*slowest = fmin(*slowest, rate);
	}
	return true;
}

/* A bath on its way from its start towards its surroundings. */
struct course {
	struct rule rule;
	double start_c;
	double surroundings_c;
	double cooling;
};

static double course_temp_c(const struct course *course, double time_s)
{
	return cooling_temp_c(course->start_c, course->surroundings_c, course->cooling, time_s);
}

static double course_rate(double time_s, const void *data)
{
	const struct course *course = data;
	double rate = 0;
	rule_rate(&course->rule, course_temp_c(course, time_s), &rate);
	return rate;
}

/* When the bath passes a temperature; 0 or the whole time where it is beyond it already, or has not come there yet. */
static double passing_s(const struct course *course, double temp_c, double time_s)
{
	double end_c = course_temp_c(course, time_s);
	bool rises = end_c > course->start_c;
	if (rises ? temp_c <= course->start_c : temp_c >= course->start_c)
		return 0;
	if (rises ? temp_c >= end_c : temp_c <= end_c)
		return time_s;
	return cooling_time_s(course->start_c, temp_c, course->surroundings_c, course->cooling);
}

/* The rate has a kink at each row of a table: the time is cut there. */
static double integral_of_rate(const struct course *course, double time_s)
{
	double sum = 0;
	const struct time_row *row = course->rule.step->times;
	double from_s = passing_s(course, -INFINITY, time_s);
	for (; row && row->next && row->next->next; row = row->next) {
		double to_s = passing_s(course, row_c(row->next), time_s);
		sum += fabs(quadrature_integral(course_rate, course, from_s, to_s));
		from_s = to_s;
	}
	return sum + fabs(quadrature_integral(course_rate, course, from_s, passing_s(course, INFINITY, time_s)));
}

bool development_effective(const struct step *step, double start_c, double surroundings_c, double cooling,
			   double time_s, double *share)
{
	struct course course = { { 0 }, start_c, surroundings_c, cooling };
	double rate;
	if (!rule_of(step, &course.rule) || !rule_rate(&course.rule, start_c, &rate) ||
	    !rule_rate(&course.rule, course_temp_c(&course, time_s), &rate))
		return false;
	*share = integral_of_rate(&course, time_s) / time_s;
	return true;
}

/* What is looked for: a course on which effective development is a share of the time. */
struct wanted {
	const struct step *step;
	struct cooling_start start;
	double surroundings_c;
	double cooling;
	double time_s;
	double share;
};

/* How far a course is off: a logarithm, which is nearly a straight line. */
static bool off(const struct wanted *wanted, double start_c, double surroundings_c, double *result)
{
	double share;
	if (!development_effective(wanted->step, start_c, surroundings_c, wanted->cooling, wanted->time_s, &share))
		return false;
	*result = log(share / wanted->share);
	return true;
}

static bool off_by_start(double start_c, const void *data, double *result)
{
	const struct wanted *wanted = data;
	return off(wanted, start_c, wanted->surroundings_c, result);
}

static bool off_by_surroundings(double surroundings_c, const void *data, double *result)
{
	const struct wanted *wanted = data;
	return off(wanted, cooling_start_c(wanted->start, surroundings_c), surroundings_c, result);
}

/* Between which temperatures the rule holds. */
static void range_of_rule(const struct step *step, double *low_c, double *high_c)
{
	*low_c = step->times ? row_c(step->times) : WATER_FREEZES_C;
	*high_c = step->times ? row_c(last_row(step->times)) : WATER_BOILS_C;
}

bool development_start_for(const struct step *step, double share, double surroundings_c, double cooling, double time_s,
			   double *start_c)
{
	struct wanted wanted = { step, { 0, 0 }, surroundings_c, cooling, time_s, share };
	double low_c;
	double high_c;
	range_of_rule(step, &low_c, &high_c);
	/* The end must lie in the range too; the start that leads there is found by going back in time. */
	double from_c = fmax(low_c, cooling_temp_c(low_c, surroundings_c, -cooling, time_s));
	double to_c = fmin(high_c, cooling_temp_c(high_c, surroundings_c, -cooling, time_s));
	return root_find(off_by_start, &wanted, from_c, to_c, start_c);
}

bool development_surroundings_for(const struct step *step, double share, struct cooling_start start, double cooling,
				  double time_s, double *surroundings_c)
{
	struct wanted wanted = { step, start, 0, cooling, time_s, share };
	double low_c;
	double high_c;
	range_of_rule(step, &low_c, &high_c);
	/* Start and end are straight lines over the surroundings; both must lie in the range. */
	double left = exp(-cooling * time_s);
	double end_fixed_c = start.fixed_c * left;
	double end_share = 1 - left + start.share * left;
	double from_c = fmax(WATER_FREEZES_C, (low_c - end_fixed_c) / end_share);
	double to_c = fmin(WATER_BOILS_C, (high_c - end_fixed_c) / end_share);
	if (start.share > 0) {
		from_c = fmax(from_c, (low_c - start.fixed_c) / start.share);
		to_c = fmin(to_c, (high_c - start.fixed_c) / start.share);
	}
	return root_find(off_by_surroundings, &wanted, from_c, to_c, surroundings_c);
}
