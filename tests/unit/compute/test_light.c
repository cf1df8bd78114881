/* When light may come on. Sources: two minutes of fix in black and white, a minute of reversal bath in E-6, the end of
 * bleach or bleach-fix in C-41: from memory, as in families.def. Steps follow each other without a gap here, each of so
 * many seconds. */
#include "figures.h"

#include "compute/light.h"

#define STEPS_MOST 6

struct scene {
	struct step steps[STEPS_MOST];
	struct process process;
	struct timeline_step places[STEPS_MOST];
	struct timeline timeline;
};

static void add_step(struct scene *scene, enum role_id role, int64_t lasts_s)
{
	size_t count = scene->process.step_count;
	int64_t start_ms = count == 0 ? 0 : scene->places[count - 1].end_ms;
	scene->steps[count].role = role;
	scene->places[count] = (struct timeline_step){ .pour_ms = start_ms,
						       .start_ms = start_ms,
						       .end_ms = start_ms + lasts_s * 1000,
						       .latest_end_ms = TIMELINE_NEVER,
						       .bears_light_ms = TIMELINE_NEVER,
						       .light_ms = TIMELINE_NEVER };
	scene->process.step_count = scene->timeline.step_count = count + 1;
}

static void begin(struct scene *scene, enum family_id family)
{
	*scene = (struct scene){ .process = { .family = family, .family_span = SOMEWHERE } };
	scene->process.steps = scene->steps;
	scene->timeline.steps = scene->places;
}

/* The step that is marked, from 0, and the seconds from its start; nothing is marked besides. */
static void check_light(struct scene *scene, size_t step, int64_t after_s)
{
	light_mark(&scene->process, &scene->timeline);
	for (size_t i = 0; i < scene->process.step_count; i++)
		assert_int_equal(scene->places[i].light_ms,
				 i == step ? scene->places[i].start_ms + after_s * 1000 : TIMELINE_NEVER);
}

static void test_minutes_of_fix_add_up(void **state)
{
	(void)state;
	struct scene scene;
	begin(&scene, FAMILY_black_and_white_negative);
	add_step(&scene, ROLE_developer, 480);
	add_step(&scene, ROLE_fix, 50);
	add_step(&scene, ROLE_wash, 300); /* does not fix */
	add_step(&scene, ROLE_fix, 40);
	add_step(&scene, ROLE_fix, 45);
	check_light(&scene, 4, 120 - 50 - 40);
}

static void test_one_fix_long_enough(void **state)
{
	(void)state;
	struct scene scene;
	begin(&scene, FAMILY_black_and_white_negative);
	add_step(&scene, ROLE_developer, 480);
	add_step(&scene, ROLE_fix, 300);
	add_step(&scene, ROLE_fix, 300);
	check_light(&scene, 1, 120);
}

static void test_too_little_fix_ends_first(void **state)
{
	(void)state;
	struct scene scene;
	begin(&scene, FAMILY_black_and_white_negative);
	add_step(&scene, ROLE_fix, 50);
	add_step(&scene, ROLE_fix, 60);
	check_light(&scene, 1, 60);
}

static void test_without_fix_there_is_no_light(void **state)
{
	(void)state;
	struct scene scene;
	begin(&scene, FAMILY_black_and_white_negative);
	add_step(&scene, ROLE_developer, 480);
	light_mark(&scene.process, &scene.timeline);
	assert_int_equal(scene.places[0].light_ms, TIMELINE_NEVER);
}

static void test_colour(void **state)
{
	(void)state;
	struct scene scene;
	begin(&scene, FAMILY_c_41);
	add_step(&scene, ROLE_developer, 195);
	add_step(&scene, ROLE_bleach, 390);
	add_step(&scene, ROLE_fix, 390);
	check_light(&scene, 1, 390);
	begin(&scene, FAMILY_e_6);
	add_step(&scene, ROLE_first_developer, 360);
	add_step(&scene, ROLE_reversal_bath, 120);
	add_step(&scene, ROLE_colour_developer, 360);
	check_light(&scene, 1, 60);
	begin(&scene, FAMILY_e_6);
	add_step(&scene, ROLE_first_developer, 360);
	add_step(&scene, ROLE_reversal_bath, 60); /* no longer than a minute: at its end */
	check_light(&scene, 1, 60);
}

/* A developer of eight minutes and a fix of five, which bears light after two; `lights on after` in one of them, 0 for
 * at once. */
static void begin_lit(struct scene *scene, size_t lit, int64_t after_s)
{
	begin(scene, FAMILY_black_and_white_negative);
	add_step(scene, ROLE_developer, 480);
	add_step(scene, ROLE_fix, 300);
	add_step(scene, ROLE_wash, 600);
	scene->steps[lit].lights_span = SOMEWHERE;
	if (after_s > 0)
		scene->steps[lit].lights_after = (struct quantity){ .value = after_s * 1000, .span = SOMEWHERE };
}

static void test_light_waits_for_the_recipe(void **state)
{
	(void)state;
	struct scene scene;
	begin_lit(&scene, 1, 240);
	check_light(&scene, 1, 240);
	assert_int_equal(scene.places[1].bears_light_ms, scene.places[1].start_ms + 120000);
	begin_lit(&scene, 1, 60); /* earlier than film bears it */
	check_light(&scene, 1, 120);
	begin_lit(&scene, 0, 700); /* the developer is over by then */
	check_light(&scene, 1, 120);
	begin_lit(&scene, 2, 0);
	check_light(&scene, 2, 0);
}

static void test_light_and_the_end_of_a_step(void **state)
{
	(void)state;
	struct scene scene;
	begin_lit(&scene, 1, 400);
	check_light(&scene, 1, 300);
	begin_lit(&scene, 1, 400);
	scene.places[1].time.form = TIME_AT_LEAST;
	check_light(&scene, 1, 400);
	begin_lit(&scene, 1, 400);
	scene.places[1].latest_end_ms = scene.places[1].end_ms + 60000;
	check_light(&scene, 1, 360);
}

static void test_a_lamp_ends_the_search(void **state)
{
	(void)state;
	struct scene scene;
	begin(&scene, FAMILY_e_6);
	add_step(&scene, ROLE_first_developer, 360);
	add_step(&scene, ROLE_reversal_bath, 120);
	add_step(&scene, ROLE_exposing, 60);
	add_step(&scene, ROLE_wash, 60);
	scene.steps[3].lights_span = SOMEWHERE;
	check_light(&scene, 1, 60);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		cmocka_unit_test(test_minutes_of_fix_add_up),
		cmocka_unit_test(test_one_fix_long_enough),
		cmocka_unit_test(test_too_little_fix_ends_first),
		cmocka_unit_test(test_without_fix_there_is_no_light),
		cmocka_unit_test(test_colour),
		cmocka_unit_test(test_light_waits_for_the_recipe),
		cmocka_unit_test(test_light_and_the_end_of_a_step),
		cmocka_unit_test(test_a_lamp_ends_the_search),
	};

	RUN_TESTS(tests);
}
