/* Figures from the tree: quantities, windows, times, dates. */
#include "model/read.h"

#include <string.h>

#include "model/date.h"
#include "syntax/units.h"

/* A figure as written: digits and unit, or a clock time. */
struct figure {
	struct text digits;
	enum unit_id unit;
	bool is_clock;
	struct span span;
};

static struct figure figure_of(const struct reader *reader, node_index value)
{
	const struct tree_node *node = tree_node(reader->tree, value);
	struct text text = read_text(reader, value);
	struct figure figure = { text, UNIT_none, node->kind == NODE_clock, node->span };

	if (node->kind == NODE_quantity) {
		figure.digits.length = quantity_digits(text);
		figure.unit = (enum unit_id)node->detail;
	}
	return figure;
}

static void complain_unit(const struct reader *reader, const struct figure *figure, enum quantity_kind kind)
{
	struct report *report = reader->recipe->report;
	struct text units = quantity_kind_units(reader->recipe->arena, kind);
	struct text written = { reader->tree->file->bytes + (figure->span.begin - reader->tree->file->base),
				figure->span.length };
	struct diagnostic *finding;

	if (figure->is_clock || figure->unit != UNIT_none)
		finding = report_add(report, CHECK_wrong_unit, figure->span, "`%.*s` is not %s", TEXT_ARGUMENT(written),
				     quantity_kind_name(kind));
	else
		finding = report_add(report, CHECK_wrong_unit, figure->span, "`%.*s` has no unit where %s is wanted",
				     TEXT_ARGUMENT(written), quantity_kind_name(kind));
	if (kind == QUANTITY_COUNT)
		report_help(report, finding, "a plain number is wanted");
	else
		report_help(report, finding, "its units are %.*s%s", TEXT_ARGUMENT(units),
			    kind == QUANTITY_DURATION ? ", or minutes and seconds as in 3:30" : "");
	if (!figure->is_clock && figure->unit == UNIT_none && quantity_kind_has_one_unit(kind))
		report_fix(report, finding, FIX_ASKS, (struct span){ figure->span.begin + figure->span.length, 0 },
			   text_format(reader->recipe->arena, " %.*s", TEXT_ARGUMENT(units)));
}

static void complain_range(const struct reader *reader, struct span span, const char *problem)
{
	struct text written = { reader->tree->file->bytes + (span.begin - reader->tree->file->base), span.length };

	report_add(reader->recipe->report, CHECK_figure_out_of_range, span, "`%.*s` %s", TEXT_ARGUMENT(written),
		   problem);
}

/* "1:05:00" has two. */
#define COLONS_MOST 2

/* The figures of "1:05:00.5" between its colons, and the milliseconds behind its point. Null, or what is wrong with
 * it. Where there are more colons, `count` says so, and it was reported when it was scanned. */
static const char *clock_parts(struct text digits, int64_t parts[COLONS_MOST + 1], size_t *count, int64_t *rest_ms)
{
	int64_t scale_ms = 0; /* of the next decimal; 0 before the point */
	const char *problem = NULL;

	for (size_t i = 0; i < digits.length; i++) {
		char byte = digits.data[i];

		if (byte == '.') {
			scale_ms = MILLISECONDS_PER_SECOND;
		} else if (byte == ':') {
			if (++*count > COLONS_MOST)
				break;
		} else if (i > 0 && scale_ms == 1) {
			problem = "has more decimals than can be meant";
		} else if (scale_ms > 0) {
			scale_ms /= 10;
			*rest_ms += (byte - '0') * scale_ms;
		} else if (parts[*count] > 99999) {
			problem = "is longer than can be meant";
		} else {
			parts[*count] = parts[*count] * 10 + (byte - '0');
		}
	}
	return problem;
}

/* 75:00 is an hour and a quarter; 3:75 may be a slip in any of its figures. */
static void complain_sixty(const struct reader *reader, const struct figure *figure, int64_t seconds, bool is_sure)
{
	struct report *report = reader->recipe->report;
	const char *point = memchr(figure->digits.data, '.', figure->digits.length);
	size_t rest = point == NULL ? 0 : (size_t)(figure->digits.data + figure->digits.length - point);
	struct diagnostic *finding =
		report_add(report, CHECK_figure_out_of_range, figure->span, "minutes and seconds stay below 60");
	struct text_builder right = text_builder_start(reader->recipe->arena);

	if (seconds < 3600)
		text_append_format(&right, "%lld", (long long)(seconds / 60));
	else
		text_append_format(&right, "%lld:%02lld", (long long)(seconds / 3600), (long long)(seconds / 60 % 60));
	text_append_format(&right, ":%02lld%.*s", (long long)(seconds % 60), (int)rest, point == NULL ? "" : point);
	report_help(report, finding, "write %.*s", TEXT_ARGUMENT(text_builder_text(&right)));
	report_fix(report, finding, is_sure ? FIX_SAFE : FIX_ASKS, figure->span, text_builder_text(&right));
}

/* "3:30", "1:05:00", "0:30.5": minutes and seconds, or hours, minutes and seconds. */
static bool clock_read(const struct reader *reader, const struct figure *figure, int64_t *duration_ms)
{
	int64_t parts[COLONS_MOST + 1] = { 0 };
	int64_t rest_ms = 0;
	size_t count = 0;
	int64_t seconds;
	const char *problem;

	problem = clock_parts(figure->digits, parts, &count, &rest_ms);
	if (count > COLONS_MOST)
		return false;
	if (problem != NULL) {
		complain_range(reader, figure->span, problem);
		return false;
	}
	seconds = count == 2 ? parts[0] * 3600 + parts[1] * 60 + parts[2] : parts[0] * 60 + parts[1];
	*duration_ms = seconds * MILLISECONDS_PER_SECOND + rest_ms;
	for (size_t i = count == 2 ? 1 : 0; i <= count; i++) {
		if (parts[i] < 60)
			continue;
		complain_sixty(reader, figure, seconds, count == 1 && parts[1] < 60);
		return false;
	}
	if (*duration_ms > DURATION_MOST_MS) {
		complain_range(reader, figure->span, "is longer than 10 years");
		return false;
	}
	return true;
}

/* True for what the scanner passed on after a complaint: 1,5 and 20-24 and .5. */
static bool is_reported(const struct figure *figure)
{
	struct text digits = figure->digits;

	return digits.length > 0 && (digits.data[0] == '.' || memchr(digits.data, ',', digits.length) != NULL ||
				     memchr(digits.data + 1, '-', digits.length - 1) != NULL);
}

/* Reads a figure of a kind; `fallback` is the unit of the figure beside it, for those that share one. */
static bool figure_read(const struct reader *reader, struct figure figure, enum quantity_kind kind,
			enum unit_id fallback, struct quantity *quantity)
{
	bool is_difference = kind == QUANTITY_DIFFERENCE;
	enum quantity_kind has;
	const char *problem;

	if (figure.is_clock) {
		if (kind != QUANTITY_DURATION) {
			complain_unit(reader, &figure, kind);
			return false;
		}
		*quantity = (struct quantity){ 0, figure.span, UNIT_none };
		return clock_read(reader, &figure, &quantity->value);
	}
	if (is_reported(&figure))
		return false;
	/* "20 ± 0.5 K": a difference lends its unit to no temperature. */
	if (figure.unit == UNIT_none &&
	    !(kind == QUANTITY_TEMPERATURE && unit_row(fallback)->quantity == QUANTITY_DIFFERENCE))
		figure.unit = fallback;
	has = figure.unit == UNIT_none ? QUANTITY_COUNT : unit_row(figure.unit)->quantity;
	if (has != kind && !(is_difference && has == QUANTITY_TEMPERATURE)) {
		complain_unit(reader, &figure, kind);
		return false;
	}
	*quantity = (struct quantity){ 0, figure.span, figure.unit };
	problem = quantity_read(figure.digits, figure.unit, is_difference, &quantity->value);
	if (problem != NULL)
		complain_range(reader, figure.span, problem);
	return problem == NULL;
}

bool read_quantity(const struct reader *reader, node_index clause, node_index value, enum quantity_kind kind,
		   struct quantity *quantity)
{
	struct quantity read;

	if (read_is_repeated(reader, clause, quantity->span))
		return false;
	if (!figure_read(reader, figure_of(reader, value), kind, UNIT_none, &read))
		return false;
	if (read.value < 0 && kind != QUANTITY_TEMPERATURE && kind != QUANTITY_DIFFERENCE) {
		complain_range(reader, read.span, "is less than nothing");
		return false;
	}
	*quantity = read;
	return true;
}

bool read_thousandths(const struct reader *reader, node_index clause, node_index number, struct quantity *quantity)
{
	return read_quantity(reader, clause, number, QUANTITY_COUNT, quantity);
}

bool read_count(const struct reader *reader, node_index clause, node_index number, int64_t least,
		struct quantity *quantity)
{
	if (!read_thousandths(reader, clause, number, quantity))
		return false;
	if (quantity->value % 1000 != 0 || quantity->value / 1000 < least) {
		complain_range(reader, quantity->span,
			       least > 0 ? "is not a whole number of at least 1" : "is not a whole number");
		*quantity = (struct quantity){ 0, { 0, 0 }, UNIT_none };
		return false;
	}
	quantity->value /= 1000;
	return true;
}

static bool read_tolerance(const struct reader *reader, struct figure centre, struct figure around,
			   struct temperature_window *window)
{
	struct quantity nominal;
	struct quantity tolerance;

	if (!figure_read(reader, centre, QUANTITY_TEMPERATURE, around.unit, &nominal) ||
	    !figure_read(reader, around, QUANTITY_DIFFERENCE, centre.unit, &tolerance))
		return false;
	window->form = WINDOW_TOLERANCE;
	window->nominal = nominal.value;
	window->low = nominal.value - tolerance.value;
	window->high = nominal.value + tolerance.value;
	window->unit = nominal.unit;
	return true;
}

static bool read_range(const struct reader *reader, struct figure first, struct figure second,
		       struct temperature_window *window)
{
	struct quantity low;
	struct quantity high;

	if (!figure_read(reader, first, QUANTITY_TEMPERATURE, second.unit, &low) ||
	    !figure_read(reader, second, QUANTITY_TEMPERATURE, first.unit, &high))
		return false;
	window->form = WINDOW_RANGE;
	window->low = low.value;
	window->high = high.value;
	window->nominal = low.value + (high.value - low.value) / 2;
	window->unit = low.unit;
	return true;
}

bool read_window(const struct reader *reader, node_index clause, node_index measure, struct temperature_window *window)
{
	const struct tree_node *node = tree_node(reader->tree, measure);
	struct temperature_window read = { .span = node->span };
	struct quantity point;
	bool is_read;

	if (read_is_repeated(reader, clause, window->span))
		return false;
	if (node->kind == NODE_tolerance || node->kind == NODE_range) {
		struct figure first = figure_of(reader, node->first);
		struct figure second = figure_of(reader, tree_node(reader->tree, node->first)->next);

		is_read = node->kind == NODE_range ? read_range(reader, first, second, &read)
						   : read_tolerance(reader, first, second, &read);
	} else {
		is_read = figure_read(reader, figure_of(reader, measure), QUANTITY_TEMPERATURE, UNIT_none, &point);
		if (is_read) {
			read.form = WINDOW_POINT;
			read.nominal = read.low = read.high = point.value;
			read.unit = point.unit;
		}
	}
	if (is_read)
		*window = read;
	return is_read;
}

bool read_positive(const struct reader *reader, node_index clause, node_index value, enum quantity_kind kind,
		   struct quantity *quantity)
{
	if (!read_quantity(reader, clause, value, kind, quantity))
		return false;
	if (quantity->value > 0)
		return true;
	complain_range(reader, quantity->span, "is nothing");
	return false;
}

bool read_time(const struct reader *reader, node_index clause, node_index measure, struct time_window *time)
{
	const struct tree_node *node = tree_node(reader->tree, measure);
	struct time_window read = { .span = node->span, .form = TIME_EXACT };
	struct quantity low;
	struct quantity high;
	struct figure first;
	struct figure second;

	if (read_is_repeated(reader, clause, time->span))
		return false;
	if (node->kind == NODE_tolerance) {
		report_help(reader->recipe->report,
			    report_add(reader->recipe->report, CHECK_out_of_place, node->span,
				       "a time has no tolerance"),
			    "write a range, as in 0:30 .. 1:00");
		return false;
	}
	first = figure_of(reader, node->kind == NODE_range || node->kind == NODE_at_least ? node->first : measure);
	second = node->kind == NODE_range ? figure_of(reader, tree_node(reader->tree, node->first)->next) : first;
	if (!figure_read(reader, first, QUANTITY_DURATION, second.unit, &low) ||
	    !figure_read(reader, second, QUANTITY_DURATION, first.unit, &high))
		return false;
	if (low.value <= 0 && (node->kind != NODE_range || high.value > 0)) {
		complain_range(reader, low.span, "is nothing");
		return false;
	}
	read.low_ms = low.value;
	read.high_ms = high.value;
	if (node->kind == NODE_range)
		read.form = TIME_RANGE;
	if (node->kind == NODE_at_least) {
		read.form = TIME_AT_LEAST;
		read.high_ms = TIME_OPEN;
	}
	*time = read;
	return true;
}

bool read_flow(const struct reader *reader, node_index clause, struct quantity *quantity)
{
	node_index value = tree_node(reader->tree, clause)->first;
	node_index per = tree_node(reader->tree, value)->next;
	struct report *report = reader->recipe->report;
	struct diagnostic *finding;

	if (!read_quantity(reader, clause, value, QUANTITY_VOLUME, quantity))
		return false;
	if (unit_find(read_text(reader, per)) == UNIT_minute)
		return true;
	finding =
		report_add(report, CHECK_wrong_unit, tree_node(reader->tree, per)->span, "a flow is a volume a minute");
	report_help(report, finding, "write `per min`");
	report_fix(report, finding, FIX_ASKS, tree_node(reader->tree, per)->span, TEXT("min"));
	return false;
}

struct span read_date(const struct reader *reader, node_index date)
{
	struct span span = tree_node(reader->tree, date)->span;

	if (date_is_valid(read_text(reader, date)))
		return span;
	complain_range(reader, span, "is no day of the calendar");
	return (struct span){ 0, 0 };
}
