#include "compute/development.h"

#include <math.h>

#include "compute/cooling.h"

#define KELVIN_AT_0_C 273.15

/* A coefficient of one, which is 100 % per kelvin. */
#define COEFFICIENT_ONE (100.0 * PERCENT_ONE)

/* Strips of the integral, an even number. The rate is smooth within a row of the table and changes by some per cent
 * over a step, so that the rest is far below what any thermometer shows. */
#define STRIPS 128

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

/* The natural logarithm of the table's time at a temperature. */
static bool log_time(const struct time_row *rows, double temp_c, double *result)
{
	for (const struct time_row *row = rows; row; row = row->next) {
		double row_c = quantity_celsius(row->temperature.value);
		double here = log((double)row->time.value);
		if (temp_c == row_c) {
			*result = here;
			return true;
		}
		if (temp_c < row_c || !row->next)
			return false;
		double next_c = quantity_celsius(row->next->temperature.value);
		if (temp_c < next_c) {
			double there = log((double)row->next->time.value);
			*result = here + (there - here) * (temp_c - row_c) / (next_c - row_c);
			return true;
		}
	}
	return false;
}

bool development_rate(const struct step *step, double temp_c, double *rate)
{
	const struct temperature_window *window = development_window(step);
	if (!window)
		return false;
	double working_c = quantity_celsius(window->nominal);
	if (step->times) {
		double here;
		double nominal;
		if (!log_time(step->times, temp_c, &here) || !log_time(step->times, working_c, &nominal))
			return false;
		*rate = exp(nominal - here);
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

bool development_effective(const struct step *step, double start_c, double surroundings_c, double cooling,
			   double time_s, double *share)
{
	double sum = 0;
	for (int i = 0; i <= STRIPS; i++) {
		double rate;
		double temp_c = cooling_temp_c(start_c, surroundings_c, cooling, time_s * i / STRIPS);
		if (!development_rate(step, temp_c, &rate))
			return false;
		int weight = i == 0 || i == STRIPS ? 1 : i % 2 ? 4 : 2; /* Simpson's rule */
		sum += weight * rate;
	}
	*share = sum / (3.0 * STRIPS);
	return true;
}
