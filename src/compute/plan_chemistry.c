/* The chemistry of a day: an account for every bath, over the loads in the order in which they run.
 *
 * A bath that is used again is replaced before a load that it would not do: capacity is film done and this load.
 * Tests count as film done, and so lengthen times, but cost none of the capacity: makers give it in whole rolls, and
 * a strip is within its margin (common practice, no source). A one-shot bath is taken, or mixed, for each load. What
 * is diluted draws on its stock; of a stock, whole kits are mixed when what is left falls short, and of one that
 * lasts for the loads to come as well, so much as its vessel holds. A test belongs to the mix, kit or bottle that is
 * new, and only developers are tested: other baths show what they do on the same strip. */
#include "compute/keeping.h"
#include "compute/mixing.h"
#include "compute/plan_draft.h"
#include "compute/preparation.h"

/* Stocks behind stocks; a longer chain goes in a circle, which the model reports. */
#define LONGEST_CHAIN 32

struct plan_bath *plan_bath(const struct plan_draft *draft, const struct solution *solution)
{
	for (size_t i = 0; i < draft->bath_count; i++) {
		if (draft->baths[i].solution == solution)
			return &draft->baths[i];
	}
	return NULL;
}

bool plan_bath_is_reused(const struct solution *solution)
{
	return solution->use == USE_REUSE || solution->use == USE_REPLENISH ||
	       (solution->use == USE_UNSTATED && span_is_set(solution->capacity_rolls.span));
}

#define DAY_MS (24LL * 3600 * 1000)

/* A day without an end may take the hands for weeks. */
#define OPEN_DAY_MS (30 * DAY_MS)

static bool is_made_of_parts(const struct solution *solution)
{
	return solution->parts || span_is_set(solution->kit_makes.span) || span_is_set(solution->formula_makes.span);
}

/* A stock, of parts, that is good until the day is over, in a bottle that is no longer full. */
static bool is_lasting_stock(const struct plan_draft *draft, const struct plan_bath *bath)
{
	const struct solution *solution = bath->solution;
	const struct quantity *keeps =
		span_is_set(solution->keeps_part_full.span) ? &solution->keeps_part_full : &solution->keeps_full;
	return bath->pour == 0 && !solution->stock && is_made_of_parts(solution) && span_is_set(keeps->span) &&
	       keeps->value >= (draft->day->finish_s >= 0 ? DAY_MS : OPEN_DAY_MS);
}

/* ---- what stands in the cupboard ---- */

static bool is_past_life(const struct plan_draft *draft, const struct solution *solution, const struct on_hand *on_hand)
{
	int64_t last_day;
	int64_t today = draft->conditions->has_date ? draft->conditions->date : draft->day->date;
	return keeping_last_day(solution, on_hand, &last_day) && last_day < today;
}

static const struct day_on_hand *day_on_hand(const struct day *day, const struct solution *solution)
{
	const struct day_on_hand *on_hand = day->on_hand;
	while (on_hand && on_hand->on_hand.solution != solution)
		on_hand = on_hand->next;
	return on_hand;
}

static int64_t done_before(const struct plan_draft *draft, const struct plan_bath *bath)
{
	struct solution as_of_today = *bath->solution;
	as_of_today.on_hand = bath->on_hand;
	return used_done_milli_rolls(draft->recipe, draft->conditions, &as_of_today);
}

/* What has done film has been tested by it. */
static void take_from_cupboard(struct plan_draft *draft, struct plan_bath *bath, const struct day_on_hand *of_day)
{
	const struct on_hand *on_hand = bath->on_hand;
	int64_t volume = on_hand->volume.value, done = done_before(draft, bath);
	bath->is_untested = !(of_day && of_day->is_tested) && done == 0;
	bath->is_opened = true;
	if (!plan_bath_is_reused(bath->solution) || bath->pour == 0) {
		bath->left = volume;
		bath->left_is_on_hand = true;
		return;
	}
	if (volume < bath->pour)
		return;
	bath->has_fill = true;
	bath->is_on_hand = true;
	bath->volume = volume;
	bath->fill_count = 1;
	bath->film_milli_rolls = done;
	bath->left = volume - bath->pour; /* of which a replenisher is taken */
	if (bath->solution->capacity_volume.value > 0)
		bath->capacity_milli_rolls = mixing_capacity_milli_rolls(bath->solution, volume);
}

int64_t plan_bath_first_fill(const struct plan_bath *bath)
{
	int64_t left = bath->capacity_milli_rolls - bath->film_milli_rolls;
	return bath->has_fill && left > 0 ? left : 0;
}

int64_t plan_bath_fill_volume(const struct plan_draft *draft, const struct plan_bath *bath)
{
	const struct solution *solution = bath->solution;
	if (mixing_is_as_written(solution))
		return mixing_plan(solution, bath->pour, 0, draft->arena).makes;
	if (solution->is_pooled && span_is_set(solution->kit_makes.span) && !mixing_is_stock_and_dilution(solution))
		return mixing_plan(solution, bath->pour, 0, draft->arena).makes;
	return bath->pour;
}

static void add_baths(struct plan_draft *draft, const struct process *process, const struct solution *solution)
{
	int64_t pour = process->tank ? process->tank->holds.value : 0;
	for (int length = 0; solution && length < LONGEST_CHAIN; length++, solution = solution->stock, pour = 0) {
		struct plan_bath *bath = plan_bath(draft, solution);
		if (!bath) {
			ARENA_RESERVE(draft->arena, draft->baths, draft->bath_count, draft->bath_capacity);
			bath = &draft->baths[draft->bath_count++];
			*bath = (struct plan_bath){ .solution = solution };
		}
		if (pour > bath->pour)
			bath->pour = pour;
	}
}

void plan_chemistry_open(struct plan_draft *draft)
{
	draft->baths = NULL;
	draft->bath_count = draft->bath_capacity = 0;
	for (size_t i = 0; i < draft->kind_count; i++) {
		const struct process *process = draft->kinds[i].process;
		for (size_t j = 0; j < process->step_count; j++)
			add_baths(draft, process, process->steps[j].solution);
	}
	for (size_t i = 0; i < draft->bath_count; i++) {
		struct plan_bath *bath = &draft->baths[i];
		const struct day_on_hand *of_day = day_on_hand(draft->day, bath->solution);
		const struct on_hand *on_hand = of_day ? &of_day->on_hand : bath->solution->on_hand;
		if (!on_hand || !span_is_set(on_hand->volume.span))
			continue;
		if (is_past_life(draft, bath->solution, on_hand)) {
			bath->past_life = on_hand;
			continue;
		}
		bath->on_hand = on_hand;
		take_from_cupboard(draft, bath, of_day);
	}
}

/* ---- mixing ---- */

struct walk {
	struct plan_draft *draft;
	struct plan_draft_load *load;
	struct plan_mix **last_mix; /* where the load's next mix goes */
	struct plan_test **last_test;
	struct plan_account **last_account;
};

static int64_t cooling_s(const struct walk *walk, const struct solution *solution)
{
	const struct preparation *preparation = walk->draft->preparations[walk->load->kind];
	for (size_t i = 0; i < preparation->bath_count; i++) {
		const struct preparation_bath *bath = &preparation->baths[i];
		if (bath->solution == solution && bath->cooling.way == WAY_COOL)
			return (bath->cooling.time_ms + MILLISECONDS_PER_SECOND - 1) / MILLISECONDS_PER_SECOND;
	}
	return 0;
}

static void add_mix(struct walk *walk, struct plan_bath *bath, int64_t volume, int64_t hands_s, bool cools)
{
	struct plan_mix *mix = ARENA_NEW(walk->draft->arena, struct plan_mix);
	*mix = (struct plan_mix){
		.solution = bath->solution,
		.fill = bath->fill,
		.volume = volume,
		.hands_s = hands_s,
		.cool_s = cools ? cooling_s(walk, bath->solution) : 0,
	};
	*walk->last_mix = mix;
	walk->last_mix = &mix->next;
	bath->mixes++;
	bath->mixed += volume;
}

static void draw(struct walk *walk, struct plan_bath *bath, int64_t volume, int length);

/* Dissolving parts takes the hands as long as the day says for a mix. What is only measured and poured, such as 1+9, is
 * done like the rest of what is set out for a load. */
static int64_t mix_volume(struct walk *walk, struct plan_bath *bath, int64_t volume, int length)
{
	const struct solution *solution = bath->solution;
	const struct day *day = walk->draft->day;
	int64_t mix_s = day_time_s(day, DAY_TIME_mix), ready_s = day_time_s(day, DAY_TIME_ready);
	int64_t makes = mixing_plan(solution, volume, 0, walk->draft->arena).makes;
	if (bath->pour == 0) /* of a bath that is poured, its fill has been numbered */
		bath->fill = bath->fill_count++;
	if (solution->stock) {
		struct plan_bath *stock = plan_bath(walk->draft, solution->stock);
		if (stock && length < LONGEST_CHAIN)
			draw(walk, stock, mixing_stock(solution, volume), length + 1);
		add_mix(walk, bath, volume, ready_s, false);
		return volume;
	}
	if (!is_made_of_parts(solution) && solution->dilution_count > 0) {
		bath->is_untested = bath->is_untested || !bath->is_opened;
		bath->is_opened = true;
		add_mix(walk, bath, volume, ready_s, false);
		return volume;
	}
	bath->is_untested = true;
	add_mix(walk, bath, makes, mix_s, true);
	return makes;
}

/* A kit that is diluted: the kit is made up when what is left of it falls short, then so much of it is diluted. */
static void mix_diluted_kit(struct walk *walk, struct plan_bath *bath, int64_t volume)
{
	const struct day *day = walk->draft->day;
	int64_t concentrate = mixing_stock(bath->solution, volume);
	int64_t hands_s = day_time_s(day, DAY_TIME_ready);
	if (bath->left < concentrate) {
		bath->left += mixing_plan(bath->solution, volume, 0, walk->draft->arena).makes;
		bath->is_untested = true;
		hands_s += day_time_s(day, DAY_TIME_mix);
	}
	bath->left -= concentrate < bath->left ? concentrate : bath->left;
	add_mix(walk, bath, volume, hands_s, true);
}

/* How much of a bath there is to be where a volume of it is drawn: of a stock that lasts, what all loads draw, or so
 * much of that as one mixing makes. */
static int64_t volume_wanted(const struct walk *walk, const struct plan_bath *bath, int64_t volume)
{
	const struct plan_draft *draft = walk->draft;
	const struct process *process = draft->kinds[walk->load->kind].process;
	if (bath->to_draw <= volume)
		return volume;
	const struct graduate *vessel = mixing_vessel(process, bath->solution);
	struct mixing_plan all =
		mixing_plan(bath->solution, bath->to_draw - bath->left, vessel ? vessel->holds.value : 0, draft->arena);
	if (all.mix_count == 1)
		return bath->to_draw;
	int64_t one = all.mix_count > 0 ? bath->left + all.mixes[0].makes : 0;
	return one > volume ? one : volume;
}

/* Takes a volume of what is mixed; where it falls short, mixes more. */
static void draw(struct walk *walk, struct plan_bath *bath, int64_t volume, int length)
{
	if (mixing_is_stock_and_dilution(bath->solution) && !(bath->left_is_on_hand && bath->left >= volume)) {
		if (bath->left_is_on_hand)
			bath->left = 0; /* too little of it to pour */
		bath->left_is_on_hand = false;
		mix_diluted_kit(walk, bath, volume);
		return;
	}
	if (bath->left < volume) {
		if (plan_bath_is_reused(bath->solution) || bath->pour == 0)
			bath->left += mix_volume(walk, bath, volume_wanted(walk, bath, volume) - bath->left, length);
		else /* what is left over of a one-shot bath fills no tank */
			bath->left = mix_volume(walk, bath, volume, length);
		bath->left_is_on_hand = false;
	}
	if (bath->left_is_on_hand)
		bath->taken_from_hand += volume;
	bath->left -= volume < bath->left ? volume : bath->left;
	bath->drawn += volume;
	bath->to_draw -= volume < bath->to_draw ? volume : bath->to_draw;
}

/* ---- one bath of one load ---- */

static void refill(struct walk *walk, struct plan_bath *bath)
{
	int64_t volume = plan_bath_fill_volume(walk->draft, bath);
	bath->fill = bath->fill_count++;
	bath->is_on_hand = false;
	bath->has_fill = true;
	bath->volume = volume;
	bath->film_milli_rolls = bath->test_milli_rolls = 0;
	bath->capacity_milli_rolls =
		bath->solution->capacity_volume.value > 0 ? mixing_capacity_milli_rolls(bath->solution, volume) : 0;
	if (mixing_is_stock_and_dilution(bath->solution))
		mix_diluted_kit(walk, bath, volume);
	else
		mix_volume(walk, bath, volume, 0);
}

static bool does_load(const struct plan_bath *bath, int64_t area_milli_rolls)
{
	return bath->has_fill && (bath->solution->use == USE_REPLENISH || bath->solution->capacity_volume.value <= 0 ||
				  bath->film_milli_rolls + area_milli_rolls <= bath->capacity_milli_rolls);
}

/* The replenisher of a load; where it is used up, so much is mixed as the loads to come take. */
static void replenish(struct walk *walk, struct plan_bath *bath, int64_t area_milli_rolls)
{
	int64_t volume = mixing_for_rolls(bath->solution->replenish.value, area_milli_rolls);
	if (volume <= 0)
		return;
	if (bath->left < volume)
		bath->left += mix_volume(walk, bath, bath->replenish_to_come - bath->left, 0);
	bath->left -= volume < bath->left ? volume : bath->left;
	bath->replenish_to_come -= volume;
}

static struct plan_bath *tested_bath(const struct walk *walk, struct plan_bath *bath)
{
	for (int length = 0; bath->solution->stock && length < LONGEST_CHAIN; length++) {
		struct plan_bath *stock = plan_bath(walk->draft, bath->solution->stock);
		if (!stock)
			break;
		bath = stock;
	}
	return bath;
}

static bool has_allowance(const struct allowance *list, enum check_id check)
{
	while (list && list->check != check)
		list = list->next;
	return list != NULL;
}

static void test_if_new(struct walk *walk, const struct step *step, struct plan_bath *bath)
{
	struct plan_bath *tested = tested_bath(walk, bath);
	if (!role_develops(step->role) || !(tested->is_untested || bath->is_untested))
		return;
	tested->is_untested = bath->is_untested = false;
	struct plan_test *test = ARENA_NEW(walk->draft->arena, struct plan_test);
	*test = (struct plan_test){ .solution = bath->solution, .fill = bath->fill };
	if (!walk->draft->makes_tests || has_allowance(bath->solution->declared.allowances, CHECK_untested_bath)) {
		test->next = walk->load->untested;
		walk->load->untested = test;
		return;
	}
	*walk->last_test = test;
	walk->last_test = &test->next;
	bath->test_milli_rolls += PLAN_TEST_MILLI_ROLLS;
}

static void add_account(struct walk *walk, const struct plan_bath *bath, int64_t pour)
{
	struct plan_account *account = ARENA_NEW(walk->draft->arena, struct plan_account);
	*account = (struct plan_account){
		.solution = bath->solution,
		.fill = bath->fill,
		.on_hand = bath->is_on_hand ? bath->on_hand : NULL,
		.volume = bath->volume,
		.done_milli_rolls = bath->film_milli_rolls + bath->test_milli_rolls,
		.load_milli_rolls = walk->load->packed->area_milli_rolls,
		.capacity_milli_rolls = bath->solution->use == USE_REPLENISH ? 0 : bath->capacity_milli_rolls,
	};
	if (!plan_bath_is_reused(bath->solution)) {
		account->volume = pour;
		if (bath->solution->capacity_volume.value > 0)
			account->capacity_milli_rolls = mixing_capacity_milli_rolls(bath->solution, pour);
	}
	*walk->last_account = account;
	walk->last_account = &account->next;
}

static bool was_poured(const struct plan_draft_load *load, const struct solution *solution)
{
	const struct plan_account *account = load->accounts;
	while (account && account->solution != solution)
		account = account->next;
	return account != NULL;
}

static void pour(struct walk *walk, const struct step *step, int64_t volume)
{
	struct plan_bath *bath = plan_bath(walk->draft, step->solution);
	int64_t area = walk->load->packed->area_milli_rolls;
	if (!bath || was_poured(walk->load, step->solution))
		return;
	if (plan_bath_is_reused(bath->solution)) {
		size_t index = (size_t)(walk->load - walk->draft->loads);
		if (!does_load(bath, area) || plan_life_is_over(walk->draft, index, step->solution))
			refill(walk, bath);
		if (bath->is_on_hand)
			bath->taken_from_hand = bath->volume;
		if (bath->solution->use == USE_REPLENISH)
			replenish(walk, bath, area);
	} else {
		bath->fill = bath->fill_count++;
		bath->test_milli_rolls = 0;
		draw(walk, bath, volume, 0);
		bath->is_on_hand = bath->left_is_on_hand;
	}
	test_if_new(walk, step, bath);
	add_account(walk, bath, volume);
	if (plan_bath_is_reused(bath->solution))
		bath->film_milli_rolls += area;
}

/* ---- a load ---- */

/* What its baths have done and how much of them there is, as if --done had said so. */
static const struct conditions *conditions_of(const struct plan_draft *draft, const struct plan_draft_load *load)
{
	struct conditions *conditions = ARENA_NEW(draft->arena, struct conditions);
	*conditions = *draft->conditions;
	conditions->done = NULL;
	conditions->in_hand = NULL;
	if (!conditions->has_room && span_is_set(draft->day->room.span)) {
		conditions->has_room = true;
		conditions->room = draft->day->room.value;
	}
	if (!conditions->has_date) {
		conditions->has_date = true;
		conditions->date = draft->day->date;
	}
	for (const struct plan_account *account = load->accounts; account; account = account->next) {
		struct condition *done = ARENA_ARRAY(draft->arena, struct condition, 2);
		struct condition *volume = done + 1;
		done->name = volume->name = intern_text(draft->recipe->names, account->solution->declared.name);
		done->value = account->done_milli_rolls;
		volume->value = account->volume;
		done->next = conditions->done;
		volume->next = conditions->in_hand;
		conditions->done = done;
		conditions->in_hand = volume;
	}
	return conditions;
}

/* By how much the times in each bath are longer, once they are worked out. */
static void note_lengthening(const struct plan_draft *draft, const struct plan_draft_load *load)
{
	const struct process *process = draft->kinds[load->kind].process;
	for (struct plan_account *account = load->accounts; account; account = account->next) {
		for (size_t i = 0; i < process->step_count; i++) {
			if (process->steps[i].solution == account->solution && load->used[i].is_for_done)
				account->lengthened_percent = load->used[i].lengthened_percent;
		}
	}
}

/* What of a replenisher the loads of the day take, all together. */
static void expect_replenishing(struct plan_draft *draft)
{
	for (size_t i = 0; i < draft->load_count; i++) {
		const struct process *process = draft->kinds[draft->loads[i].kind].process;
		for (size_t j = 0; !draft->loads[i].is_left && j < process->step_count; j++) {
			const struct solution *solution = process->steps[j].solution;
			struct plan_bath *bath = solution ? plan_bath(draft, solution) : NULL;
			if (bath && solution->use == USE_REPLENISH)
				bath->replenish_to_come += mixing_for_rolls(solution->replenish.value,
									    draft->loads[i].packed->area_milli_rolls);
		}
	}
}

static void walk_baths(struct plan_draft *draft, struct plan_draft_load *load)
{
	const struct process *process = draft->kinds[load->kind].process;
	struct walk walk = { draft, load, &load->mixes, &load->tests, &load->accounts };
	for (size_t i = 0; i < process->step_count; i++) {
		if (process->steps[i].solution)
			pour(&walk, &process->steps[i], process->tank->holds.value);
	}
}

static void walk_all_baths(struct plan_draft *draft)
{
	expect_replenishing(draft);
	for (size_t i = 0; i < draft->load_count; i++) {
		struct plan_draft_load *load = &draft->loads[i];
		load->mixes = NULL;
		load->tests = NULL;
		load->untested = NULL;
		load->accounts = NULL;
		if (!load->is_left)
			walk_baths(draft, load);
	}
}

/* What all loads draw of the stocks that last is known once they have been walked: where such a stock was mixed more
 * than once, they are walked again with it. */
static void mix_stocks_at_once(struct plan_draft *draft)
{
	size_t count = draft->bath_count;
	int64_t *to_draw = ARENA_ARRAY(draft->arena, int64_t, count);
	bool is_wanted = false;
	for (size_t i = 0; i < count; i++) {
		const struct plan_bath *bath = &draft->baths[i];
		if (bath->mixes < 2 || !is_lasting_stock(draft, bath))
			continue;
		to_draw[i] = bath->drawn;
		is_wanted = true;
	}
	if (!is_wanted)
		return;
	plan_chemistry_open(draft); /* finds the same baths */
	for (size_t i = 0; i < draft->bath_count; i++)
		draft->baths[i].to_draw = to_draw[i];
	walk_all_baths(draft);
}

void plan_chemistry_walk(struct plan_draft *draft)
{
	draft->makes_tests = day_time_s(draft->day, DAY_TIME_test) > 0 &&
			     !has_allowance(draft->day->declared.allowances, CHECK_untested_bath) &&
			     !has_allowance(draft->recipe->allowances, CHECK_untested_bath);
	walk_all_baths(draft);
	mix_stocks_at_once(draft);
	for (size_t i = 0; i < draft->load_count; i++) {
		struct plan_draft_load *load = &draft->loads[i];
		if (load->is_left)
			continue;
		load->conditions = conditions_of(draft, load);
		plan_run_times(draft, load);
		note_lengthening(draft, load);
	}
}
