#include "arena_fixture.h"
#include "support/csv.h"

/* What a text is as rows: fields between bars, rows between slashes, a row's problem as its number behind a hash. The
 * expected ones are RFC 4180 read by hand. */
static const struct {
	const char *text;
	const char *rows;
} readings[] = {
	{ "", "" },
	{ "a", "a/" },
	{ "a,b\n", "a|b/" },
	{ "a,b\r\nc,d\r\n", "a|b/c|d/" },
	{ "a,b\rc,d", "a|b/c|d/" },
	{ "a,\n,b\n,\n", "a|/|b/|/" },
	{ "\n\na\n", "//a/" },
	{ "\"a,b\",c\n", "a,b|c/" },
	{ "\"a\"\"b\"\n", "a\"b/" },
	{ "\"\"\n", "/" },
	{ "\"\"\"\"\n", "\"/" },
	{ "\"a\nb\",c\nd,e\n", "a\nb|c/d|e/" },
	{ "\"a\r\nb\"\r\nc", "a\r\nb/c/" },
	{ " \"a\",b\n", " \"a\"|b#2/" },
	{ "a\"b,c\nd\n", "a\"b|c#2/d/" },
	{ "\"a\"b,c\nd\n", "a|c#3/d/" },
	{ "\"a\" ,c\nd\n", "a|c#3/d/" },
	{ "\"a,b\nc,d\n", "a,b#1/c|d/" },
	{ "a,\"b\nc\n", "a|b#1/c/" },
	{ "\"", "#1/" },
	{ "\"\"\"\n\"\"\na\n", "\"\"#1//a/" },
};

static struct text rows_of(const char *text)
{
	struct csv_reader reader = csv_start(&arena, text_from(text));
	struct text_builder rows = text_builder_start(&arena);
	struct csv_row row;

	while (csv_next(&reader, &row)) {
		for (size_t i = 0; i < row.count; i++) {
			text_append_string(&rows, i == 0 ? "" : "|");
			text_append(&rows, row.fields[i].text);
		}
		if (row.problem != CSV_FINE)
			text_append_format(&rows, "#%d", (int)row.problem);
		text_append_byte(&rows, '/');
	}
	return text_builder_text(&rows);
}

static void test_rows(void **state)
{
	(void)state;
	for (size_t i = 0; i < sizeof(readings) / sizeof(*readings); i++)
		assert_string_equal(rows_of(readings[i].text).data, readings[i].rows);
}

/* A field says where it stands, with its quotes; a row where it begins and ends; a problem where it is. */
static void test_places(void **state)
{
	struct csv_reader reader = csv_start(&arena, TEXT("a,\"b\"\"\",c\r\nd,e\"f\n"));
	struct csv_row row;

	(void)state;
	assert_true(csv_next(&reader, &row));
	assert_int_equal(row.fields[1].begin, 2);
	assert_int_equal(row.fields[1].length, 5);
	assert_int_equal(row.fields[2].begin, 8);
	assert_int_equal(row.begin, 0);
	assert_int_equal(row.length, 9);
	assert_true(csv_next(&reader, &row));
	assert_int_equal(row.begin, 11);
	assert_int_equal(row.problem_at, 14);
	assert_int_equal(row.length, 5);
	assert_false(csv_next(&reader, &row));
}

/* Many quotes that are never closed: each row is looked through at most twice. */
static void test_open_quotes(void **state)
{
	struct text_builder text = text_builder_start(&arena);
	struct csv_row row;
	size_t count = 0;

	(void)state;
	for (int i = 0; i < 200000; i++)
		text_append_string(&text, "\"\"\"\",\"\"\n");
	text_append_string(&text, "\"\n");
	for (int i = 0; i < 200000; i++)
		text_append_string(&text, "\"\"\n");
	struct csv_reader reader = csv_start(&arena, text_builder_text(&text));
	while (csv_next(&reader, &row))
		count++;
	assert_int_equal(count, 400001);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_rows),
		ARENA_TEST(test_places),
		ARENA_TEST(test_open_quotes),
	};

	RUN_TESTS(tests);
}
