#include "support/source.h"

#include <errno.h>
#include <fcntl.h>
#include <limits.h>
#include <stdlib.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#include "support/limits.h"
#include "support/utf8.h"

#define TAB_STOP 8
#define STREAM_CHUNK ((size_t)64 * 1024)

/* Two NULs follow each file; one address more keeps the end of a file apart from the start of the next. */
#define GAP 3u

void source_set_init(struct source_set *set, struct arena *arena)
{
	*set = (struct source_set){ .arena = arena, .next_base = 1 };
}

/* ---- reading ---- */

static struct text explain_errno(int error)
{
	switch (error) {
	case ENOENT:
	case ENOTDIR:
		return TEXT("there is no such file");
	case EACCES:
	case EPERM:
		return TEXT("it may not be read");
	case EISDIR:
		return TEXT("it is a folder");
	case ELOOP:
		return TEXT("its symbolic links lead in a circle");
	case ENAMETOOLONG:
		return TEXT("its name is too long");
	case EBADF:
		return TEXT("it is not open");
	case ESTALE:
		return TEXT("it was changed while it was read; try again");
	default:
		return text_from(strerror(error));
	}
}

static struct text explain_size(struct arena *arena, const char *what, enum limit limit)
{
	return text_format(arena, "%s larger than %s", what, limit_words(limit));
}

/* What a path names that is no regular file. */
static struct text explain_mode(mode_t mode)
{
	if (S_ISDIR(mode))
		return TEXT("it is a folder");
	if (S_ISFIFO(mode))
		return TEXT("it is a pipe; give - to read standard input");
	if (S_ISSOCK(mode))
		return TEXT("it is a socket");
	return TEXT("it is a device");
}

struct content {
	char *bytes;
	size_t length;
	size_t capacity;
};

/* Reads up to the end, with room for two NULs left over. Returns 0 or an errno; EFBIG beyond the limit. */
static int read_all(struct arena *arena, int descriptor, size_t expected, struct content *content)
{
	content->capacity = expected + GAP;
	content->bytes = ARENA_ARRAY(arena, char, content->capacity);
	for (;;) {
		if (content->capacity - content->length < GAP)
			content->bytes = arena_grow(arena, content->bytes, content->length, &content->capacity,
						    content->length + STREAM_CHUNK, 1);
		size_t room = content->capacity - content->length - 2;
		ssize_t taken = read(descriptor, content->bytes + content->length, room);
		if (taken < 0 && errno == EINTR)
			continue;
		if (taken < 0)
			return errno;
		if (taken == 0)
			return 0;
		content->length += (size_t)taken;
		if (content->length > limit_value(LIMIT_FILE))
			return EFBIG;
	}
}

/* Half of an old text and half of a new one may look like a whole recipe: ESTALE where a file is not as it was, 0 where
 * it is. */
static int compare_status(int descriptor, const struct stat *before, const struct content *content)
{
	struct stat after;
	if (fstat(descriptor, &after) != 0)
		return errno;
	bool is_same = after.st_size == before->st_size && after.st_mtim.tv_sec == before->st_mtim.tv_sec &&
		       after.st_mtim.tv_nsec == before->st_mtim.tv_nsec;
	return is_same && (before->st_size == 0 || content->length == (size_t)before->st_size) ? 0 : ESTALE;
}

static struct text explain_failure(struct arena *arena, int error)
{
	return error == EFBIG ? explain_size(arena, "it is", LIMIT_FILE) : explain_errno(error);
}

/* The same for a file, which must not stay open when memory runs out; ESTALE where it was changed meanwhile. */
static int read_and_close(struct arena *arena, int descriptor, const struct stat *status, struct content *content)
{
	struct landing *const outer = arena->landing;
	struct landing here;
	arena->landing = &here;
	if (setjmp(here.place)) {
		arena->landing = outer;
		close(descriptor);
		longjmp(outer->place, 1);
	}
	int error = read_all(arena, descriptor, (size_t)status->st_size, content);
	arena->landing = outer;
	if (error == 0)
		error = compare_status(descriptor, status, content);
	close(descriptor);
	return error;
}

/* ---- files of a set ---- */

struct text source_folder(struct arena *arena, struct text path)
{
	size_t length = path.length;
	while (length > 0 && path.data[length - 1] != '/')
		length--;
	if (length == 0)
		return TEXT(".");
	while (length > 1 && path.data[length - 1] == '/')
		length--;
	return text_copy(arena, (struct text){ path.data, length });
}

static struct source_file *add_file(struct source_set *set, struct text name, struct text path, struct content content,
				    struct text *problem)
{
	if (content.length >= limit_value(LIMIT_ALL_FILES) - GAP - set->next_base) {
		*problem = explain_size(set->arena, "all files together are", LIMIT_ALL_FILES);
		return NULL;
	}
	content.bytes[content.length] = content.bytes[content.length + 1] = '\0';
	uint32_t mark = content.length >= 3 && memcmp(content.bytes, "\xEF\xBB\xBF", 3) == 0 ? 3 : 0;
	content.bytes += mark; /* a byte order mark is no content */
	content.length -= mark;
	ARENA_RESERVE(set->arena, set->files, set->count, set->capacity);
	struct source_file *file = ARENA_NEW(set->arena, struct source_file);
	file->name = text_copy(set->arena, name);
	file->directory = source_folder(set->arena, path);
	file->bytes = content.bytes;
	file->length = (uint32_t)content.length;
	file->mark_length = mark;
	file->base = set->next_base;
	set->next_base += file->length + GAP;
	set->files[set->count++] = file;
	return file;
}

/* Opens a regular file; -1 and a reason where it is none. */
static int open_regular(struct arena *arena, const char *path, struct stat *status, struct text *problem)
{
	/* Without O_NONBLOCK a pipe that nobody writes to would never open. */
	int descriptor = open(path, O_RDONLY | O_NONBLOCK | O_NOCTTY | O_CLOEXEC);
	if (descriptor < 0) {
		*problem = errno == ENXIO ? TEXT("it is a socket") : explain_errno(errno);
		return -1;
	}
	if (fstat(descriptor, status) != 0)
		*problem = explain_errno(errno);
	else if (!S_ISREG(status->st_mode))
		*problem = explain_mode(status->st_mode);
	else if (status->st_size > (off_t)limit_value(LIMIT_FILE))
		*problem = explain_size(arena, "it is", LIMIT_FILE);
	else
		return descriptor;
	close(descriptor);
	return -1;
}

/* The text that is open under a path. */
static const struct open_text *open_text_at(const struct source_set *set, struct text path, struct text *real)
{
	if (!set->open || set->open->count == 0)
		return NULL;
	*real = source_future_path(set->arena, path);
	for (size_t i = 0; real->length > 0 && i < set->open->count; i++)
		if (text_equal(set->open->items[i].real, *real))
			return &set->open->items[i];
	return NULL;
}

struct text source_original(const struct source_file *file)
{
	return (struct text){ file->bytes - file->mark_length, file->length + file->mark_length };
}

struct source_file *source_read(struct source_set *set, struct text path, struct text name, struct text *problem)
{
	if (path.length == 0 || memchr(path.data, '\0', path.length)) {
		*problem = TEXT("there is no such file");
		return NULL;
	}
	struct text real;
	const struct open_text *open_text = open_text_at(set, path, &real);
	if (open_text) {
		struct source_file *file = source_add(set, name, open_text->content, problem);
		if (file) {
			file->real = real;
			file->directory = source_folder(set->arena, path);
		}
		return file;
	}
	const char *c_path = text_copy(set->arena, path).data;
	struct stat status;
	int descriptor = open_regular(set->arena, c_path, &status, problem);
	if (descriptor < 0)
		return NULL;
	struct content content = { 0 };
	int error = read_and_close(set->arena, descriptor, &status, &content);
	if (error != 0) {
		*problem = explain_failure(set->arena, error);
		return NULL;
	}
	struct source_file *file = add_file(set, name, path, content, problem);
	char resolved[PATH_MAX];
	if (file)
		file->real = text_copy(set->arena, realpath(c_path, resolved) ? text_from(resolved) : path);
	return file;
}

struct source_file *source_read_standard_input(struct source_set *set, struct text name, struct text *problem)
{
	struct content content = { 0 };
	int error = read_all(set->arena, STDIN_FILENO, STREAM_CHUNK, &content);
	if (error != 0) {
		*problem = explain_failure(set->arena, error);
		return NULL;
	}
	return add_file(set, name, name, content, problem);
}

void source_lie_beside(const struct source_set *set, struct source_file *file, struct text path)
{
	file->name = text_copy(set->arena, path);
	file->directory = source_folder(set->arena, path);
}

struct source_file *source_add(struct source_set *set, struct text name, struct text content, struct text *problem)
{
	if (content.length > limit_value(LIMIT_FILE)) {
		*problem = explain_size(set->arena, "it is", LIMIT_FILE);
		return NULL;
	}
	struct content copy = { ARENA_ARRAY(set->arena, char, content.length + 2), content.length, content.length + 2 };
	if (content.length > 0)
		memcpy(copy.bytes, content.data, content.length);
	return add_file(set, name, name, copy, problem);
}

/* ---- places ---- */

/* The file in whose bytes, or at whose end, an address lies. */
static struct source_file *file_at(const struct source_set *set, uint32_t address)
{
	size_t low = 0, high = set->count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (set->files[middle]->base <= address)
			low = middle + 1;
		else
			high = middle;
	}
	if (low == 0)
		return NULL;
	struct source_file *file = set->files[low - 1];
	return address - file->base <= file->length ? file : NULL;
}

struct source_file *source_file_of(const struct source_set *set, struct span span)
{
	return span_is_set(span) ? file_at(set, span.begin) : NULL;
}

struct text source_text(const struct source_set *set, struct span span)
{
	const struct source_file *file = source_file_of(set, span);
	if (!file)
		return TEXT("");
	uint32_t offset = span.begin - file->base;
	uint32_t rest = file->length - offset;
	return (struct text){ file->bytes + offset, span.length < rest ? span.length : rest };
}

/* LF, CR LF or CR alone. A NUL follows the file's bytes. */
static bool ends_line(const struct source_file *file, uint32_t place)
{
	char byte = file->bytes[place];
	return byte == '\n' || (byte == '\r' && file->bytes[place + 1] != '\n');
}

static void index_lines(struct arena *arena, struct source_file *file)
{
	if (file->lines)
		return;
	size_t count = 1;
	for (uint32_t i = 0; i < file->length; i++)
		count += ends_line(file, i);
	uint32_t *lines = ARENA_ARRAY(arena, uint32_t, count);
	size_t line = 0;
	lines[line++] = file->base;
	for (uint32_t i = 0; i < file->length; i++)
		if (ends_line(file, i))
			lines[line++] = file->base + i + 1;
	file->lines = lines;
	file->line_count = count;
}

/* How many lines begin at or before an address. */
static size_t line_at(const struct source_file *file, uint32_t address)
{
	size_t low = 0, high = file->line_count;
	while (low < high) {
		size_t middle = low + (high - low) / 2;
		if (file->lines[middle] <= address)
			low = middle + 1;
		else
			high = middle;
	}
	return low;
}

/* The display column, from 1, of the character that holds a byte of a line. */
static size_t column_of(struct text line, size_t offset)
{
	size_t column = 0;
	for (size_t place = 0; place < offset;) {
		int32_t character;
		int taken = utf8_decode((struct text){ line.data + place, line.length - place }, &character);
		size_t bytes = taken > 0 ? (size_t)taken : 1;
		if (place + bytes > offset)
			break;
		column += character == '\t' ? TAB_STOP - column % TAB_STOP : (size_t)utf8_width(character);
		place += bytes;
	}
	return column + 1;
}

struct source_place source_locate(const struct source_set *set, uint32_t address)
{
	struct source_file *file = address == 0 ? NULL : file_at(set, address);
	if (!file)
		return (struct source_place){ 0 };
	index_lines(set->arena, file);
	size_t line = line_at(file, address);
	uint32_t begin = file->lines[line - 1];
	struct text rest = { file->bytes + (begin - file->base), file->length - (begin - file->base) };
	return (struct source_place){ file, line, column_of(rest, address - begin) };
}

struct text source_line(const struct source_set *set, const struct source_file *file, size_t line)
{
	struct source_file *own = file_at(set, file->base);
	if (!own || line == 0)
		return TEXT("");
	index_lines(set->arena, own);
	if (line > file->line_count)
		return TEXT("");
	uint32_t begin = file->lines[line - 1] - file->base;
	uint32_t end = line < file->line_count ? file->lines[line] - file->base - 1 : file->length;
	if (end > begin && file->bytes[end - 1] == '\r')
		end--;
	return (struct text){ file->bytes + begin, end - begin };
}

struct text source_real_path(struct arena *arena, struct text path)
{
	char real[PATH_MAX];

	if (realpath(text_copy(arena, path).data, real) == NULL)
		return TEXT("");
	return text_copy(arena, text_from(real));
}

struct text source_future_path(struct arena *arena, struct text path)
{
	struct text real = source_real_path(arena, path);
	struct text folder;
	size_t name = path.length;

	if (real.length > 0)
		return real;
	while (name > 0 && path.data[name - 1] != '/')
		name--;
	folder = source_real_path(arena, source_folder(arena, path));
	if (folder.length == 0 || name == path.length)
		return TEXT("");
	return text_format(arena, "%.*s%s%.*s", TEXT_ARGUMENT(folder), folder.length == 1 ? "" : "/",
			   (int)(path.length - name), path.data + name);
}
