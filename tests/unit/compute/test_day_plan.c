#include "day_fixture.h"

/* Film of a test strip, a tenth of a roll: common practice, no source. */
#define PLAN_STRIP 100

#define POOLED                                                                                                         \
	"solution colour-developer { role developer; kit makes 1 L, powder; stock pooled; reuse\n"                     \
	"  mix { water 800 mL at 40 C; add \"part A\"; top up }\n"                                                     \
	"  capacity 8 rolls per 1 L; lengthen 2 % per roll per 1 L; hazards none; waste developer }\n"

#define UNPOOLED                                                                                                       \
	"solution colour-developer { role developer; kit makes 1 L, powder; reuse\n"                                   \
	"  mix { water 800 mL at 40 C; add \"part A\"; top up }\n"                                                     \
	"  capacity 8 rolls per 1 L; lengthen 2 % per roll per 1 L; hazards none; waste developer }\n"

#define COLOUR "process colour-negative {\n" COLOUR_STEPS "}\n"

static const struct plan_chemistry *chemistry_of(const struct bench *bench, const struct day_plan *plan,
						 const char *name)
{
	for (size_t i = 0; i < plan->chemistry_count; i++) {
		const struct solution *solution = plan->chemistry[i].solution;
		if (text_equal(intern_text(bench->recipe->names, solution->declared.name), text_from(name)))
			return &plan->chemistry[i];
	}
	return NULL;
}

static size_t count_tasks(const struct day_plan *plan, enum plan_task_kind kind)
{
	size_t count = 0;
	for (size_t i = 0; i < plan->task_count; i++)
		count += plan->tasks[i].kind == kind;
	return count;
}

/* Twenty origins of four rolls each. */
static void add_eighty(struct bench *bench)
{
	for (int i = 0; i < 20; i++)
		add_rolls(bench, 0, 4, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
}

/* Source: shared trade rule "pooled stock": three 1 L kits kept as one stock of 3 L do 24 rolls at 8 rolls/L, three
 * loads; not pooled, 2.5 L do two loads. Over eighty rolls 12 kits against 15: ceil(80/24) = 4 fills of 3 kits, and 10
 * loads by twos are 5 fills of 3 kits (2.5 L, whole kits up). */
static void test_kits_of_eighty_rolls(void **state)
{
	(void)state;
	struct bench bench;
	open_bench(&bench, ROOM POOLED BATHS COLOUR);
	add_eighty(&bench);
	const struct day_plan *pooled = plan(&bench);
	assert_int_equal(pooled->load_count, 10);
	assert_int_equal(pooled->today_count, 10);
	assert_int_equal(chemistry_of(&bench, pooled, "colour-developer")->mixed, litres(12));
	assert_int_equal(chemistry_of(&bench, pooled, "colour-developer")->mixes, 4);
	open_bench(&bench, ROOM UNPOOLED BATHS COLOUR);
	add_eighty(&bench);
	const struct day_plan *single = plan(&bench);
	assert_int_equal(single->load_count, 10);
	assert_int_equal(chemistry_of(&bench, single, "colour-developer")->mixed, litres(15));
	assert_int_equal(chemistry_of(&bench, single, "colour-developer")->mixes, 5);
}

/* A day of one process, ready for rolls. */
static void open_colour(struct bench *bench)
{
	open_bench(bench, ROOM POOLED BATHS COLOUR);
}

static void test_no_rolls(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	const struct day_plan *empty = plan(&bench);
	assert_int_equal(empty->load_count + empty->task_count + empty->left_count + empty->remedy_count, 0);
	assert_int_equal(empty->end_s, 0);
	assert_true(empty->is_order_proven);
}

/* Each roll that is in no load, and why. */
static void test_left(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	add_rolls(&bench, 0, 3, FORMAT_f135, "Pier");
	add_rolls(&bench, ROLL_NO_RUN, 1, FORMAT_f135, "Pier");
	add_rolls(&bench, 0, 1, FORMAT_f220, "Pier"); /* the tank takes none */
	add_rolls(&bench, 0, 1, FORMAT_f135, "Pier")->set_aside.span = SOMEWHERE;
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->left_count, 3);
	assert_int_equal(day->left[0].reason, LEFT_NO_PROCESS);
	assert_int_equal(day->left[1].reason, LEFT_TOO_LARGE);
	assert_int_equal(day->left[2].reason, LEFT_SET_ASIDE);
	assert_int_equal(day->remedy_count, 0); /* none of them is a matter of time */
}

/* A format of which the day has no reels fits no load. */
static void test_no_reels(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	bench.reels[0] = (struct day_reels){ SOMEWHERE, 8, FORMAT_f135 };
	bench.day.reels_count = 1;
	add_rolls(&bench, 0, 1, FORMAT_f120, "Pier");
	assert_int_equal(plan(&bench)->left[0].reason, LEFT_TOO_LARGE);
}

/* By the program's own sums for `--done`, which other tests compare with printed tables: load by load the times are the
 * same to the millisecond. */
static void test_times_are_those_of_done(void **state)
{
	(void)state;
	struct bench bench;
	int64_t done = PLAN_STRIP;
	open_colour(&bench);
	add_rolls(&bench, 0, 12, FORMAT_f135, "Pier");
	add_rolls(&bench, 0, 8, FORMAT_f135, "Quay");
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->today_count, 3);
	for (size_t i = 0; i < day->today_count; i++) {
		const struct plan_load *load = &day->loads[i];
		const struct process *process = day->kinds[load->kind].process;
		struct condition of_developer = { .name = TEXT("colour-developer"), .value = done };
		const struct conditions conditions = { .done = &of_developer };
		const struct used_time *used = used_times(bench.recipe, process, &conditions, &bench.report, &arena);
		for (size_t j = 0; j < process->step_count; j++)
			assert_int_equal(load->used[j].time.low_ms, used[j].time.low_ms);
		assert_int_equal(load->timeline->steps[1].time.low_ms, used[1].time.low_ms);
		done += load->area_milli_rolls;
	}
	assert_int_equal(done, PLAN_STRIP + 20000);
	assert_true(day->loads[2].used[1].time.low_ms > 210000);
}

static struct day_on_hand *put_on_hand(struct bench *bench, const char *name, double volume_l, double done_rolls)
{
	struct day_on_hand *on_hand = ARENA_NEW(&arena, struct day_on_hand);
	for (size_t i = 0; i < bench->recipe->solution_count; i++) {
		const struct solution *solution = bench->recipe->solutions[i];
		if (text_equal(intern_text(bench->recipe->names, solution->declared.name), text_from(name)))
			on_hand->on_hand.solution = solution;
	}
	assert_non_null(on_hand->on_hand.solution);
	on_hand->on_hand.volume = said(litres(volume_l));
	on_hand->on_hand.done = said(llround(done_rolls * 1000));
	on_hand->next = bench->day.on_hand;
	bench->day.on_hand = on_hand;
	return on_hand;
}

/* 3 L that have done 8 rolls of 24 do two loads of eight more; then 3 kits are mixed for the third. */
static void test_on_hand(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	put_on_hand(&bench, "colour-developer", 3, 8);
	for (int i = 0; i < 6; i++)
		add_rolls(&bench, 0, 4, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->load_count, 3);
	assert_int_equal(day->loads[0].accounts->done_milli_rolls, 8000);
	assert_non_null(day->loads[1].accounts->on_hand);
	assert_null(day->loads[2].accounts->on_hand);
	assert_int_equal(day->loads[2].accounts->fill, 1);
	const struct plan_chemistry *developer = chemistry_of(&bench, day, "colour-developer");
	assert_int_equal(developer->on_hand, litres(3));
	assert_int_equal(developer->mixed, litres(3));
	assert_int_equal(count_tasks(day, PLAN_TASK_test), 1); /* of the new mix: film has tested the other */
}

/* One that has done nothing wants a test, unless it had one; one that fills no tank, or is past its life, is not used.
 * */
static void test_untested_on_hand(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	add_rolls(&bench, 0, 4, FORMAT_f135, "Pier");
	struct day_on_hand *on_hand = put_on_hand(&bench, "colour-developer", 3, 0);
	assert_int_equal(count_tasks(plan(&bench), PLAN_TASK_test), 1);
	on_hand->is_tested = true;
	assert_int_equal(count_tasks(plan(&bench), PLAN_TASK_test), 0);
	on_hand->on_hand.volume = said(litres(2));
	assert_int_equal(chemistry_of(&bench, plan(&bench), "colour-developer")->on_hand, 0);
	assert_int_equal(count_tasks(plan(&bench), PLAN_TASK_test), 1);
}

#define BLACK_AND_WHITE                                                                                                \
	ROOM "solution soup { role developer; dilute 1+9; one-shot; hazards none; waste developer }\n"                 \
	     "solution hypo { role fix; dilute 1+4; replenish 50 mL per roll; hazards none; waste silver }\n"          \
	     "process grey { develops black-and-white-negative; tank upright; graduate pitcher\n"                      \
	     "  step develop in soup at 20 C for 8:00 { agitate first 30 s, then 5 s every 30 s }\n"                   \
	     "  step fix in hypo at 20 C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }\n"              \
	     "  step wash in running water at 20 C for at least 10:00 { flow 4 L per min }\n"                          \
	     "}\n"

/* A one-shot bath is mixed for each load, from one bottle that is tested once; a replenished one is filled once, and 50
 * mL a roll are mixed besides: 2.5 L + 12 × 50 mL. Nothing says how the film dries, so nothing is planned for it. */
static void test_one_shot_and_replenished(void **state)
{
	(void)state;
	struct bench bench;
	open_bench(&bench, BLACK_AND_WHITE);
	add_rolls(&bench, 0, 12, FORMAT_f135, "Pier");
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->today_count, 2);
	assert_int_equal(chemistry_of(&bench, day, "soup")->mixed, litres(5));
	assert_int_equal(chemistry_of(&bench, day, "soup")->mixes, 2);
	assert_int_equal(chemistry_of(&bench, day, "hypo")->mixed, litres(2.5) + 12 * millilitres(50));
	assert_int_equal(day->loads[1].accounts->fill, 1);
	assert_int_equal(day->loads[1].accounts->next->fill, 0);
	assert_int_equal(count_tasks(day, PLAN_TASK_test), 1);
	assert_int_equal(count_tasks(day, PLAN_TASK_dry), 0);
	assert_true(count_tasks(day, PLAN_TASK_run_free) >= 2); /* the washes, 10 minutes each */
}

/* 500 mL of stock in the tank's 2.5 L at 25 mL a roll and no less would be twenty; at 125 mL it is four. */
static void test_least_per_roll(void **state)
{
	(void)state;
	struct bench bench;
	open_bench(&bench, ROOM
		   "solution soup { role developer; dilute 1+4; one-shot; at least 125 mL stock per roll\n"
		   "  hazards none; waste developer }\n"
		   "solution hypo { role fix; dilute 1+4; reuse; hazards none; waste silver }\n"
		   "process grey { develops black-and-white-negative; tank upright; graduate pitcher; load 4 rolls\n"
		   "  step develop in soup at 20 C for 8:00 { agitate first 30 s, then 5 s every 30 s }\n"
		   "  step fix in hypo at 20 C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }\n"
		   "}\n");
	add_rolls(&bench, 0, 4, FORMAT_f135, "Pier");
	add_rolls(&bench, 0, 4, FORMAT_f135, "Quay");
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->load_count, 2);
	assert_int_equal(day->loads[0].place_count, 4);
}

static void test_marks(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	add_rolls(&bench, 0, 1, FORMAT_f135, "Pier")->mark = TEXT("two nicks in the tail");
	for (int i = 0; i < 6; i++)
		add_rolls(&bench, 0, 1, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
	const struct day_plan *day = plan(&bench);
	const struct plan_load *load = &day->loads[0];
	assert_int_equal(load->place_count, 7);
	for (size_t i = 0; i < load->place_count; i++) {
		assert_int_equal(load->places[i].reel, i + 1);
		assert_true(load->places[i].mark.length > 0);
		for (size_t j = 0; j < i; j++)
			assert_false(text_equal(load->places[i].mark, load->places[j].mark));
		if (load->places[i].roll == bench.day.rolls)
			assert_text(load->places[i].mark, "two nicks in the tail");
	}
}

/* Nothing fits into half an hour; two hours more, or the like, let something fit. */
static void test_no_time(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	bench.day.finish_s = bench.day.start_s + 1800;
	add_rolls(&bench, 0, 8, FORMAT_f135, "Pier");
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->today_count, 0);
	assert_int_equal(day->left_count, 8);
	assert_int_equal(day->left[0].reason, LEFT_TOMORROW);
	assert_int_equal(day->task_count, 0);
	assert_int_equal(day->chemistry_count, 0);
	assert_true(day->remedy_count > 0);
	for (size_t i = 0; i < day->remedy_count; i++)
		assert_true(day->remedies[i].more_rolls > 0);
}

/* Urgent rolls of a later origin are in the first load. */
static void test_urgent(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	for (int i = 0; i < 24; i++)
		add_rolls(&bench, 0, 1, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
	struct roll *urgent = add_rolls(&bench, 0, 1, FORMAT_f135, "Late");
	urgent->is_urgent = true;
	const struct day_plan *day = plan(&bench);
	bool is_first = false;
	for (size_t i = 0; i < day->loads[0].place_count; i++)
		is_first = is_first || day->loads[0].places[i].roll == urgent;
	assert_true(is_first);
}

/* Half of an origin at most is in the first load, but for a group: and both are told. Where the first load is
 * another's, an origin may be whole in a later one. */
static void test_parties(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	add_rolls(&bench, 0, 6, FORMAT_f135, "Pier");
	const struct day_plan *spread = plan(&bench);
	assert_int_equal(spread->load_count, 2);
	assert_int_equal(spread->loads[0].place_count, 3);
	assert_int_equal(spread->parties[0].load_count, 2);
	assert_int_equal(spread->parties[0].least_loads, 1);
	for (struct roll *group = add_rolls(&bench, 0, 4, FORMAT_f135, "Quay"); group; group = group->next)
		group->together = TEXT("album");
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->party_count, 2);
	assert_text(day->parties[0].name, "Pier");
	assert_int_equal(day->parties[0].load_count, 1);
	assert_text(day->parties[1].name, "album");
	assert_true(day->parties[1].is_together);
	assert_int_equal(day->parties[1].load_count, 1);
	assert_ptr_equal(day->loads[0].places[0].roll->together.data, day->parties[1].name.data);
}

/* Which of two loads runs first is free here: the one with the precious roll does not. */
static void test_precious(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	for (int i = 0; i < 16; i++)
		add_rolls(&bench, 0, 1, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
	const struct day_plan *plain = plan(&bench);
	struct roll *in_first = NULL;
	for (struct roll *roll = bench.day.rolls; roll; roll = roll->next) {
		if (roll == plain->loads[0].places[3].roll)
			in_first = roll;
	}
	in_first->is_precious = true;
	const struct day_plan *spared = plan(&bench);
	for (size_t i = 0; i < spared->loads[0].place_count; i++)
		assert_ptr_not_equal(spared->loads[0].places[i].roll, in_first);
	assert_int_equal(spared->load_count, 2);
}

/* A developer that keeps an hour and does as many rolls as you like is mixed anew for each load that comes later than
 * an hour after it was mixed. */
static void test_working_life(void **state)
{
	(void)state;
	struct bench bench;
	open_bench(&bench,
		   ROOM "solution colour-developer { role developer; kit makes 2.5 L, liquid; reuse; keeps 1 h full\n"
			"  hazards none; waste developer }\n" BATHS COLOUR);
	for (int i = 0; i < 32; i++)
		add_rolls(&bench, 0, 1, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->today_count, 4);
	assert_true(chemistry_of(&bench, day, "colour-developer")->mixes > 1);
	for (size_t i = 0; i < day->today_count; i++) {
		int64_t mixed_s = -1;
		for (size_t j = 0; j < day->task_count; j++) {
			if (day->tasks[j].kind == PLAN_TASK_mix &&
			    day->tasks[j].solution == day->loads[i].accounts->solution &&
			    day->tasks[j].fill == day->loads[i].accounts->fill)
				mixed_s = day->tasks[j].end_s;
		}
		assert_true(mixed_s >= 0 && day->loads[i].pour_s - mixed_s <= 3600);
	}
}

/* The dryer takes eight: the second load waits for it, or hangs in the open over night. */
static void test_dryer(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	bench.dryer = (struct dryer){ .takes_rolls = said(8), .lasts = said(4 * 3600 * 1000) };
	bench.day.dryer = &bench.dryer;
	for (int i = 0; i < 16; i++)
		add_rolls(&bench, 0, 1, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
	const struct day_plan *open = plan(&bench);
	assert_int_equal(open->today_count, 2);
	assert_int_equal(open->dryer_most, 8);
	assert_int_equal(open->dryer_waits, 1);
	assert_true(open->loads[1].dry_s >= open->loads[0].dry_s + 4 * 3600);
	bench.day.finish_s = bench.day.start_s + 4 * 3600;
	const struct day_plan *night = plan(&bench);
	assert_int_equal(night->today_count, 2);
	assert_false(night->loads[0].hangs_in_the_open);
	assert_true(night->loads[1].hangs_in_the_open);
	assert_int_equal(count_tasks(night, PLAN_TASK_take_down), 0);
}

/* A day on which no test is made has none, and its baths have done no strip. */
static void test_no_tests(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	bench.day.times[DAY_TIME_test] = said(0);
	add_rolls(&bench, 0, 4, FORMAT_f135, "Pier");
	const struct day_plan *day = plan(&bench);
	assert_int_equal(count_tasks(day, PLAN_TASK_test), 0);
	assert_int_equal(day->loads[0].accounts->done_milli_rolls, 0);
}

/* What is said of a later finish is what comes of a day with it: so many rolls more, and the hands free then. */
static void test_a_later_finish_keeps_what_it_promises(void **state)
{
	(void)state;
	struct bench bench;
	open_colour(&bench);
	for (int i = 0; i < 16; i++)
		add_rolls(&bench, 0, 1, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
	const struct day_plan *open = plan(&bench);
	assert_int_equal(open->today_count, 2);
	bench.day.finish_s = bench.day.start_s + open->loads[1].out_s; /* before it hangs */
	const struct day_plan *short_day = plan(&bench);
	const struct plan_remedy *later = NULL;
	for (size_t i = 0; i < short_day->remedy_count; i++) {
		if (short_day->remedies[i].kind == PLAN_REMEDY_finish)
			later = &short_day->remedies[i];
	}
	assert_non_null(later);
	bench.day.finish_s += later->amount;
	const struct day_plan *longer = plan(&bench);
	assert_int_equal(longer->today_count, 2);
	assert_int_equal(later->more_rolls, 16 - short_day->today_count * 8);
	assert_int_equal(later->end_s, longer->end_s);
}

/* The kinds of the loads, in their order, as digits. */
static const char *order_of_kinds(const struct day_plan *day)
{
	struct text_builder kinds = text_builder_start(&arena);
	for (size_t i = 0; i < day->load_count; i++)
		text_append_format(&kinds, "%zu", day->loads[i].kind);
	return text_copy(&arena, text_builder_text(&kinds)).data;
}

/* Processes that share a developer take turns at it: one after the other, so that what is poured changes once; with an
 * urgent roll the second comes first. Two origins, since of one the first load takes half at most. */
static void test_processes_of_one_bath(void **state)
{
	(void)state;
	struct bench bench;
	struct roll *late = NULL;
	open_bench(&bench, ROOM POOLED BATHS COLOUR "process pushed from colour-negative { push 1 }\n");
	assert_int_equal(bench.day.run_count, 2);
	for (size_t kind = 0; kind < 2; kind++) {
		add_rolls(&bench, kind, 8, FORMAT_f135, "Pier");
		late = add_rolls(&bench, kind, 8, FORMAT_f135, "Quay");
	}
	assert_string_equal(order_of_kinds(plan(&bench)), "0011");
	late->is_urgent = true;
	assert_string_equal(order_of_kinds(plan(&bench)), "1100");
}

#define SOUP_FOR_EACH                                                                                                  \
	ROOM "solution soup { role developer; kit makes 2.5 L, liquid; one-shot; hazards none; waste developer }\n"    \
	     "solution hypo { role fix; dilute 1+4; reuse; hazards none; waste silver }\n"                             \
	     "process grey { develops black-and-white-negative; tank upright; graduate pitcher\n"                      \
	     "  step develop in soup at 20 C for 8:00 { agitate first 30 s, then 5 s every 30 s }\n"                   \
	     "  step fix in hypo at 20 C for at least 5:00 { agitate first 15 s, then 5 s every 30 s }\n"              \
	     "  step dry in air for 20 min\n"                                                                          \
	     "}\n"

/* Sixteen rolls are two loads, each with a mix of its own. The day ends when the first load's film is dry, after 20
 * minutes, and taken down, 8 × 3 minutes: too soon for the second. Its mix, 25 minutes, would fit where the film is
 * taken down, but would serve nothing that is done today. */
static void test_nothing_is_mixed_for_tomorrow(void **state)
{
	(void)state;
	struct bench bench;
	open_bench(&bench, SOUP_FOR_EACH);
	for (int i = 0; i < 16; i++)
		add_rolls(&bench, 0, 1, FORMAT_f135, text_format(&arena, "Origin %d", i).data);
	bench.day.times[DAY_TIME_mix] = said(25 * 60000);
	bench.day.times[DAY_TIME_take_down] = said(3 * 60000);
	bench.day.times[DAY_TIME_test] = said(0);
	const struct day_plan *open = plan(&bench);
	assert_int_equal(open->today_count, 2);
	bench.day.finish_s = bench.day.start_s + open->loads[0].hung_s + (20 + 8 * 3) * 60;
	const struct day_plan *day = plan(&bench);
	assert_int_equal(day->today_count, 1);
	assert_int_equal(count_tasks(day, PLAN_TASK_take_down), 1);
	assert_int_equal(bench.day.start_s + day->end_s, bench.day.finish_s);
	/* Nor where the hands' time alone, by half an hour, would do for the second: for its film it does not. */
	for (int64_t later = 1; later <= 28; later++) {
		bench.day.finish_s += 60;
		const struct day_plan *longer = plan(&bench);
		assert_int_equal(longer->today_count, 1);
		assert_int_equal(longer->end_s, day->end_s);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_kits_of_eighty_rolls),
		ARENA_TEST(test_no_rolls),
		ARENA_TEST(test_left),
		ARENA_TEST(test_no_reels),
		ARENA_TEST(test_times_are_those_of_done),
		ARENA_TEST(test_on_hand),
		ARENA_TEST(test_untested_on_hand),
		ARENA_TEST(test_one_shot_and_replenished),
		ARENA_TEST(test_least_per_roll),
		ARENA_TEST(test_marks),
		ARENA_TEST(test_no_time),
		ARENA_TEST(test_urgent),
		ARENA_TEST(test_parties),
		ARENA_TEST(test_precious),
		ARENA_TEST(test_working_life),
		ARENA_TEST(test_dryer),
		ARENA_TEST(test_no_tests),
		ARENA_TEST(test_a_later_finish_keeps_what_it_promises),
		ARENA_TEST(test_processes_of_one_bath),
		ARENA_TEST(test_nothing_is_mixed_for_tomorrow),
	};
	RUN_TESTS(tests);
}
