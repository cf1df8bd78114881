/* Findings on standard error. */
#include "commands/findings.h"

#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <unistd.h>

#include "support/output.h"
#include "support/utf8.h"

/* Longest piece of a source line that is shown, in columns. */
#define LINE_COLUMNS 160
#define TAB_STOP 8

struct printer {
	struct arena *arena;
	const struct source_set *sources;
	struct output *output;
	bool is_colored;
};

bool findings_wants_color(const struct invocation *invocation)
{
	const char *none = getenv("NO_COLOR");
	const char *terminal = getenv("TERM");

	if (invocation->color != COLOR_AUTO)
		return invocation->color == COLOR_ALWAYS;
	return (none == NULL || none[0] == '\0') && terminal != NULL && strcmp(terminal, "dumb") != 0 && isatty(2);
}

static void print_colored(const struct printer *printer, const char *color, const char *word)
{
	if (printer->is_colored)
		output_format(printer->output, "\033[%sm%s\033[m", color, word);
	else
		output_string(printer->output, word);
}

static const char *severity_color(enum severity severity)
{
	return severity == SEVERITY_ERROR ? "1;31" : severity == SEVERITY_WARNING ? "1;33" : "1;36";
}

static void print_place(const struct printer *printer, struct span span)
{
	struct source_place place;
	struct text name;

	if (!span_is_set(span)) {
		output_string(printer->output, "wetside: ");
		return;
	}
	place = source_locate(printer->sources, span.begin);
	name = utf8_harmless(printer->arena, place.file->name);
	output_format(printer->output, "%.*s:%zu:%zu: ", TEXT_ARGUMENT(name), place.line, place.column);
}

/* One line of source with tabs expanded and what must not reach a terminal replaced by a visible sign, with the columns
 * at which a range of its bytes begins and ends. */
struct shown_line {
	struct text_builder text;
	size_t columns;
	size_t caret_from;
	size_t caret_to;
};

static void show_character(struct shown_line *shown, struct text rest, int length, int32_t character)
{
	if (character == '\t') {
		do {
			text_append_byte(&shown->text, ' ');
			shown->columns++;
		} while (shown->columns % TAB_STOP != 0);
	} else if (length < 0 || utf8_is_hidden(character)) {
		text_append_string(&shown->text, "\xEF\xBF\xBD"); /* U+FFFD */
		shown->columns++;
	} else {
		text_append(&shown->text, (struct text){ rest.data, (size_t)length });
		shown->columns += (size_t)utf8_width(character);
	}
}

static struct shown_line show_line(struct arena *arena, struct text line, size_t from, size_t to)
{
	struct shown_line shown = { .text = text_builder_start(arena) };
	size_t at = 0;

	while (at < line.length) {
		struct text rest = { line.data + at, line.length - at };
		int32_t character;
		int length = utf8_decode(rest, &character);

		if (at <= from)
			shown.caret_from = shown.columns;
		show_character(&shown, rest, length, character);
		at += length < 1 ? 1 : (size_t)length;
		if (at <= to)
			shown.caret_to = shown.columns;
	}
	if (from >= line.length)
		shown.caret_from = shown.columns;
	if (shown.caret_to <= shown.caret_from)
		shown.caret_to = shown.caret_from + 1;
	return shown;
}

/* The bytes of a text between two columns, whole characters only. */
static struct text cut_columns(struct text text, size_t from, size_t to)
{
	size_t column = 0;
	size_t begin = 0;
	size_t at = 0;

	while (at < text.length) {
		int32_t character;
		int length = utf8_decode((struct text){ text.data + at, text.length - at }, &character);
		size_t width = (size_t)utf8_width(character);

		if (column + width > to)
			break;
		if (column < from)
			begin = at + (size_t)length;
		column += width;
		at += (size_t)length;
	}
	return (struct text){ text.data + begin, at - begin };
}

static void print_excerpt(const struct printer *printer, struct span span)
{
	struct source_place place;
	struct text line;
	struct shown_line shown;
	size_t from;
	size_t skipped = 0;
	size_t width;

	if (!span_is_set(span))
		return;
	place = source_locate(printer->sources, span.begin);
	line = source_line(printer->sources, place.file, place.line);
	from = (size_t)(source_text(printer->sources, span).data - line.data);
	shown = show_line(printer->arena, line, from, from + span.length);
	if (shown.columns > LINE_COLUMNS && shown.caret_from > LINE_COLUMNS / 2)
		skipped = shown.caret_from - LINE_COLUMNS / 2;
	line = cut_columns(text_builder_text(&shown.text), skipped, skipped + LINE_COLUMNS);
	output_format(printer->output, "%6zu | %s", place.line, skipped > 0 ? "… " : "");
	output_write(printer->output, line);
	output_format(printer->output, "%s\n       | %*s", skipped + LINE_COLUMNS < shown.columns ? " …" : "",
		      (int)(shown.caret_from - skipped) + (skipped > 0 ? 2 : 0), "");
	width = shown.caret_to - shown.caret_from;
	if (shown.caret_from - skipped + width > LINE_COLUMNS)
		width = LINE_COLUMNS - (shown.caret_from - skipped);
	print_colored(printer, "1;32", "^");
	while (width-- > 1)
		print_colored(printer, "1;32", "~");
	output_string(printer->output, "\n");
}

static void print_notes(const struct printer *printer, const struct diagnostic *finding)
{
	for (const struct diagnostic_note *note = finding->notes; note != NULL; note = note->next) {
		print_place(printer, note->span);
		print_colored(printer, "1", "note: ");
		output_write(printer->output, utf8_harmless(printer->arena, note->message));
		output_string(printer->output, "\n");
		print_excerpt(printer, note->span);
	}
}

/* For a finding in a used file: the way there from the main file. */
static void print_uses(const struct printer *printer, struct span span)
{
	const struct source_file *file = source_file_of(printer->sources, span);

	while (file != NULL && span_is_set(file->used_from)) {
		print_place(printer, file->used_from);
		print_colored(printer, "1", "note: ");
		output_string(printer->output, "used from here\n");
		file = source_file_of(printer->sources, file->used_from);
	}
}

static void print_finding(const struct printer *printer, const struct diagnostic *finding)
{
	const struct check_row *row = check_row(finding->check);
	const char *severity = severity_name(finding->severity);
	struct text help = report_help_text(printer->arena, finding);

	print_place(printer, finding->span);
	print_colored(printer, severity_color(finding->severity), text_format(printer->arena, "%s: ", severity).data);
	output_write(printer->output, utf8_harmless(printer->arena, finding->message));
	output_format(printer->output, " [%.*s]\n", TEXT_ARGUMENT(row->name));
	print_excerpt(printer, finding->span);
	if (help.length > 0) {
		output_string(printer->output, "  help = "); /* not six blanks: Emacs would read on */
		output_write(printer->output, utf8_harmless(printer->arena, help));
		output_string(printer->output, "\n");
	}
	print_notes(printer, finding);
	print_uses(printer, finding->span);
}

static void print_number(struct output *output, size_t number, const char *word, bool is_first)
{
	if (number > 0)
		output_format(output, "%s%zu %s%s", is_first ? "" : ", ", number, word, number == 1 ? "" : "s");
}

static void print_count(struct output *output, const struct report *report, size_t shown, size_t hints)
{
	size_t total = report->errors + report->warnings + hints;

	output_string(output, "wetside: ");
	print_number(output, report->errors, "error", true);
	print_number(output, report->warnings, "warning", report->errors == 0);
	print_number(output, hints, "hint", report->errors + report->warnings == 0);
	if (shown < total)
		output_format(output, "; %zu of %zu shown", shown, total);
	output_string(output, "\n");
}

void findings_print(const struct invocation *invocation, const struct source_set *sources, const struct report *report)
{
	struct output output;
	struct printer printer = { invocation->arena, sources, &output, findings_wants_color(invocation) };
	size_t shown = 0;
	size_t hints = 0;

	output_open_memory(&output, invocation->arena);
	for (size_t i = 0; i < report->count; i++) {
		const struct diagnostic *finding = &report->items[i];

		if (finding->allowed.data != NULL)
			continue;
		hints += finding->severity == SEVERITY_HINT;
		if (invocation->max_errors != 0 && shown >= invocation->max_errors)
			continue;
		print_finding(&printer, finding);
		shown++;
	}
	if (report->errors + report->warnings + hints > 0) {
		print_count(&output, report, shown, hints);
		fwrite(output_memory(&output).data, 1, output_memory(&output).length, stderr);
	}
}
