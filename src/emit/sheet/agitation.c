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

/* The agitations from `first` on that last as long as it. */
static struct bunch bunch_from(const struct timeline_step *at, size_t first)
{
	size_t past = first + 1;
	int64_t length_ms = length_of(at->agitations[first]);
	while (!stands_alone(at, first) && past < at->agitation_count && length_of(at->agitations[past]) == length_ms)
		past++;
	return (struct bunch){ first, past };
}

/* How far apart the agitations of a bunch start; 0 where that differs. */
static int64_t spacing_ms(const struct timeline_step *at, struct bunch bunch)
{
	int64_t spacing = 0;
	for (size_t i = bunch.first + 1; i < bunch.past; i++) {
		int64_t here = at->agitations[i].start_ms - at->agitations[i - 1].start_ms;
		if (spacing != 0 && here != spacing)
			return 0;
		spacing = here;
	}
	return spacing;
}

static struct text clock_at(struct sheet *sheet, const struct timeline_step *at, int64_t time_ms)
{
	return words_clock(sheet, time_ms - at->start_ms);
}

static void append_span(struct sheet *sheet, struct text_builder *words, const struct timeline_step *at, size_t index)
{
	struct text start = clock_at(sheet, at, at->agitations[index].start_ms);
	struct text end = clock_at(sheet, at, at->agitations[index].end_ms);
	text_append_format(words, "%.*s–%.*s", TEXT_ARGUMENT(start), TEXT_ARGUMENT(end));
}

static void append_bunch(struct sheet *sheet, struct text_builder *words, const struct timeline_step *at,
			 struct bunch bunch)
{
	struct text length = words_duration(sheet, length_of(at->agitations[bunch.first]));
	int64_t spacing = spacing_ms(at, bunch);
	if (bunch.past - bunch.first > LISTED_INSTANTS && spacing > 0) {
		struct text every = words_duration(sheet, spacing);
		struct text first = clock_at(sheet, at, at->agitations[bunch.first].start_ms);
		struct text last = clock_at(sheet, at, at->agitations[bunch.past - 1].start_ms);
		text_append_format(words, "%.*s every" NBSP "%.*s, %.*s to" NBSP "%.*s", TEXT_ARGUMENT(length),
				   TEXT_ARGUMENT(every), TEXT_ARGUMENT(first), TEXT_ARGUMENT(last));
		return;
	}
	text_append_format(words, "%.*s at", TEXT_ARGUMENT(length));
	for (size_t i = bunch.first; i < bunch.past; i++) {
		struct text start = clock_at(sheet, at, at->agitations[i].start_ms);
		text_append_format(words, "%s%.*s", i == bunch.first ? NBSP : ", ", TEXT_ARGUMENT(start));
	}
}

static void append_taps(struct sheet *sheet, struct text_builder *words, const struct step *step, size_t agitations)
{
	if (step->taps <= 0)
		return;
	text_append_format(words, "; tap %" PRId64 NBSP "× after%s", step->taps, agitations > 1 ? " each" : "");
	if (span_is_set(step->taps_last.span)) {
		struct text lasts = words_duration(sheet, step->taps_last.value);
		text_append_format(words, ", %.*s", TEXT_ARGUMENT(lasts));
	}
}

struct text agitation_words(struct sheet *sheet, size_t index)
{
	const struct step *step = &sheet->process->steps[index];
	const struct timeline_step *at = &sheet->timeline->steps[index];
	if (step->agitates_never)
		return TEXT("Do not agitate. ");
	if (at->agitation_count == 0)
		return TEXT("");
	struct text_builder words = text_builder_start(sheet->arena);
	text_append_string(&words, "Agitate ");
	for (size_t i = 0; i < at->agitation_count;) {
		struct bunch bunch = bunch_from(at, i);
		if (i > 0)
			text_append_string(&words, ", then ");
		if (stands_alone(at, i))
			append_span(sheet, &words, at, i);
		else
			append_bunch(sheet, &words, at, bunch);
		i = bunch.past;
	}
	append_taps(sheet, &words, step, at->agitation_count);
	text_append_string(&words, ". ");
	return text_builder_text(&words);
}
