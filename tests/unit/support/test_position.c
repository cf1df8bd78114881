#include "source_fixture.h"
#include "support/position.h"

/* A tab, a sign of two bytes, a wide one of three, one beyond the basic plane, a combining one. */
#define LINE                                                                                                           \
	"\t\xC2\xB0\xE7\x8F\xBE\xF0\x9F\x98\x80"                                                                       \
	"e\xCC\x81!"

/* What stands at a byte of LINE: columns counted by hand; widths by Unicode's East Asian Width. */
static const struct {
	uint32_t byte;
	size_t code_point;
	size_t utf16;
	size_t display;
} places[] = {
	{ 0, 1, 1, 1 },	  /* tab */
	{ 1, 2, 2, 9 },	  /* degree sign */
	{ 3, 3, 3, 10 },  /* wide */
	{ 6, 4, 4, 12 },  /* a face */
	{ 10, 5, 6, 14 }, /* e */
	{ 11, 6, 7, 15 }, /* its accent */
	{ 13, 7, 8, 15 }, /* ! */
	{ 14, 8, 9, 16 }, /* the end of the line */
};

static void test_every_way_to_count(void **state)
{
	const struct source_file *file = open_file("wetside 1\n" LINE "\n");

	(void)state;
	for (size_t i = 0; i < sizeof(places) / sizeof(*places); i++) {
		struct position position = position_of(&sources, file->base + 10 + places[i].byte);

		assert_ptr_equal(position.file, file);
		assert_int_equal(position.line, 2);
		assert_int_equal(position.offset, 10 + places[i].byte);
		assert_int_equal(position.byte_column, places[i].byte + 1);
		assert_int_equal(position.code_point_column, places[i].code_point);
		assert_int_equal(position.utf16_column, places[i].utf16);
		assert_int_equal(position.display_column, places[i].display);
	}
}

static void test_a_byte_order_mark_counts_in_offsets_only(void **state)
{
	const struct source_file *file = open_file("\xEF\xBB\xBFwetside 1\n");
	struct position position = position_of(&sources, file->base + 8);

	(void)state;
	assert_int_equal(position.offset, 11);
	assert_int_equal(position.code_point_column, 9);
}

static void test_what_is_no_utf8_counts_as_one(void **state)
{
	const struct source_file *file = open_file("a\xFF\xFE"
						   "b");
	struct position position = position_of(&sources, file->base + 3);

	(void)state;
	assert_int_equal(position.code_point_column, 4);
	assert_int_equal(position.utf16_column, 4);
}

static void test_the_end_of_a_span(void **state)
{
	const struct source_file *file = open_file("ab\ncd\n");
	struct position end = position_of_end(&sources, (struct span){ file->base + 1, 3 });

	(void)state;
	assert_int_equal(end.line, 2);
	assert_int_equal(end.byte_column, 2);
	end = position_of_end(&sources, (struct span){ file->base + 4, 100 });
	assert_int_equal(end.offset, 6);
	assert_int_equal(end.line, 3);
	assert_null(position_of_end(&sources, (struct span){ 0, 0 }).file);
	assert_null(position_of(&sources, 0).file);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_every_way_to_count),
		ARENA_TEST(test_a_byte_order_mark_counts_in_offsets_only),
		ARENA_TEST(test_what_is_no_utf8_counts_as_one),
		ARENA_TEST(test_the_end_of_a_span),
	};

	RUN_TESTS(tests);
}
