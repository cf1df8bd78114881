#include "compute/time_table.h"

#include "compute/development.h"
#include "compute/reading.h"

#define DIVISIONS_MOST 60

/* The scale on which readings are written down: a hundredth of its degree, and its zero. */
struct scale {
	int64_t hundredth;
	int64_t zero;
};

static struct scale scale_of(const struct process *process, const struct step *step)
{
	const struct temperature_window *window = development_pour_window(step);
	enum unit_id unit = reading_unit(process->thermometer, window);

	return (struct scale){ unit_row(unit)->factor / 100, unit_row(unit)->offset };
}

static int64_t floor_to(int64_t value, int64_t unit)
{
	int64_t rest = value % unit;

	return value - (rest < 0 ? rest + unit : rest);
}

static int64_t nearest(const struct scale *scale, int64_t reading)
{
	return floor_to(reading - scale->zero + scale->hundredth / 2, scale->hundredth) + scale->zero;
}

/* The bath is at its working point where it is so by its pour: `pour at` where the step has one. */
static int64_t working_reading(const struct process *process, const struct step *step)
{
	const struct temperature_window *window = development_window(step);
	int64_t working = window == NULL ? 0 : window->nominal;

	return reading_of(process->thermometer, working - development_measured(step, 0));
}

/* Adds a row in its place; one that is there already, or that has no time, is left out. */
static void add_row(const struct process *process, const struct step *step, const struct used_time *used,
		    int64_t reading, struct time_table *table)
{
	struct timed_reading row = { .reading = reading };
	size_t place = table->count;

	while (place > 0 && table->rows[place - 1].reading > reading)
		place--;
	if (table->count == TIME_TABLE_ROWS_MOST || (place > 0 && table->rows[place - 1].reading == reading) ||
	    !used_time_at(process, step, used, reading, &row.time))
		return;
	for (size_t i = table->count++; i > place; i--)
		table->rows[i] = table->rows[i - 1];
	table->rows[place] = row;
}

void time_table_fill(const struct process *process, const struct step *step, const struct used_time *used,
		     struct time_table *table)
{
	struct scale scale = scale_of(process, step);
	const struct thermometer *thermometer = process->thermometer;
	int64_t division = thermometer != NULL ? thermometer->reads.value : 0;
	int64_t low, high;

	table->count = 0;
	if (!used_time_range(process, step, &low, &high))
		return;
	/* Inwards: beyond the ends there is no time. */
	low = -floor_to(scale.zero - low, scale.hundredth) + scale.zero;
	high = floor_to(high - scale.zero, scale.hundredth) + scale.zero;
	if (division <= 0)
		division = 10 * scale.hundredth;
	int64_t every = ((high - low) / (DIVISIONS_MOST * division) + 1) * division;
	if ((high - low) % (DIVISIONS_MOST * division) == 0 && high > low)
		every -= division;
	add_row(process, step, used, low, table);
	add_row(process, step, used, high, table);
	add_row(process, step, used, nearest(&scale, working_reading(process, step)), table);
	for (int64_t at = -floor_to(scale.zero - low, every) + scale.zero; at <= high; at += every)
		add_row(process, step, used, nearest(&scale, at), table);
	if (table->count < 2)
		table->count = 0;
}
