/* Rolls and the processes of their day. */
#include <inttypes.h>

#include "check/checks.h"

/* "C-41", "C-41, push 1", "C-41, pull 0.5". */
static struct text wish_of(const struct check_run *run)
{
	struct text family = family_row(roll_family(run->roll))->word;
	int64_t push = run->roll->push.value;
	int64_t stops = push < 0 ? -push : push;
	struct text_builder wish = text_builder_start(run->arena);
	text_append(&wish, family);
	if (push != 0)
		text_append_format(&wish, ", %s %" PRId64, push > 0 ? "push" : "pull", stops / 1000);
	if (stops % 100 != 0)
		text_append_format(&wish, ".%03" PRId64, stops % 1000);
	else if (stops % 1000 != 0)
		text_append_format(&wish, ".%" PRId64, stops % 1000 / 100);
	return text_builder_text(&wish);
}

static bool is_set_aside(const struct check_run *run)
{
	return span_is_set(run->roll->set_aside.span);
}

static bool suits(const struct day_run *day_run, const struct roll *roll)
{
	return day_run->family == roll_family(roll) && day_run->push == roll->push.value;
}

/* "`a`, `b`": the day's processes that would do. */
static struct text suiting(const struct check_run *run, size_t *count)
{
	struct text_builder names = text_builder_start(run->arena);
	*count = 0;
	for (size_t i = 0; i < run->day->run_count; i++) {
		if (!suits(&run->day->runs[i], run->roll))
			continue;
		struct text name = intern_text(run->recipe->names, run->day->runs[i].name.name);
		text_append_format(&names, "%s`%.*s`", *count == 0 ? "" : ", ", TEXT_ARGUMENT(name));
		++*count;
	}
	return text_builder_text(&names);
}

static void complain_unknown(struct check_run *run)
{
	struct diagnostic *finding =
		check_add(run, run->roll->span, "nobody knows which process this roll was made for");
	check_help(run, finding,
		   "set it aside, or develop a clip of it first; once it is decided, write `needs FAMILY, decided by "
		   "\"initials\"`, or `develop as black-and-white-negative \"reason\", decided by \"initials\"`");
}

void check_undecided_roll(struct check_run *run)
{
	const struct roll *roll = run->roll;
	size_t count;
	if (is_set_aside(run))
		return;
	if (roll_family(roll) == FAMILY_COUNT) {
		complain_unknown(run);
	} else if (roll->needs == FAMILY_COUNT && roll->decided_by.length == 0) {
		struct diagnostic *finding =
			check_add(run, roll->span,
				  "a roll of unknown process, and nothing says who decided what it becomes");
		check_help(run, finding, "add the initials: `decided by \"KM\"`");
	} else if (roll->run == ROLL_NO_RUN && roll->run_name.name == 0) {
		struct text names = suiting(run, &count);
		if (count < 2)
			return;
		struct diagnostic *finding =
			check_add(run, roll->span, "several processes of the day are right for this roll: %.*s",
				  TEXT_ARGUMENT(names));
		check_help(run, finding, "say which: `process NAME`");
	}
}

static void complain_choice(struct check_run *run)
{
	const struct name_reference *name = &run->roll->run_name;
	struct text shown = intern_text(run->recipe->names, name->name);
	struct text wish = wish_of(run);
	struct diagnostic *finding;
	for (size_t i = 0; i < run->day->run_count; i++) {
		if (run->day->runs[i].name.name != name->name)
			continue;
		finding = check_add(run, name->span, "the process `%.*s` is not for this roll: it needs %.*s",
				    TEXT_ARGUMENT(shown), TEXT_ARGUMENT(wish));
		check_help(run, finding,
			   "name another one, or say as what it is developed: `develop as FAMILY \"reason\"`");
		return;
	}
	finding = check_add(run, name->span, "the day does not run the process `%.*s`", TEXT_ARGUMENT(shown));
	check_note(run, finding, run->day->runs_span, "these are its processes");
}

static void complain_family(struct check_run *run)
{
	const struct roll *roll = run->roll;
	struct text wish = wish_of(run);
	struct text family = family_row(roll->needs == FAMILY_COUNT ? roll->develop_as : roll->needs)->word;
	struct diagnostic *finding =
		check_add(run, span_is_set(roll->needs_span) ? roll->needs_span : roll->span,
			  "no process of the day is right for this roll: it needs %.*s", TEXT_ARGUMENT(wish));
	if (roll->develop_as == FAMILY_COUNT && family_is_gone(roll->needs))
		check_help(run, finding,
			   "%.*s film is safely developed as a black-and-white negative: `needs %.*s develop as "
			   "black-and-white-negative \"reason\"`, with a process for it",
			   TEXT_ARGUMENT(family), TEXT_ARGUMENT(family));
	else
		check_help(run, finding, "run a process for it on this day, or set the roll aside for another");
	check_note(run, finding, run->day->runs_span, "the day runs these");
}

/* A process with a mistake in it, or in what it varies, may be the one that was meant. */
static bool is_run_lost(const struct check_run *run)
{
	for (size_t i = 0; i < run->day->run_count; i++)
		if (!run->runs[i])
			return true;
	return false;
}

void check_wrong_process(struct check_run *run)
{
	const struct roll *roll = run->roll;
	if (is_set_aside(run))
		return;
	if (roll->film && span_is_set(roll->needs_span) && roll->needs != roll->film->family) {
		struct text needs = family_row(roll->needs)->word;
		struct text made = family_row(roll->film->family)->word;
		struct diagnostic *finding =
			check_add(run, roll->needs_span, "this roll is to need %.*s, but its stock is made for %.*s",
				  TEXT_ARGUMENT(needs), TEXT_ARGUMENT(made));
		check_note(run, finding, roll->film->family_span, "the stock says so here");
		check_help(run, finding,
			   "one of the two is wrong; where it is meant, write `needs %.*s develop as %.*s \"reason\"`",
			   TEXT_ARGUMENT(made), TEXT_ARGUMENT(needs));
	} else if (is_run_lost(run)) {
		return;
	} else if (roll->run == ROLL_NO_RUN && roll->run_name.name != 0) {
		complain_choice(run);
	} else if (roll->run == ROLL_NO_RUN) {
		complain_family(run);
	}
}

/* ---- tanks and reels -------------------------------------------------------------------------------------------- */

/* A tank that says nothing of what it takes may take everything. */
static bool tank_takes(const struct tank *tank, enum format_id format)
{
	const struct takes *takes = tank->takes;
	while (takes && takes->format != format)
		takes = takes->next;
	return takes || !tank->takes;
}

static bool some_tank_takes(const struct check_run *run)
{
	const struct day *day = run->day;
	if (day->tank_count == 0)
		return !run->process->tank || tank_takes(run->process->tank, run->roll->format);
	for (size_t i = 0; i < day->tank_count; i++)
		if (tank_takes(day->tanks[i].tank, run->roll->format))
			return true;
	return false;
}

static bool some_reel_takes(const struct check_run *run)
{
	for (size_t i = 0; i < run->day->reels_count; i++)
		if (run->day->reels[i].format == run->roll->format)
			return true;
	return run->day->reels_count == 0;
}

void check_format_does_not_fit(struct check_run *run)
{
	if (!run->process || (some_tank_takes(run) && some_reel_takes(run)))
		return;
	const char *what = some_tank_takes(run) ? "reel" : "tank";
	struct text format = format_row(run->roll->format)->word;
	struct diagnostic *finding = check_add(run, run->roll->format_span, "no %s of this day takes %.*s film", what,
					       TEXT_ARGUMENT(format));
	if (run->roll->format == FORMAT_f620)
		check_help(run, finding,
			   "620 is 120 on another spool: where it is wound on reels for 120, say `or 4 x 620` behind "
			   "`takes`, and `4 x 620` behind `reels`");
	else
		check_help(run, finding, "name a %s that takes it, or set the roll aside", what);
}
