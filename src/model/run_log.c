#include "model/run_log.h"

#include <string.h>

#include "support/limits.h"
#include "support/utf8.h"

/* A line has at most so many fields that mean something. */
#define FIELDS_MOST 12

#define CENTI 2
#define MILLI 3
#define MICRO 6
#define NANO 9

struct line {
	struct text fields[FIELDS_MOST];
	size_t count;
};

struct reading {
	struct run_log *log;
	struct arena *arena;
	size_t capacity; /* of log->steps */
	struct run_log_roll **next_roll;
	struct run_log_bath **next_bath;
};

typedef bool read_line(struct reading *reading, const struct line *line);

/* ---- figures and texts ---- */

static struct text field(const struct line *line, size_t index)
{
	return index < line->count ? line->fields[index] : TEXT("");
}

/* A dash stands where there is nothing. */
static struct text said(const struct line *line, size_t index)
{
	struct text text = field(line, index);

	return text_equal(text, TEXT("-")) ? TEXT("") : text;
}

/* The same of what a person wrote: a damaged log may hold any bytes. */
static struct text words(const struct reading *reading, const struct line *line, size_t index)
{
	return utf8_harmless(reading->arena, said(line, index));
}

/* No log of a run holds a larger count; sums and shares of such are within 64 bits. */
#define COUNT_MOST ((int64_t)1000000 * 1000000 * 1000)

/* A decimal figure as a count of its last of `decimals` places; surplus ones are dropped. */
static bool read_decimal(struct text text, int decimals, int64_t *value)
{
	bool is_negative = text.length > 0 && text.data[0] == '-';
	size_t i = is_negative ? 1 : 0, digits = 0;
	int64_t count = 0;
	int places = -1;

	for (; i < text.length && places < decimals; i++) {
		char byte = text.data[i];

		if (byte == '.' && places < 0) {
			places = 0;
			continue;
		}
		if (byte < '0' || byte > '9' || ++digits > 18)
			return false;
		count = count * 10 + (byte - '0');
		places += places >= 0;
	}
	for (; i < text.length; i++)
		if (text.data[i] < '0' || text.data[i] > '9')
			return false;
	for (places = places < 0 ? 0 : places; places < decimals; places++) {
		if (count > INT64_MAX / 10)
			return false;
		count *= 10;
	}
	*value = is_negative ? -count : count;
	return digits > 0 && count <= COUNT_MOST;
}

static bool take_decimal(const struct line *line, size_t index, int decimals, int64_t *value)
{
	return read_decimal(field(line, index), decimals, value);
}

/* The same where a dash means that there is none. */
static bool take_optional(const struct line *line, size_t index, int decimals, int64_t *value)
{
	*value = RUN_LOG_NONE;
	return said(line, index).length == 0 || take_decimal(line, index, decimals, value);
}

static struct run_log_step *step_of(const struct reading *reading, const struct line *line, size_t index)
{
	int64_t number;

	if (!take_decimal(line, index, 0, &number) || number < 1 || (uint64_t)number > reading->log->step_count)
		return NULL;
	return &reading->log->steps[number - 1];
}

/* The step of a line of the head: those that are not known yet are made. */
static struct run_log_step *make_step(struct reading *reading, const struct line *line, size_t index)
{
	struct run_log *log = reading->log;
	int64_t number;

	if (!take_decimal(line, index, 0, &number) || number < 1 || number > (int64_t)limit_value(LIMIT_LOG_STEPS))
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

static bool read_process(struct reading *reading, const struct line *line)
{
	reading->log->process = words(reading, line, 1);
	reading->log->title = words(reading, line, 2);
	return line->count >= 2;
}

static bool read_fingerprint(struct reading *reading, const struct line *line)
{
	reading->log->fingerprint = words(reading, line, 1);
	return line->count >= 2;
}

static bool read_this_run(struct reading *reading, const struct line *line)
{
	reading->log->this_run = words(reading, line, 1);
	return line->count >= 2;
}

static bool read_clock(struct reading *reading, const struct line *line)
{
	return take_decimal(line, 3, 0, &reading->log->speed);
}

static bool read_load(struct reading *reading, const struct line *line)
{
	struct run_log *log = reading->log;

	log->day = words(reading, line, 3);
	log->day_title = words(reading, line, 4);
	return take_decimal(line, 1, 0, &log->load_number) && take_decimal(line, 2, 0, &log->load_count);
}

static bool read_roll(struct reading *reading, const struct line *line)
{
	struct run_log_roll roll = { .label = words(reading, line, 2),
				     .format = words(reading, line, 3),
				     .origin = words(reading, line, 4),
				     .together = words(reading, line, 5),
				     .mark = words(reading, line, 6) };

	if (line->count < 8 || !take_decimal(line, 1, 0, &roll.reel) ||
	    !take_decimal(line, 7, MILLI, &roll.area_milli_rolls))
		return false;
	*reading->next_roll = ARENA_NEW(reading->arena, struct run_log_roll);
	**reading->next_roll = roll;
	reading->next_roll = &(*reading->next_roll)->next;
	reading->log->roll_count++;
	return true;
}

static bool read_bath(struct reading *reading, const struct line *line)
{
	struct run_log_bath bath = { .name = words(reading, line, 1), .mixed = words(reading, line, 4) };

	if (line->count < 7 || !take_decimal(line, 2, 0, &bath.fill) ||
	    !take_decimal(line, 3, 1, &bath.volume_tenth_ml) || !take_decimal(line, 5, MILLI, &bath.done_milli_rolls) ||
	    !take_decimal(line, 6, MILLI, &bath.load_milli_rolls))
		return false;
	*reading->next_bath = ARENA_NEW(reading->arena, struct run_log_bath);
	**reading->next_bath = bath;
	reading->next_bath = &(*reading->next_bath)->next;
	return true;
}

static bool read_window(struct reading *reading, const struct line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);
	int64_t aim;

	if (step == NULL || !take_decimal(line, 2, MILLI, &aim) || !take_decimal(line, 3, MILLI, &step->low_milli_c) ||
	    !take_decimal(line, 4, MILLI, &step->high_milli_c) ||
	    !take_decimal(line, 5, MILLI, &step->correction_milli_k))
		return false;
	step->aim_milli_c = aim;
	return true;
}

static bool read_development(struct reading *reading, const struct line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);
	struct run_log_development development = { 0 };

	if (step == NULL || !take_decimal(line, 2, MILLI, &development.time_ms) ||
	    !take_decimal(line, 3, MILLI, &development.wanted_ms) ||
	    !take_decimal(line, 4, MILLI, &development.working_milli_c) ||
	    !take_optional(line, 5, NANO, &development.cooling_nanos) ||
	    !take_optional(line, 6, MILLI, &development.surroundings_milli_c) ||
	    !take_optional(line, 7, MILLI, &development.met_milli_c) ||
	    !take_optional(line, 8, MICRO, &development.met_weight_millionths))
		return false;
	development.is_there = development.wanted_ms > 0;
	development.rates = step->development.rates;
	step->development = development;
	return true;
}

static bool read_rate(struct reading *reading, const struct line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);
	struct run_log_rate rate = { 0 };
	struct run_log_rate **place;

	if (step == NULL || !take_decimal(line, 2, MILLI, &rate.temp_milli_c) ||
	    !take_decimal(line, 3, MICRO, &rate.rate_millionths) || rate.rate_millionths <= 0)
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

static bool read_plan(const struct line *line, struct run_log_plan *plan)
{
	static const char *const forms[] = { "exact", "least", "range", "none" };
	struct run_log_plan read = { 0 };
	size_t form = 0;

	while (form < 4 && !text_equal(field(line, 5), text_from(forms[form])))
		form++;
	if (form == 4 || !take_decimal(line, 6, CENTI, &read.pour_cs) ||
	    !take_optional(line, 7, CENTI, &read.drain_cs) || !take_optional(line, 8, CENTI, &read.end_cs) ||
	    !take_optional(line, 9, CENTI, &read.latest_cs))
		return false;
	read.form = (enum run_log_form)form;
	*plan = read;
	return true;
}

static bool read_plan_step(struct reading *reading, const struct line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);

	if (step == NULL || !read_plan(line, &step->plan) || !take_decimal(line, 4, 0, &step->bottle))
		return false;
	step->name = words(reading, line, 2);
	step->bath = words(reading, line, 3);
	step->planned_drain_cs = step->plan.drain_cs;
	step->planned_end_cs = step->plan.end_cs;
	return true;
}

static bool read_used_step(struct reading *reading, const struct line *line)
{
	struct run_log_step *step = step_of(reading, line, 1);

	if (step == NULL || !read_plan(line, &step->plan))
		return false;
	step->has_used = true;
	return true;
}

static bool read_plan_time(struct reading *reading, const struct line *line)
{
	struct run_log_step *step = make_step(reading, line, 1);

	if (step == NULL || line->count < 5)
		return false;
	step->why = words(reading, line, 4);
	return true;
}

static bool read_plan_cue(struct reading *reading, const struct line *line)
{
	struct run_log_step *step = step_of(reading, line, 1);

	if (step == NULL || line->count < 4)
		return false;
	step->plan.agitations += text_equal(field(line, 3), TEXT("agitation-start"));
	return true;
}

static bool read_nothing(struct reading *reading, const struct line *line)
{
	(void)reading;
	return line->count > 0;
}

/* ---- what happened ---- */

static void add_remark(const struct reading *reading, struct run_log_step *step, const struct line *line)
{
	struct run_log_remark *remark = ARENA_NEW(reading->arena, struct run_log_remark);

	*remark = (struct run_log_remark){ .stamp = words(reading, line, 1),
					   .word = words(reading, line, 5),
					   .remark = words(reading, line, 8) };
	if (step->last_remark == NULL)
		step->remarks = remark;
	else
		step->last_remark->next = remark;
	step->last_remark = remark;
}

static void begin_step(struct reading *reading, struct run_log_step *step, const struct line *line)
{
	struct run_log *log = reading->log;

	if (log->started_epoch == RUN_LOG_NONE) {
		log->started_stamp = words(reading, line, 1);
		take_decimal(line, 2, 0, &log->started_epoch);
	}
	step->is_begun = true;
	step->begun_times++;
	step->begun_stamp = words(reading, line, 1);
	take_decimal(line, 2, 0, &step->begun_epoch);
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

	if (length + 1 >= remark.length || !read_decimal((struct text){ remark.data, length }, MILLI, &milli) ||
	    milli > 1000000 || milli < -1000000)
		return;
	step->reading = (struct text){ remark.data, length + 2 };
	if (remark.data[length + 1] == 'F')
		milli = (milli - 32000) * 5 / 9;
	step->measured_milli_c = milli + step->correction_milli_k;
}

static void take_event(struct reading *reading, struct run_log_step *step, const struct line *line)
{
	struct run_log *log = reading->log;
	struct text word = field(line, 5);

	if (text_equal(word, TEXT("begun"))) {
		begin_step(reading, step, line);
		if (said(line, 8).length > 0)
			add_remark(reading, step, line);
	} else if (text_equal(word, TEXT("drain-begun"))) {
		take_decimal(line, 7, CENTI, &step->drained_cs);
	} else if (text_equal(word, TEXT("step-over"))) {
		step->is_over = take_decimal(line, 7, CENTI, &step->over_cs);
	} else if (text_equal(word, TEXT("measured"))) {
		take_reading(step, words(reading, line, 8));
	} else if (text_equal(word, TEXT("used-time"))) {
		step->why = words(reading, line, 8);
	} else if (text_equal(word, TEXT("wrong-bottle")) || text_equal(word, TEXT("departure"))) {
		add_remark(reading, step, line);
	}
	if (text_equal(word, TEXT("finished")))
		log->end = RUN_LOG_FINISHED;
	else
		log->end = text_equal(word, TEXT("stopped")) ? RUN_LOG_STOPPED : RUN_LOG_CUT_OFF;
	log->resumed_times += text_equal(word, TEXT("resumed"));
}

static void take_cue(struct run_log *log, struct run_log_step *step, const struct line *line)
{
	struct text word = field(line, 5);
	int64_t planned, actual;

	log->end = RUN_LOG_CUT_OFF;
	if (!take_decimal(line, 6, CENTI, &planned) || !take_decimal(line, 7, CENTI, &actual))
		return;
	step->agitations_done += text_equal(word, TEXT("agitation-start"));
	if (text_equal(word, TEXT("drain")))
		step->drained_cs = actual;
	if (actual - planned > step->latest_cue_cs && step->drained_cs == RUN_LOG_NONE)
		step->latest_cue_cs = actual - planned;
}

static bool read_happening(struct reading *reading, const struct line *line)
{
	struct run_log_step *step = step_of(reading, line, 4);

	if (step == NULL || line->count < 9)
		return false;
	reading->log->last_stamp = words(reading, line, 1);
	if (text_equal(field(line, 0), TEXT("cue")))
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

static struct line split(struct text bytes)
{
	struct line line = { .count = 0 };

	while (line.count < FIELDS_MOST) {
		const char *tab = bytes.length == 0 ? NULL : memchr(bytes.data, '\t', bytes.length);
		size_t length = tab == NULL ? bytes.length : (size_t)(tab - bytes.data);

		line.fields[line.count++] = (struct text){ bytes.data, length };
		if (tab == NULL)
			break;
		bytes = (struct text){ tab + 1, bytes.length - length - 1 };
	}
	return line;
}

static void read_one(struct reading *reading, struct text bytes, size_t number)
{
	struct line line = split(bytes);
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

struct run_log *run_log_read(struct text name, struct text bytes, struct arena *arena)
{
	struct run_log *log = ARENA_NEW(arena, struct run_log);
	struct reading reading = { .log = log, .arena = arena, .next_roll = &log->rolls, .next_bath = &log->baths };
	struct text line;
	bool has_end;

	*log = (struct run_log){ .name = name, .speed = 1, .started_epoch = RUN_LOG_NONE };
	if (!take_line(&bytes, &line, &has_end) || !text_equal(line, TEXT("wetside-log\t1")))
		return NULL;
	for (size_t number = 2; take_line(&bytes, &line, &has_end); number++) {
		log->is_last_cut_off = !has_end;
		if (has_end)
			read_one(&reading, line, number);
	}
	return log;
}
