/* Rolls files: each row of comma-separated values is a roll, or a finding that says what is wrong with it. */
#include <string.h>

#include "model/resolve_day.h"
#include "support/csv.h"
#include "support/utf8.h"

enum column {
#define COLUMN(id, name) COLUMN_##id,
#include "model/roll_columns.def"
#undef COLUMN
	COLUMN_COUNT
};

static const char *const column_names[COLUMN_COUNT] = {
#define COLUMN(id, name) name,
#include "model/roll_columns.def"
#undef COLUMN
};

/* A file with its header. `columns` says what each field is, COLUMN_COUNT where the program has no meaning for it. */
struct rolls_file {
	struct recipe *recipe;
	const struct source_file *file;
	enum column *columns;
	struct text *names; /* of the columns, as written */
	size_t column_count;
};

/* A row that is being read. */
struct row {
	const struct rolls_file *in;
	struct roll *roll;
	struct placed_text fields[COLUMN_COUNT]; /* without blanks around them; empty where not said */
};

static struct text trimmed(struct text text)
{
	while (text.length > 0 && strchr(" \t\r\n", text.data[0]) != NULL)
		text = (struct text){ text.data + 1, text.length - 1 };
	while (text.length > 0 && strchr(" \t\r\n", text.data[text.length - 1]) != NULL)
		text.length--;
	return text;
}

static struct span span_at(const struct rolls_file *file, size_t begin, size_t length)
{
	return (struct span){ file->file->base + (uint32_t)begin, (uint32_t)length };
}

static struct span field_span(const struct rolls_file *file, const struct csv_field *field)
{
	return span_at(file, field->begin, field->length);
}

/* ---- rows that cannot be read ----------------------------------------------------------------------------------- */

static void complain_row(const struct rolls_file *file, struct span span, const char *problem, const char *help)
{
	struct report *report = file->recipe->report;

	report_help(report, report_add(report, CHECK_syntax, span, "%s", problem), "%s", help);
}

static bool has_good_quotes(const struct rolls_file *file, const struct csv_row *row)
{
	struct span place = span_at(file, row->problem_at, 1);

	switch (row->problem) {
	case CSV_FINE:
		return true;
	case CSV_OPEN_QUOTE:
		complain_row(file, place, "this quote is not closed",
			     "a field that begins with a quote ends with one; a quote inside it is doubled");
		return false;
	case CSV_STRAY_QUOTE:
		complain_row(file, place, "a quote inside a field that does not begin with one",
			     "put the whole field in quotes and double those inside it");
		return false;
	case CSV_AFTER_QUOTE:
		break;
	}
	complain_row(file, place, "something stands between a closing quote and the comma",
		     "a quote inside a field in quotes is doubled");
	return false;
}

static bool has_good_bytes(const struct rolls_file *file, const struct csv_row *row)
{
	struct text text = { file->file->bytes + row->begin, row->length };
	const char *nul = memchr(text.data, '\0', text.length);
	size_t wrong = utf8_first_invalid(text);

	if (nul != NULL) {
		complain_row(file, span_at(file, row->begin + (size_t)(nul - text.data), 1), "a NUL byte in this row",
			     "this is not a text file, or it is not in UTF-8");
		return false;
	}
	if (wrong == text.length)
		return true;
	complain_row(file, span_at(file, row->begin + wrong, 1), "this byte is not valid UTF-8",
		     "save the file in UTF-8");
	return false;
}

static bool has_right_count(const struct rolls_file *file, const struct csv_row *row)
{
	struct report *report = file->recipe->report;
	const struct csv_field *last = &row->fields[row->count - 1];
	struct diagnostic *finding;

	if (row->count == file->column_count)
		return true;
	finding = report_add(report, CHECK_syntax,
			     row->count > file->column_count ? field_span(file, &row->fields[file->column_count])
							     : field_span(file, last),
			     "this row has %zu field%s where the header has %zu", row->count,
			     row->count == 1 ? "" : "s", file->column_count);
	report_help(report, finding,
		    row->count > file->column_count ? "a field with a comma in it stands in quotes"
						    : "fields that are left empty keep their commas");
	return false;
}

static bool is_blank(const struct csv_row *row)
{
	for (size_t i = 0; i < row->count; i++)
		if (trimmed(row->fields[i].text).length > 0)
			return false;
	return row->problem == CSV_FINE;
}

/* What cannot be seen in a text is said, as it is of a recipe's. */
static void screen(const struct rolls_file *file, const struct csv_row *row)
{
	for (size_t at = 0; at < row->length;) {
		const char *byte = file->file->bytes + row->begin + at;
		int32_t character = (unsigned char)*byte;
		int length = 1;

		if (*byte < 0x20 || *byte > 0x7e)
			length = utf8_decode((struct text){ byte, row->length - at }, &character);
		if (utf8_is_hidden(character))
			report_add(file->recipe->report, CHECK_hidden_character,
				   span_at(file, row->begin + at, (size_t)length),
				   "the character U+%04X cannot be seen, or changes the direction of the text",
				   (unsigned)character);
		at += length < 1 ? 1 : (size_t)length;
	}
}

/* ---- facts ------------------------------------------------------------------------------------------------------ */

/* A figure with its unit, or a plain number in thousandths. */
static bool take_figure(const struct row *row, enum column column, enum quantity_kind kind, struct quantity *quantity)
{
	struct placed_text value = row->fields[column];
	struct report *report = row->in->recipe->report;
	const char *problem;

	if (value.text.length == 0)
		return false;
	problem = value.text.data[0] >= '0' && value.text.data[0] <= '9'
			  ? quantity_parse(value.text, kind, &quantity->value)
			  : "is no figure";
	if (problem != NULL) {
		report_add(report, CHECK_figure_out_of_range, value.span, "`%.*s` %s", TEXT_ARGUMENT(value.text),
			   problem);
		return false;
	}
	quantity->span = value.span;
	return true;
}

static void take_count(const struct row *row, enum column column, struct quantity *count)
{
	if (!take_figure(row, column, QUANTITY_COUNT, count))
		return;
	if (count->value % 1000 != 0 || count->value < 1000) {
		report_add(row->in->recipe->report, CHECK_figure_out_of_range, row->fields[column].span,
			   "`%.*s` is not a whole number of at least 1", TEXT_ARGUMENT(row->fields[column].text));
		*count = (struct quantity){ 0 };
		return;
	}
	count->value /= 1000;
}

static bool is_one_of(struct text text, const char *words)
{
	size_t length = strcspn(words, " ");

	for (; length > 0; words += length + (words[length] == ' '), length = strcspn(words, " ")) {
		bool is_same = text.length == length;

		for (size_t i = 0; is_same && i < length; i++)
			is_same = (text.data[i] | (text.data[i] >= 'A' && text.data[i] <= 'Z' ? 0x20 : 0)) == words[i];
		if (is_same)
			return true;
	}
	return false;
}

static void take_flag(const struct row *row, enum column column, bool *flag, struct span *span)
{
	struct placed_text value = row->fields[column];
	struct report *report = row->in->recipe->report;

	if (value.text.length == 0 || is_one_of(value.text, "no 0"))
		return;
	if (!is_one_of(value.text, "yes x 1")) {
		report_help(report,
			    report_add(report, CHECK_unknown_name, value.span, "`%.*s` is neither yes nor no",
				       TEXT_ARGUMENT(value.text)),
			    "write yes, x or 1; no, 0 or nothing");
		return;
	}
	*flag = true;
	*span = value.span;
}

/* A push and a pull: 0 is none. */
static void take_push(const struct row *row)
{
	struct quantity push = { 0 };
	struct quantity pull = { 0 };
	bool is_pushed = take_figure(row, COLUMN_push, QUANTITY_COUNT, &push) && push.value > 0;
	bool is_pulled = take_figure(row, COLUMN_pull, QUANTITY_COUNT, &pull) && pull.value > 0;

	if (is_pushed && is_pulled)
		report_add(row->in->recipe->report, CHECK_out_of_place, pull.span, "a push and a pull of one roll");
	if (is_pushed)
		row->roll->push = push;
	else if (is_pulled)
		row->roll->push = (struct quantity){ -pull.value, pull.span, UNIT_none };
}

/* The place of a word is its own, where it is written as it reads. */
static struct placed_text word_within(const struct rolls_file *file, struct placed_text value, size_t begin, size_t end)
{
	struct placed_text word = { { value.text.data + begin, end - begin }, value.span };
	const char *bytes = file->file->bytes;

	if (word.text.data >= bytes && word.text.data < bytes + file->file->length)
		word.span = span_at(file, (size_t)(word.text.data - bytes), word.text.length);
	return word;
}

/* Words with spaces, plus signs or semicolons between them. */
static void take_conditions(const struct row *row)
{
	struct placed_text value = row->fields[COLUMN_condition];

	for (size_t at = 0; at < value.text.length;) {
		size_t end = at;

		while (end < value.text.length && strchr(" +;\t\r\n", value.text.data[end]) == NULL)
			end++;
		if (end > at)
			roll_add_condition(row->in->recipe, row->roll, word_within(row->in, value, at, end));
		at = end + 1;
	}
}

static void take_text(const struct row *row, enum column column, struct text *text, struct span *span)
{
	struct placed_text value = row->fields[column];

	if (value.text.length == 0)
		return;
	*text = roll_text(row->in->recipe, value.text);
	*span = value.span;
}

static void take_prose(const struct row *row, enum column column, struct prose *prose)
{
	if (row->fields[column].text.length > 0)
		*prose = (struct prose){ row->fields[column].text, row->fields[column].span };
}

static void take_name(const struct row *row, enum column column, struct name_reference *name)
{
	if (row->fields[column].text.length > 0)
		roll_set_name(row->in->recipe, name, row->fields[column]);
}

static void take_note(const struct row *row)
{
	if (row->fields[COLUMN_note].text.length == 0)
		return;
	row->roll->notes = ARENA_NEW(row->in->recipe->arena, struct note);
	take_prose(row, COLUMN_note, &row->roll->notes->prose);
}

static void take_families(const struct row *row)
{
	struct recipe *recipe = row->in->recipe;
	struct roll *roll = row->roll;

	if (row->fields[COLUMN_needs].text.length > 0)
		roll_set_needs(recipe, roll, row->fields[COLUMN_needs]);
	if (row->fields[COLUMN_develop_as].text.length > 0)
		roll_set_develop_as(recipe, roll, row->fields[COLUMN_develop_as]);
	take_prose(row, COLUMN_reason, &roll->develop_reason);
	if (span_is_set(roll->develop_reason.span) && !span_is_set(roll->develop_span))
		report_help(recipe->report,
			    report_add(recipe->report, CHECK_out_of_place, roll->develop_reason.span,
				       "a reason for nothing"),
			    "it says why a roll is developed as something else, see `develop as`");
}

static void take_all(const struct row *row)
{
	struct roll *roll = row->roll;

	take_count(row, COLUMN_exposures, &roll->exposures);
	take_figure(row, COLUMN_length, QUANTITY_LENGTH, &roll->length);
	take_families(row);
	take_text(row, COLUMN_decided_by, &roll->decided_by, &roll->decided_span);
	take_name(row, COLUMN_film, &roll->film_name);
	take_text(row, COLUMN_origin, &roll->origin, &roll->origin_span);
	take_text(row, COLUMN_together, &roll->together, &roll->together_span);
	take_flag(row, COLUMN_urgent, &roll->is_urgent, &roll->urgent_span);
	take_flag(row, COLUMN_precious, &roll->is_precious, &roll->precious_span);
	take_push(row);
	take_conditions(row);
	take_count(row, COLUMN_made, &roll->made);
	take_text(row, COLUMN_mark, &roll->mark, &roll->mark_span);
	take_name(row, COLUMN_process, &roll->run_name);
	take_prose(row, COLUMN_set_aside, &roll->set_aside);
	take_prose(row, COLUMN_title, &roll->title);
	take_note(row);
}

/* ---- rows ------------------------------------------------------------------------------------------------------- */

static void keep_field(const struct rolls_file *file, struct roll_field **end, size_t column, struct text value)
{
	*end = ARENA_NEW(file->recipe->arena, struct roll_field);
	(*end)->name = file->names[column];
	(*end)->value = value;
}

static void complain_empty(const struct rolls_file *file, struct span span, const char *problem)
{
	report_add(file->recipe->report, CHECK_missing_clause, span, "%s", problem);
}

static void read_row(const struct rolls_file *file, const struct csv_row *fields, struct roll_list *rolls)
{
	struct row row = { .in = file, .roll = roll_new(file->recipe) };
	struct roll_field **end = &row.roll->fields;
	struct roll *roll = row.roll;

	roll->whole = span_at(file, fields->begin, fields->length);
	for (size_t i = 0; i < fields->count; i++) {
		struct placed_text value = { trimmed(fields->fields[i].text), field_span(file, &fields->fields[i]) };

		if (file->columns[i] != COLUMN_COUNT) {
			row.fields[file->columns[i]] = value;
		} else {
			keep_field(file, end, i, fields->fields[i].text);
			end = &(*end)->next;
		}
	}
	if (row.fields[COLUMN_label].text.length == 0) {
		complain_empty(file, fields->length == 0 ? row.fields[COLUMN_label].span : roll->whole,
			       "a roll without a label");
		return;
	}
	roll_set_label(file->recipe, roll, row.fields[COLUMN_label]);
	if (row.fields[COLUMN_format].text.length > 0) {
		roll_set_format(file->recipe, roll, row.fields[COLUMN_format]);
	} else {
		roll->format_span = row.fields[COLUMN_format].span;
		complain_empty(file, roll->span, "a roll without its format");
	}
	take_all(&row);
	roll_finish(file->recipe, roll);
	roll_list_add(rolls, roll);
}

/* ---- the header ------------------------------------------------------------------------------------------------- */

/* A name of a column in lower case, with one hyphen for blanks, hyphens and underscores. */
static struct text plain_name(struct arena *arena, struct text name)
{
	struct text_builder plain = text_builder_start(arena);

	name = trimmed(name);
	for (size_t i = 0; i < name.length; i++) {
		char byte = name.data[i];

		if (byte != ' ' && byte != '_' && byte != '-')
			text_append_byte(&plain, (char)(byte >= 'A' && byte <= 'Z' ? byte - 'A' + 'a' : byte));
		else if (plain.length > 0 && plain.data[plain.length - 1] != '-')
			text_append_byte(&plain, '-');
	}
	return text_builder_text(&plain);
}

static enum column column_of(struct arena *arena, struct text name)
{
	struct text plain = plain_name(arena, name);
	int column = 0;

	while (column < COLUMN_COUNT && !text_equal(plain, text_from(column_names[column])))
		column++;
	return (enum column)column;
}

static bool complain_header(const struct rolls_file *file, struct span span, const char *problem, const char *help)
{
	struct report *report = file->recipe->report;

	report_help(report, report_add(report, CHECK_missing_clause, span, "%s", problem), "%s", help);
	return false;
}

static bool has_needed_columns(const struct rolls_file *file, const struct csv_row *header)
{
	struct span span = span_at(file, header->begin, header->length);
	bool has[COLUMN_COUNT + 1] = { false };

	for (size_t i = 0; i < file->column_count; i++)
		has[file->columns[i]] = true;
	if (file->column_count == 1 && memchr(file->names[0].data, ';', file->names[0].length) != NULL)
		return complain_header(file, span, "the columns of this file are not separated by commas",
				       "save it as comma-separated values (CSV), with commas");
	if (!has[COLUMN_label])
		return complain_header(file, span, "this file has no column `label`",
				       "its first line names the columns, one of them `label`");
	if (!has[COLUMN_format])
		return complain_header(file, span, "this file has no column `format`",
				       "its first line names the columns, one of them `format`");
	return true;
}

static bool read_header(struct rolls_file *file, const struct csv_row *header)
{
	struct arena *arena = file->recipe->arena;
	struct report *report = file->recipe->report;

	if (!has_good_bytes(file, header) || !has_good_quotes(file, header))
		return false;
	file->column_count = header->count;
	file->columns = ARENA_ARRAY(arena, enum column, header->count);
	file->names = ARENA_ARRAY(arena, struct text, header->count);
	for (size_t i = 0; i < header->count; i++) {
		file->names[i] = trimmed(header->fields[i].text);
		file->columns[i] = column_of(arena, file->names[i]);
		for (size_t j = 0; j < i && file->columns[i] != COLUMN_COUNT; j++) {
			if (file->columns[j] != file->columns[i])
				continue;
			report_note(report,
				    report_add(report, CHECK_defined_twice, field_span(file, &header->fields[i]),
					       "there are two columns of this name"),
				    field_span(file, &header->fields[j]), "the other one is here");
			file->columns[i] = COLUMN_COUNT;
		}
	}
	return has_needed_columns(file, header);
}

void rolls_file_read(struct recipe *recipe, struct source_file *source, struct span named, struct roll_list *rolls)
{
	struct rolls_file file = { .recipe = recipe, .file = source };
	struct csv_reader reader = csv_start(recipe->arena, (struct text){ source->bytes, source->length });
	struct csv_row row;
	bool has_header = false;

	source->used_from = named;
	while (csv_next(&reader, &row)) {
		if (is_blank(&row))
			continue;
		if (!has_header) {
			has_header = true;
			if (!read_header(&file, &row))
				return;
		} else if (has_good_bytes(&file, &row) && has_good_quotes(&file, &row) &&
			   has_right_count(&file, &row)) {
			screen(&file, &row);
			read_row(&file, &row, rolls);
		}
	}
	if (!has_header)
		complain_header(&file, named, "this rolls file is empty",
				"its first line names the columns, and each further line is a roll");
}
