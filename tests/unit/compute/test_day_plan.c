#include "day_fixture.h"

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

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_kits_of_eighty_rolls),
	};
	RUN_TESTS(tests);
}
