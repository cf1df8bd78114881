/* A folder of its own for each test that touches files; it and what is left in it go away afterwards. */
#ifndef SCRATCH_FOLDER_H
#define SCRATCH_FOLDER_H

#include <dirent.h>
#include <fcntl.h>
#include <stdlib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "arena_fixture.h"

static char scratch[1024];

static inline int open_scratch(void **state)
{
	const char *parent = getenv("TMPDIR");
	snprintf(scratch, sizeof(scratch), "%s/wetside-unit-XXXXXX", parent && *parent ? parent : "/tmp");
	return mkdtemp(scratch) ? open_arena(state) : -1;
}

/* How many entries the scratch folder has; they are removed where that is asked for. */
static inline size_t count_entries(bool is_removing)
{
	size_t count = 0;
	DIR *folder = opendir(scratch);
	assert_non_null(folder);
	for (struct dirent *entry = readdir(folder); entry; entry = readdir(folder)) {
		if (strcmp(entry->d_name, ".") == 0 || strcmp(entry->d_name, "..") == 0)
			continue;
		count++;
		if (is_removing && unlinkat(dirfd(folder), entry->d_name, 0) != 0)
			unlinkat(dirfd(folder), entry->d_name, AT_REMOVEDIR);
	}
	closedir(folder);
	return count;
}

static inline int close_scratch(void **state)
{
	count_entries(true);
	rmdir(scratch);
	return close_arena(state);
}

/* A test that may use `arena` and the folder `scratch`. */
#define SCRATCH_TEST(function) cmocka_unit_test_setup_teardown(function, open_scratch, close_scratch)

/* The path of a name in the folder. */
static inline struct text in_scratch(const char *name)
{
	return text_format(&arena, "%s/%s", scratch, name);
}

static inline void write_file(struct text path, struct text content, mode_t mode)
{
	int descriptor = open(path.data, O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, 0600);
	assert_true(descriptor >= 0);
	assert_int_equal(write(descriptor, content.data, content.length), content.length);
	assert_int_equal(fchmod(descriptor, mode), 0);
	assert_int_equal(close(descriptor), 0);
}

/* What a file holds now. */
static inline struct text read_file(struct text path)
{
	int descriptor = open(path.data, O_RDONLY | O_CLOEXEC);
	assert_true(descriptor >= 0);
	struct stat status;
	assert_int_equal(fstat(descriptor, &status), 0);
	char *bytes = ARENA_ARRAY(&arena, char, (size_t)status.st_size + 1);
	assert_int_equal(read(descriptor, bytes, (size_t)status.st_size), status.st_size);
	close(descriptor);
	return (struct text){ bytes, (size_t)status.st_size };
}

#endif
