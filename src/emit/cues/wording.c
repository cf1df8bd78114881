#include "emit/cues/wording.h"

#include <inttypes.h>
#include <string.h>

#include "compute/development.h"
#include "compute/reading.h"

#define NO_BREAK_SPACE "\xC2\xA0"

static const struct step *step_at(const struct emission *emission, size_t step)
{
	return &emission->process->steps[step];
}

struct text wording_step(const struct emission *emission, size_t step)
{
	return intern_text(emission->recipe->names, step_at(emission, step)->name);
}

struct text wording_bath(const struct emission *emission, size_t step)
{
	const struct step *bathed = step_at(emission, step);
	if (bathed->bath == BATH_SOLUTION)
		return intern_text(emission->recipe->names, bathed->solution->declared.name);
	if (bathed->bath == BATH_DRYER)
		return intern_text(emission->recipe->names, bathed->dryer->declared.name);
	return wording_plain_bath(bathed->bath);
}

struct text wording_plain_bath(enum bath_kind bath)
{
	switch (bath) {
	case BATH_WATER:
		return TEXT("water");
	case BATH_RUNNING_WATER:
		return TEXT("running water");
	case BATH_LIGHT:
		return TEXT("light");
	case BATH_AIR:
		return TEXT("air");
	case BATH_SOLUTION:
	case BATH_DRYER:
	case BATH_NONE:
		break;
	}
	return TEXT("");
}

struct text wording_bottle(const struct emission *emission, size_t step)
{
	struct text bath = wording_bath(emission, step);
	uint32_t bottle = step_at(emission, step)->bottle;
	if (bottle == 0)
		return bath;
	return text_format(emission->arena, "%.*s (bottle %" PRIu32 ")", TEXT_ARGUMENT(bath), bottle);
}

typedef struct text print_temperature(struct arena *arena, int64_t temperature);

/* The working point, or both ends of a range with the unit once: "15.0 to 40.0 °C". */
static struct text print_window(struct arena *arena, const struct temperature_window *window, print_temperature *print)
{
	if (window->form != WINDOW_RANGE)
		return print(arena, window->nominal);
	struct text low = print(arena, window->low), high = print(arena, window->high);
	const char *unit = strstr(low.data, NO_BREAK_SPACE);
	if (unit)
		low.length = (size_t)(unit - low.data);
	return text_format(arena, "%.*s" NO_BREAK_SPACE "to" NO_BREAK_SPACE "%.*s", TEXT_ARGUMENT(low),
			   TEXT_ARGUMENT(high));
}

static struct text append_reading(const struct emission *emission, struct text asked,
				  const struct temperature_window *window)
{
	const struct thermometer *thermometer = emission->process->thermometer;
	if (!reading_is_corrected(thermometer))
		return asked;
	struct temperature_window shown = reading_window(thermometer, window);
	bool is_fahrenheit = thermometer->reads.unit == UNIT_fahrenheit;
	struct text reading = print_window(emission->arena, &shown,
					   is_fahrenheit ? quantity_print_fahrenheit : quantity_print_temperature);
	struct text name = intern_text(emission->recipe->names, thermometer->declared.name);
	return text_format(emission->arena, "%.*s, read %.*s on %.*s", TEXT_ARGUMENT(asked), TEXT_ARGUMENT(reading),
			   TEXT_ARGUMENT(name));
}

struct text wording_temperature(const struct emission *emission, const struct temperature_window *window)
{
	struct arena *arena = emission->arena;
	if (!span_is_set(window->span))
		return TEXT("");
	struct text asked = print_window(arena, window, quantity_print_temperature);
	if (window->unit == UNIT_fahrenheit) {
		struct text written = print_window(arena, window, quantity_print_fahrenheit);
		asked = text_format(arena, "%.*s (%.*s)", TEXT_ARGUMENT(written), TEXT_ARGUMENT(asked));
	}
	return append_reading(emission, asked, window);
}

struct text wording_limits(const struct emission *emission, const struct temperature_window *window)
{
	const struct thermometer *thermometer = emission->process->thermometer;
	struct temperature_window shown = reading_window(thermometer, window);
	bool is_fahrenheit = reading_unit(thermometer, window) == UNIT_fahrenheit;
	struct text words = is_fahrenheit ? quantity_print_window_fahrenheit(emission->arena, &shown)
					  : quantity_print_window(emission->arena, &shown);
	if (!reading_is_corrected(thermometer) || words.length == 0)
		return words;
	return text_format(emission->arena, "read %.*s", TEXT_ARGUMENT(words));
}

struct text wording_pour_temperature(const struct emission *emission, size_t step)
{
	const struct step *poured = step_at(emission, step);
	const struct temperature_window *window = development_pour_window(poured);
	struct arena *arena = emission->arena;
	if (emission->used[step].is_measured) {
		struct text measured = quantity_print_temperature(arena, emission->used[step].reading);
		return text_format(arena, "%.*s, as measured", TEXT_ARGUMENT(measured));
	}
	return wording_temperature(emission, window);
}

/* A short duration: "5 s", "2.5 s"; "1:30" from a minute on. */
static struct text print_short(struct arena *arena, int64_t duration_ms)
{
	if (duration_ms >= 60 * MILLISECONDS_PER_SECOND)
		return quantity_print_duration(arena, duration_ms);
	int64_t fraction = duration_ms % MILLISECONDS_PER_SECOND;
	int64_t whole = duration_ms / MILLISECONDS_PER_SECOND;
	if (fraction == 0)
		return text_format(arena, "%" PRId64 NO_BREAK_SPACE "s", whole);
	int digits = 3;
	for (; fraction % 10 == 0; fraction /= 10)
		digits--;
	return text_format(arena, "%" PRId64 ".%0*" PRId64 NO_BREAK_SPACE "s", whole, digits, fraction);
}

static struct text word_pour(const struct emission *emission, const struct cue *cue)
{
	const struct step *step = step_at(emission, cue->step);
	struct text bath = wording_bottle(emission, cue->step);
	struct text temperature = wording_pour_temperature(emission, cue->step);
	bool is_running = step->bath == BATH_RUNNING_WATER;
	struct text_builder line = text_builder_start(emission->arena);
	text_append_string(&line, is_running ? "run water" : role_dips(step->role) ? "dip" : "pour");
	if (role_dips(step->role) && !is_running && bath.length > 0)
		text_append_string(&line, " into");
	if (!is_running && bath.length > 0) {
		text_append_byte(&line, ' ');
		text_append(&line, bath);
	}
	if (temperature.length > 0) {
		text_append_string(&line, " at ");
		text_append(&line, temperature);
	}
	if (span_is_set(step->changes.span))
		text_append_format(&line, ", fill and dump %" PRId64 " times", step->changes.value);
	return text_builder_text(&line);
}

static struct text word_start(const struct emission *emission, const struct cue *cue)
{
	switch (step_at(emission, cue->step)->bath) {
	case BATH_AIR:
		return TEXT("hang up to dry");
	case BATH_DRYER: {
		struct text dryer = wording_bath(emission, cue->step);
		return text_format(emission->arena, "hang in %.*s", TEXT_ARGUMENT(dryer));
	}
	default:
		return cue_row(cue->kind)->title;
	}
}

static struct text word_exposure(const struct emission *emission, const struct cue *cue)
{
	const struct quantity *expose = &step_at(emission, cue->step)->expose;
	struct text title = cue_row(cue->kind)->title;
	if (!span_is_set(expose->span))
		return title;
	struct text each = print_short(emission->arena, expose->value);
	return text_format(emission->arena, "%.*s, %.*s each side", TEXT_ARGUMENT(title), TEXT_ARGUMENT(each));
}

static struct text word_agitation(const struct emission *emission, const struct cue *cue)
{
	struct text title = cue_row(cue->kind)->title;
	struct text length = print_short(emission->arena, cue->until_ms - cue->at_ms);
	return text_format(emission->arena, "%.*s, %.*s", TEXT_ARGUMENT(title), TEXT_ARGUMENT(length));
}

/* Taps come before the tank is left alone. */
static struct text word_agitation_end(const struct emission *emission, const struct cue *cue)
{
	return step_at(emission, cue->step)->taps > 0 ? TEXT("set down") : cue_row(cue->kind)->title;
}

static struct text word_taps(const struct emission *emission, const struct cue *cue)
{
	struct text title = cue_row(cue->kind)->title;
	return text_format(emission->arena, "%.*s %" PRId64, TEXT_ARGUMENT(title), cue->count);
}

static struct text word_drain(const struct emission *emission, const struct cue *cue)
{
	struct text title = cue_row(cue->kind)->title;
	if (role_dips(step_at(emission, cue->step)->role))
		title = cue->kind == CUE_drain ? TEXT("lift out") : TEXT("lift out soon");
	if (!wording_may_last_longer(emission, cue->step))
		return title;
	return text_format(emission->arena, "%.*s, at the earliest", TEXT_ARGUMENT(title));
}

/* Light that is behind the earliest end names its moment: the cue stands among those of a later step. */
static struct text word_light(const struct emission *emission, const struct cue *cue)
{
	const struct timeline_step *timed = &emission->timeline->steps[cue->step];
	if (cue->at_ms <= timed->end_ms)
		return cue_row(cue->kind)->title;
	struct text since = print_short(emission->arena, cue->at_ms - timed->start_ms);
	return text_format(emission->arena, "light allowed from" NO_BREAK_SPACE "%.*s", TEXT_ARGUMENT(since));
}

static struct text word_end(const struct emission *emission, const struct cue *cue)
{
	return wording_may_last_longer(emission, cue->step) ? TEXT("earliest end") : cue_row(cue->kind)->title;
}

/* Kinds that say more than their title. */
static struct text (*const words[CUE_KIND_COUNT])(const struct emission *emission, const struct cue *cue) = {
	[CUE_pour] = word_pour,
	[CUE_start] = word_start,
	[CUE_expose] = word_exposure,
	[CUE_agitation_start] = word_agitation,
	[CUE_agitation_end] = word_agitation_end,
	[CUE_taps] = word_taps,
	[CUE_light] = word_light,
	[CUE_drain_soon] = word_drain,
	[CUE_drain] = word_drain,
	[CUE_end] = word_end,
};

struct text wording_cue(const struct emission *emission, const struct cue *cue)
{
	return words[cue->kind] ? words[cue->kind](emission, cue) : cue_row(cue->kind)->title;
}

struct text wording_plain(struct arena *arena, struct text text)
{
	struct text_builder plain = text_builder_start(arena);
	const size_t width = sizeof NO_BREAK_SPACE - 1;
	for (size_t i = 0; i < text.length; i++) {
		bool is_kept_together = text.length - i >= width && memcmp(text.data + i, NO_BREAK_SPACE, width) == 0;
		text_append_byte(&plain, is_kept_together ? ' ' : text.data[i]);
		i += is_kept_together ? width - 1 : 0;
	}
	return text_builder_text(&plain);
}

struct text wording_cue_plain(const struct emission *emission, const struct cue *cue)
{
	return wording_plain(emission->arena, wording_cue(emission, cue));
}

struct text wording_clock(struct arena *arena, int64_t time_ms)
{
	int64_t seconds = timeline_seconds(time_ms);
	const char *sign = seconds < 0 ? "-" : "";
	if (seconds < 0)
		seconds = -seconds;
	return text_format(arena, "%s%" PRId64 ":%02" PRId64 ":%02" PRId64, sign, seconds / 3600, seconds / 60 % 60,
			   seconds % 60);
}

struct text wording_total(struct arena *arena, int64_t min_ms, int64_t max_ms)
{
	struct text least = quantity_print_duration(arena, min_ms);
	if (max_ms == TIME_OPEN)
		return text_format(arena, "at least %.*s", TEXT_ARGUMENT(least));
	if (max_ms == min_ms)
		return least;
	struct text most = quantity_print_duration(arena, max_ms);
	return text_format(arena, "%.*s to %.*s", TEXT_ARGUMENT(least), TEXT_ARGUMENT(most));
}

bool wording_may_last_longer(const struct emission *emission, size_t step)
{
	const struct time_window *time = &emission->timeline->steps[step].time;
	return span_is_set(time->span) && time->high_ms != time->low_ms;
}

size_t wording_first_longer(const struct emission *emission)
{
	size_t step = 0;
	while (step < emission->process->step_count && !wording_may_last_longer(emission, step))
		step++;
	return step;
}
