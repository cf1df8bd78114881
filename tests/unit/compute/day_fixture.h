/* A day over a recipe in text, for tests of its plan: the recipe is read, the day and its rolls are filled in by hand.
 * */
#ifndef DAY_FIXTURE_H
#define DAY_FIXTURE_H

#include "figures.h"
#include "source_fixture.h"

#include "compute/day_plan.h"
#include "model/film_area.h"
#include "model/load.h"

#define ROLLS_MOST 2500

struct bench {
	struct report report;
	struct recipe *recipe;
	struct day day;
	struct day_run runs[4];
	struct day_tank tanks[3];
	struct day_reels reels[2];
	struct day_break breaks[2];
	struct dryer dryer;
	struct roll *last_roll;
};

static struct search_path no_path;

static inline void open_bench(struct bench *bench, const char *recipe)
{
	struct text problem;
	*bench = (struct bench){ .day = { .start_s = 9 * 3600, .finish_s = -1 } };
	report_init(&bench->report, &arena);
	source_set_init(&sources, &arena);
	struct source_file *file = source_add(&sources, TEXT("a.wet"), text_from(recipe), &problem);
	bench->recipe = recipe_load(&sources, file, &no_path, &arena, &bench->report);
	assert_int_equal(bench->report.errors, 0);
	bench->day.runs = bench->runs;
	bench->day.tanks = bench->tanks;
	bench->day.reels = bench->reels;
	bench->day.breaks = bench->breaks;
	for (size_t i = 0; i < recipe_process_count(bench->recipe) && i < 4; i++)
		bench->runs[bench->day.run_count++].process = i;
}

/* Adds so many rolls of an origin for a process of the day. */
static inline struct roll *add_rolls(struct bench *bench, size_t run, size_t count, enum format_id format,
				     const char *origin)
{
	struct roll *first = NULL;
	for (size_t i = 0; i < count; i++) {
		struct roll *roll = ARENA_NEW(&arena, struct roll);
		*roll = (struct roll){
			.label = text_format(&arena, "R%03zu", bench->day.roll_count + 1),
			.span = SOMEWHERE,
			.format = format,
			.area_milli_rolls = film_area_milli_rolls(format_row(format)->area_milli_sq_in),
			.origin = text_from(origin),
			.run = run,
		};
		if (bench->last_roll)
			bench->last_roll->next = roll;
		else
			bench->day.rolls = roll;
		bench->last_roll = roll;
		bench->day.roll_count++;
		first = first ? first : roll;
	}
	return first;
}

static inline struct day_plan *plan(struct bench *bench)
{
	return day_plan_build(bench->recipe, &bench->day, NULL, &arena);
}

/* The baths of a colour-negative day that its tests vary: @ is the developer's block. */
#define ROOM                                                                                                           \
	"wetside 1\n"                                                                                                  \
	"tank upright { holds 2.5 L; takes 8 x 135 or 4 x 120; fill 20 s; drain 15 s }\n"                              \
	"graduate pitcher { holds 5 L }\n"

#define BATHS                                                                                                          \
	"solution blix { role bleach-fix; kit makes 2.5 L, liquid; reuse; hazards none; waste silver }\n"              \
	"solution last-bath { role final-rinse; dilute 1+99; reuse; hazards none; waste developer }\n"

#define COLOUR_STEPS                                                                                                   \
	"  develops C-41; tank upright; graduate pitcher\n"                                                            \
	"  step pre-wet in water at 38 C for 1:00 { agitate first 10 s }\n"                                            \
	"  step develop in colour-developer at 38 C for 3:30 { agitate first 30 s, then 5 s every 30 s }\n"            \
	"  step bleach-fix in blix at 38 C for at least 6:30 { agitate first 30 s, then 5 s every 30 s }\n"            \
	"  step wash in running water at 38 C for at least 3:15 { flow 4 L per min }\n"                                \
	"  step last-bath in last-bath at 20 C for at least 1:00 { agitate first 10 s }\n"                             \
	"  step dry in air for 2 h\n"

#endif
