#include "scratch_folder.h"

#include <errno.h>
#include <signal.h>
#include <sys/resource.h>
#include <sys/wait.h>

#include "support/output.h"

static mode_t mode_of(struct text path)
{
	struct stat status;
	assert_int_equal(lstat(path.data, &status), 0);
	return status.st_mode & 07777;
}

static void test_memory(void **state)
{
	(void)state;
	struct output output;
	output_open_memory(&output, &arena);
	output_string(&output, "pour ");
	output_write(&output, TEXT("dev"));
	output_format(&output, " at %d:%02d", 3, 5);
	assert_int_equal(output_commit(&output), 0);
	assert_text(output_memory(&output), "pour dev at 3:05");
	output_drop(&output);
	assert_text(output_memory(&output), "pour dev at 3:05");
}

/* What goes to a device is gathered until it is known to be well; once it is released, no more than a piece of it. */
static void test_a_released_product_is_passed_on(void **state)
{
	(void)state;
	static char block[1024 * 1024];
	struct output gathered, released;
	output_open_file(&gathered, &arena, TEXT("/dev/null"), false);
	output_open_file(&released, &arena, TEXT("/dev/null"), false);
	output_release(&released);
	for (int i = 0; i < 4; i++) {
		output_write(&gathered, (struct text){ block, sizeof block });
		output_write(&released, (struct text){ block, sizeof block });
	}
	assert_true(gathered.buffer.length == 4 * sizeof block);
	assert_true(released.buffer.capacity < sizeof block);
	assert_int_equal(output_commit(&gathered), 0);
	assert_int_equal(output_commit(&released), 0);
}

static void test_what_cannot_be_made_leaves_no_file(void **state)
{
	(void)state;
	struct output output;
	output_open_file(&output, &arena, in_scratch("none.wav"), false);
	output_fail(&output, EFBIG);
	output_fail(&output, EIO);
	assert_int_equal(output_commit(&output), EFBIG);
	assert_int_equal(count_entries(false), 0);
}

static void test_a_file_appears_whole_or_not_at_all(void **state)
{
	(void)state;
	struct text path = in_scratch("sheet.html");
	struct output output;
	output_open_file(&output, &arena, path, false);
	output_string(&output, "new");
	assert_int_equal(access(path.data, F_OK), -1);
	assert_int_equal(output_commit(&output), 0);
	assert_text(read_file(path), "new");
	assert_int_equal(count_entries(false), 1);
	output_drop(&output);
	output_drop(&output);
	assert_text(read_file(path), "new");
}

static void test_a_dropped_file_leaves_the_old_one(void **state)
{
	(void)state;
	struct text path = in_scratch("sheet.html");
	write_file(path, TEXT("old"), 0600);
	struct output output;
	output_open_file(&output, &arena, path, false);
	output_string(&output, "new");
	output_drop(&output);
	output_drop(&output);
	assert_text(read_file(path), "old");
	assert_int_equal(count_entries(false), 1);
}

static void test_modes(void **state)
{
	(void)state;
	mode_t old_mask = umask(027);
	struct output output;
	output_open_file(&output, &arena, in_scratch("plain"), false);
	assert_int_equal(output_commit(&output), 0);
	output_open_file(&output, &arena, in_scratch("script"), true);
	assert_int_equal(output_commit(&output), 0);
	write_file(in_scratch("kept"), TEXT("old"), 0604);
	output_open_file(&output, &arena, in_scratch("kept"), true);
	output_string(&output, "new");
	assert_int_equal(output_commit(&output), 0);
	umask(old_mask);
	assert_int_equal(mode_of(in_scratch("plain")), 0640);
	assert_int_equal(mode_of(in_scratch("script")), 0750);
	assert_int_equal(mode_of(in_scratch("kept")), 0604);
	assert_text(read_file(in_scratch("kept")), "new");
}

static void test_symbolic_links_are_kept(void **state)
{
	(void)state;
	struct text folder = in_scratch("folder"), target = in_scratch("folder/target");
	assert_int_equal(mkdir(folder.data, 0700), 0);
	write_file(target, TEXT("old"), 0600);
	assert_int_equal(symlink("folder/target", in_scratch("second").data), 0);
	assert_int_equal(symlink(in_scratch("second").data, in_scratch("first").data), 0);
	struct output output;
	output_open_file(&output, &arena, in_scratch("first"), false);
	output_string(&output, "new");
	assert_int_equal(output_commit(&output), 0);
	assert_text(read_file(target), "new");
	char link[64];
	assert_int_equal(readlink(in_scratch("second").data, link, sizeof(link)), sizeof("folder/target") - 1);
	assert_int_equal(unlink(target.data), 0);
	/* The target is gone: the links lead nowhere, and still stay. */
	output_open_file(&output, &arena, in_scratch("first"), false);
	output_string(&output, "again");
	assert_int_equal(output_commit(&output), 0);
	assert_text(read_file(target), "again");
	assert_int_equal(readlink(in_scratch("second").data, link, sizeof(link)), sizeof("folder/target") - 1);
	assert_int_equal(unlink(target.data), 0);
	assert_int_equal(rmdir(folder.data), 0);
}

static int result_of(struct text path)
{
	struct output output;
	output_open_file(&output, &arena, path, false);
	output_string(&output, "new");
	return output_commit(&output);
}

static void test_what_cannot_be_written_says_why(void **state)
{
	(void)state;
	assert_int_equal(result_of(text_from(scratch)), EISDIR);
	assert_int_equal(result_of(in_scratch("missing/file")), ENOENT);
	assert_int_equal(result_of(TEXT("")), ENOENT);
	assert_int_equal(result_of(TEXT("a\0b")), ENOENT);
	assert_int_equal(symlink("loop", in_scratch("loop").data), 0);
	assert_int_equal(result_of(in_scratch("loop")), ELOOP);
	write_file(in_scratch("file"), TEXT("old"), 0600);
	assert_int_equal(result_of(in_scratch("file/below")), ENOTDIR);
	assert_text(read_file(in_scratch("file")), "old");
	assert_int_equal(count_entries(false), 2);
}

static void test_devices_are_written_to(void **state)
{
	(void)state;
	assert_int_equal(result_of(TEXT("/dev/null")), 0);
	assert_int_equal(result_of(TEXT("/dev/full")), ENOSPC);
	struct stat status;
	assert_int_equal(stat("/dev/null", &status), 0);
	assert_true(S_ISCHR(status.st_mode));
}

static void test_a_large_file_is_not_kept_in_memory(void **state)
{
	(void)state;
	struct output output;
	output_open_file(&output, &arena, in_scratch("large"), false);
	size_t used = arena.used;
	char line[1000];
	memset(line, 'w', sizeof(line));
	for (int i = 0; i < 3000; i++) {
		output_write(&output, (struct text){ line, sizeof(line) });
		output_format(&output, "%05d\n", i);
	}
	assert_true(arena.used - used < 512 * 1024);
	assert_int_equal(output_commit(&output), 0);
	struct text content = read_file(in_scratch("large"));
	assert_int_equal(content.length, 3000 * 1006);
	for (size_t i = 0; i < 3000; i++) {
		assert_memory_equal(content.data + i * 1006, line, sizeof(line));
		assert_int_equal(strtol(content.data + i * 1006 + 1000, NULL, 10), i);
	}
}

/* Runs something in a process of its own, whose limits, user and standard output are nobody else's; its result must be
 * small. */
static int in_a_child(int (*action)(void))
{
	fflush(NULL);
	pid_t child = fork();
	assert_true(child >= 0);
	if (child == 0)
		_exit(action());
	int status;
	assert_int_equal(waitpid(child, &status, 0), child);
	assert_true(WIFEXITED(status));
	return WEXITSTATUS(status);
}

static int write_beyond_a_limit(void)
{
	const struct rlimit limit = { 100000, 100000 };
	signal(SIGXFSZ, SIG_IGN);
	if (setrlimit(RLIMIT_FSIZE, &limit) != 0)
		return 255;
	struct output output;
	output_open_file(&output, &arena, in_scratch("sheet.html"), false);
	for (int i = 0; i < 50000; i++)
		output_string(&output, "too much ");
	return output_commit(&output);
}

static void test_a_full_disk_leaves_the_old_file(void **state)
{
	(void)state;
	write_file(in_scratch("sheet.html"), TEXT("old"), 0600);
	assert_int_equal(in_a_child(write_beyond_a_limit), EFBIG);
	assert_text(read_file(in_scratch("sheet.html")), "old");
	assert_int_equal(count_entries(false), 1);
}

static int write_over_a_protected_file(void)
{
	/* To the superuser nothing is protected. */
	if (geteuid() == 0 && (setgid(65534) != 0 || setuid(65534) != 0))
		return 255;
	return result_of(in_scratch("protected"));
}

static void test_a_protected_file_is_not_replaced(void **state)
{
	(void)state;
	assert_int_equal(chmod(scratch, 0777), 0);
	write_file(in_scratch("protected"), TEXT("old"), 0444);
	assert_int_equal(in_a_child(write_over_a_protected_file), EACCES);
	assert_text(read_file(in_scratch("protected")), "old");
	assert_int_equal(count_entries(false), 1);
}

static int write_to_standard(const char *path, int flags)
{
	int target = open(path, flags, 0600);
	if (target < 0 || dup2(target, STDOUT_FILENO) < 0)
		return 255;
	struct output output;
	output_open_standard(&output, &arena);
	output_string(&output, "the whole ");
	output_format(&output, "%s", "product");
	struct stat status;
	if (fstat(STDOUT_FILENO, &status) != 0 || status.st_size != 0)
		return 254; /* nothing may be written before it is complete */
	return output_commit(&output);
}

static int write_to_a_file(void)
{
	return write_to_standard(in_scratch("out").data, O_WRONLY | O_CREAT);
}

static int write_to_a_full_device(void)
{
	return write_to_standard("/dev/full", O_WRONLY);
}

static int write_to_nobody(void)
{
	int ends[2];
	signal(SIGPIPE, SIG_IGN);
	if (pipe(ends) != 0 || dup2(ends[1], STDOUT_FILENO) < 0 || close(ends[0]) != 0)
		return 255;
	struct output output;
	output_open_standard(&output, &arena);
	output_string(&output, "unheard");
	return output_commit(&output);
}

static int write_to_a_closed_output(void)
{
	close(STDOUT_FILENO);
	struct output output;
	output_open_standard(&output, &arena);
	output_string(&output, "nowhere");
	return output_commit(&output);
}

static void test_standard_output(void **state)
{
	(void)state;
	assert_int_equal(in_a_child(write_to_a_file), 0);
	assert_text(read_file(in_scratch("out")), "the whole product");
	assert_int_equal(in_a_child(write_to_a_full_device), ENOSPC);
	assert_int_equal(in_a_child(write_to_nobody), EPIPE);
	assert_int_equal(in_a_child(write_to_a_closed_output), EBADF);
}

/* A pipe that does not block takes 64 KiB at a time: the rest waits until the reader has made room. */
static int write_to_a_slow_reader(void)
{
	int ends[2];
	if (pipe(ends) != 0 || fcntl(ends[1], F_SETFL, O_NONBLOCK) != 0)
		return 255;
	pid_t reader = fork();
	if (reader == 0) {
		size_t count = 0;
		char bytes[4096];
		close(ends[1]);
		for (ssize_t taken; (taken = read(ends[0], bytes, sizeof(bytes))) > 0;)
			count += (size_t)taken;
		_exit(count == 300000 ? 0 : 1);
	}
	close(ends[0]);
	dup2(ends[1], STDOUT_FILENO);
	close(ends[1]);
	struct output output;
	output_open_standard(&output, &arena);
	for (int i = 0; i < 30000; i++)
		output_string(&output, "0123456789");
	int result = output_commit(&output);
	close(STDOUT_FILENO);
	int status;
	if (waitpid(reader, &status, 0) != reader || !WIFEXITED(status) || WEXITSTATUS(status) != 0)
		return 254;
	return result;
}

static void test_a_slow_reader_gets_everything(void **state)
{
	(void)state;
	assert_int_equal(in_a_child(write_to_a_slow_reader), 0);
}

int main(void)
{
	const struct CMUnitTest tests[] = {
		ARENA_TEST(test_memory),
		ARENA_TEST(test_a_released_product_is_passed_on),
		SCRATCH_TEST(test_what_cannot_be_made_leaves_no_file),
		SCRATCH_TEST(test_a_file_appears_whole_or_not_at_all),
		SCRATCH_TEST(test_a_dropped_file_leaves_the_old_one),
		SCRATCH_TEST(test_modes),
		SCRATCH_TEST(test_symbolic_links_are_kept),
		SCRATCH_TEST(test_what_cannot_be_written_says_why),
		SCRATCH_TEST(test_devices_are_written_to),
		SCRATCH_TEST(test_a_large_file_is_not_kept_in_memory),
		SCRATCH_TEST(test_a_full_disk_leaves_the_old_file),
		SCRATCH_TEST(test_a_protected_file_is_not_replaced),
		SCRATCH_TEST(test_standard_output),
		SCRATCH_TEST(test_a_slow_reader_gets_everything),
	};
	RUN_TESTS(tests);
}
