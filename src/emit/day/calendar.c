/* The plan of a day as an iCalendar stream (RFC 5545): one event for what the hands do in one go with one load.
 *
 * Where the day says how far its clock is ahead of UTC, times carry a time zone that stands in the stream, with the
 * change of the clock where there is one; else they float, and are read on whatever clock hangs on the wall. An hour
 * that the clock shows twice is told apart by UTC. DTSTAMP is the day's start: the program reads no clock. */
#include <inttypes.h>

#include "emit/day/parts.h"
#include "emit/day/wall.h"
#include "emit/escape/ics.h"
#include "emit/sheet/words.h"
#include "model/date.h"
#include "support/hash.h"

struct calendar {
	const struct emission *emission;
	const struct day_plan *plan;
	const struct day *day;
	struct arena *arena;
	struct output *output;
	struct text zone; /* empty: times float */
};

/* What is one event to a calendar. */
enum event_kind { EVENT_MIX, EVENT_TEST, EVENT_LOAD, EVENT_RUN, EVENT_HANG, EVENT_TAKE_DOWN, EVENT_NONE };

struct event {
	enum event_kind kind;
	const struct plan_task *first; /* what it is of */
	int64_t start_s, end_s;
	size_t ordinal; /* among those of the same kind and load, or bath */
};

static enum event_kind event_kind_of(const struct plan_task *task)
{
	switch (task->kind) {
	case PLAN_TASK_mix:
		return EVENT_MIX;
	case PLAN_TASK_test:
		return EVENT_TEST;
	case PLAN_TASK_ready:
	case PLAN_TASK_load:
		return EVENT_LOAD;
	case PLAN_TASK_run:
	case PLAN_TASK_run_free:
		return EVENT_RUN;
	case PLAN_TASK_hang:
	case PLAN_TASK_clean:
		return EVENT_HANG;
	case PLAN_TASK_take_down:
		return EVENT_TAKE_DOWN;
	default:
		return EVENT_NONE;
	}
}

static const char *const event_words[] = {
	[EVENT_MIX] = "mix",   [EVENT_TEST] = "test",		[EVENT_LOAD] = "load",	  [EVENT_RUN] = "run",
	[EVENT_HANG] = "hang", [EVENT_TAKE_DOWN] = "take-down", [EVENT_NONE] = "nothing",
};

/* ---- times ---- */

static struct text compact(struct arena *arena, int64_t date, int64_t second)
{
	struct text day = date_print(arena, date);
	return text_format(arena, "%.4s%.2s%.2sT%02" PRId64 "%02" PRId64 "%02" PRId64, day.data, day.data + 5,
			   day.data + 8, second / 3600, second / 60 % 60, second % 60);
}

/* Seconds since 1970-01-01 in UTC, where the day says its offset; else as if its clock were one of UTC. */
static int64_t universal_s(const struct calendar *calendar, int64_t since_start_s)
{
	return calendar->day->date * 86400 + calendar->day->start_s + since_start_s - calendar->day->utc_offset_s;
}

static struct text universal(const struct calendar *calendar, int64_t since_start_s)
{
	int64_t at_s = universal_s(calendar, since_start_s);
	int64_t date = at_s / 86400 - (at_s % 86400 < 0);
	struct text stamp = compact(calendar->arena, date, at_s - date * 86400);
	return text_format(calendar->arena, "%.*sZ", TEXT_ARGUMENT(stamp));
}

static void put_time(const struct calendar *calendar, const char *name, int64_t since_start_s)
{
	struct wall at = wall_at(calendar->day, since_start_s);
	struct text shown = compact(calendar->arena, at.date, at.second);
	if (calendar->zone.length == 0) {
		ics_line(calendar->output, calendar->arena, name, shown);
	} else if (wall_is_shown_twice(calendar->day, since_start_s)) { /* readers differ on which is meant */
		ics_line(calendar->output, calendar->arena, name, universal(calendar, since_start_s));
	} else {
		struct text with_zone =
			text_format(calendar->arena, "%s;TZID=%.*s", name, TEXT_ARGUMENT(calendar->zone));
		ics_line(calendar->output, calendar->arena, with_zone.data, shown);
	}
}

/* ---- the time zone ---- */

static struct text offset(struct arena *arena, int64_t offset_s)
{
	int64_t size = offset_s < 0 ? -offset_s : offset_s;
	struct text minutes =
		text_format(arena, "%c%02" PRId64 "%02" PRId64, offset_s < 0 ? '-' : '+', size / 3600, size / 60 % 60);
	if (size % 60 == 0)
		return minutes;
	return text_format(arena, "%.*s%02" PRId64, TEXT_ARGUMENT(minutes), size % 60);
}

static void put_observance(const struct calendar *calendar, bool is_summer, struct text start, int64_t from_s,
			   int64_t to_s)
{
	struct output *output = calendar->output;
	struct arena *arena = calendar->arena;
	struct text kind = is_summer ? TEXT("DAYLIGHT") : TEXT("STANDARD");
	ics_line(output, arena, "BEGIN", kind);
	ics_line(output, arena, "DTSTART", start);
	ics_line(output, arena, "TZOFFSETFROM", offset(arena, from_s));
	ics_line(output, arena, "TZOFFSETTO", offset(arena, to_s));
	ics_line(output, arena, "END", kind);
}

static void put_zone(const struct calendar *calendar)
{
	const struct day *day = calendar->day;
	struct arena *arena = calendar->arena;
	int64_t by_s = wall_is_changed(day) ? day->clock_to_s - day->clock_from_s : 0;
	if (calendar->zone.length == 0)
		return;
	ics_line(calendar->output, arena, "BEGIN", TEXT("VTIMEZONE"));
	ics_line(calendar->output, arena, "TZID", calendar->zone);
	put_observance(calendar, by_s < 0, TEXT("19700101T000000"), day->utc_offset_s, day->utc_offset_s);
	if (by_s != 0)
		put_observance(calendar, by_s > 0,
			       compact(arena, day->date + day->clock_from_s / 86400, day->clock_from_s % 86400),
			       day->utc_offset_s, day->utc_offset_s + by_s);
	ics_line(calendar->output, arena, "END", TEXT("VTIMEZONE"));
}

/* ---- names ---- */

/* A UUID of version 8 (RFC 9562, 5.8) made of a SHA-256 of what the event is: the same event of the same plan has the
 * same name, so that a calendar that gets it again changes it and does not show it twice. */
static struct text event_name(const struct calendar *calendar, const struct event *event)
{
	const struct plan_task *task = event->first;
	struct arena *arena = calendar->arena;
	struct text subject = TEXT(""), fingerprint = TEXT("");
	struct hash hash;
	if (task->load < calendar->plan->load_count) {
		const struct plan_load *load = &calendar->plan->loads[task->load];
		subject = text_format(arena, "load %zu", load->number);
		fingerprint = parts_process(calendar->plan, load)->fingerprint;
	} else if (task->solution) {
		subject = parts_name(calendar->emission, &task->solution->declared);
	}
	struct text date = date_print(arena, calendar->day->date);
	hash_start(&hash);
	hash_add(&hash, text_format(arena, "wetside day %.*s\n%.*s\n%.*s\n%s %zu\n", TEXT_ARGUMENT(date),
				    TEXT_ARGUMENT(fingerprint), TEXT_ARGUMENT(subject), event_words[event->kind],
				    event->ordinal));
	const char *digits = hash_finish(&hash, arena).data;
	char variant = digits[16] <= '9' ? (char)(digits[16] - '0') : (char)(digits[16] - 'a' + 10);
	return text_format(arena, "%.8s-%.4s-8%.3s-%c%.3s-%.12s", digits, digits + 8, digits + 13, "89ab"[variant & 3],
			   digits + 17, digits + 20);
}

static struct text rolls_of(struct arena *arena, size_t count)
{
	return text_format(arena, "%zu %s", count, count == 1 ? "roll" : "rolls");
}

static struct text summary(const struct calendar *calendar, const struct event *event)
{
	const struct plan_task *task = event->first;
	struct arena *arena = calendar->arena;
	if (event->kind == EVENT_MIX || event->kind == EVENT_TEST) {
		struct text bath =
			task->solution ? parts_title(calendar->emission, &task->solution->declared) : TEXT("bath");
		if (event->kind == EVENT_TEST)
			return text_format(arena, "Test strip in %.*s", TEXT_ARGUMENT(bath));
		struct text volume = task->volume > 0 ? quantity_print_volume(arena, task->volume) : TEXT("");
		return text_format(arena, "Mix %.*s%s%.*s", TEXT_ARGUMENT(bath), volume.length > 0 ? ", " : "",
				   TEXT_ARGUMENT(volume));
	}
	if (task->load >= calendar->plan->load_count)
		return plan_task_row(task->kind)->title;
	const struct plan_load *load = &calendar->plan->loads[task->load];
	struct text process = parts_title(calendar->emission, &parts_process(calendar->plan, load)->declared);
	struct text rolls = rolls_of(arena, load->place_count);
	static const char *const words[] = {
		[EVENT_LOAD] = "in the dark, ",
		[EVENT_RUN] = "runs, ",
		[EVENT_HANG] = "hang, ",
		[EVENT_TAKE_DOWN] = "take down, ",
	};
	return text_format(arena, "Load %zu: %s%.*s, %.*s", load->number, words[event->kind], TEXT_ARGUMENT(rolls),
			   TEXT_ARGUMENT(process));
}

/* The rolls, in the order in which the hands take them: the last that was loaded hangs first. */
static struct text description(const struct calendar *calendar, const struct event *event)
{
	const struct plan_task *task = event->first;
	struct text_builder words = text_builder_start(calendar->arena);
	if (task->load >= calendar->plan->load_count || (event->kind != EVENT_LOAD && event->kind != EVENT_HANG))
		return TEXT("");
	const struct plan_load *load = &calendar->plan->loads[task->load];
	for (size_t i = 0; i < load->place_count; i++) {
		bool is_reversed = event->kind == EVENT_HANG;
		const struct plan_place *place = &load->places[is_reversed ? load->place_count - 1 - i : i];
		text_append_format(&words, "%s%s %zu: %.*s", i > 0 ? "\n" : "", is_reversed ? "hang" : "reel", i + 1,
				   TEXT_ARGUMENT(place->roll->label));
		if (place->mark.length > 0)
			text_append_format(&words, " (%.*s)", TEXT_ARGUMENT(place->mark));
	}
	return text_builder_text(&words);
}

/* ---- events ---- */

static void put_event(const struct calendar *calendar, const struct event *event)
{
	struct output *output = calendar->output;
	struct arena *arena = calendar->arena;
	struct text words = description(calendar, event);
	ics_line(output, arena, "BEGIN", TEXT("VEVENT"));
	ics_line(output, arena, "UID", event_name(calendar, event));
	ics_line(output, arena, "DTSTAMP", universal(calendar, 0));
	put_time(calendar, "DTSTART", event->start_s);
	put_time(calendar, "DTEND", event->end_s);
	ics_text(output, arena, "SUMMARY", summary(calendar, event));
	if (words.length > 0)
		ics_text(output, arena, "DESCRIPTION", words);
	ics_line(output, arena, "END", TEXT("VEVENT"));
}

static bool is_of_same(const struct plan_task *a, const struct plan_task *b)
{
	return event_kind_of(a) == event_kind_of(b) && a->load == b->load && a->solution == b->solution;
}

/* How many tasks before this one begin an event of the same kind and load: nearly always none. */
static size_t ordinal_of(const struct day_plan *plan, const struct plan_task *task)
{
	size_t count = 0;
	for (const struct plan_task *at = plan->tasks; at < task; at++)
		count += is_of_same(at, task);
	return count;
}

/* The last task that goes on where this one ends, with the same load. */
static int64_t end_of(const struct day_plan *plan, const struct plan_task *task, bool *is_taken)
{
	int64_t end_s = task->end_s;
	for (const struct plan_task *at = task + 1; at < plan->tasks + plan->task_count; at++) {
		if (!is_of_same(at, task) || at->start_s != end_s || task->load >= plan->load_count)
			continue;
		is_taken[at - plan->tasks] = true;
		end_s = at->end_s;
	}
	return end_s;
}

static void put_events(const struct calendar *calendar)
{
	const struct day_plan *plan = calendar->plan;
	bool *is_taken = ARENA_ARRAY(calendar->arena, bool, plan->task_count);
	for (size_t i = 0; i < plan->task_count; i++) {
		const struct plan_task *task = &plan->tasks[i];
		enum event_kind kind = event_kind_of(task);
		if (kind == EVENT_NONE || is_taken[i])
			continue;
		put_event(calendar, &(struct event){ kind, task, task->start_s, end_of(plan, task, is_taken),
						     ordinal_of(plan, task) });
	}
}

/* A stream without a component is none: a day without a task has one event, which says so. */
static void put_idle_day(const struct calendar *calendar)
{
	struct arena *arena = calendar->arena;
	struct plan_task none = { .load = SIZE_MAX };
	struct text words =
		text_format(arena, "%.*s: nothing is developed", TEXT_ARGUMENT(parts_day(calendar->emission)));
	ics_line(calendar->output, arena, "BEGIN", TEXT("VEVENT"));
	ics_line(calendar->output, arena, "UID", event_name(calendar, &(struct event){ EVENT_NONE, &none, 0, 0, 0 }));
	ics_line(calendar->output, arena, "DTSTAMP", universal(calendar, 0));
	put_time(calendar, "DTSTART", 0);
	ics_text(calendar->output, arena, "SUMMARY", words);
	ics_line(calendar->output, arena, "END", TEXT("VEVENT"));
}

void emit_plan_ics(const struct emission *emission, struct output *output)
{
	struct calendar calendar = { emission, emission->plan, emission->plan->day, emission->arena, output, TEXT("") };
	if (wall_has_offset(calendar.day))
		calendar.zone = text_format(emission->arena, "day-%.*s-utc%.*s",
					    TEXT_ARGUMENT(date_print(emission->arena, calendar.day->date)),
					    TEXT_ARGUMENT(offset(emission->arena, calendar.day->utc_offset_s)));
	ics_line(output, emission->arena, "BEGIN", TEXT("VCALENDAR"));
	ics_line(output, emission->arena, "VERSION", TEXT("2.0"));
	ics_line(output, emission->arena, "PRODID", TEXT("-//wetside//plan of a day 1//EN"));
	ics_line(output, emission->arena, "CALSCALE", TEXT("GREGORIAN"));
	put_zone(&calendar);
	if (calendar.plan->task_count > 0)
		put_events(&calendar);
	else
		put_idle_day(&calendar);
	ics_line(output, emission->arena, "END", TEXT("VCALENDAR"));
}
