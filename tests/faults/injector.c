/* Makes one call of a program fail, again and again: loaded before its libraries (LD_PRELOAD), it starts the program
 * once for each call of a kind and lets that call fail, in a process of its own. What came of each is told in a report.
 *
 * INJECT_CALL    which calls count: memory, or a function of the list below (write, rename …)
 * INJECT_HOW     an errno as a number; `short`: takes or gives one byte; `end`: gives none; `grow`, `shrink`, `vanish`:
 *                the file that is read changes just then
 * INJECT_PATH    which file's reads count, by the end of its path; all where that is empty
 * INJECT_ON      `yes`: every later call fails too
 * INJECT_FIRST   the first one that has its turn
 * INJECT_DENSE   up to this one each call has its turn …
 * INJECT_STRIDE  … then each of so many
 * INJECT_REPORT  the file that the report goes to
 * INJECT_SCRATCH a folder for what the program prints
 * INJECT_TARGET  a file that is a copy of INJECT_BEFORE at each start, or is not there where that is empty
 * INJECT_OTHER   a file that is not there at each start
 *
 * A record of the report is a line `NUMBER COUNT FAILED STATUS OUT LEFT ERR`: which call, how many there were, whether
 * it came to it, what waitpid said, bytes on standard output, blocks of memory not given back, bytes on standard error,
 * which follow; then a line for each file of the working folder, `NAME HASH`, and an empty one. The last record is that
 * of a run without a failure. */
#define _GNU_SOURCE
#include <dirent.h>
#include <dlfcn.h>
#include <errno.h>
#include <fcntl.h>
#include <malloc.h>
#include <stdarg.h>
#include <stdint.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>
#include <sys/stat.h>
#include <sys/wait.h>
#include <unistd.h>

#define HANGS_AFTER_S 60

/* glibc's own allocator under the names that stand behind malloc and its kin. */
extern void *__libc_malloc(size_t size);
extern void *__libc_calloc(size_t count, size_t size);
extern void *__libc_realloc(void *block, size_t size);
extern void *__libc_memalign(size_t alignment, size_t size);
extern void __libc_free(void *block);

/* Seen by the process that tells and by the one that fails. */
struct shared {
	long count; /* calls so far */
	long left;  /* blocks not given back */
	int failed;
};

static struct shared *shared; /* null: nothing is to fail here */
static long wanted;
static int error; /* 0: see is_short */
static int is_short;
static int goes_on;
static int is_memory;
static const char *call, *how;

/* ---- whose turn it is ---- */

static int is_turn(void)
{
	long number = ++shared->count;

	if (number != wanted && !(goes_on && number > wanted))
		return 0;
	shared->failed = 1;
	return 1;
}

static int fails(const char *name)
{
	if (!shared || is_memory || strcmp(name, call) != 0 || !is_turn())
		return 0;
	errno = error;
	return 1;
}

static int memory_fails(void)
{
	if (!shared || !is_memory || !is_turn())
		return 0;
	errno = ENOMEM;
	return 1;
}

/* ---- memory ---- */

static void *counted(void *block)
{
	if (shared && block)
		shared->left++;
	return block;
}

void *malloc(size_t size)
{
	return memory_fails() ? NULL : counted(__libc_malloc(size));
}

void *calloc(size_t count, size_t size)
{
	return memory_fails() ? NULL : counted(__libc_calloc(count, size));
}

void *realloc(void *block, size_t size)
{
	void *moved;

	if (memory_fails())
		return NULL;
	moved = __libc_realloc(block, size);
	return block ? moved : counted(moved);
}

void *reallocarray(void *block, size_t count, size_t size)
{
	if (size != 0 && count > SIZE_MAX / size) {
		errno = ENOMEM;
		return NULL;
	}
	return realloc(block, count * size);
}

void *memalign(size_t alignment, size_t size)
{
	return memory_fails() ? NULL : counted(__libc_memalign(alignment, size));
}

void *aligned_alloc(size_t alignment, size_t size)
{
	return memalign(alignment, size);
}

int posix_memalign(void **block, size_t alignment, size_t size)
{
	*block = memalign(alignment, size);
	return *block ? 0 : ENOMEM;
}

void free(void *block)
{
	if (shared && block) {
		shared->left--;
		memset(block, 0xDB, malloc_usable_size(block)); /* whoever still looks there is to come to grief */
	}
	__libc_free(block);
}

/* ---- files ---- */

/* The function that stands behind one of ours. */
#define NEXT(name) ((__typeof__(&name))next(#name))

static void *next(const char *name)
{
	void *function = dlsym(RTLD_NEXT, name);

	if (!function)
		abort();
	return function;
}

int open(const char *path, int flags, ...)
{
	mode_t mode = 0;

	if (flags & O_CREAT) {
		va_list arguments;
		va_start(arguments, flags);
		mode = (mode_t)va_arg(arguments, int);
		va_end(arguments);
	}
	if (fails((flags & O_CREAT) ? "create" : "open"))
		return -1;
	return NEXT(open)(path, flags, mode);
}

static void find_path(int descriptor, char *path, size_t size)
{
	char link[64];
	ssize_t length;

	snprintf(link, sizeof(link), "/proc/self/fd/%d", descriptor);
	length = NEXT(readlink)(link, path, size - 1);
	path[length < 0 ? 0 : length] = '\0';
}

static int is_meant(int descriptor)
{
	const char *wanted_path = getenv("INJECT_PATH");
	size_t length = wanted_path ? strlen(wanted_path) : 0;
	char path[4096];

	if (length == 0)
		return 1;
	find_path(descriptor, path, sizeof(path));
	return strlen(path) >= length && strcmp(path + strlen(path) - length, wanted_path) == 0;
}

/* Somebody else changes the file that is about to be read. */
static void change_file(int descriptor)
{
	char path[4096];
	struct stat status;
	int file;

	find_path(descriptor, path, sizeof(path));
	if (strcmp(how, "vanish") == 0)
		NEXT(unlink)(path);
	file = NEXT(open)(path, O_WRONLY | O_APPEND);
	if (file < 0 || NEXT(fstat)(file, &status) != 0)
		return;
	if (strcmp(how, "shrink") == 0 && ftruncate(file, status.st_size / 2) != 0)
		abort();
	if (strcmp(how, "grow") == 0 && NEXT(write)(file, "# more\n", 7) != 7)
		abort();
	NEXT(close)(file);
}

ssize_t read(int descriptor, void *bytes, size_t length)
{
	if (!is_meant(descriptor) || !fails("read"))
		return NEXT(read)(descriptor, bytes, length);
	if (error != 0)
		return -1;
	if (strcmp(how, "end") == 0)
		return 0;
	if (!is_short)
		change_file(descriptor);
	return NEXT(read)(descriptor, bytes, is_short ? length > 0 : length);
}

ssize_t write(int descriptor, const void *bytes, size_t length)
{
	if (!fails("write"))
		return NEXT(write)(descriptor, bytes, length);
	if (error != 0)
		return -1;
	return is_short ? NEXT(write)(descriptor, bytes, length > 0) : 0;
}

/* A close that fails closes all the same, as it does on Linux. */
int close(int descriptor)
{
	int is_failing = fails("close");
	int result = NEXT(close)(descriptor);

	if (!is_failing)
		return result;
	errno = error;
	return -1;
}

#define WRAPPED(type, failure, name, parameters, arguments)                                                            \
	type name parameters                                                                                           \
	{                                                                                                              \
		return fails(#name) ? (failure) : NEXT(name) arguments;                                                \
	}

WRAPPED(int, -1, fsync, (int descriptor), (descriptor))
WRAPPED(int, -1, rename, (const char *from, const char *to), (from, to))
WRAPPED(int, -1, unlink, (const char *path), (path))
WRAPPED(int, -1, fchmod, (int descriptor, mode_t mode), (descriptor, mode))
WRAPPED(int, -1, fchown, (int descriptor, uid_t owner, gid_t group), (descriptor, owner, group))
WRAPPED(int, -1, fstat, (int descriptor, struct stat *status), (descriptor, status))
WRAPPED(int, -1, stat, (const char *path, struct stat *status), (path, status))
WRAPPED(int, -1, lstat, (const char *path, struct stat *status), (path, status))
WRAPPED(int, -1, access, (const char *path, int mode), (path, mode))
WRAPPED(ssize_t, -1, readlink, (const char *path, char *target, size_t size), (path, target, size))
WRAPPED(char *, NULL, realpath, (const char *path, char *real), (path, real))
WRAPPED(char *, NULL, getcwd, (char *folder, size_t size), (folder, size))
WRAPPED(DIR *, NULL, opendir, (const char *path), (path))

/* ---- one run after the other ---- */

static const char *setting(const char *name)
{
	const char *value = getenv(name);

	return value ? value : "";
}

static FILE *report;
static char scratch[2][4096];

static void remove_left_over(const char *name)
{
	if (strncmp(name, ".wetside-", 9) == 0)
		NEXT(unlink)(name);
}

static uint64_t hash_of(const char *path)
{
	uint64_t hash = 14695981039346656037u; /* FNV-1a */
	FILE *file = fopen(path, "rb");
	int byte;

	while (file && (byte = getc(file)) != EOF)
		hash = (hash ^ (uint64_t)byte) * 1099511628211u;
	if (file)
		fclose(file);
	return hash;
}

static void tell_folder(void)
{
	struct dirent **names;
	int count = scandir(".", &names, NULL, alphasort);

	for (int i = 0; i < count; i++) {
		const char *name = names[i]->d_name;

		if (strcmp(name, ".") != 0 && strcmp(name, "..") != 0)
			fprintf(report, "%s %016llx\n", name, (unsigned long long)hash_of(name));
		remove_left_over(name);
	}
	fputc('\n', report);
}

static void put_target(void)
{
	const char *target = setting("INJECT_TARGET");
	const char *before = setting("INJECT_BEFORE");
	FILE *from, *to;
	int byte;

	NEXT(unlink)(setting("INJECT_OTHER"));
	if (target[0] == '\0')
		return;
	NEXT(unlink)(target);
	if (before[0] == '\0')
		return;
	from = fopen(before, "rb");
	to = fopen(target, "wb");
	if (!from || !to)
		abort();
	while ((byte = getc(from)) != EOF)
		putc(byte, to);
	fclose(from);
	if (fclose(to) != 0)
		abort();
}

static long size_of(const char *path)
{
	struct stat status;

	return NEXT(stat)(path, &status) == 0 ? (long)status.st_size : -1;
}

static void tell(const struct shared *came, int status)
{
	char piece[4096];
	size_t length;
	FILE *errors = fopen(scratch[1], "rb");

	fprintf(report, "%ld %ld %d %d %ld %ld %ld\n", wanted, came->count, came->failed, status, size_of(scratch[0]),
		came->left, size_of(scratch[1]));
	while (errors && (length = fread(piece, 1, sizeof(piece), errors)) > 0)
		fwrite(piece, 1, length, report);
	if (errors)
		fclose(errors);
	tell_folder();
}

/* The program's own streams lie where they can be read afterwards. */
static void divert(int descriptor, const char *path)
{
	int file = NEXT(open)(path, O_WRONLY | O_CREAT | O_TRUNC, 0600);

	if (file < 0 || dup2(file, descriptor) < 0)
		abort();
	NEXT(close)(file);
}

/* True in the process that goes on to be the program. */
static int is_run(struct shared *seen)
{
	pid_t process;
	int status;

	put_target();
	lseek(STDIN_FILENO, 0, SEEK_SET);
	*seen = (struct shared){ 0 };
	process = fork();
	if (process < 0)
		abort();
	if (process == 0) {
		divert(STDOUT_FILENO, scratch[0]);
		divert(STDERR_FILENO, scratch[1]);
		alarm(HANGS_AFTER_S);
		shared = seen;
		return 1;
	}
	while (waitpid(process, &status, 0) < 0)
		if (errno != EINTR)
			abort();
	tell(seen, status);
	return 0;
}

__attribute__((constructor)) static void start(void)
{
	long dense = atol(setting("INJECT_DENSE"));
	long stride = atol(setting("INJECT_STRIDE"));
	struct shared *seen;

	call = getenv("INJECT_CALL");
	if (!call)
		return;
	how = setting("INJECT_HOW");
	is_memory = strcmp(call, "memory") == 0;
	goes_on = strcmp(setting("INJECT_ON"), "yes") == 0;
	is_short = strcmp(how, "short") == 0;
	error = atoi(how);
	snprintf(scratch[0], sizeof(scratch[0]), "%s/out", setting("INJECT_SCRATCH"));
	snprintf(scratch[1], sizeof(scratch[1]), "%s/err", setting("INJECT_SCRATCH"));
	report = fopen(setting("INJECT_REPORT"), "wb");
	seen = mmap(NULL, sizeof(*seen), PROT_READ | PROT_WRITE, MAP_SHARED | MAP_ANONYMOUS, -1, 0);
	if (!report || seen == MAP_FAILED)
		abort();
	unsetenv("LD_PRELOAD");
	for (wanted = atol(setting("INJECT_FIRST"));; wanted += wanted < dense ? 1 : stride) {
		fflush(report);
		if (is_run(seen))
			return;
		if (!seen->failed)
			break;
	}
	fclose(report);
	_exit(0);
}
