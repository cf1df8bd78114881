/* Load and hang lists as comma-separated values: one row a roll, first those of the loads in the order of loading, then
 * those that are left over. Columns of a rolls file that have no meaning here follow behind. */
#include <string.h>

#include "emit/day/said.h"
#include "emit/day/wall.h"
#include "emit/escape/csv.h"
#include "emit/lists/lists.h"
#include "model/date.h"

static const char *const columns[] = {
	"label",    "load",	   "of",	"reel",	    "hang",	  "process", "tank", "format",	  "origin",
	"together", "mark",	   "urgent",	"precious", "conditions", "pour",    "hung", "dry",	  "left",
	"day",	    "fingerprint", "exposures", "length_m", "push_stops", "film",    "made", "set_aside",
};

struct sheet_of_rolls {
	const struct emission *emission;
	struct output *output;
	struct text *extra; /* names of further columns */
	size_t extra_count, extra_capacity;
};

/* ---- further columns ---- */

static bool is_known(const struct sheet_of_rolls *sheet, struct text name)
{
	for (size_t i = 0; i < sheet->extra_count; i++)
		if (text_equal(sheet->extra[i], name))
			return true;
	return false;
}

static void gather(struct sheet_of_rolls *sheet)
{
	for (const struct roll *roll = sheet->emission->plan->day->rolls; roll; roll = roll->next)
		for (const struct roll_field *field = roll->fields; field; field = field->next) {
			if (is_known(sheet, field->name))
				continue;
			ARENA_RESERVE(sheet->emission->arena, sheet->extra, sheet->extra_count, sheet->extra_capacity);
			sheet->extra[sheet->extra_count++] = field->name;
		}
}

#define OWN_COLUMNS (sizeof columns / sizeof columns[0] + ROLL_WORDS_COUNT)

/* The name of a column of ours. */
static struct text own_column(size_t index)
{
	size_t own = sizeof columns / sizeof columns[0];
	return index < own ? text_from(columns[index]) : roll_words_row((enum roll_words_id)(index - own))->column;
}

/* The name of a further column; where it is one of ours, told apart. */
static struct text column_name(const struct sheet_of_rolls *sheet, struct text name)
{
	for (size_t i = 0; i < OWN_COLUMNS; i++)
		if (text_equal(own_column(i), name))
			return text_format(sheet->emission->arena, "%.*s (rolls file)", TEXT_ARGUMENT(name));
	return name;
}

static void put_head(const struct sheet_of_rolls *sheet)
{
	struct csv_row row = csv_row_start(sheet->output, sheet->emission->arena);
	for (size_t i = 0; i < OWN_COLUMNS; i++)
		csv_row_figure(&row, own_column(i));
	for (size_t i = 0; i < sheet->extra_count; i++)
		csv_row_text(&row, column_name(sheet, sheet->extra[i]));
	csv_row_end(&row);
}

static void put_fields(const struct sheet_of_rolls *sheet, struct csv_row *row, const struct roll *roll)
{
	for (size_t i = 0; i < sheet->extra_count; i++) {
		const struct roll_field *field = roll->fields;
		while (field && !text_equal(field->name, sheet->extra[i]))
			field = field->next;
		csv_row_text(row, field ? field->value : TEXT(""));
	}
}

/* ---- rolls ---- */

static void put_count(struct csv_row *row, size_t count)
{
	csv_row_figure(row, text_format(row->arena, "%zu", count));
}

static void put_empty(struct csv_row *row, int count)
{
	for (int i = 0; i < count; i++)
		csv_row_empty(row);
}

static void put_roll(struct csv_row *row, const struct roll *roll, struct text mark)
{
	csv_row_text(row, format_row(roll->format)->word);
	csv_row_text(row, roll->origin);
	csv_row_text(row, roll->together);
	csv_row_text(row, mark);
	csv_row_figure(row, roll->is_urgent ? TEXT("yes") : TEXT("no"));
	csv_row_figure(row, roll->is_precious ? TEXT("yes") : TEXT("no"));
	csv_row_text(row, said_conditions(row->arena, roll));
}

static void put_ratio(struct csv_row *row, const struct quantity *quantity, int64_t thousandths_per)
{
	if (span_is_set(quantity->span))
		csv_row_decimal(row, quantity->value * 1000 / thousandths_per);
	else
		csv_row_empty(row);
}

/* What else the rolls file or the recipe says of the roll. */
static void put_words(const struct sheet_of_rolls *sheet, struct csv_row *row, const struct roll *roll)
{
	struct roll_words words = said_of_roll(row->arena, roll);
	put_ratio(row, &roll->exposures, 1);
	put_ratio(row, &roll->length, LENGTH_PER_METRE);
	put_ratio(row, &roll->push, 1000);
	csv_row_text(row, roll->film ? parts_name(sheet->emission, &roll->film->declared) : TEXT(""));
	put_ratio(row, &roll->made, 1);
	csv_row_text(row, document_plain_prose(row->arena, roll->set_aside.text));
	for (int id = 0; id < ROLL_WORDS_COUNT; id++)
		csv_row_text(row, words.said[id]);
}

static void put_end(const struct sheet_of_rolls *sheet, struct csv_row *row, struct text left, struct text fingerprint,
		    const struct roll *roll)
{
	csv_row_text(row, left);
	csv_row_figure(row, date_print(row->arena, sheet->emission->plan->day->date));
	csv_row_figure(row, fingerprint);
	put_words(sheet, row, roll);
	put_fields(sheet, row, roll);
	csv_row_end(row);
}

static void put_place(const struct sheet_of_rolls *sheet, const struct plan_load *load, size_t index)
{
	const struct emission *emission = sheet->emission;
	const struct day_plan *plan = emission->plan;
	const struct process *process = parts_process(plan, load);
	const struct plan_place *place = &load->places[index];
	size_t tank = parts_tank_of(plan, load);
	struct csv_row row = csv_row_start(sheet->output, emission->arena);
	csv_row_text(&row, place->roll->label);
	put_count(&row, load->number);
	put_count(&row, plan->load_count);
	put_count(&row, place->reel);
	put_count(&row, load->place_count - index);
	csv_row_text(&row, parts_name(emission, &process->declared));
	csv_row_text(&row, tank < parts_tank_count(plan) ? parts_name(emission, &parts_tank(plan, tank)->declared)
							 : TEXT(""));
	put_roll(&row, place->roll, place->mark);
	if (load->is_today) {
		csv_row_figure(&row, wall_stamp(emission->arena, plan->day, load->pour_s));
		csv_row_figure(&row, wall_stamp(emission->arena, plan->day, load->hung_s));
		csv_row_figure(&row, wall_stamp(emission->arena, plan->day, load->dry_s));
	} else {
		put_empty(&row, 3);
	}
	put_end(sheet, &row, TEXT(""), process->fingerprint, place->roll);
}

static void put_left(const struct sheet_of_rolls *sheet, const struct plan_left *left)
{
	static const char *const reasons[] = {
		[LEFT_TOMORROW] = "tomorrow",
		[LEFT_SET_ASIDE] = "set-aside",
		[LEFT_NO_PROCESS] = "no-process",
		[LEFT_TOO_LARGE] = "too-large",
	};
	struct csv_row row = csv_row_start(sheet->output, sheet->emission->arena);
	csv_row_text(&row, left->roll->label);
	put_empty(&row, 6);
	put_roll(&row, left->roll, left->roll->mark);
	put_empty(&row, 3);
	put_end(sheet, &row, text_from(reasons[left->reason]), TEXT(""), left->roll);
}

void emit_lists_csv(const struct emission *emission, struct output *output)
{
	const struct day_plan *plan = emission->plan;
	struct sheet_of_rolls sheet = { .emission = emission, .output = output };
	gather(&sheet);
	put_head(&sheet);
	for (size_t i = 0; i < plan->load_count; i++)
		for (size_t j = 0; lists_hold(emission, &plan->loads[i]) && j < plan->loads[i].place_count; j++)
			put_place(&sheet, &plan->loads[i], j);
	for (size_t i = 0; !emission->load && i < plan->left_count; i++)
		put_left(&sheet, &plan->left[i]);
}
