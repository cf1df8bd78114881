/* A small day, planned by hand: twenty rolls in three loads of a real recipe, two of them today. For tests of what the
 * products of a day print; that plans are right is not their business. */
#ifndef DAY_FIXTURE_H
#define DAY_FIXTURE_H

#include "arena_fixture.h"
#include "compute/day_plan.h"
#include "emit/emission.h"
#include "model/fingerprint.h"
#include "model/load.h"

#define SAID ((struct span){ 1, 1 })

static const char day_recipe[] =
	"wetside 1\n"
	"tank upright \"Upright tank, eight reels\" { holds 2.5 L; takes 8 x 135 or 4 x 120; fill 20 s; drain 15 s }\n"
	"dryer cabinet \"Drying cabinet\" { takes 16 rolls; for 2 h; up to 35 °C; length 1.8 m }\n"
	"solution soup \"Colour developer\" {\n"
	"  role developer; kit makes 1 L, powder; stock pooled; reuse; usable 37 .. 39 °C\n"
	"  capacity 8 rolls per 1 L; lengthen 2 % per roll per 1 L, added up; hazards H302, H317; waste developer\n"
	"}\n"
	"solution hypo \"Bleach-fix\" { role bleach-fix; reuse; capacity 8 rolls per 1 L; hazards H319; waste silver "
	"}\n"
	"process colour \"Colour negative, *by hand*\" {\n"
	"  develops C-41; tank upright\n"
	"  step develop in soup at 38 ± 0.15 °C for 3:30 { agitate first 30 s, then 5 s every 30 s }\n"
	"  step bleach-fix in hypo at 38 ± 3 °C for at least 6:30 { agitate first 30 s, then 5 s every 30 s }\n"
	"  step wash in running water at 38 ± 3 °C for at least 3:00\n"
	"}\n";

static struct recipe *recipe;
static struct day day;
static struct day_plan plan;
static struct emission emission;
static struct source_set sources;
static struct report report;
static const struct conditions no_conditions;

#define FIXTURE_ROLLS 21
#define FIXTURE_LOADS 3

static struct roll rolls[FIXTURE_ROLLS];
static struct day_tank day_tanks[1];
static struct day_reels day_reels[1];
static struct plan_kind kind;
static struct packing packing;
static struct packing_problem packed_rolls;
static const struct roll *roll_list[FIXTURE_ROLLS];
static struct packing_roll packed[FIXTURE_ROLLS];
static struct plan_load loads[FIXTURE_LOADS];
static struct plan_place places[FIXTURE_LOADS][8];
static struct plan_account accounts[FIXTURE_LOADS][2];
static struct plan_task tasks[64];
static struct plan_left left[FIXTURE_ROLLS];
static struct plan_party parties[2];
static struct plan_chemistry chemistry[2];
static struct plan_remedy remedies[2];

static inline void add_fixture_task(enum plan_task_kind task, int64_t start_s, int64_t lasts_s, size_t load,
				    int64_t count)
{
	tasks[plan.task_count++] = (struct plan_task){
		.kind = task,
		.start_s = start_s,
		.end_s = start_s + lasts_s,
		.needs_hands = plan_task_row(task)->needs_hands,
		.load = load,
		.rolls = count,
	};
}

static inline void fill_rolls(void)
{
	static const char *const origins[] = { "Harbour office", "Customs house", "Locker 7, shelf b" };

	for (size_t i = 0; i < FIXTURE_ROLLS; i++) {
		rolls[i] = (struct roll){
			.label = text_format(&arena, "SM-%03zu", i + 1),
			.format = FORMAT_f135,
			.area_milli_rolls = 1000,
			.needs = FAMILY_c_41,
			.develop_as = FAMILY_COUNT,
			.origin = text_from(origins[i % 3]),
			.next = i + 1 < FIXTURE_ROLLS ? &rolls[i + 1] : NULL,
		};
		packed[i] = (struct packing_roll){ .area_milli_rolls = 1000 };
	}
	rolls[2].is_precious = true;
	rolls[5].conditions = CONDITION_BIT(vinegar) | CONDITION_BIT(brittle);
	rolls[20].set_aside = (struct prose){ TEXT("clip test *first*"), SAID };
	day.rolls = rolls;
	day.roll_count = FIXTURE_ROLLS;
}

/* 20 rolls: 8, 8 and 4, the last load tomorrow. */
static inline void fill_load(size_t index, const struct process *process)
{
	struct plan_load *load = &loads[index];
	int64_t start_s = (int64_t)index * 6000;

	*load = (struct plan_load){ .number = index + 1, .places = places[index], .place_count = index == 2 ? 4 : 8 };
	load->area_milli_rolls = (int64_t)load->place_count * 1000;
	for (size_t i = 0; i < load->place_count; i++) {
		static const char *const marks[] = { "no nick",	       "one nick",   "two nicks",  "three nicks",
						     "slanted corner", "four nicks", "cut corner", "notch" };

		places[index][i] = (struct plan_place){ &rolls[8 * index + i], i + 1, text_from(marks[i]) };
	}
	if (index == 2)
		return;
	load->is_today = true;
	for (size_t i = 0; i < 2; i++)
		accounts[index][i] = (struct plan_account){
			.solution = process->steps[i].solution,
			.volume = 3000 * VOLUME_PER_ML,
			.done_milli_rolls = (int64_t)index * 8000,
			.load_milli_rolls = 8000,
			.capacity_milli_rolls = 24000,
			.lengthened_percent = i == 0 ? (int64_t)index * 5333333 : 0,
			.next = i == 0 ? &accounts[index][1] : NULL,
		};
	load->accounts = accounts[index];
	load->conditions = &no_conditions;
	load->used = used_times(recipe, process, &no_conditions, &report, &arena);
	load->timeline = timeline_build(process, load->used, &arena);
	load->start_s = start_s + 1200;
	load->pour_s = start_s + 2040;
	load->out_s = start_s + 3000;
	load->hung_s = start_s + 3480;
	load->dry_s = start_s + 3480 + 7200;
	add_fixture_task(PLAN_TASK_ready, start_s + 1200, 120, index, 0);
	add_fixture_task(PLAN_TASK_load, start_s + 1320, 720, index, 8);
	add_fixture_task(PLAN_TASK_run, start_s + 2040, 960, index, 8);
	add_fixture_task(PLAN_TASK_hang, start_s + 3000, 480, index, 8);
	add_fixture_task(PLAN_TASK_clean, start_s + 3480, 300, index, 0);
	add_fixture_task(PLAN_TASK_reels_dry, start_s + 3780, 1800, index, 0);
}

static inline void fill_plan(const struct process *process)
{
	plan = (struct day_plan){ .recipe = recipe, .day = &day, .kinds = &kind, .kind_count = 1, .loads = loads };
	plan.load_count = FIXTURE_LOADS;
	plan.today_count = 2;
	plan.tasks = tasks;
	add_fixture_task(PLAN_TASK_mix, 0, 900, SIZE_MAX, 0);
	tasks[0].solution = process->steps[0].solution;
	tasks[0].volume = 3000 * VOLUME_PER_ML;
	for (size_t i = 0; i < FIXTURE_LOADS; i++)
		fill_load(i, process);
	for (size_t i = 0; i < 2; i++) {
		add_fixture_task(PLAN_TASK_dry, loads[i].hung_s, 7200, i, 8);
		add_fixture_task(PLAN_TASK_take_down, loads[i].dry_s, 160, i, 8);
	}
	for (size_t i = 0; i < 4; i++)
		left[i] = (struct plan_left){ &rolls[16 + i], LEFT_TOMORROW, 2 };
	left[4] = (struct plan_left){ &rolls[20], LEFT_SET_ASIDE, 0 };
	plan.left = left;
	plan.left_count = 5;
	parties[0] = (struct plan_party){ TEXT("Harbour office"), false, 0, 7, 3, 1 };
	parties[1] = (struct plan_party){ TEXT("Customs house"), false, 0, 7, 3, 1 };
	plan.parties = parties;
	plan.party_count = 2;
	for (size_t i = 0; i < 2; i++)
		chemistry[i] = (struct plan_chemistry){ .solution = process->steps[i].solution,
							.mixed = 3000 * VOLUME_PER_ML,
							.mixes = 1,
							.done_milli_rolls = 16000,
							.left = 3000 * VOLUME_PER_ML };
	plan.chemistry = chemistry;
	plan.chemistry_count = 2;
	remedies[0] = (struct plan_remedy){ PLAN_REMEDY_reels, true, 4, 8, FORMAT_f135, 14000 };
	remedies[1] = (struct plan_remedy){ PLAN_REMEDY_finish, true, 4, 2700, FORMAT_f135, 15700 };
	plan.remedies = remedies;
	plan.remedy_count = 2;
	plan.dryer_most = 16;
	plan.is_order_proven = true;
	plan.end_s = 10840 + 6000;
	plan.all_dry_s = loads[1].dry_s;
}

static inline int open_day(void **state)
{
	struct search_path nowhere = { 0 };
	struct text problem;
	struct process *process;

	open_arena(state);
	source_set_init(&sources, &arena);
	report_init(&report, &arena);
	recipe = recipe_load(&sources, source_add(&sources, TEXT("a.wet"), text_from(day_recipe), &problem), &nowhere,
			     &arena, &report);
	process = process_resolve(recipe, 0, &arena);
	process->fingerprint = fingerprint_of(recipe, process, &arena);
	day = (struct day){ .date = 20526, .start_s = 9 * 3600, .finish_s = 15 * 3600 }; /* 2026-03-14 */
	day.declared.name = intern_name(recipe->names, TEXT("2026-03-14"));
	day.declared.title = (struct prose){ TEXT("Locker 7"), SAID };
	day_tanks[0].tank = process->tank;
	day.tanks = day_tanks;
	day.tank_count = 1;
	day_reels[0] = (struct day_reels){ SAID, 8, FORMAT_f135 };
	day.reels = day_reels;
	day.reels_count = 1;
	for (size_t i = 0; i < recipe->declaration_count; i++) /* a dryer begins with what is declared of it */
		if (text_equal(intern_text(recipe->names, recipe->declarations[i]->name), TEXT("cabinet")))
			day.dryer = (const struct dryer *)recipe->declarations[i];
	fill_rolls();
	packing = (struct packing){ .load_count = 3,
				    .loads_least = 3,
				    .bound = PACKING_BOUND_SPACE,
				    .bound_numerator = 5,
				    .bound_denominator = 2,
				    .is_proven_loads = true };
	packed_rolls = (struct packing_problem){ .format_count = 1, .takes = { 8 }, .rolls = packed, .roll_count = 20 };
	for (size_t i = 0; i < FIXTURE_ROLLS; i++)
		roll_list[i] = &rolls[i];
	kind = (struct plan_kind){
		.process = process, .rolls = roll_list, .roll_count = 20, .packing = &packing, .problem = &packed_rolls
	};
	fill_plan(process);
	emission = (struct emission){ .arena = &arena, .recipe = recipe, .report = &report, .plan = &plan };
	return 0;
}

#define DAY_TEST(function) cmocka_unit_test_setup_teardown(function, open_day, close_arena)

#endif
