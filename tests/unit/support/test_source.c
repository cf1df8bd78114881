#include "scratch_folder.h"
#include "support/limits.h"
#include "support/source.h"

static struct source_set set;

static struct source_file *add(struct text content)
{
	struct text problem = { NULL, 0 };
	source_set_init(&set, &arena);
	struct source_file *file = source_add(&set, TEXT("a.wet"), content, &problem);
	assert_non_null(file);
	return file;
}

/* Where the first occurrence of a word lies. */
static void assert_place(const struct source_file *file, const char *word, size_t line, size_t column)
{
	const char *found = strstr(file->bytes, word);
	assert_non_null(found);
	struct source_place place = source_locate(&set, file->base + (uint32_t)(found - file->bytes));
	assert_ptr_equal(place.file, file);
	if (place.line != line || place.column != column)
		fail_msg("%s lies at %zu:%zu, not %zu:%zu", word, place.line, place.column, line, column);
}

static void test_columns_are_those_of_a_terminal(void **state)
{
	(void)state;
	struct source_file *file = add(TEXT("at 38 °C ± 0.2 K # end\n"
					    "\tx\n"
					    "abc\ty\n"
					    "現像 z\n"
					    "e\xCC\x81 q\n"
					    "\t\tu \tv\n"
					    "\xFF w\n"));
	assert_place(file, "at", 1, 1);
	assert_place(file, "°C", 1, 7);
	assert_place(file, "±", 1, 10);
	assert_place(file, "0.2", 1, 12);
	assert_place(file, "# end", 1, 18);
	assert_place(file, "x", 2, 9);
	assert_place(file, "y", 3, 9);
	assert_place(file, "z", 4, 6);
	assert_place(file, "q", 5, 3);
	assert_place(file, "u", 6, 17);
	assert_place(file, "v", 6, 25);
	assert_place(file, "w", 7, 3);
	/* Inside a character: the column where it stands. */
	uint32_t degree = file->base + (uint32_t)(strstr(file->bytes, "°C") - file->bytes);
	assert_int_equal(source_locate(&set, degree + 1).column, 7);
}

static void test_the_ends_of_a_file(void **state)
{
	(void)state;
	struct source_file *file = add(TEXT("one\ntwo\n"));
	struct source_place end = source_locate(&set, file->base + file->length);
	assert_int_equal(end.line, 3);
	assert_int_equal(end.column, 1);
	assert_null(source_locate(&set, file->base + file->length + 1).file);
	assert_null(source_locate(&set, 0).file);
	file = add(TEXT(""));
	assert_int_equal(source_locate(&set, file->base).line, 1);
	assert_int_equal(source_locate(&set, file->base).column, 1);
	assert_text(source_line(&set, file, 1), "");
	assert_text(source_line(&set, file, 2), "");
}

static void test_lines_lose_their_ends(void **state)
{
	(void)state;
	struct source_file *file = add(TEXT("unix\ndos\r\n\r\nlone\rreturn\nlast"));
	assert_text(source_line(&set, file, 1), "unix");
	assert_text(source_line(&set, file, 2), "dos");
	assert_text(source_line(&set, file, 3), "");
	assert_text(source_line(&set, file, 4), "lone");
	assert_text(source_line(&set, file, 5), "return");
	assert_text(source_line(&set, file, 6), "last");
	assert_text(source_line(&set, file, 7), "");
	assert_text(source_line(&set, file, 0), "");
	assert_place(file, "last", 6, 1);
}

static void test_a_byte_order_mark_is_no_content(void **state)
{
	(void)state;
	struct source_file *file = add(TEXT("\xEF\xBB\xBFwetside 1\n"));
	assert_int_equal(file->length, 10);
	assert_place(file, "wetside", 1, 1);
	assert_place(file, "1", 1, 9);
	file = add(TEXT("\xEF\xBB\xBF"));
	assert_int_equal(file->length, 0);
}

static void test_content_is_copied_and_ends_in_two_nuls(void **state)
{
	(void)state;
	char content[] = "tank\0x";
	struct source_file *file = add((struct text){ content, sizeof(content) - 1 });
	content[0] = 'X';
	assert_int_equal(file->length, 6);
	assert_memory_equal(file->bytes, "tank\0x\0\0", 8);
}

static void test_files_lie_apart_in_one_space(void **state)
{
	(void)state;
	struct text problem;
	source_set_init(&set, &arena);
	enum { COUNT = 100 };
	struct source_file *files[COUNT];
	for (size_t i = 0; i < COUNT; i++)
		files[i] = source_add(&set, text_format(&arena, "%zu.wet", i), (struct text){ "abcdefghij", i % 10 },
				      &problem);
	assert_int_equal(files[0]->base, 1);
	for (size_t i = 0; i < COUNT; i++) {
		struct span end = { files[i]->base + files[i]->length, 5 };
		assert_ptr_equal(source_file_of(&set, (struct span){ files[i]->base, 1 }), files[i]);
		assert_ptr_equal(source_file_of(&set, end), files[i]);
		assert_text(source_text(&set, end), "");
		if (i > 0)
			assert_true(files[i]->base >= files[i - 1]->base + files[i - 1]->length + 3);
	}
	assert_text(source_text(&set, (struct span){ files[9]->base + 2, 3 }), "cde");
	assert_text(source_text(&set, (struct span){ files[9]->base + 7, 300 }), "hi");
	assert_text(source_text(&set, (struct span){ 0, 3 }), "");
	assert_null(source_file_of(&set, (struct span){ 0, 3 }));
	assert_null(source_file_of(&set, (struct span){ UINT32_MAX, 1 }));
}

static void test_joined_spans(void **state)
{
	(void)state;
	struct span joined = span_join((struct span){ 5, 2 }, (struct span){ 10, 4 });
	assert_int_equal(joined.begin, 5);
	assert_int_equal(joined.length, 9);
}

static void test_the_space_is_not_overrun(void **state)
{
	(void)state;
	struct text problem = { NULL, 0 };
	source_set_init(&set, &arena);
	set.next_base = UINT32_MAX - 20;
	assert_non_null(source_add(&set, TEXT("a.wet"), TEXT("0123456789"), &problem));
	assert_null(source_add(&set, TEXT("b.wet"), TEXT("0123456789"), &problem));
	assert_text(problem, "all files together are larger than 4 GiB");
}

static void test_a_file_is_read_whole(void **state)
{
	(void)state;
	struct text content = text_format(&arena, "wetside 1\n%0200000d\n", 7);
	struct text path = in_scratch("a.wet"), problem = { NULL, 0 };
	write_file(path, content, 0600);
	source_set_init(&set, &arena);
	struct source_file *file = source_read(&set, path, TEXT("a.wet"), &problem);
	assert_non_null(file);
	assert_true(text_equal((struct text){ file->bytes, file->length }, content));
	assert_int_equal(file->bytes[file->length], 0);
	assert_int_equal(file->bytes[file->length + 1], 0);
	assert_text(file->name, "a.wet");
	assert_text(file->directory, scratch);
	assert_false(span_is_set(file->used_from));
}

static void test_a_file_is_known_by_its_real_path(void **state)
{
	(void)state;
	struct text problem, path = in_scratch("a.wet"), link = in_scratch("link.wet");
	write_file(path, TEXT("x"), 0600);
	assert_int_equal(symlink("a.wet", link.data), 0);
	source_set_init(&set, &arena);
	struct source_file *first = source_read(&set, path, path, &problem);
	struct source_file *second = source_read(&set, link, link, &problem);
	struct source_file *third = source_read(&set, in_scratch("./a.wet"), TEXT("a"), &problem);
	assert_true(text_equal(first->real, second->real));
	assert_true(text_equal(first->real, third->real));
	assert_int_equal(source_add(&set, TEXT("-"), TEXT("x"), &problem)->real.length, 0);
}

static void test_folders_of_names(void **state)
{
	(void)state;
	struct text problem;
	source_set_init(&set, &arena);
	assert_text(source_add(&set, TEXT("a.wet"), TEXT(""), &problem)->directory, ".");
	assert_text(source_add(&set, TEXT("lab/b/a.wet"), TEXT(""), &problem)->directory, "lab/b");
	assert_text(source_add(&set, TEXT("/a.wet"), TEXT(""), &problem)->directory, "/");
	assert_text(source_add(&set, TEXT("lab//a.wet"), TEXT(""), &problem)->directory, "lab");
}

static void assert_refused(struct text path, const char *reason)
{
	struct text problem = { NULL, 0 };
	source_set_init(&set, &arena);
	assert_null(source_read(&set, path, path, &problem));
	assert_text(problem, reason);
	assert_int_equal(set.count, 0);
}

static void test_what_is_no_readable_file_is_refused(void **state)
{
	(void)state;
	assert_refused(in_scratch("missing.wet"), "there is no such file");
	assert_refused(TEXT(""), "there is no such file");
	assert_refused(TEXT("a\0b"), "there is no such file");
	assert_refused(text_from(scratch), "it is a folder");
	assert_refused(TEXT("/dev/null"), "it is a device");
	struct text pipe_path = in_scratch("pipe");
	assert_int_equal(mkfifo(pipe_path.data, 0600), 0);
	assert_refused(pipe_path, "it is a pipe; give - to read standard input");
	struct text loop = in_scratch("loop");
	assert_int_equal(symlink("loop", loop.data), 0);
	assert_refused(loop, "its symbolic links lead in a circle");
	struct text file = in_scratch("file");
	write_file(file, TEXT("x"), 0600);
	assert_refused(in_scratch("file/below"), "there is no such file");
	assert_refused(text_format(&arena, "%s/%0300d", scratch, 1), "its name is too long");
}

static void test_a_file_too_large_is_refused(void **state)
{
	(void)state;
	struct text path = in_scratch("large.wet");
	write_file(path, TEXT(""), 0600);
	assert_int_equal(truncate(path.data, (off_t)limit_value(LIMIT_FILE) + 1), 0); /* a hole: it takes no room */
	assert_refused(path, "it is larger than 256 MiB");
}

/* Descriptors come lowest first: reading must give back each that it took. */
static void test_no_descriptor_stays_open(void **state)
{
	(void)state;
	struct text path = in_scratch("a.wet"), problem;
	write_file(path, TEXT("x"), 0600);
	int before = open("/dev/null", O_RDONLY);
	close(before);
	source_set_init(&set, &arena);
	assert_non_null(source_read(&set, path, path, &problem));
	assert_null(source_read(&set, text_from(scratch), path, &problem));
	int after = open("/dev/null", O_RDONLY);
	close(after);
	assert_int_equal(after, before);
}

static void test_standard_input(void **state)
{
	(void)state;
	struct text content = text_format(&arena, "wetside 1\n%0150000d\n", 7), problem = { NULL, 0 };
	write_file(in_scratch("in"), content, 0600);
	int saved = dup(STDIN_FILENO), file = open(in_scratch("in").data, O_RDONLY);
	assert_true(saved >= 0 && file >= 0);
	assert_int_equal(dup2(file, STDIN_FILENO), STDIN_FILENO);
	source_set_init(&set, &arena);
	struct source_file *read = source_read_standard_input(&set, TEXT("standard input"), &problem);
	dup2(saved, STDIN_FILENO);
	close(saved);
	close(file);
	assert_non_null(read);
	assert_true(text_equal((struct text){ read->bytes, read->length }, content));
	assert_text(read->directory, ".");
	assert_int_equal(read->real.length, 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_columns_are_those_of_a_terminal),
		ARENA_TEST(test_the_ends_of_a_file),
		ARENA_TEST(test_lines_lose_their_ends),
		ARENA_TEST(test_a_byte_order_mark_is_no_content),
		ARENA_TEST(test_content_is_copied_and_ends_in_two_nuls),
		ARENA_TEST(test_files_lie_apart_in_one_space),
		ARENA_TEST(test_joined_spans),
		ARENA_TEST(test_the_space_is_not_overrun),
		SCRATCH_TEST(test_a_file_is_read_whole),
		SCRATCH_TEST(test_a_file_is_known_by_its_real_path),
		ARENA_TEST(test_folders_of_names),
		SCRATCH_TEST(test_what_is_no_readable_file_is_refused),
		SCRATCH_TEST(test_a_file_too_large_is_refused),
		SCRATCH_TEST(test_no_descriptor_stays_open),
		SCRATCH_TEST(test_standard_input),
	};
	RUN_TESTS(tests);
}
