/* The document tree: what user text may become in it, what comes out as Markdown, and where libcmark's memory is; and
 * the door to HTML. */
#include "arena_fixture.h"
#include "emit/document.h"
#include "emit/escape/html.h"

/* A document of one paragraph. */
static struct text markdown_of(struct text prose, bool is_prose)
{
	struct document *document = document_create(&arena);
	cmark_node *paragraph = document_add(document, document->root, CMARK_NODE_PARAGRAPH, NULL);
	if (is_prose)
		document_prose(document, paragraph, prose);
	else
		document_text(document, paragraph, prose);
	return document_markdown(document);
}

#define assert_prose(prose, markdown) assert_text(markdown_of(TEXT(prose), true), markdown "\n")
#define assert_plain(text, markdown) assert_text(markdown_of(TEXT(text), false), markdown "\n")

static void test_text_stands_as_it_is(void **state)
{
	(void)state;
	assert_plain("*a* _b_ `c` [d](e)", "\\*a\\* \\_b\\_ \\`c\\` \\[d\\](e)");
	assert_plain("# a", "\\# a");
	assert_plain("1. a", "1\\. a");
	assert_plain("- a", "\\- a");
	assert_plain("a\nb\tc", "a b c");
	assert_plain("&amp; <b>", "\\&amp; \\<b\\>");
}

static void test_prose_is_inlines(void **state)
{
	(void)state;
	assert_prose("hang *weighted*, **never** wipe", "hang *weighted*, **never** wipe");
	assert_prose("*first* word", "*first* word");
	assert_prose("`code`", "`code`");
	assert_prose("  a  ", "a");
	assert_prose("a\nb", "a b");
}

static void test_prose_is_never_a_block(void **state)
{
	(void)state;
	assert_prose("# a", "\\# a");
	assert_prose("- a", "\\- a");
	assert_prose("> a", "\\> a");
	assert_prose("    a", "a");
	assert_prose("```", "\\`\\`\\`");
	assert_prose("[a]: http://b.invalid", "\\[a\\]: http://b.invalid");
	assert_prose("---", "\\---");
	assert_prose("a\n===", "a ===");
}

static void test_prose_holds_nothing_that_acts(void **state)
{
	(void)state;
	assert_prose("a <b onclick=x>c</b>", "a \\<b onclick=x\\>c\\</b\\>");
	assert_prose("<script>a</script>", "\\<script\\>a\\</script\\>");
	assert_prose("![a](http://b.invalid/c.png)", "a");
	assert_prose("[a](javascript:b)", "a");
	assert_prose("[a](JAVASCRIPT:b)", "a");
	assert_prose("[a](//b.invalid)", "a");
	assert_prose("[*a* b](data:c)", "*a* b");
	assert_prose("[![a](b)](file:///c)", "a");
}

static void test_links_to_three_schemes_stay(void **state)
{
	(void)state;
	assert_prose("[a](https://b.invalid/c?d=e)", "[a](https://b.invalid/c?d=e)");
	assert_prose("[a](HTTP://b.invalid \"title\")", "[a](HTTP://b.invalid)");
	assert_prose("<mailto:a@b.invalid>", "[mailto:a@b.invalid](mailto:a@b.invalid)");
	assert_prose("[a](http://)", "a");
	assert_prose("[a](http://b\"c)", "a");
}

static void test_what_is_hidden_is_spelt_out(void **state)
{
	(void)state;
	assert_plain("a\x1B[2Jb", "a\\<0x1B\\>\\[2Jb");
	assert_prose("a\u202Eb", "a\\<U+202E\\>b");
	assert_plain("e\u0301", "\u00E9"); /* normal form C */
}

static void test_plain_text_leaves_the_markup_out(void **state)
{
	(void)state;
	struct document *document = document_create(&arena);
	cmark_node *block = document_add(document, document->root, CMARK_NODE_CUSTOM_BLOCK, NULL);
	document_prose(document, document_add_heading(document, block, 2, NULL), TEXT("a *b*"));
	cmark_node *list = document_add_list(document, block, NULL);
	document_string(document, document_add_item(document, list, NULL), "c");
	document_format(document, document_add_item(document, list, NULL), "%d ", 4);
	assert_text(document_plain(document, block, &arena), "a b c  4    ");
}

/* Two documents at a time: each allocates in its own arena. */
static void test_documents_keep_their_memory_apart(void **state)
{
	(void)state;
	struct arena other;
	arena_init(&other, arena.landing);
	struct document *mine = document_create(&arena), *theirs = document_create(&other);
	cmark_node *paragraph = document_add(theirs, theirs->root, CMARK_NODE_PARAGRAPH, NULL);
	size_t used = arena.used;
	document_prose(theirs, paragraph, TEXT("a *b* [c](http://d.invalid)"));
	document_markdown(theirs);
	assert_int_equal(arena.used, used);
	document_string(mine, document_add(mine, mine->root, CMARK_NODE_PARAGRAPH, NULL), "still here");
	arena_release(&other);
	assert_text(document_markdown(mine), "still here\n");
}

static void test_deep_nesting_is_no_recursion(void **state)
{
	(void)state;
	struct text_builder prose = text_builder_start(&arena);
	for (int i = 0; i < 20000; i++)
		text_append_string(&prose, "*a **b ");
	struct document *document = document_create(&arena);
	cmark_node *paragraph = document_add(document, document->root, CMARK_NODE_PARAGRAPH, NULL);
	document_prose(document, paragraph, text_builder_text(&prose));
	assert_true(document_plain(document, paragraph, &arena).length > 0);
}

/* ---- HTML ---- */

static struct text html_of(struct text text)
{
	struct output output;
	output_open_memory(&output, &arena);
	html_text(&output, text);
	return output_memory(&output);
}

static void test_html_text(void **state)
{
	(void)state;
	assert_text(html_of(TEXT("a<b>&\"'c")), "a&lt;b&gt;&amp;&quot;&#39;c");
	assert_text(html_of(TEXT("38.0\u00A0°C")), "38.0\u00A0°C");
	assert_text(html_of(TEXT("a\0b\x01\x7F\xFF")), "a\uFFFDb\uFFFD\uFFFD\uFFFD");
	assert_text(html_of(TEXT("\uFFFE\uFDD0")), "\uFFFD\uFFFD");
	assert_text(html_of(TEXT("")), "");
}

/* RFC 4648, section 10, by the hexadecimal digits of "f", "fo", "foo" … */
static void test_base64(void **state)
{
	(void)state;
	static const char *const pairs[][2] = {
		{ "", "" },
		{ "66", "Zg==" },
		{ "666f", "Zm8=" },
		{ "666f6f", "Zm9v" },
		{ "666f6f62", "Zm9vYg==" },
		{ "666f6f6261", "Zm9vYmE=" },
		{ "666f6f626172", "Zm9vYmFy" },
	};
	for (size_t i = 0; i < sizeof pairs / sizeof pairs[0]; i++) {
		struct output output;
		output_open_memory(&output, &arena);
		html_base64_of_hex(&output, text_from(pairs[i][0]));
		assert_text(output_memory(&output), pairs[i][1]);
	}
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_text_stands_as_it_is),
		ARENA_TEST(test_prose_is_inlines),
		ARENA_TEST(test_prose_is_never_a_block),
		ARENA_TEST(test_prose_holds_nothing_that_acts),
		ARENA_TEST(test_links_to_three_schemes_stay),
		ARENA_TEST(test_what_is_hidden_is_spelt_out),
		ARENA_TEST(test_plain_text_leaves_the_markup_out),
		ARENA_TEST(test_documents_keep_their_memory_apart),
		ARENA_TEST(test_deep_nesting_is_no_recursion),
		ARENA_TEST(test_html_text),
		ARENA_TEST(test_base64),
	};
	RUN_TESTS(tests);
}
