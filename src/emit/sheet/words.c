#include "emit/sheet/words.h"

#include <inttypes.h>

#include "compute/reading.h"
#include "emit/cues/wording.h"

struct text words_bound(struct sheet *sheet, struct text text)
{
	struct text_builder builder = text_builder_start(sheet->arena);
	for (size_t i = 0; i < text.length; i++)
		if (text.data[i] == ' ' && i > 0 && text.data[i - 1] != ',')
			text_append_string(&builder, NBSP);
		else
			text_append_byte(&builder, text.data[i]);
	return text_builder_text(&builder);
}

struct text words_duration(struct sheet *sheet, int64_t duration_ms)
{
	if (duration_ms < 60 * MILLISECONDS_PER_SECOND && duration_ms % MILLISECONDS_PER_SECOND == 0)
		return text_format(sheet->arena, "%d" NBSP "s", (int)(duration_ms / MILLISECONDS_PER_SECOND));
	return words_bound(sheet, quantity_print_duration(sheet->arena, duration_ms));
}

struct text words_clock(struct sheet *sheet, int64_t time_ms)
{
	return quantity_print_duration(sheet->arena, timeline_seconds(time_ms) * MILLISECONDS_PER_SECOND);
}

struct text words_volume(struct sheet *sheet, int64_t volume)
{
	return words_bound(sheet, quantity_print_volume(sheet->arena, volume));
}

/* ---- temperatures ---- */

static struct temperature_window window_to_read(const struct sheet *sheet, const struct temperature_window *window)
{
	return reading_window(sheet->process->thermometer, window);
}

/* What comes before the first space of either kind. */
struct text words_figure(struct text printed)
{
	size_t length = 0;
	while (length < printed.length && printed.data[length] != ' ' && printed.data[length] != NBSP[0])
		length++;
	return (struct text){ printed.data, length };
}

typedef struct text print_temperature(struct arena *arena, int64_t temperature);

static struct text range(struct sheet *sheet, const struct temperature_window *window, print_temperature *print)
{
	struct text low = words_figure(print(sheet->arena, window->low));
	struct text high = words_bound(sheet, print(sheet->arena, window->high));
	return text_format(sheet->arena, "%.*s" NBSP "to" NBSP "%.*s", TEXT_ARGUMENT(low), TEXT_ARGUMENT(high));
}

/* "38.0 °C, not below 37.8, not above 38.2" up to its first comma, or from there. */
static struct text window_words(struct sheet *sheet, const struct temperature_window *window, bool is_limits)
{
	struct temperature_window shown = window_to_read(sheet, window);
	struct text whole = words_bound(sheet, quantity_print_window(sheet->arena, &shown));
	size_t comma = 0;
	while (comma < whole.length && whole.data[comma] != ',')
		comma++;
	if (!is_limits)
		return (struct text){ whole.data, comma };
	size_t skipped = comma + 2 < whole.length ? comma + 2 : whole.length;
	return (struct text){ whole.data + skipped, whole.length - skipped };
}

struct text words_point(struct sheet *sheet, const struct temperature_window *window)
{
	if (window->form == WINDOW_RANGE) {
		struct temperature_window shown = window_to_read(sheet, window);
		return range(sheet, &shown, quantity_print_temperature);
	}
	return window_words(sheet, window, false);
}

struct text words_limits(struct sheet *sheet, const struct temperature_window *window)
{
	return window->form == WINDOW_TOLERANCE ? window_words(sheet, window, true) : TEXT("");
}

/* Beside the reading of a thermometer that divides kelvins, °F are the true ones, as the recipe and its sources say. */
static struct text fahrenheit_beside(struct sheet *sheet, const struct temperature_window *window)
{
	const struct thermometer *thermometer = sheet->process->thermometer;
	bool is_true = reading_is_corrected(thermometer) && thermometer->reads.unit != UNIT_fahrenheit;
	struct temperature_window shown = is_true ? *window : window_to_read(sheet, window);
	struct text figures = shown.form == WINDOW_POINT
				      ? words_bound(sheet, quantity_print_fahrenheit(sheet->arena, shown.nominal))
				      : range(sheet, &shown, quantity_print_fahrenheit);
	return text_format(sheet->arena, " (%s%.*s)", is_true ? "true" NBSP : "", TEXT_ARGUMENT(figures));
}

struct text words_fahrenheit(struct sheet *sheet, const struct temperature_window *window)
{
	return window->unit == UNIT_fahrenheit ? fahrenheit_beside(sheet, window) : TEXT("");
}

struct text words_range(struct sheet *sheet, const struct temperature_window *window)
{
	struct temperature_window shown = window_to_read(sheet, window);
	struct text celsius = window->form == WINDOW_POINT ? window_words(sheet, window, false)
							   : range(sheet, &shown, quantity_print_temperature);
	struct text fahrenheit = words_fahrenheit(sheet, window);
	return text_format(sheet->arena, "%.*s%.*s", TEXT_ARGUMENT(celsius), TEXT_ARGUMENT(fahrenheit));
}

struct text words_window(struct sheet *sheet, const struct temperature_window *window)
{
	struct text point = words_point(sheet, window);
	struct text limits = words_limits(sheet, window);
	struct text fahrenheit = words_fahrenheit(sheet, window);
	return text_format(sheet->arena, "%.*s%s%.*s%.*s", TEXT_ARGUMENT(point), limits.length > 0 ? ", " : "",
			   TEXT_ARGUMENT(limits), TEXT_ARGUMENT(fahrenheit));
}

struct text words_temperature(struct sheet *sheet, int64_t temperature, enum unit_id unit)
{
	struct temperature_window point = { { 1, 0 }, WINDOW_POINT, temperature, temperature, temperature, unit };
	return words_range(sheet, &point);
}

struct text words_thousandths(struct sheet *sheet, int64_t thousandths)
{
	struct text_builder builder = text_builder_start(sheet->arena);
	text_append_format(&builder, "%" PRId64, thousandths / 1000);
	if (thousandths % 1000 == 0)
		return text_builder_text(&builder);
	text_append_format(&builder, ".%03" PRId64, thousandths % 1000);
	while (builder.data[builder.length - 1] == '0')
		builder.length--;
	return text_builder_text(&builder);
}

/* ---- names ---- */

static struct text declared_name(const struct sheet *sheet, const struct declared *declared)
{
	return intern_text(sheet->emission->recipe->names, declared->name);
}

/* A title may hold nothing that is shown, such as a picture without a description. */
static bool shows_nothing(struct text text)
{
	for (size_t i = 0; i < text.length; i++)
		if (text.data[i] != ' ')
			return false;
	return true;
}

void words_add_title(struct sheet *sheet, cmark_node *parent, const struct declared *declared)
{
	cmark_node *loose = document_add(sheet->document, NULL, CMARK_NODE_PARAGRAPH, NULL);
	document_prose(sheet->document, loose, declared->title.text);
	if (shows_nothing(document_plain(sheet->document, loose, sheet->arena))) {
		document_text(sheet->document, parent, declared_name(sheet, declared));
		return;
	}
	for (cmark_node *node; (node = cmark_node_first_child(loose));)
		document_attach(sheet->document, parent, node);
}

struct text words_title(struct sheet *sheet, const struct declared *declared)
{
	cmark_node *loose = document_add(sheet->document, NULL, CMARK_NODE_PARAGRAPH, NULL);
	words_add_title(sheet, loose, declared);
	return document_plain(sheet->document, loose, sheet->arena);
}

void words_add_thermometer(struct sheet *sheet, cmark_node *parent, const struct thermometer *thermometer)
{
	words_add_title(sheet, parent, &thermometer->declared);
	int64_t correction = thermometer->correction.value;
	if (correction == 0)
		return;
	struct text size = quantity_print_difference(sheet->arena, correction < 0 ? -correction : correction);
	document_format(sheet->document, parent, " reads %.*s too %s: temperatures here are its readings.",
			TEXT_ARGUMENT(words_bound(sheet, size)), correction < 0 ? "high" : "low");
}

struct text words_bath(struct sheet *sheet, const struct step *step)
{
	if (step->bath == BATH_SOLUTION)
		return words_title(sheet, &step->solution->declared);
	if (step->bath == BATH_DRYER)
		return words_title(sheet, &step->dryer->declared);
	return wording_plain_bath(step->bath);
}

static char lower(char byte)
{
	return byte >= 'A' && byte <= 'Z' ? (char)(byte - 'A' + 'a') : byte;
}

bool words_share_stem(struct text a, struct text b)
{
	for (size_t i = 0; i < a.length && i < b.length; i++) {
		char in_a = a.data[i] == '-' ? ' ' : lower(a.data[i]);
		char in_b = b.data[i] == '-' ? ' ' : lower(b.data[i]);
		if (in_a != in_b)
			return false;
	}
	return true;
}

bool words_alike(struct text a, struct text b)
{
	return a.length == b.length && words_share_stem(a, b);
}

bool words_hold(struct text text, struct text words)
{
	for (size_t i = 0; i + words.length <= text.length; i++)
		if (words_alike((struct text){ text.data + i, words.length }, words))
			return true;
	return false;
}

struct text words_step(struct sheet *sheet, const struct step *step)
{
	struct text name = intern_text(sheet->emission->recipe->names, step->name);
	size_t role = vocabulary_find(VOCABULARY_ROLES, name);
	bool is_role = role < vocabulary_size(VOCABULARY_ROLES);
	struct text_builder builder = text_builder_start(sheet->arena);
	text_append(&builder, is_role ? role_row((enum role_id)role)->title : name);
	for (size_t i = 0; i < builder.length; i++)
		if (!is_role && builder.data[i] == '-')
			builder.data[i] = ' ';
	if (builder.length > 0 && builder.data[0] >= 'a' && builder.data[0] <= 'z')
		builder.data[0] = (char)(builder.data[0] - 'a' + 'A');
	return text_builder_text(&builder);
}
