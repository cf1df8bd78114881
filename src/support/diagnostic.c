#include "support/diagnostic.h"

#include <stdlib.h>

#include "support/limits.h"

void report_init(struct report *report, struct arena *arena)
{
	*report = (struct report){ .arena = arena };
}

/* The counter in which a finding shows, or null. */
static size_t *counter(struct report *report, const struct diagnostic *finding)
{
	if (finding->allowed.data || finding->severity == SEVERITY_HINT)
		return NULL;
	return finding->severity == SEVERITY_ERROR ? &report->errors : &report->warnings;
}

static struct text sentence(struct report *report, const char *format, va_list arguments)
{
	struct text text = text_format_list(report->arena, format, arguments);
	size_t most = limit_value(LIMIT_SENTENCE);
	size_t head = most / 3 * 2, tail = text.length - most / 3;
	if (text.length <= most)
		return text;
	while (((unsigned char)text.data[head] & 0xC0) == 0x80) /* within a character */
		head--;
	while (((unsigned char)text.data[tail] & 0xC0) == 0x80)
		tail++;
	return text_format(report->arena, "%.*s … %.*s", (int)head, text.data, (int)(text.length - tail),
			   text.data + tail);
}

static bool is_surplus(const struct report *report, const struct diagnostic *finding)
{
	return finding == &report->surplus;
}

/* The room for a new finding; its errors and warnings are counted in any case. */
static struct diagnostic *new_finding(struct report *report)
{
	if (report->count >= limit_value(LIMIT_FINDINGS)) {
		report->surplus_count++;
		return &report->surplus;
	}
	ARENA_RESERVE(report->arena, report->items, report->count, report->capacity);
	return &report->items[report->count++];
}

struct diagnostic *report_add_list(struct report *report, enum check_id check, struct span span, const char *format,
				   va_list arguments)
{
	bool is_kept = report->count < limit_value(LIMIT_FINDINGS);
	struct text message = is_kept ? sentence(report, format, arguments) : TEXT("");
	struct diagnostic *finding = new_finding(report);
	*finding = (struct diagnostic){
		.check = check,
		.severity = check_row(check)->severity,
		.span = span,
		.message = message,
	};
	size_t *number = counter(report, finding);
	if (number)
		(*number)++;
	return finding;
}

struct diagnostic *report_add(struct report *report, enum check_id check, struct span span, const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	struct diagnostic *finding = report_add_list(report, check, span, format, arguments);
	va_end(arguments);
	return finding;
}

void report_help(struct report *report, struct diagnostic *finding, const char *format, ...)
{
	va_list arguments;
	if (is_surplus(report, finding))
		return;
	va_start(arguments, format);
	finding->help = sentence(report, format, arguments);
	va_end(arguments);
}

void report_fix(struct report *report, struct diagnostic *finding, enum fix_confidence confidence, struct span span,
		struct text text)
{
	if (is_surplus(report, finding))
		return;
	struct fix *fix = ARENA_NEW(report->arena, struct fix);
	struct fix **place = &finding->fixes;
	while (*place)
		place = &(*place)->next;
	*fix = (struct fix){ .span = span, .text = text_copy(report->arena, text), .confidence = confidence };
	*place = fix;
}

bool report_suggest(struct report *report, struct diagnostic *finding, struct span span,
		    const struct suggestion_list *list, enum suggestion_trust trust)
{
	if (list->count == 0)
		return false;
	if (is_surplus(report, finding))
		return true;
	finding->help = suggest_sentence(report->arena, list);
	enum fix_confidence confidence = suggest_is_sure(list, trust) ? FIX_SAFE : FIX_ASKS;
	for (size_t i = 0; i < list->count; i++)
		report_fix(report, finding, confidence, span, list->words[i]);
	return true;
}

struct text report_help_text(struct arena *arena, const struct diagnostic *finding)
{
	if (finding->help.length > 0 || !finding->fixes)
		return finding->help;
	return fix_words(arena, finding->fixes);
}

void report_note(struct report *report, struct diagnostic *finding, struct span span, const char *format, ...)
{
	if (is_surplus(report, finding))
		return;
	struct diagnostic_note *note = ARENA_NEW(report->arena, struct diagnostic_note);
	note->span = span;
	va_list arguments;
	va_start(arguments, format);
	note->message = sentence(report, format, arguments);
	va_end(arguments);
	if (finding->last_note)
		finding->last_note->next = note;
	else
		finding->notes = note;
	finding->last_note = note;
}

void report_allow(struct report *report, struct diagnostic *finding, struct text reason)
{
	size_t *number = counter(report, finding);
	if (number)
		(*number)--;
	finding->allowed = reason.data ? reason : TEXT("");
}

void report_raise(struct report *report, struct diagnostic *finding, enum severity severity)
{
	size_t *number = counter(report, finding);
	if (number)
		(*number)--;
	finding->severity = severity;
	number = counter(report, finding);
	if (number)
		(*number)++;
}

static int compare_numbers(size_t a, size_t b)
{
	return (a > b) - (a < b);
}

static int compare_findings(const void *left, const void *right)
{
	const struct diagnostic *a = left, *b = right;
	int order = compare_numbers(a->span.begin, b->span.begin);
	if (order == 0)
		order = compare_numbers(a->span.length, b->span.length);
	if (order == 0)
		order = compare_numbers((size_t)a->check, (size_t)b->check);
	if (order == 0)
		order = text_compare(a->message, b->message);
	if (order == 0)
		order = compare_numbers(a->allowed.data != NULL, b->allowed.data != NULL);
	return order == 0 ? text_compare(a->help, b->help) : order;
}

static bool is_repeated(const struct diagnostic *a, const struct diagnostic *b)
{
	return a->check == b->check && a->span.begin == b->span.begin && a->span.length == b->span.length &&
	       text_equal(a->message, b->message);
}

void report_sort(struct report *report)
{
	if (report->count < 2)
		return;
	qsort(report->items, report->count, sizeof(*report->items), compare_findings);
	size_t kept = 1;
	for (size_t i = 1; i < report->count; i++) {
		struct diagnostic *finding = &report->items[i];
		if (!is_repeated(&report->items[kept - 1], finding)) {
			report->items[kept++] = *finding;
			continue;
		}
		size_t *number = counter(report, finding);
		if (number)
			(*number)--;
	}
	report->count = kept;
}
