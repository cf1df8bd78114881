#include "emit/sheet/agitation.h"

#include <inttypes.h>

#include "emit/sheet/words.h"

/* More instants than this are said as "every …" where they are evenly spaced. */
#define LISTED_INSTANTS 5

/* From this length on an agitation is said with both its ends. */
#define LONG_AGITATION_MS 15000

/* The agitations that make one part of the sentence: first and one past the last. */
struct bunch {
	size_t first;
	size_t past;
};

static int64_t length_of(struct interval interval)
{
	return interval.end_ms - interval.start_ms;
}

/* The opening agitation and long ones are said with both their ends. */
static bool stands_alone(const struct timeline_step *at, size_t index)
{
	return at->agitations[index].start_ms == at->start_ms || length_of(at->agitations[index]) >= LONG_AGITATION_MS;
}

static int64_t gap_before(const struct timeline_step *at, size_t index)
{
	return at->agitations[index].start_ms - at->agitations[index - 1].start_ms;
}

/* The agitations from `first` on that last as long as it and are evenly spaced. */
static struct bunch bunch_from(const struct timeline_step *at, size_t first)
{
	size_t past = first + 1;
	int64_t length_ms = length_of(at->agitations[first]);
	while (!stands_alone(at, first) && past < at->agitation_count && length_of(at->agitations[past]) == length_ms &&
	       (past == first + 1 || gap_before(at, past) == gap_before(at, past - 1)))
		past++;
	return (struct bunch){ first, past };
}

static struct text clock_at(struct sheet *sheet, const struct timeline_step *at, int64_t time_ms)
{
	return words_clock(sheet, time_ms - at->start_ms);
}

/* "0:00–0:30", which must not be broken at its dash. */
static void add_span(struct sheet *sheet, cmark_node *paragraph, const struct timeline_step *at, size_t index)
{
	struct text start = clock_at(sheet, at, at->agitations[index].start_ms);
	struct text end = clock_at(sheet, at, at->agitations[index].end_ms);
	struct text span = text_format(sheet->arena, "%.*s–%.*s", TEXT_ARGUMENT(start), TEXT_ARGUMENT(end));
	document_span(sheet->document, paragraph, sheet_mark(MARK_whole), span);
}

static void add_bunch(struct sheet *sheet, cmark_node *paragraph, const struct timeline_step *at, struct bunch bunch)
{
	struct document *document = sheet->document;
	struct text length = words_duration(sheet, length_of(at->agitations[bunch.first]));
	if (bunch.past - bunch.first > LISTED_INSTANTS) {
		struct text every = words_duration(sheet, gap_before(at, bunch.first + 1));
		struct text first = clock_at(sheet, at, at->agitations[bunch.first].start_ms);
		struct text last = clock_at(sheet, at, at->agitations[bunch.past - 1].start_ms);
		document_format(document, paragraph, "%.*s every" NBSP "%.*s, %.*s to" NBSP "%.*s",
				TEXT_ARGUMENT(length), TEXT_ARGUMENT(every), TEXT_ARGUMENT(first), TEXT_ARGUMENT(last));
		return;
	}
	document_format(document, paragraph, "%.*s at", TEXT_ARGUMENT(length));
	for (size_t i = bunch.first; i < bunch.past; i++) {
		struct text start = clock_at(sheet, at, at->agitations[i].start_ms);
		document_format(document, paragraph, "%s%.*s", i == bunch.first ? NBSP : ", ", TEXT_ARGUMENT(start));
	}
}

static void add_taps(struct sheet *sheet, cmark_node *paragraph, const struct step *step, size_t agitations)
{
	if (step->taps <= 0)
		return;
	document_format(sheet->document, paragraph, "; tap %" PRId64 NBSP "× after%s", step->taps,
			agitations > 1 ? " each" : "");
	if (span_is_set(step->taps_last.span)) {
		struct text lasts = words_duration(sheet, step->taps_last.value);
		document_format(sheet->document, paragraph, ", %.*s", TEXT_ARGUMENT(lasts));
	}
}

void agitation_add(struct sheet *sheet, cmark_node *paragraph, size_t index)
{
	const struct step *step = &sheet->process->steps[index];
	const struct timeline_step *at = &sheet->timeline->steps[index];
	if (step->agitates_never)
		document_string(sheet->document, paragraph, "Do not agitate. ");
	if (at->agitation_count == 0)
		return;
	document_string(sheet->document, paragraph, "Agitate ");
	for (size_t i = 0; i < at->agitation_count;) {
		struct bunch bunch = bunch_from(at, i);
		if (i > 0)
			document_string(sheet->document, paragraph, ", then ");
		if (stands_alone(at, i))
			add_span(sheet, paragraph, at, i);
		else
			add_bunch(sheet, paragraph, at, bunch);
		i = bunch.past;
	}
	add_taps(sheet, paragraph, step, at->agitation_count);
	document_string(sheet->document, paragraph, ". ");
}
