#include "emit/sheet/times.h"

#include "compute/development.h"
#include "compute/reading.h"
#include "compute/time_table.h"
#include "emit/sheet/words.h"

/* The rows of a small table: every so far from the working point, but for the ends. */
struct times {
	const struct process *process;
	const struct step *step;
	const struct used_time *used;
	enum unit_id unit;
	int64_t working; /* all three as the thermometer reads them */
	struct timed_reading coldest, warmest;
	int64_t every;
};

/* Where the thermometer stands at the pour while the step is at its working point. */
static const struct temperature_window *pour_window(const struct step *step)
{
	return span_is_set(step->pour_at.span) ? &step->pour_at : development_window(step);
}

/* A row next to an end would say the same again. */
static bool is_apart(const struct times *times, int64_t reading)
{
	int64_t near = times->every / 2;
	return reading == times->working ||
	       (reading - times->coldest.reading >= near && times->warmest.reading - reading >= near);
}

static int64_t first_of_grid(const struct times *times)
{
	return times->working - (times->working - times->coldest.reading) / times->every * times->every;
}

static size_t count_rows(const struct times *times)
{
	size_t count = 0;
	for (int64_t at = first_of_grid(times); at <= times->warmest.reading; at += times->every)
		count += at > times->coldest.reading && at < times->warmest.reading && is_apart(times, at);
	return count + 2;
}

/* Takes the ends from the whole table, whose figures can be read, and as many whole or half degrees as there is room
 * for. */
static bool choose(struct times *times)
{
	struct time_table table;
	const struct temperature_window *window = pour_window(times->step);
	time_table_fill(times->process, times->step, times->used, &table);
	if (table.count == 0 || !window)
		return false;
	times->coldest = table.rows[0];
	times->warmest = table.rows[table.count - 1];
	times->unit = reading_unit(times->process->thermometer, window);
	times->working = reading_window(times->process->thermometer, window).nominal;
	if (times->working < times->coldest.reading || times->working > times->warmest.reading)
		return false;
	times->every = unit_row(times->unit)->factor / 2;
	while (count_rows(times) > TIMES_MOST)
		times->every += unit_row(times->unit)->factor / 2;
	return true;
}

static struct text print_time(struct sheet *sheet, const struct time_window *time)
{
	struct text low = quantity_print_duration(sheet->arena, time->low_ms);
	if (time->form != TIME_RANGE)
		return low;
	struct text high = quantity_print_duration(sheet->arena, time->high_ms);
	return text_format(sheet->arena, "%.*s" NBSP "to" NBSP "%.*s", TEXT_ARGUMENT(low), TEXT_ARGUMENT(high));
}

static void add_row(struct sheet *sheet, cmark_node *paragraph, const struct times *times, int64_t reading,
		    const struct time_window *time)
{
	struct document *document = sheet->document;
	bool is_here = reading == times->working;
	bool is_first = reading == times->coldest.reading;
	struct text temperature = times->unit == UNIT_fahrenheit ? quantity_print_fahrenheit(sheet->arena, reading)
								 : quantity_print_temperature(sheet->arena, reading);
	if (!is_first)
		document_span(document, paragraph, sheet_mark(MARK_between), TEXT(", "));
	cmark_node *cell = document_add(document, paragraph, is_here ? CMARK_NODE_STRONG : CMARK_NODE_CUSTOM_INLINE,
					sheet_mark(is_here ? MARK_here : MARK_cell));
	document_format(document, cell, "%.*s ", TEXT_ARGUMENT(words_bound(sheet, temperature)));
	document_span(document, cell, sheet_mark(MARK_lasts), print_time(sheet, time));
}

/* The working point has the step's own time, however the thermometer's divisions fall. */
static void add_row_of_grid(struct sheet *sheet, cmark_node *paragraph, const struct times *times, int64_t reading)
{
	struct time_window time;
	int64_t exact = reading_of(times->process->thermometer, pour_window(times->step)->nominal);
	if (used_time_at(times->process, times->step, times->used, reading == times->working ? exact : reading, &time))
		add_row(sheet, paragraph, times, reading, &time);
}

void times_add(struct sheet *sheet, cmark_node *block, size_t index)
{
	struct times times = { .process = sheet->process,
			       .step = &sheet->process->steps[index],
			       .used = &sheet->emission->used[index] };
	if (!choose(&times))
		return;
	cmark_node *paragraph = document_add(sheet->document, block, CMARK_NODE_PARAGRAPH, sheet_mark(MARK_times));
	sheet_strong(sheet, paragraph, MARK_label,
		     times.step->times_are_makers ? TEXT("The maker’s time by reading:") : TEXT("Time by reading:"));
	document_string(sheet->document, paragraph, " ");
	add_row(sheet, paragraph, &times, times.coldest.reading, &times.coldest.time);
	for (int64_t at = first_of_grid(&times); at < times.warmest.reading; at += times.every)
		if (at > times.coldest.reading && is_apart(&times, at))
			add_row_of_grid(sheet, paragraph, &times, at);
	add_row(sheet, paragraph, &times, times.warmest.reading, &times.warmest.time);
	document_span(sheet->document, paragraph, sheet_mark(MARK_between), TEXT("."));
}
