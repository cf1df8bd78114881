/* What tells the rolls of a load apart in the dark: the roll's own mark, else one by its place on the column. */
#include "compute/plan_draft.h"

/* More nicks than this are miscounted by touch (common practice, no source): then a corner is cut as well. */
#define NICKS_MOST 4
#define CORNERS_MOST 2

static bool is_taken(const struct plan_load *load, size_t count, struct text mark)
{
	for (size_t i = 0; i < count; i++) {
		if (text_equal(load->places[i].mark, mark))
			return true;
	}
	return false;
}

/* The mark of a number: nicks in the tail, then with one corner of it cut, then with both; beyond, a twin-check number.
 * A sheet has code notches of its own, so it gets a number. */
static struct text mark_of(struct arena *arena, size_t number, enum format_id format)
{
	static const char *const nicks[NICKS_MOST] = { "one nick", "two nicks", "three nicks", "four nicks" };
	static const char *const corners[CORNERS_MOST + 1] = { "", ", a corner cut", ", both corners cut" };
	if (!plan_format_has_reels(format) || number > NICKS_MOST * (CORNERS_MOST + 1))
		return text_format(arena, "twin-check number %zu", number);
	return text_format(arena, "%s in the tail%s", nicks[(number - 1) % NICKS_MOST],
			   corners[(number - 1) / NICKS_MOST]);
}

/* Own marks first, so that none that is given is one of them. */
void plan_marks_give(struct plan_draft *draft, struct plan_load *load, const struct packing_load *packed)
{
	const struct plan_kind *kind = &draft->kinds[load->kind];
	load->places = ARENA_ARRAY(draft->arena, struct plan_place, packed->count);
	load->place_count = packed->count;
	for (size_t i = 0; i < packed->count; i++) {
		const struct roll *roll = kind->rolls[packed->rolls[i]];
		load->places[i] = (struct plan_place){ roll, i + 1, roll->mark };
	}
	size_t number = 1;
	for (size_t i = 0; i < packed->count; i++) {
		struct plan_place *place = &load->places[i];
		if (place->mark.length > 0)
			continue;
		struct text mark = mark_of(draft->arena, number, place->roll->format);
		while (is_taken(load, packed->count, mark))
			mark = mark_of(draft->arena, ++number, place->roll->format);
		place->mark = mark;
		number++;
	}
}
