#include "compute/cooling.h"

#include <math.h>

double cooling_rate(double from_c, double to_c, double within_s, double surroundings_c)
{
	return log((from_c - surroundings_c) / (to_c - surroundings_c)) / within_s;
}

bool cooling_rate_of_test(const struct heat_loss_test *test, double *rate)
{
	if (!span_is_set(test->span) || test->within.value <= 0)
		return false;
	int64_t from = test->from.value - test->surroundings.value;
	int64_t to = test->to.value - test->surroundings.value;
	if (to == 0 || from == to || (from > 0) != (to > 0) || (from > 0 ? to > from : to < from))
		return false;
	*rate = cooling_rate(quantity_celsius(test->from.value), quantity_celsius(test->to.value),
			     (double)test->within.value / MILLISECONDS_PER_SECOND,
			     quantity_celsius(test->surroundings.value));
	return true;
}

double cooling_temp_c(double start_c, double surroundings_c, double rate, double time_s)
{
	return surroundings_c + (start_c - surroundings_c) * exp(-rate * time_s);
}

/* (1 − e^(−x)) / x, which goes to 1. */
static double mean_factor(double x)
{
	return x > 0 ? -expm1(-x) / x : 1;
}

double cooling_mean_c(double start_c, double surroundings_c, double rate, double time_s)
{
	return surroundings_c + (start_c - surroundings_c) * mean_factor(rate * time_s);
}

double cooling_start_for_mean_c(double mean_c, double surroundings_c, double rate, double time_s)
{
	return surroundings_c + (mean_c - surroundings_c) / mean_factor(rate * time_s);
}

double cooling_start_c(struct cooling_start start, double surroundings_c)
{
	return start.fixed_c + start.share * surroundings_c;
}

/* mean = Ts + (T0 − Ts)·f with T0 = a + b·Ts, solved for Ts */
double cooling_surroundings_for_mean_c(double mean_c, struct cooling_start start, double rate, double time_s)
{
	double f = mean_factor(rate * time_s);
	return (mean_c - start.fixed_c * f) / (1 - f + start.share * f);
}

double cooling_time_s(double start_c, double end_c, double surroundings_c, double rate)
{
	return log((start_c - surroundings_c) / (end_c - surroundings_c)) / rate;
}

double cooling_surroundings_c(const struct process *process)
{
	const struct tank *tank = process->tank;
	if (span_is_set(tank->bath.span))
		return quantity_celsius(tank->bath.nominal);
	if (span_is_set(process->room.span))
		return quantity_celsius(process->room.value);
	return quantity_celsius(tank->cools.surroundings.value);
}
