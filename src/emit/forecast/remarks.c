#include "emit/forecast/remarks.h"

#include <inttypes.h>
#include <math.h>

#include "compute/cooling.h"
#include "compute/development.h"
#include "emit/cues/wording.h"

#define NO_BREAK_SPACE "\xC2\xA0"
#define MINUS "\xE2\x88\x92"
#define HUNDREDTH_K (TEMPERATURE_PER_KELVIN / 100)

static void add(struct remarks *remarks, struct text text)
{
	if (text.length > 0 && remarks->count < REMARKS_MOST)
		remarks->items[remarks->count++] = text;
}

struct text remarks_number(struct arena *arena, double temp_c)
{
	int64_t hundredths = forecast_temperature(temp_c) / HUNDREDTH_K;
	int64_t size = hundredths < 0 ? -hundredths : hundredths;
	return text_format(arena, "%s%" PRId64 ".%02" PRId64, hundredths < 0 ? MINUS : "", size / 100, size % 100);
}

static struct text degrees(struct arena *arena, double temp_c)
{
	struct text number = remarks_number(arena, temp_c);
	return text_format(arena, "%.*s" NO_BREAK_SPACE "°C", TEXT_ARGUMENT(number));
}

struct text remarks_window(struct arena *arena, const struct temperature_window *window)
{
	if (!window || !span_is_set(window->span))
		return TEXT("");
	struct text low = remarks_number(arena, quantity_celsius(window->low));
	struct text high = remarks_number(arena, quantity_celsius(window->high));
	if (window->form == WINDOW_POINT)
		return low;
	return text_format(arena, "%.*s to %.*s", TEXT_ARGUMENT(low), TEXT_ARGUMENT(high));
}

static struct text limits(struct arena *arena, const struct temperature_window *window)
{
	struct text figures = remarks_window(arena, window);
	return text_format(arena, "%.*s" NO_BREAK_SPACE "°C", TEXT_ARGUMENT(figures));
}

static struct text duration(struct arena *arena, double time_s)
{
	return quantity_print_duration(arena, forecast_time(time_s));
}

struct text remarks_percent(struct arena *arena, const struct forecast *forecast)
{
	int64_t tenths = forecast_percent(forecast) / (PERCENT_ONE / 10);
	return text_format(arena, "%" PRId64 ".%" PRId64 NO_BREAK_SPACE "%%", tenths / 10, tenths % 10);
}

bool remarks_tell_exact(const struct forecast *forecast)
{
	return forecast->state == FORECAST_made && (forecast->has_effective || forecast_wants_remedy(forecast));
}

/* A temperature to bring about: in the unit that the step is written in, and as its thermometer shows it. */
static struct text setting(const struct emission *emission, const struct step *step, double temp_c)
{
	struct temperature_window point = *development_window(step);
	point.form = WINDOW_POINT;
	point.nominal = point.low = point.high = forecast_temperature(temp_c);
	return wording_temperature(emission, &point);
}

/* ---- one step ---- */

static struct text remark_pour(struct arena *arena, const struct forecast *forecast)
{
	if (!forecast->is_met || forecast_temperature(forecast->start_c) == forecast_temperature(forecast->pour_c))
		return TEXT("");
	struct text met = degrees(arena, forecast->met_c);
	struct text pour = degrees(arena, forecast->pour_c);
	struct text start = degrees(arena, forecast->start_c);
	return text_format(arena, "%s %.*s: poured at %.*s, the bath comes to %.*s.",
			   forecast->is_first ? "The tank is at" : "Tank and wet reels are at", TEXT_ARGUMENT(met),
			   TEXT_ARGUMENT(pour), TEXT_ARGUMENT(start));
}

/* "from 1:20 on", "until 0:40", "until 0:40 and from 3:00 on", "all along" */
static struct text when_outside(struct arena *arena, const struct forecast *forecast)
{
	const struct forecast_stretch *first = &forecast->outside[0];
	const struct forecast_stretch *last = &forecast->outside[forecast->outside_count - 1];
	struct text until = duration(arena, first->to_s);
	struct text from = duration(arena, last->from_s);
	if (first->from_s > 0)
		return text_format(arena, "from %.*s on", TEXT_ARGUMENT(from));
	if (first != last)
		return text_format(arena, "until %.*s and from %.*s on", TEXT_ARGUMENT(until), TEXT_ARGUMENT(from));
	if (first->to_s < forecast->course.time_s)
		return text_format(arena, "until %.*s", TEXT_ARGUMENT(until));
	return TEXT("all along");
}

/* A mean that reads as the limit it misses is not to read as one that meets it. */
static const char *just(const struct forecast *forecast, const struct temperature_window *window)
{
	int64_t mean = forecast_temperature(forecast->mean_c);
	if (mean == forecast_temperature(quantity_celsius(window->low)))
		return "just below ";
	return mean == forecast_temperature(quantity_celsius(window->high)) ? "just above " : "";
}

static struct text remark_window(struct arena *arena, const struct step *step, const struct forecast *forecast)
{
	const struct temperature_window *window = development_window(step);
	struct text mean = degrees(arena, forecast->mean_c);
	struct text window_text = limits(arena, window);
	struct text at = limits(arena, &step->at);
	if (forecast->fit == FORECAST_FIT_mean_outside) {
		struct text line = text_format(arena, "Its mean, %s%.*s, lies outside its window, %.*s",
					       just(forecast, window), TEXT_ARGUMENT(mean), TEXT_ARGUMENT(window_text));
		if (forecast->outside_count == 0 || window != &step->at)
			return text_format(arena, "%.*s.", TEXT_ARGUMENT(line));
		return text_format(arena, "%.*s; it is outside %.*s.", TEXT_ARGUMENT(line),
				   TEXT_ARGUMENT(when_outside(arena, forecast)));
	}
	if (forecast->fit == FORECAST_FIT_leaves)
		return text_format(arena, "It is outside its window, %.*s, %.*s; its mean, %.*s, is inside.",
				   TEXT_ARGUMENT(at), TEXT_ARGUMENT(when_outside(arena, forecast)),
				   TEXT_ARGUMENT(mean));
	if (forecast->fit == FORECAST_FIT_inside && window == &step->at)
		return text_format(arena, "It stays inside its window, %.*s.", TEXT_ARGUMENT(at));
	if (forecast->fit == FORECAST_FIT_inside)
		return text_format(arena, "Its mean, %.*s, is inside its window, %.*s.", TEXT_ARGUMENT(mean),
				   TEXT_ARGUMENT(window_text));
	return TEXT("");
}

static struct text remark_compensated(struct arena *arena, const struct emission *emission, size_t index)
{
	const struct used_time *used = &emission->used[index];
	struct text time = quantity_print_time_window(arena, &used->time);
	struct text measured = degrees(arena, quantity_celsius(used->temperature));
	return text_format(arena, "Its time, %.*s, is the one for a pour at %.*s.", TEXT_ARGUMENT(time),
			   TEXT_ARGUMENT(measured));
}

static struct text remark_development(struct arena *arena, const struct forecast *forecast)
{
	int64_t percent = forecast_percent(forecast);
	struct text effective = duration(arena, forecast->effective_s);
	struct text wanted = duration(arena, forecast->wanted_s);
	struct text share = remarks_percent(arena, forecast);
	struct text line = text_format(arena, "Effective development: %.*s of %.*s, %.*s", TEXT_ARGUMENT(effective),
				       TEXT_ARGUMENT(wanted), TEXT_ARGUMENT(share));
	if (!forecast->strays)
		return text_format(arena, "%.*s.", TEXT_ARGUMENT(line));
	return text_format(arena, "%.*s; that is too %s.", TEXT_ARGUMENT(line),
			   percent < 100 * PERCENT_ONE ? "little" : "much");
}

/* What is exact: the development, or the mean. */
static struct text exact_words(struct arena *arena, const struct step *step, const struct forecast *forecast)
{
	if (forecast->exact.is_by_development)
		return TEXT("Exact");
	struct text mean = degrees(arena, quantity_celsius(development_window(step)->nominal));
	return text_format(arena, "A mean of %.*s", TEXT_ARGUMENT(mean));
}

static struct text remark_exact_pour(const struct emission *emission, const struct step *step,
				     const struct forecast *forecast)
{
	struct arena *arena = emission->arena;
	const struct temperature_window *window = development_pour_window(step);
	struct text exact = exact_words(arena, step, forecast);
	struct text pour = setting(emission, step, forecast->exact.pour_c);
	switch (forecast->exact.pour) {
	case FORECAST_POUR_inside:
		if (forecast_temperature(forecast->exact.pour_c) == forecast_temperature(forecast->pour_c))
			return text_format(arena, "%.*s as it is poured.", TEXT_ARGUMENT(exact));
		return text_format(arena, "%.*s with a pour at %.*s.", TEXT_ARGUMENT(exact), TEXT_ARGUMENT(pour));
	case FORECAST_POUR_outside_window:
		return text_format(arena, "%.*s with a pour at %.*s, outside the window of its pour, %.*s.",
				   TEXT_ARGUMENT(exact), TEXT_ARGUMENT(pour), TEXT_ARGUMENT(limits(arena, window)));
	case FORECAST_POUR_outside_usable:
		return text_format(arena, "%.*s only with a pour at %.*s, where the bath is not usable: %.*s.",
				   TEXT_ARGUMENT(exact), TEXT_ARGUMENT(pour),
				   TEXT_ARGUMENT(limits(arena, &step->solution->usable)));
	default:
		break;
	}
	if (step->times)
		return TEXT("No pour temperature makes it exact: its table of times does not reach so far.");
	return TEXT("No pour temperature makes it exact.");
}

/* What to do where the pour alone does not mend it. */
static struct text remark_remedy(const struct emission *emission, const struct step *step,
				 const struct forecast *forecast)
{
	struct arena *arena = emission->arena;
	const struct forecast_exact *exact = &forecast->exact;
	struct text working = setting(emission, step, quantity_celsius(development_window(step)->nominal));
	bool can_declare = exact->pour == FORECAST_POUR_outside_window;
	if (!forecast_wants_remedy(forecast) || exact->pour == FORECAST_POUR_inside)
		return TEXT("");
	if (exact->has_bath) {
		struct text bath = setting(emission, step, exact->bath_c);
		return text_format(arena, "Stand the tank in a water bath at %.*s%s.", TEXT_ARGUMENT(bath),
				   can_declare ? ", or give the step its own `pour" NO_BREAK_SPACE "at`" : "");
	}
	return text_format(
		arena,
		"From there no water bath mends that in this time: before it, have %s at %.*s; then stand the "
		"tank in a water bath of the same temperature%s.",
		forecast->is_first || !forecast->is_met ? "tank and bath" : "tank and reels", TEXT_ARGUMENT(working),
		can_declare ? ", or give the step its own `pour" NO_BREAK_SPACE "at`" : "");
}

struct remarks remarks_of_step(const struct emission *emission, const struct forecast *forecast, size_t index)
{
	struct remarks remarks = { .count = 0 };
	struct arena *arena = emission->arena;
	const struct step *step = &emission->process->steps[index];
	if (forecast->state != FORECAST_made)
		return remarks;
	add(&remarks, remark_pour(arena, forecast));
	add(&remarks, remark_window(arena, step, forecast));
	if (forecast->fit == FORECAST_FIT_compensated)
		add(&remarks, remark_compensated(arena, emission, index));
	if (forecast->has_effective)
		add(&remarks, remark_development(arena, forecast));
	else if (development_has_rule(step))
		add(&remarks, TEXT("What that develops is not known: its table of times does not hold all along."));
	if (remarks_tell_exact(forecast))
		add(&remarks, remark_exact_pour(emission, step, forecast));
	add(&remarks, remark_remedy(emission, step, forecast));
	return remarks;
}

/* ---- the run ---- */

/* The longest developing step, for which the heat-loss test is made; else the longest one. */
static const struct step *step_to_test(const struct emission *emission)
{
	const struct process *process = emission->process;
	const struct step *found = NULL;
	for (size_t i = 0; i < process->step_count; i++) {
		const struct step *step = &process->steps[i];
		bool is_bath = step->bath == BATH_SOLUTION && development_window(step) && step->time.low_ms > 0;
		if (!is_bath || !span_is_set(step->time.span))
			continue;
		bool is_better = !found || (role_develops(step->role) && !role_develops(found->role)) ||
				 (role_develops(step->role) == role_develops(found->role) &&
				  step->time.low_ms > found->time.low_ms);
		found = is_better ? step : found;
	}
	return found;
}

static struct text remark_test(const struct emission *emission)
{
	struct arena *arena = emission->arena;
	const struct tank *tank = emission->process->tank;
	const struct step *step = step_to_test(emission);
	struct text name = tank ? intern_text(emission->recipe->names, tank->declared.name) : TEXT("");
	struct text temperature = TEXT("the working temperature");
	struct text time = TEXT("the time of the developer");
	if (step) {
		temperature = quantity_print_temperature(arena, development_window(step)->nominal);
		time = quantity_print_duration(arena, step->time.low_ms);
	}
	return text_format(
		arena,
		"%s%.*s has no heat-loss test, so nothing can be forecast. Make one: temper the tank as for film, "
		"fill it with plain water at %.*s, read 30" NO_BREAK_SPACE "s after filling and again %.*s later, and "
		"write both as `cools A to B within %.*s in a room at R`.",
		tank ? "The tank " : "The tank", TEXT_ARGUMENT(name), TEXT_ARGUMENT(temperature), TEXT_ARGUMENT(time),
		TEXT_ARGUMENT(time));
}

static bool has_state(const struct emission *emission, const struct forecast *forecasts, enum forecast_state state)
{
	for (size_t i = 0; i < emission->process->step_count; i++)
		if (forecasts[i].state == state)
			return true;
	return false;
}

static struct text remark_uncounted(const struct emission *emission, const struct forecast *forecasts)
{
	const struct tank *tank = emission->process->tank;
	bool has_room = span_is_set(emission->process->room.span) || span_is_set(tank->bath.span);
	if (!span_is_set(tank->absorbs.span) && !span_is_set(tank->carries.span))
		return TEXT("What tank and wet reels take from the bath at the pour is not counted: the tank declares "
			    "neither `absorbs` nor `carries`.");
	if (forecasts[0].state == FORECAST_made && !has_room && span_is_set(tank->absorbs.span))
		return TEXT("Nobody says how warm the tank is before the first bath: declare `room`, or give --room.");
	return TEXT("");
}

struct text remarks_surroundings(const struct emission *emission)
{
	const struct process *process = emission->process;
	struct text at = degrees(emission->arena, cooling_surroundings_c(process));
	if (span_is_set(process->tank->bath.span))
		return text_format(emission->arena, "in a water bath at %.*s", TEXT_ARGUMENT(at));
	if (span_is_set(process->room.span))
		return text_format(emission->arena, "in a room at %.*s", TEXT_ARGUMENT(at));
	if (!span_is_set(process->tank->cools.span))
		return TEXT("");
	return text_format(emission->arena, "in surroundings at %.*s, those of its heat-loss test", TEXT_ARGUMENT(at));
}

struct remarks remarks_of_run(const struct emission *emission, const struct forecast *forecasts)
{
	struct remarks remarks = { .count = 0 };
	if (has_state(emission, forecasts, FORECAST_no_heat_loss_test))
		add(&remarks, remark_test(emission));
	if (has_state(emission, forecasts, FORECAST_made))
		add(&remarks, remark_uncounted(emission, forecasts));
	return remarks;
}
