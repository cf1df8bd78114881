/* What the escapes of the cue lists do to a text, cell by cell and line by line. */
#include "arena_fixture.h"
#include "emit/escape/csv.h"
#include "emit/escape/json_tree.h"
#include "emit/escape/terminal.h"
#include "emit/escape/vtt.h"

static struct output output;

static struct text cell(struct text text)
{
	output_open_memory(&output, &arena);
	struct csv_row row = csv_row_start(&output, &arena);
	csv_row_text(&row, text);
	return output_memory(&output);
}

/* RFC 4180, rules 5 to 7. */
static void test_a_cell_is_quoted_at_need(void **state)
{
	(void)state;
	assert_text(cell(TEXT("plain text")), "plain text");
	assert_text(cell(TEXT("")), "");
	assert_text(cell(TEXT("a,b")), "\"a,b\"");
	assert_text(cell(TEXT("say \"ah\"")), "\"say \"\"ah\"\"\"");
	assert_text(cell(TEXT("\"")), "\"\"\"\"");
	assert_text(cell(TEXT("one\ntwo")), "\"one\ntwo\"");
	assert_text(cell(TEXT("one\rtwo")), "\"one\rtwo\"");
	assert_text(cell(TEXT("one\ttwo")), "\"one\ttwo\"");
	assert_text(cell(TEXT("38.0 °C")), "38.0 °C");
}

static void test_a_cell_is_no_formula(void **state)
{
	(void)state;
	assert_text(cell(TEXT("=1+1")), "'=1+1");
	assert_text(cell(TEXT("+1")), "'+1");
	assert_text(cell(TEXT("-1")), "'-1");
	assert_text(cell(TEXT("@SUM(1,2)")), "\"'@SUM(1,2)\"");
	assert_text(cell(TEXT("\t=1")), "\"'\t=1\"");
	assert_text(cell(TEXT("\r=1")), "\"'\r=1\"");
	assert_text(cell(TEXT("1+1=2")), "1+1=2");
	assert_text(cell(TEXT("=\"a\"")), "\"'=\"\"a\"\"\"");
}

static void test_a_cell_holds_nothing_hidden(void **state)
{
	(void)state;
	assert_text(cell(TEXT("\x1B[2J")), "<0x1B>[2J");
	assert_text(cell(TEXT("a\0b")), "a<0x00>b");
	assert_text(cell(TEXT("\0=1")), "<0x00>=1");
	assert_text(cell(TEXT("a\u202Eb\n\x07")), "\"a<U+202E>b\n<0x07>\"");
	assert_text(cell(TEXT("\xFF")), "<0xFF>");
}

static void test_a_row_of_cells(void **state)
{
	(void)state;
	output_open_memory(&output, &arena);
	struct csv_row row = csv_row_start(&output, &arena);
	csv_row_empty(&row);
	csv_row_figure(&row, TEXT("-20"));
	csv_row_text(&row, TEXT(""));
	csv_row_text(&row, TEXT("-20"));
	csv_row_empty(&row);
	csv_row_end(&row);
	assert_text(output_memory(&output), ",-20,,'-20,\r\n");
}

static struct text caption(struct text text)
{
	output_open_memory(&output, &arena);
	vtt_caption(&output, &arena, text);
	return output_memory(&output);
}

static struct text comment(struct text text)
{
	output_open_memory(&output, &arena);
	vtt_comment(&output, &arena, text);
	return output_memory(&output);
}

static void test_a_caption_is_one_line_of_text(void **state)
{
	(void)state;
	assert_text(caption(TEXT("a --> b")), "a --&gt; b");
	assert_text(caption(TEXT("<b>&amp;</b>")), "&lt;b&gt;&amp;amp;&lt;/b&gt;");
	assert_text(caption(TEXT("one\n\ntwo\r\nthree\u2028four")), "one  two  three four");
	assert_text(caption(TEXT("\u202E")), "&lt;U+202E&gt;");
}

static void test_a_comment_holds_no_arrow(void **state)
{
	(void)state;
	assert_text(comment(TEXT("-->")), "-- >");
	assert_text(comment(TEXT("---->-->")), "---- >-- >");
	assert_text(comment(TEXT("a > b -> c")), "a > b - > c");
	assert_text(comment(TEXT("one\n\nSTYLE\n")), "one  STYLE ");
}

static struct text wrapped(struct text text, size_t indent, size_t width)
{
	output_open_memory(&output, &arena);
	terminal_wrap(&output, terminal_line(&arena, text), indent, width);
	return output_memory(&output);
}

static void test_lines_break_at_spaces(void **state)
{
	(void)state;
	assert_text(wrapped(TEXT(""), 0, 30), "\n");
	assert_text(wrapped(TEXT("0123456789 0123456789"), 0, 21), "0123456789 0123456789\n");
	assert_text(wrapped(TEXT("0123456789 0123456789 0"), 0, 20), "0123456789\n0123456789 0\n");
	assert_text(wrapped(TEXT("0123456789 0123456789 0"), 2, 22), "0123456789\n  0123456789 0\n");
	assert_text(wrapped(TEXT("01234567890123456789012345"), 0, 20), "01234567890123456789\n012345\n");
	assert_text(wrapped(TEXT("012345678901234567 38\u00A0°C"), 0, 20), "012345678901234567\n38 °C\n");
	assert_text(wrapped(TEXT("    "), 0, 20), "    \n");
}

static void test_columns_are_those_of_a_terminal(void **state)
{
	(void)state;
	assert_text(wrapped(TEXT("水水水水水水水水水水水"), 0, 20), "水水水水水水水水水水\n水\n");
	assert_text(wrapped(TEXT("0123456789012345678水"), 0, 20), "0123456789012345678\n水\n");
	assert_text(wrapped(TEXT("e\u0301e\u0301e\u0301"), 0, 20), "e\u0301e\u0301e\u0301\n");
	assert_text(wrapped(TEXT("\x1B[31m\xFF"), 0, 20), "<0x1B>[31m<0xFF>\n");
}

static void fill(struct json_node root, const void *subject)
{
	const struct text *text = subject;
	struct json_node list = json_node_list(root, "z");
	json_node_text(list, NULL, *text);
	json_node_ratio(list, NULL, 12000, 1000);
	json_node_ratio(list, NULL, 2500, 1000);
	json_node_ratio(list, NULL, -20, 1000);
	json_node_ratio(list, NULL, 340000, 9000);
	json_node_ratio(list, NULL, INT64_MAX, 1);
	json_node_flag(list, NULL, true);
	json_node_null(json_node_object(list, NULL), "none");
	json_node_whole(root, "a", -1);
}

static struct text document(struct text text)
{
	output_open_memory(&output, &arena);
	json_tree_write(&output, &arena, fill, &text);
	return output_memory(&output);
}

#define DOCUMENT(string)                                                                                               \
	"{\n  \"z\": [\n    \"" string "\",\n    12,\n    2.5,\n    -0.02,\n    37.777778,\n"                          \
	"    9223372036854775807,\n    true,\n    {\n      \"none\": null\n    }\n  ],\n  \"a\": -1\n}\n"

static void test_json_keeps_order_and_shortest_figures(void **state)
{
	(void)state;
	assert_text(document(TEXT("°")), DOCUMENT("°"));
	assert_text(document((struct text){ NULL, 0 }), DOCUMENT(""));
}

static void test_json_shows_nothing_hidden(void **state)
{
	(void)state;
	assert_text(document(TEXT("\"\\\n\x1B\x7F")), DOCUMENT("\\\"\\\\\\n\\u001B\\u007F"));
	assert_text(document(TEXT("a\0b")), DOCUMENT("a\\u0000b"));
	assert_text(document(TEXT("\u202E\U000E0041")), DOCUMENT("\\u202E\\uDB40\\uDC41"));
	assert_text(document(TEXT("\xFF\xC3")), DOCUMENT("<0xFF><0xC3>"));
}

/* HTML, 4.12.1.3: a script ends with the end tag of one, and begins anew behind an opened comment. */
static void test_json_in_a_script_cannot_end_it(void **state)
{
	(void)state;
	struct text text = TEXT("</script><!-- & ]]>");
	output_open_memory(&output, &arena);
	json_tree_write_script(&output, &arena, fill, &text);
	struct text line = output_memory(&output);
	assert_null(memchr(line.data, '<', line.length));
	assert_null(memchr(line.data, '>', line.length));
	assert_null(memchr(line.data, '&', line.length));
	line.length = sizeof("{\"z\":[\"\\u003C/script\\u003E\\u003C!-- \\u0026 ]]\\u003E\",") - 1;
	assert_text(line, "{\"z\":[\"\\u003C/script\\u003E\\u003C!-- \\u0026 ]]\\u003E\",");
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_a_cell_is_quoted_at_need),
		ARENA_TEST(test_a_cell_is_no_formula),
		ARENA_TEST(test_a_cell_holds_nothing_hidden),
		ARENA_TEST(test_a_row_of_cells),
		ARENA_TEST(test_a_caption_is_one_line_of_text),
		ARENA_TEST(test_a_comment_holds_no_arrow),
		ARENA_TEST(test_lines_break_at_spaces),
		ARENA_TEST(test_columns_are_those_of_a_terminal),
		ARENA_TEST(test_json_keeps_order_and_shortest_figures),
		ARENA_TEST(test_json_shows_nothing_hidden),
		ARENA_TEST(test_json_in_a_script_cannot_end_it),
	};
	RUN_TESTS(tests);
}
