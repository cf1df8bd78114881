#include "emit/day/bound.h"

#include <inttypes.h>

#include "emit/this_run.h"

#define NBSP "\xC2\xA0"

static const char *plural(int64_t count, const char *one, const char *more)
{
	return count == 1 ? one : more;
}

static struct text loads(struct arena *arena, size_t count)
{
	return text_format(arena, "%zu" NBSP "%s", count, plural((int64_t)count, "load", "loads"));
}

/* numerator / denominator with two decimals at the most; for people, so cut and not rounded. */
static struct text quotient(struct arena *arena, int64_t numerator, int64_t denominator)
{
	int64_t hundredths = numerator % denominator * 100 / denominator;
	struct text whole = text_format(arena, "%" PRId64, numerator / denominator);
	if (numerator % denominator == 0)
		return whole;
	return text_format(arena, "%.*s.%0*" PRId64, TEXT_ARGUMENT(whole), hundredths % 10 == 0 ? 1 : 2,
			   hundredths % 10 == 0 ? hundredths / 10 : hundredths);
}

/* ---- what is packed ---- */

static size_t rolls_of(const struct packing_problem *problem, size_t format)
{
	size_t count = 0;
	for (size_t i = 0; i < problem->roll_count; i++)
		count += problem->rolls[i].format == format && problem->takes[format] > 0;
	return count;
}

/* The word of a format, which the packing knows by number only. */
static struct text format_word(const struct plan_kind *kind, size_t format)
{
	for (size_t i = 0; i < kind->problem->roll_count && i < kind->roll_count; i++)
		if (kind->problem->rolls[i].format == format)
			return format_row(kind->rolls[i]->format)->word;
	return TEXT("?");
}

static int64_t film_of(const struct packing_problem *problem)
{
	int64_t milli_rolls = 0;
	for (size_t i = 0; i < problem->roll_count; i++)
		milli_rolls += problem->rolls[i].area_milli_rolls;
	return milli_rolls;
}

/* ---- a reason each ---- */

/* "76 rolls of 135, 8 of them to a tank, and 6 rolls of 120, 4 to a tank, fill 11 tanks". */
static struct text space(struct arena *arena, const struct plan_kind *kind)
{
	const struct packing_problem *problem = kind->problem;
	struct text_builder words = text_builder_start(arena);
	size_t listed = 0;
	for (size_t i = 0; i < problem->format_count; i++) {
		size_t count = rolls_of(problem, i);
		if (count == 0)
			continue;
		text_append_format(&words, "%s%zu" NBSP "%s of %.*s, of which %" PRId64 " fill a tank",
				   listed++ > 0 ? ", and " : "", count, plural((int64_t)count, "roll", "rolls"),
				   TEXT_ARGUMENT(format_word(kind, i)), problem->takes[i]);
	}
	if (kind->packing->bound_denominator > 0)
		text_append_format(&words, ": together %.*s tanks full",
				   TEXT_ARGUMENT(quotient(arena, kind->packing->bound_numerator,
							  kind->packing->bound_denominator)));
	return text_builder_text(&words);
}

static struct text reels(struct arena *arena, const struct plan_kind *kind)
{
	size_t format = kind->packing->bound_format;
	size_t count = rolls_of(kind->problem, format);
	struct text word = format_word(kind, format);
	return text_format(
		arena, "there are %" PRId64 " reels for %.*s, and %zu" NBSP "%s of it: %.*s times all the reels",
		kind->problem->reels[format], TEXT_ARGUMENT(word), count, plural((int64_t)count, "roll", "rolls"),
		TEXT_ARGUMENT(quotient(arena, (int64_t)count,
				       kind->problem->reels[format] > 0 ? kind->problem->reels[format] : 1)));
}

static struct text area(struct arena *arena, const struct plan_kind *kind)
{
	int64_t film = film_of(kind->problem), most = kind->problem->load_area_milli_rolls;
	struct text all = this_run_rolls(arena, film);
	struct text one = this_run_rolls(arena, most);
	return text_format(arena,
			   "all film together is %.*s" NBSP "rolls of 80 square inches, and the baths do no more than "
			   "%.*s in one load",
			   TEXT_ARGUMENT(all), TEXT_ARGUMENT(one));
}

static struct text reason(struct arena *arena, const struct plan_kind *kind)
{
	switch (kind->packing->bound) {
	case PACKING_BOUND_SPACE:
		return space(arena, kind);
	case PACKING_BOUND_REELS:
		return reels(arena, kind);
	case PACKING_BOUND_AREA:
		return area(arena, kind);
	case PACKING_BOUND_LARGE:
		return TEXT("so many rolls are too large for two of them, or for one more, to fit into a load beside "
			    "each other");
	case PACKING_BOUND_SPREAD:
		return TEXT(
			"until a load has come out right, no more than half of an origin's rolls may lie in one; the "
			"largest origin alone needs that many loads");
	case PACKING_BOUND_SEARCH:
		return text_format(arena,
				   "every way to share the rolls out over %.*s was tried, and none keeps all rules",
				   TEXT_ARGUMENT(loads(arena, kind->packing->loads_least - 1)));
	default:
		return TEXT("");
	}
}

struct text bound_words(const struct emission *emission, const struct plan_kind *kind)
{
	const struct packing *packing = kind->packing;
	struct arena *arena = emission->arena;
	if (packing->load_count == 0 || packing->bound == PACKING_BOUND_NONE)
		return TEXT("");
	if (packing->load_count == 1)
		return TEXT("It all fits into one load.");
	struct text why = reason(arena, kind);
	struct text least = loads(arena, packing->loads_least);
	struct text words = text_format(arena, "Fewer than %.*s %s impossible: %.*s.", TEXT_ARGUMENT(least),
					plural((int64_t)packing->loads_least, "is", "are"), TEXT_ARGUMENT(why));
	if (packing->loads_least >= packing->load_count)
		return words;
	size_t gap = packing->load_count - packing->loads_least;
	return text_format(arena, "%.*s The plan has %.*s, %zu more: whether fewer would do was not found out.",
			   TEXT_ARGUMENT(words), TEXT_ARGUMENT(loads(arena, packing->load_count)), gap);
}

struct text bound_format(const struct plan_kind *kind)
{
	return format_word(kind, kind->packing->bound_format);
}
