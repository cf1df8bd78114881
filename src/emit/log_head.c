#include "emit/log_head.h"

#include <inttypes.h>
#include <math.h>

#include "compute/day_plan.h"
#include "compute/development.h"
#include "compute/drift.h"
#include "compute/reading.h"
#include "emit/cues/wording.h"
#include "emit/day/parts.h"
#include "emit/day/said.h"
#include "emit/day/wall.h"
#include "model/date.h"

/* The rate is told at so many temperatures between the ends of what is told, and at each row of a table. */
#define RATES 16

/* Where no table says how far the rule goes: so far beyond the working point. */
#define RATES_REACH_K 5

struct head {
	const struct emission *emission;
	struct arena *arena;
	log_head_line *put;
	void *data;
};

#define PUT(head, ...)                                                                                                 \
	do {                                                                                                           \
		const struct text fields[] = { __VA_ARGS__ };                                                          \
		(head)->put((head)->data, fields, sizeof(fields) / sizeof(*fields));                                   \
	} while (0)

/* ---- figures ---- */

static struct text whole(const struct head *head, int64_t number)
{
	return text_format(head->arena, "%" PRId64, number);
}

/* A figure with so many decimals; the smallest step of it counts as one. */
static struct text decimal(const struct head *head, double value, int decimals)
{
	return text_format(head->arena, "%.*f", decimals, value);
}

static struct text celsius(const struct head *head, int64_t temperature)
{
	return decimal(head, quantity_celsius(temperature), 3);
}

static struct text rolls(const struct head *head, int64_t milli_rolls)
{
	return decimal(head, (double)milli_rolls / 1000, 3);
}

static struct text or_dash(struct text text)
{
	return text.length > 0 ? text : TEXT("-");
}

/* ---- the load ---- */

/* A roll and what is said of it. What it needs is there for every roll; nobody knows it where a dash stands. */
static void put_roll(const struct head *head, const struct plan_place *place)
{
	const struct roll *roll = place->roll;
	struct roll_words words = said_of_roll(head->arena, roll);
	struct text fields[9 + ROLL_WORDS_COUNT] = { TEXT("roll"),
						     whole(head, (int64_t)place->reel),
						     roll->label,
						     format_row(roll->format)->word,
						     or_dash(roll->origin),
						     or_dash(roll->together),
						     or_dash(place->mark),
						     rolls(head, roll->area_milli_rolls),
						     or_dash(said_conditions(head->arena, roll)) };

	for (size_t i = 0; i < ROLL_WORDS_COUNT; i++)
		fields[9 + i] = or_dash(words.said[i]);
	head->put(head->data, fields, sizeof(fields) / sizeof(*fields));
}

static void put_load(const struct head *head)
{
	const struct day_plan *plan = head->emission->plan;
	const struct plan_load *load = head->emission->load;

	if (load == NULL || plan == NULL)
		return;
	PUT(head, TEXT("load"), whole(head, (int64_t)load->number), whole(head, (int64_t)plan->load_count),
	    intern_text(head->emission->recipe->names, plan->day->declared.name),
	    or_dash(document_plain_prose(head->arena, plan->day->declared.title.text)));
	for (size_t i = 0; i < load->place_count; i++)
		put_roll(head, &load->places[i]);
}

/* ---- the baths ---- */

static const struct plan_account *account_of(const struct head *head, const struct solution *solution)
{
	const struct plan_account *account = head->emission->load == NULL ? NULL : head->emission->load->accounts;

	while (account != NULL && account->solution != solution)
		account = account->next;
	return account;
}

static bool was_poured_before(const struct process *process, size_t index)
{
	for (size_t i = 0; i < index; i++)
		if (process->steps[i].solution == process->steps[index].solution)
			return true;
	return false;
}

/* The day a fill was mixed: as declared, or when the plan mixes it. */
static struct text mixed_on(const struct head *head, const struct solution *solution,
			    const struct plan_account *account)
{
	const struct on_hand *on_hand = account == NULL ? solution->on_hand : account->on_hand;
	const struct plan_task *mix = account == NULL ? NULL : parts_mix_of(head->emission->plan, account);

	if (mix != NULL)
		return text_format(head->arena, "%.10s",
				   wall_stamp(head->arena, head->emission->plan->day, mix->end_s).data);
	if (on_hand == NULL || !span_is_set(on_hand->mixed))
		return TEXT("-");
	return date_print(head->arena, on_hand->mixed_on);
}

/* What a day's plan mixes for each load is not poured back, unless this run is said to use it again. */
static bool is_poured_back(const struct solution *solution, const struct used_time *used)
{
	return solution->use != USE_ONE_SHOT &&
	       (plan_bath_is_reused(solution) || solution->on_hand != NULL || used->done_milli_rolls > 0);
}

/* A bath that is poured back: what the next day must know of it. */
static void put_bath(const struct head *head, size_t index)
{
	const struct process *process = head->emission->process;
	const struct solution *solution = process->steps[index].solution;
	const struct used_time *used = &head->emission->used[index];
	const struct plan_account *account;

	if (solution == NULL || was_poured_before(process, index) || !is_poured_back(solution, used))
		return;
	account = account_of(head, solution);
	PUT(head, TEXT("plan-bath"), intern_text(head->emission->recipe->names, solution->declared.name),
	    whole(head, account == NULL ? 0 : (int64_t)account->fill + 1),
	    decimal(head, quantity_ml(account == NULL ? used->bath_volume : account->volume), 1),
	    mixed_on(head, solution, account),
	    rolls(head, account == NULL ? used->done_milli_rolls : account->done_milli_rolls),
	    rolls(head, account == NULL ? process_load_milli_rolls(process) : account->load_milli_rolls));
}

/* ---- windows and rates ---- */

static void put_window(const struct head *head, size_t index)
{
	const struct process *process = head->emission->process;
	const struct step *step = &process->steps[index];
	const struct temperature_window *window = development_pour_window(step);
	double correction_k =
		process->thermometer == NULL ? 0.0 : quantity_kelvin(process->thermometer->correction.value);

	if (!span_is_set(window->span))
		return;
	PUT(head, TEXT("plan-window"), whole(head, (int64_t)index + 1), celsius(head, window->nominal),
	    celsius(head, window->low), celsius(head, window->high), decimal(head, correction_k, 3));
}

static void put_rate(const struct head *head, size_t index, double temp_c)
{
	double rate;

	if (development_rate(&head->emission->process->steps[index], temp_c, &rate))
		PUT(head, TEXT("plan-rate"), whole(head, (int64_t)index + 1), decimal(head, temp_c, 4),
		    decimal(head, rate, 6));
}

static void put_rates(const struct head *head, size_t index, double working_c)
{
	const struct step *step = &head->emission->process->steps[index];
	double from_c = working_c - RATES_REACH_K, to_c = working_c + RATES_REACH_K;

	if (step->times != NULL) {
		for (const struct time_row *row = step->times; row != NULL; row = row->next)
			put_rate(head, index, quantity_celsius(row->temperature.value));
		return;
	}
	for (int i = 0; i <= RATES; i++)
		put_rate(head, index, from_c + (to_c - from_c) * i / RATES);
}

/* A step that develops, without a rule for what another temperature would do: only that it is one. */
static void put_bare_development(const struct head *head, size_t index, const struct temperature_window *window)
{
	const struct timeline *timeline = head->emission->timeline;

	PUT(head, TEXT("plan-develop"), whole(head, (int64_t)index + 1),
	    decimal(head, (double)timeline->steps[index].time.low_ms / MILLISECONDS_PER_SECOND, 3),
	    decimal(head, 0.0, 3), window == NULL ? decimal(head, 0.0, 3) : celsius(head, window->nominal), TEXT("-"),
	    TEXT("-"), TEXT("-"), TEXT("-"));
}

/* How the tank cools: by Newton's law from what bath and tank are once they have mixed, which is `weight` of the way
 * from the pour to what the bath meets. */
static void put_development(const struct head *head, size_t index)
{
	const struct emission *emission = head->emission;
	const struct step *step = &emission->process->steps[index];
	const struct timeline *timeline = emission->timeline;
	const struct temperature_window *window = development_window(step);
	struct drift_course course;
	struct drift_pour pour;
	struct text rate = TEXT("-"), surroundings = TEXT("-"), met = TEXT("-"), weight = TEXT("-");

	if (!role_develops(step->role))
		return;
	if (window == NULL || !development_has_rule(step) || !span_is_set(step->time.span)) {
		put_bare_development(head, index, window);
		return;
	}
	if (drift_course(emission->process, timeline, index, quantity_celsius(window->nominal), &course)) {
		rate = decimal(head, course.rate, 9);
		surroundings = decimal(head, course.surroundings_c, 3);
	}
	if (drift_pour(emission->process, timeline, index, &pour) && pour.met != pour.poured) {
		met = celsius(head, pour.met);
		weight = decimal(head, (double)(pour.after - pour.poured) / (double)(pour.met - pour.poured), 6);
	}
	PUT(head, TEXT("plan-develop"), whole(head, (int64_t)index + 1),
	    decimal(head, (double)timeline->steps[index].time.low_ms / MILLISECONDS_PER_SECOND, 3),
	    decimal(head, used_wanted_s(step, &emission->used[index]), 3), celsius(head, window->nominal), rate,
	    surroundings, met, weight);
	put_rates(head, index, quantity_celsius(window->nominal));
}

void log_head(const struct emission *emission, log_head_line *put, void *data)
{
	struct head head = { emission, emission->arena, put, data };

	put_load(&head);
	for (size_t i = 0; i < emission->process->step_count; i++)
		put_bath(&head, i);
	for (size_t i = 0; i < emission->process->step_count; i++) {
		put_window(&head, i);
		put_development(&head, i);
	}
}
