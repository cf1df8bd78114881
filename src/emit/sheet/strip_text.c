#include "emit/sheet/strip_text.h"

#include <inttypes.h>
#include <string.h>

#include "emit/sheet/words.h"

/* What stands before the marks: "  bath|". */
#define LABEL_COLUMNS 7

#define MINUTE_MS (60 * (int64_t)MILLISECONDS_PER_SECOND)

/* A strip goes on in further rows, but not in more than this: then a character stands for more. */
#define ROWS_AT_MOST 6

/* How much of what follows an open end is drawn. */
#define OPEN_END_CELLS 3

enum track { BATH, HAND, RULER, TRACK_COUNT };

static const char *const labels[TRACK_COUNT] = { "  bath|", "  hand|", "   min|" };

/* One row at a time is drawn: its marks, from a time since the pour. */
struct tape {
	const struct timeline_step *at;
	int64_t cell_ms;
	size_t first; /* the cell that the row begins with */
	size_t columns;
	char *marks[TRACK_COUNT];
};

static int64_t drawn_end_ms(const struct timeline_step *at, int64_t cell_ms)
{
	if (at->latest_end_ms != TIMELINE_NEVER && at->latest_end_ms > at->end_ms)
		return at->latest_end_ms;
	return at->time.form == TIME_AT_LEAST ? at->end_ms + OPEN_END_CELLS * cell_ms : at->end_ms;
}

/* The cell whose edge is nearest to an instant of a step. */
static size_t cell_at(const struct timeline_step *at, int64_t time_ms, int64_t cell_ms)
{
	return (size_t)((time_ms - at->pour_ms + cell_ms / 2) / cell_ms);
}

static size_t later_of(size_t a, size_t b)
{
	return a > b ? a : b;
}

/* Where a step may last longer, light may wait for a moment that is behind the drawn part; words tell it. */
static bool light_is_drawn(const struct timeline_step *at, int64_t cell_ms)
{
	return at->light_ms != TIMELINE_NEVER && at->light_ms <= drawn_end_ms(at, cell_ms);
}

/* What comes at an instant takes a cell, also behind the end. */
static size_t cells_of_step(const struct timeline_step *at, int64_t cell_ms)
{
	size_t cells = cell_at(at, drawn_end_ms(at, cell_ms), cell_ms);

	if (at->is_poured)
		cells = later_of(cells, cell_at(at, at->drain_ms, cell_ms) + 1);
	if (light_is_drawn(at, cell_ms))
		cells = later_of(cells, cell_at(at, at->light_ms, cell_ms) + 1);
	return cells;
}

struct strip_scale strip_text_scale(const struct sheet *sheet, size_t width)
{
	static const int64_t seconds[] = { 5, 10, 15, 30, 60 };
	struct strip_scale scale = { 0 };
	for (size_t i = 0; i < sizeof seconds / sizeof *seconds; i++) {
		size_t most = 0;
		scale.cell_ms = seconds[i] * MILLISECONDS_PER_SECOND;
		size_t minute = (size_t)(MINUTE_MS / scale.cell_ms);
		scale.columns = (width - LABEL_COLUMNS) / minute * minute;
		for (size_t step = 0; step < sheet->timeline->step_count; step++) {
			size_t cells = cells_of_step(&sheet->timeline->steps[step], scale.cell_ms);
			if (strip_is_drawn(sheet, step) && cells > most)
				most = cells;
		}
		if (most == 0)
			return (struct strip_scale){ 0 };
		if (most <= ROWS_AT_MOST * scale.columns)
			break;
	}
	return scale;
}

/* ---- marks ---- */

/* Marks the cells between those nearest to a stretch's ends, one at the least. Where `is_behind`, what stands there
 * stays. */
static void mark(const struct tape *tape, enum track track, struct interval stretch, char sign, bool is_behind)
{
	size_t from = cell_at(tape->at, stretch.start_ms, tape->cell_ms);
	size_t to = later_of(cell_at(tape->at, stretch.end_ms, tape->cell_ms), from + 1);
	char *marks = tape->marks[track];

	for (size_t cell = later_of(from, tape->first); cell < to && cell < tape->first + tape->columns; cell++)
		if (!is_behind || marks[cell - tape->first] == ' ')
			marks[cell - tape->first] = sign;
}

static void mark_bath(const struct tape *tape)
{
	const struct timeline_step *at = tape->at;
	bool is_open = at->time.form == TIME_AT_LEAST;

	if (at->drain_ms > at->pour_ms)
		mark(tape, BATH, (struct interval){ at->pour_ms, at->drain_ms }, '=', false);
	if (drawn_end_ms(at, tape->cell_ms) > at->end_ms)
		mark(tape, BATH, (struct interval){ at->end_ms, drawn_end_ms(at, tape->cell_ms) }, is_open ? '>' : '-',
		     false);
	mark(tape, BATH, (struct interval){ at->pour_ms, at->full_ms < at->drain_ms ? at->full_ms : at->drain_ms }, '/',
	     false);
	mark(tape, BATH, (struct interval){ at->drain_ms, at->end_ms }, '\\', false);
}

static void mark_hand(const struct tape *tape)
{
	const struct timeline_step *at = tape->at;

	for (size_t i = 0; i < at->agitation_count; i++)
		mark(tape, HAND, at->agitations[i], '#', false);
	for (size_t i = 0; i < at->agitation_count && at->taps; i++)
		mark(tape, HAND, at->taps[i], '\'', true);
	if (light_is_drawn(at, tape->cell_ms))
		mark(tape, HAND, (struct interval){ at->light_ms, at->light_ms }, '*', false);
}

/* How many minutes lie between two figures of the ruler, so that there is room between them. */
static int64_t minutes_between(int64_t cell_ms)
{
	static const int64_t minutes[] = { 1, 2, 5 };

	for (size_t i = 0; i < sizeof minutes / sizeof *minutes; i++)
		if (minutes[i] * MINUTE_MS >= 4 * cell_ms)
			return minutes[i];
	return 10;
}

/* Whole minutes of the step's time, a point every half minute between. A figure that its row would cut is left out. */
static void mark_ruler(const struct tape *tape, struct arena *arena)
{
	const struct timeline_step *at = tape->at;
	int64_t half_ms = MINUTE_MS / 2, end_ms = drawn_end_ms(at, tape->cell_ms);
	int64_t every_ms = minutes_between(tape->cell_ms) * MINUTE_MS;

	for (int64_t time_ms = at->start_ms; time_ms <= end_ms; time_ms += half_ms)
		mark(tape, RULER, (struct interval){ time_ms, time_ms }, '.', true);
	for (int64_t time_ms = at->start_ms; time_ms <= end_ms; time_ms += every_ms) {
		size_t cell = cell_at(at, time_ms, tape->cell_ms);
		struct text figure = text_format(arena, "%" PRId64, (time_ms - at->start_ms) / MINUTE_MS);
		if (cell >= tape->first && cell + figure.length <= tape->first + tape->columns)
			memcpy(tape->marks[RULER] + (cell - tape->first), figure.data, figure.length);
	}
}

static void put_row(const struct tape *tape, struct output *output)
{
	for (int track = 0; track < TRACK_COUNT; track++) {
		size_t length = tape->columns;
		while (length > 0 && tape->marks[track][length - 1] == ' ')
			length--;
		if (length == 0)
			continue;
		output_string(output, labels[track]);
		output_write(output, (struct text){ tape->marks[track], length });
		output_string(output, "\n");
	}
}

void strip_text_draw(const struct sheet *sheet, const struct strip_scale *scale, size_t step, struct output *output)
{
	struct tape tape = { &sheet->timeline->steps[step], scale->cell_ms, 0, scale->columns, { NULL } };
	size_t cells = 0;

	if (scale->cell_ms > 0 && strip_is_drawn(sheet, step))
		cells = cells_of_step(tape.at, scale->cell_ms);
	for (int track = 0; track < TRACK_COUNT; track++)
		tape.marks[track] = ARENA_ARRAY(sheet->arena, char, scale->columns);
	for (; tape.first < cells; tape.first += tape.columns) {
		for (int track = 0; track < TRACK_COUNT; track++)
			memset(tape.marks[track], ' ', tape.columns);
		mark_bath(&tape);
		mark_hand(&tape);
		mark_ruler(&tape, sheet->arena);
		put_row(&tape, output);
	}
}

struct text strip_text_legend(const struct sheet *sheet, const struct strip_scale *scale)
{
	return text_format(sheet->arena,
			   "Strips: a character is %" PRId64 NBSP
			   "s. bath: / fill, = full, \\ drain, - may go on, > and "
			   "on. hand: # agitate, ' tap, * light allowed. min: minutes of the step.",
			   scale->cell_ms / MILLISECONDS_PER_SECOND);
}
