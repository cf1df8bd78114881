/* Days and rolls as facts. None of them changes a process, so all of them are on record only. */
#include <inttypes.h>

#include "model/date.h"
#include "model/day.h"
#include "model/outline_build.h"

/* Seconds since midnight as the clock shows them: "09:00", and "26:00" for two in the night that follows. */
static void add_hour(const struct outliner *outliner, struct outline *object, const char *key, const char *label,
		     int64_t seconds)
{
	struct outline *fact = outline_add(outliner, object, key, label, OUTLINE_RECORD);

	if (seconds < 0)
		return;
	outline_become(outliner, fact, OUTLINE_OBJECT,
		       text_format(outliner->arena, "%02" PRId64 ":%02" PRId64, seconds / 3600, seconds / 60 % 60));
	outline_put_figure(outliner, fact, "since_midnight_s", seconds, 1);
}

/* Texts of a list, in words with commas between them. */
struct list_of_texts {
	const struct outliner *outliner;
	struct outline *fact;
	struct text_builder words;
};

static struct list_of_texts start_list(const struct outliner *outliner, struct outline *object, const char *key,
				       const char *label)
{
	struct outline *fact = outline_add(outliner, object, key, label, OUTLINE_RECORD);

	fact->form = OUTLINE_LIST;
	return (struct list_of_texts){ outliner, fact, text_builder_start(outliner->arena) };
}

static void add_to_list(struct list_of_texts *list, struct text text)
{
	outline_put_text(list->outliner, list->fact, NULL, text);
	outline_join(&list->words, ", ");
	text_append(&list->words, text);
	list->fact->words = text_builder_text(&list->words);
}

static struct text name_of(const struct outliner *outliner, struct name_reference name)
{
	return intern_text(outliner->recipe->names, name.name);
}

/* ---- rolls ------------------------------------------------------------------------------------------------------ */

static struct text family_word(enum family_id family)
{
	return family == FAMILY_COUNT ? TEXT("") : family_row(family)->word;
}

static void add_fields(const struct outliner *outliner, struct outline *object, const struct roll *roll)
{
	struct outline *fact = outline_add(outliner, object, "fields", "other columns", OUTLINE_RECORD);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (const struct roll_field *field = roll->fields; field != NULL; field = field->next) {
		struct outline *item = outline_put_object(outliner, fact, NULL);

		outline_put_text(outliner, item, "column", field->name);
		outline_put_text(outliner, item, "value", field->value);
		outline_join(&words, ", ");
		text_append_format(&words, "%.*s: %.*s", TEXT_ARGUMENT(field->name), TEXT_ARGUMENT(field->value));
	}
	fact->words = text_builder_text(&words);
}

static void add_conditions(const struct outliner *outliner, struct outline *object, const struct roll *roll)
{
	struct list_of_texts list = start_list(outliner, object, "condition", "condition");

	for (int i = 0; i < CONDITION_COUNT; i++)
		if ((roll->conditions & (condition_set)1 << i) != 0)
			add_to_list(&list, condition_row((enum condition_id)i)->word);
}

/* Everything but titles and notes is on record. */
static void set_on_record(struct outline *outline)
{
	if (outline->matter == OUTLINE_RUN)
		outline->matter = OUTLINE_RECORD;
	for (struct outline *part = outline->first; part != NULL; part = part->next)
		set_on_record(part);
}

static struct outline *outline_roll(const struct outliner *outliner, const struct roll *roll)
{
	struct outline *object = outline_named(outliner, "roll", roll->label);

#define ADD_TEXT(key, label, text) outline_add_text(outliner, object, (key), (label), OUTLINE_RECORD, (text))
	outline_add_text(outliner, object, "title", "title", OUTLINE_WORDING, roll->title.text);
	ADD_TEXT("film_format", "format", roll->format == FORMAT_COUNT ? TEXT("") : format_row(roll->format)->word);
	outline_add_quantity(outliner, object, "exposures", "exposures", &roll->exposures, OUTLINE_COUNT);
	outline_add_quantity(outliner, object, "length", "length", &roll->length, OUTLINE_LENGTH);
	ADD_TEXT("needs", "needs", family_word(roll->needs));
	ADD_TEXT("develop_as", "developed as", family_word(roll->develop_as));
	ADD_TEXT("reason", "because", roll->develop_reason.text);
	ADD_TEXT("decided_by", "decided by", roll->decided_by);
	ADD_TEXT("film", "film", name_of(outliner, roll->film_name));
	ADD_TEXT("origin", "origin", roll->origin);
	ADD_TEXT("together", "kept together with", roll->together);
	outline_add_flag(outliner, object, "urgent", "urgent", roll->is_urgent);
	outline_add_flag(outliner, object, "precious", "precious", roll->is_precious);
	outline_add_quantity(outliner, object, "push", "push", &roll->push, OUTLINE_STOPS);
	add_conditions(outliner, object, roll);
	outline_add_quantity(outliner, object, "made", "made", &roll->made, OUTLINE_COUNT);
	ADD_TEXT("mark", "mark", roll->mark);
	ADD_TEXT("process", "process", name_of(outliner, roll->run_name));
	ADD_TEXT("set_aside", "set aside", roll->set_aside.text);
	add_fields(outliner, object, roll);
	outline_add_prose(outliner, object, roll->notes, roll->allowances);
#undef ADD_TEXT
	set_on_record(object);
	return object;
}

static void add_rolls(const struct outliner *outliner, struct outline *object, const struct roll *roll)
{
	struct outline *list = outline_add_list(outliner, object, "rolls");

	for (; roll != NULL; roll = roll->next)
		outline_attach(list, outline_roll(outliner, roll));
}

void outline_add_loose_rolls(const struct outliner *outliner, struct outline *root)
{
	const struct recipe *recipe = outliner->recipe;
	bool is_taken = false;

	for (size_t i = 0; i < recipe->day_count; i++)
		is_taken = is_taken || recipe->days[i]->declared.is_in_main_file;
	add_rolls(outliner, root, is_taken ? NULL : recipe->rolls);
}

/* ---- days ------------------------------------------------------------------------------------------------------- */

static void add_names(const struct outliner *outliner, struct outline *object, const struct day *day)
{
	struct list_of_texts runs = start_list(outliner, object, "runs", "runs");
	struct list_of_texts tanks;

	for (size_t i = 0; i < day->run_count; i++)
		add_to_list(&runs, name_of(outliner, day->runs[i].name));
	tanks = start_list(outliner, object, "tanks", "tanks");
	for (size_t i = 0; i < day->tank_count; i++)
		add_to_list(&tanks, name_of(outliner, day->tanks[i].name));
}

static void add_reels(const struct outliner *outliner, struct outline *object, const struct day *day)
{
	struct outline *fact = outline_add(outliner, object, "reels", "reels", OUTLINE_RECORD);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (size_t i = 0; i < day->reels_count; i++) {
		struct outline *item = outline_put_object(outliner, fact, NULL);
		struct text format = format_row(day->reels[i].format)->word;

		outline_put_text(outliner, item, "film", format);
		outline_put_figure(outliner, item, "pieces", day->reels[i].count, 1);
		outline_join(&words, ", ");
		text_append_format(&words, "%" PRId64 " × %.*s", day->reels[i].count, TEXT_ARGUMENT(format));
	}
	fact->words = text_builder_text(&words);
}

static void add_breaks(const struct outliner *outliner, struct outline *object, const struct day *day)
{
	struct outline *fact = outline_add(outliner, object, "breaks", "breaks", OUTLINE_RECORD);
	struct text_builder words = text_builder_start(outliner->arena);

	fact->form = OUTLINE_LIST;
	for (size_t i = 0; i < day->break_count; i++) {
		const struct day_break *pause = &day->breaks[i];
		struct outline *item = outline_put_object(outliner, fact, NULL);
		struct text lasts = outline_print(outliner, pause->lasts_s * MILLISECONDS_PER_SECOND, OUTLINE_DURATION);

		outline_put_figure(outliner, item, "since_midnight_s", pause->start_s, 1);
		outline_put_figure(outliner, item, "time_s", pause->lasts_s, 1);
		outline_join(&words, ", ");
		text_append_format(&words, "%02" PRId64 ":%02" PRId64 " for %.*s", pause->start_s / 3600,
				   pause->start_s / 60 % 60, TEXT_ARGUMENT(lasts));
	}
	fact->words = text_builder_text(&words);
}

static void add_times(const struct outliner *outliner, struct outline *object, const struct day *day)
{
	static const char *const keys[DAY_TIME_COUNT] = {
#define DAY_TIME(id, word, usual_s, summary) #id,
#include "model/day_times.def"
#undef DAY_TIME
	};

	for (int i = 0; i < DAY_TIME_COUNT; i++)
		outline_add_quantity(outliner, object, keys[i], day_time_row((enum day_time)i)->word.data,
				     &day->times[i], OUTLINE_DURATION);
}

static void add_clock(const struct outliner *outliner, struct outline *object, const struct day *day)
{
	struct outline *changes = outline_add(outliner, object, "clock_changes", "clock changes", OUTLINE_RECORD);
	struct outline *offset = outline_add(outliner, object, "utc_offset", "ahead of UTC", OUTLINE_RECORD);

	if (day->clock_from_s != day->clock_to_s) {
		outline_become(outliner, changes, OUTLINE_OBJECT,
			       text_format(outliner->arena, "%02" PRId64 ":%02" PRId64 " to %02" PRId64 ":%02" PRId64,
					   day->clock_from_s / 3600, day->clock_from_s / 60 % 60,
					   day->clock_to_s / 3600, day->clock_to_s / 60 % 60));
		outline_put_figure(outliner, changes, "from_s", day->clock_from_s, 1);
		outline_put_figure(outliner, changes, "to_s", day->clock_to_s, 1);
	}
	if (span_is_set(day->utc_span)) {
		outline_become(outliner, offset, OUTLINE_OBJECT,
			       text_format(outliner->arena, "%" PRId64 " min", day->utc_offset_s / 60));
		outline_put_figure(outliner, offset, "time_s", day->utc_offset_s, 1);
	}
}

struct outline *outline_day(const struct outliner *outliner, const struct day *day)
{
	struct outline *object =
		outline_named(outliner, "day", intern_text(outliner->recipe->names, day->declared.name));
	struct outline *list;

	outline_add_title(outliner, object, &day->declared);
	add_hour(outliner, object, "start", "starts at", span_is_set(day->start_span) ? day->start_s : -1);
	add_hour(outliner, object, "finish", "is done by", day->finish_s);
	add_breaks(outliner, object, day);
	outline_add_quantity(outliner, object, "room", "room", &day->room, OUTLINE_TEMPERATURE);
	add_names(outliner, object, day);
	add_reels(outliner, object, day);
	outline_add_text(outliner, object, "dryer", "dryer", OUTLINE_RECORD, name_of(outliner, day->dryer_name));
	add_times(outliner, object, day);
	add_clock(outliner, object, day);
	list = outline_add_list(outliner, object, "on_hand");
	for (const struct day_on_hand *bath = day->on_hand; bath != NULL; bath = bath->next) {
		struct outline *item = outline_on_hand(outliner, &bath->on_hand);

		outline_add_flag(outliner, item, "tested", "is tested", bath->is_tested);
		outline_attach(list, item);
	}
	outline_add_prose(outliner, object, day->declared.notes, day->declared.allowances);
	add_rolls(outliner, object, day->rolls);
	set_on_record(object);
	return object;
}
