#include "model/run_log.h"

#include <string.h>

#include "model/log_line.h"
#include "support/limits.h"

struct reading {
	struct run_log *log;
	struct arena *arena;
	size_t capacity; /* of log->steps */
	struct run_log_roll **next_roll;
	struct run_log_bath **next_bath;
};

typedef bool read_line(struct reading *reading, const struct log_line *line);

static struct run_log_step *step_of(const struct reading *reading, const struct log_line *line, size_t index)
{
	int64_t number;

	if (!log_line_decimal(line, index, 0, &number) || number < 1 || (uint64_t)number > reading->log->step_count)
		return NULL;
	return &reading->log->steps[number - 1];
}

/* The step of a line of the head: those that are not known yet are made. */
static struct run_log_step *make_step(struct reading *reading, const struct log_line *line, size_t index)
{
	struct run_log *log = reading->log;
	int64_t number;

	if (!log_line_decimal(line, index, 0, &number) || number < 1 || number > (int64_t)limit_value(LIMIT_LOG_STEPS))
		return NULL;
	if ((size_t)number > reading->capacity) {
		size_t capacity = (size_t)number * 2 + 16;
		struct run_log_step *steps = ARENA_ARRAY(reading->arena, struct run_log_step, capacity);

		if (log->step_count > 0)
			memcpy(steps, log->steps, log->step_count * sizeof(*steps));
		log->steps = steps;
		reading->capacity = capacity;
	}
	while (log->step_count < (size_t)number) {
		struct run_log_step *step = &log->steps[log->step_count++];

		*step = (struct run_log_step){ .number = log->step_count,
					       .aim_milli_c = RUN_LOG_NONE,
					       .measured_milli_c = RUN_LOG_NONE,
					       .drained_cs = RUN_LOG_NONE,
					       .over_cs = RUN_LOG_NONE };
		step->plan = (struct run_log_plan){ RUN_LOG_OPEN, RUN_LOG_NONE, RUN_LOG_NONE,
						    RUN_LOG_NONE, RUN_LOG_NONE, 0 };
		step->planned_drain_cs = step->planned_end_cs = RUN_LOG_NONE;
	}
	return &log->steps[number - 1];
}

/* ---- the head ---- */

static bool read_process(struct reading *reading, const struct log_line *line)
{
	reading->log->process = log_line_words(reading->arena, line, 1);
	reading->log->title = log_line_words(reading->arena, line, 2);
	return line->count >= 2;
}

static bool read_fingerprint(struct reading *reading, const struct log_line *line)
{
	reading->log->fingerprint = log_line_words(reading->arena, line, 1);
	return line->count >= 2;
}

static bool read_this_run(struct reading *reading, const struct log_line *line)
{
	reading->log->this_run = log_line_words(reading->arena, line, 1);
	return line->count >= 2;
}

static bool read_clock(struct reading *reading, const struct log_line *line)
{
	return log_line_decimal(line, 3, 0, &reading->log->speed);
}

static bool read_load(struct reading *reading, const struct log_line *line)
{
	struct run_log *log = reading->log;

	log->day = log_line_words(reading->arena, line, 3);
	log->day_title = log_line_words(reading->arena, line, 4);
	return log_line_decimal(line, 1, 0, &log->load_number) && log_line_decimal(line, 2, 0, &log->load_count);
}

/* The fields from here on came later: a log without them is no worse. */
#define ROLL_FIELD_CONDITIONS 8

static bool read_roll(struct reading *reading, const struct log_line *line)
{
	struct run_log_roll roll = { .label = log_line_words(reading->arena, line, 2),
				     .format = log_line_words(reading->arena, line, 3),
				     .origin = log_line_words(reading->arena, line, 4),
				     .together = log_line_words(reading->arena, line, 5),
				     .mark = log_line_words(reading->arena, line, 6),
				     .conditions = log_line_words(reading->arena, line, ROLL_FIELD_CONDITIONS) };

	if (line->count < 8 || !log_line_decimal(line, 1, 0, &roll.reel) ||
	    !log_line_decimal(line, 7, MILLI, &roll.area_milli_rolls))
		return false;
	for (size_t i = 0; i < ROLL_WORDS_COUNT; i++)
		roll.words.said[i] = log_line_words(reading->arena, line, ROLL_FIELD_CONDITIONS + 1 + i);
	*reading->next_roll = ARENA_NEW(reading->arena, struct run_log_roll);
	**reading->next_roll = roll;
	reading->next_roll = &(*reading->next_roll)->next;
	reading->log->roll_count++;
	return true;
}

static bool read_bath(struct reading *reading, const struct log_line *line)
{
	struct run_log_bath bath = { .name = log_line_words(reading->arena, line, 1),
				     .mixed = log_line_words(reading->arena, line, 4) };

	if (line->count < 7 || !log_line_decimal(line, 2, 0, &bath.fill) ||
	    !log_line_decimal(line, 3, 1, &bath.volume_tenth_ml) ||
	    !log_line_decimal(line, 5, MILLI, &bath.done_milli_rolls) ||
	    !log_line_decimal(line, 6, MILLI, &bath.load_milli_rolls))
		return false;
	*reading->next_bath = ARENA_NEW(reading->arena, struct run_log_bath);
	**reading->next_bath = bath;
	reading->next_bath = &(*reading->next_bath)->next;
	return true;
}

static bool read_window(struct reading *reading, const struct log_line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);
	int64_t aim;

	if (step == NULL || !log_line_decimal(line, 2, MILLI, &aim) ||
	    !log_line_decimal(line, 3, MILLI, &step->low_milli_c) ||
	    !log_line_decimal(line, 4, MILLI, &step->high_milli_c) ||
	    !log_line_decimal(line, 5, MILLI, &step->correction_milli_k))
		return false;
	step->aim_milli_c = aim;
	return true;
}

static bool read_development(struct reading *reading, const struct log_line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);
	struct run_log_development development = { 0 };

	if (step == NULL || !log_line_decimal(line, 2, MILLI, &development.time_ms) ||
	    !log_line_decimal(line, 3, MILLI, &development.wanted_ms) ||
	    !log_line_decimal(line, 4, MILLI, &development.working_milli_c) ||
	    !log_line_optional(line, 5, NANO, &development.cooling_nanos) ||
	    !log_line_optional(line, 6, MILLI, &development.surroundings_milli_c) ||
	    !log_line_optional(line, 7, MILLI, &development.met_milli_c) ||
	    !log_line_optional(line, 8, MICRO, &development.met_weight_millionths))
		return false;
	development.is_told = true;
	development.is_there = development.wanted_ms > 0;
	development.rates = step->development.rates;
	step->development = development;
	return true;
}

static bool read_rate(struct reading *reading, const struct log_line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);
	struct run_log_rate rate = { 0 };
	struct run_log_rate **place;

	if (step == NULL || !log_line_decimal(line, 2, MILLI, &rate.temp_milli_c) ||
	    !log_line_decimal(line, 3, MICRO, &rate.rate_millionths) || rate.rate_millionths <= 0)
		return false;
	place = &step->development.rates;
	while (*place != NULL && (*place)->temp_milli_c < rate.temp_milli_c)
		place = &(*place)->next;
	if (*place != NULL && (*place)->temp_milli_c == rate.temp_milli_c)
		return true;
	rate.next = *place;
	*place = ARENA_NEW(reading->arena, struct run_log_rate);
	**place = rate;
	return true;
}

static bool read_plan(const struct log_line *line, struct run_log_plan *plan)
{
	static const char *const forms[] = { "exact", "least", "range", "none" };
	struct run_log_plan read = { 0 };
	size_t form = 0;

	while (form < 4 && !text_equal(log_line_field(line, 5), text_from(forms[form])))
		form++;
	if (form == 4 || !log_line_decimal(line, 6, CENTI, &read.pour_cs) ||
	    !log_line_optional(line, 7, CENTI, &read.drain_cs) || !log_line_optional(line, 8, CENTI, &read.end_cs) ||
	    !log_line_optional(line, 9, CENTI, &read.latest_cs))
		return false;
	read.form = (enum run_log_form)form;
	*plan = read;
	return true;
}

static bool read_plan_step(struct reading *reading, const struct log_line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);

	if (step == NULL || !read_plan(line, &step->plan) || !log_line_decimal(line, 4, 0, &step->bottle))
		return false;
	step->name = log_line_words(reading->arena, line, 2);
	step->bath = log_line_words(reading->arena, line, 3);
	step->planned_drain_cs = step->plan.drain_cs;
	step->planned_end_cs = step->plan.end_cs;
	return true;
}

static bool read_used_step(struct reading *reading, const struct log_line *line)
{
	struct run_log_step *step = step_of(reading, line, 1);

	if (step == NULL || !read_plan(line, &step->plan))
		return false;
	step->has_used = true;
	return true;
}

static bool read_plan_time(struct reading *reading, const struct log_line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);

	if (step == NULL || line->count < 5)
		return false;
	step->why = log_line_words(reading->arena, line, 4);
	return true;
}

static bool read_plan_cue(struct reading *reading, const struct log_line *line)
{
	struct run_log_step *step = step_of(reading, line, 1);

	if (step == NULL || line->count < 4)
		return false;
	step->plan.agitations += text_equal(log_line_field(line, 3), TEXT("agitation-start"));
	return true;
}

static bool read_nothing(struct reading *reading, const struct log_line *line)
{
	(void)reading;
	return line->count > 0;
}

/* ---- what happened ---- */

static void add_remark(const struct reading *reading, struct run_log_step *step, const struct log_line *line)
{
	struct run_log_remark *remark = ARENA_NEW(reading->arena, struct run_log_remark);

	*remark = (struct run_log_remark){ .stamp = log_line_words(reading->arena, line, 1),
					   .word = log_line_words(reading->arena, line, 5),
					   .remark = log_line_words(reading->arena, line, 8) };
	if (step->last_remark == NULL)
		step->remarks = remark;
	else
		step->last_remark->next = remark;
	step->last_remark = remark;
}

static void begin_step(struct reading *reading, struct run_log_step *step, const struct log_line *line)
{
	struct run_log *log = reading->log;

	if (log->started_epoch == RUN_LOG_NONE) {
		log->started_stamp = log_line_words(reading->arena, line, 1);
		log_line_decimal(line, 2, 0, &log->started_epoch);
	}
	step->is_begun = true;
	step->begun_times++;
	step->begun_stamp = log_line_words(reading->arena, line, 1);
	log_line_decimal(line, 2, 0, &step->begun_epoch);
	step->is_over = false;
	step->drained_cs = step->over_cs = RUN_LOG_NONE;
	step->agitations_done = 0;
	step->latest_cue_cs = 0;
}

/* "38.1 C", "100.6 F, too cold": the figure and its scale, made a true temperature. */
static void take_reading(struct run_log_step *step, struct text remark)
{
	const char *blank = memchr(remark.data, ' ', remark.length);
	size_t length = blank == NULL ? remark.length : (size_t)(blank - remark.data);
	int64_t milli;

	if (length + 1 >= remark.length || !log_figure((struct text){ remark.data, length }, MILLI, &milli) ||
	    milli > 1000000 || milli < -1000000)
		return;
	step->reading = (struct text){ remark.data, length + 2 };
	if (remark.data[length + 1] == 'F')
		milli = (milli - 32000) * 5 / 9;
	step->measured_milli_c = milli + step->correction_milli_k;
}

static void take_event(struct reading *reading, struct run_log_step *step, const struct log_line *line)
{
	struct run_log *log = reading->log;
	struct text word = log_line_field(line, 5);

	if (text_equal(word, TEXT("begun"))) {
		begin_step(reading, step, line);
		if (log_line_said(line, 8).length > 0)
			add_remark(reading, step, line);
	} else if (text_equal(word, TEXT("drain-begun"))) {
		log_line_decimal(line, 7, CENTI, &step->drained_cs);
	} else if (text_equal(word, TEXT("step-over"))) {
		step->is_over = log_line_decimal(line, 7, CENTI, &step->over_cs);
	} else if (text_equal(word, TEXT("measured"))) {
		take_reading(step, log_line_words(reading->arena, line, 8));
	} else if (text_equal(word, TEXT("used-time"))) {
		step->why = log_line_words(reading->arena, line, 8);
	} else if (text_equal(word, TEXT("wrong-bottle")) || text_equal(word, TEXT("departure"))) {
		add_remark(reading, step, line);
	}
	if (text_equal(word, TEXT("finished")))
		log->end = RUN_LOG_FINISHED;
	else
		log->end = text_equal(word, TEXT("stopped")) ? RUN_LOG_STOPPED : RUN_LOG_CUT_OFF;
	log->resumed_times += text_equal(word, TEXT("resumed"));
}

static void take_cue(struct run_log *log, struct run_log_step *step, const struct log_line *line)
{
	struct text word = log_line_field(line, 5);
	int64_t planned, actual;

	log->end = RUN_LOG_CUT_OFF;
	if (!log_line_decimal(line, 6, CENTI, &planned) || !log_line_decimal(line, 7, CENTI, &actual))
		return;
	step->agitations_done += text_equal(word, TEXT("agitation-start"));
	if (text_equal(word, TEXT("drain")))
		step->drained_cs = actual;
	if (actual - planned > step->latest_cue_cs && step->drained_cs == RUN_LOG_NONE)
		step->latest_cue_cs = actual - planned;
}

static bool read_happening(struct reading *reading, const struct log_line *line)
{
	struct run_log_step *step = step_of(reading, line, 4);

	if (step == NULL || line->count < 9)
		return false;
	reading->log->last_stamp = log_line_words(reading->arena, line, 1);
	if (text_equal(log_line_field(line, 0), TEXT("cue")))
		take_cue(reading->log, step, line);
	else
		take_event(reading, step, line);
	return true;
}

/* ---- lines ---- */

static const struct {
	const char *word;
	read_line *read;
} line_kinds[] = {
	{ "process", read_process },
	{ "fingerprint", read_fingerprint },
	{ "this-run", read_this_run },
	{ "clock", read_clock },
	{ "load", read_load },
	{ "roll", read_roll },
	{ "plan-bath", read_bath },
	{ "plan-window", read_window },
	{ "plan-develop", read_development },
	{ "plan-rate", read_rate },
	{ "plan-step", read_plan_step },
	{ "plan-time", read_plan_time },
	{ "plan-cue", read_plan_cue },
	{ "used-step", read_used_step },
	{ "used-cue", read_plan_cue },
	{ "columns", read_nothing },
	{ "cue", read_happening },
	{ "event", read_happening },
};

static void read_one(struct reading *reading, struct text bytes, size_t number)
{
	struct log_line line = log_line_split(bytes);
	size_t kind = 0;

	if (bytes.length == 0)
		return;
	while (kind < sizeof(line_kinds) / sizeof(*line_kinds) &&
	       !text_equal(line.fields[0], text_from(line_kinds[kind].word)))
		kind++;
	if (kind < sizeof(line_kinds) / sizeof(*line_kinds) && line_kinds[kind].read(reading, &line))
		return;
	if (reading->log->unread_count++ == 0)
		reading->log->unread_first = number;
}

/* The next line without its end; false at the end of the bytes. */
static bool take_line(struct text *rest, struct text *line, bool *has_end)
{
	const char *end = rest->length == 0 ? NULL : memchr(rest->data, '\n', rest->length);
	size_t length = end == NULL ? rest->length : (size_t)(end - rest->data);

	if (rest->length == 0)
		return false;
	*has_end = end != NULL;
	*line = (struct text){ rest->data, length };
	if (line->length > 0 && line->data[line->length - 1] == '\r')
		line->length--;
	*rest = (struct text){ rest->data + length + *has_end, rest->length - length - *has_end };
	return true;
}

static bool is_first_line(struct text bytes)
{
	struct log_line line = log_line_split(bytes);

	return text_equal(line.fields[0], TEXT("wetside-log")) && text_equal(log_line_field(&line, 1), TEXT("1"));
}

struct run_log *run_log_read(struct text name, struct text bytes, struct arena *arena)
{
	struct run_log *log = ARENA_NEW(arena, struct run_log);
	struct reading reading = { .log = log, .arena = arena, .next_roll = &log->rolls, .next_bath = &log->baths };
	struct text line;
	bool has_end;

	*log = (struct run_log){ .name = name, .speed = 1, .started_epoch = RUN_LOG_NONE };
	if (!take_line(&bytes, &line, &has_end) || !is_first_line(line))
		return NULL;
	for (size_t number = 2; take_line(&bytes, &line, &has_end); number++) {
		log->is_last_cut_off = !has_end;
		if (has_end)
			read_one(&reading, line, number);
	}
	return log;
}
