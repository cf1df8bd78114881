#include "support/output.h"

#include <errno.h>
#include <fcntl.h>
#include <poll.h>
#include <signal.h>
#include <stdatomic.h>
#include <stdio.h>
#include <string.h>
#include <sys/stat.h>
#include <unistd.h>

#define BUFFER_LIMIT ((size_t)64 * 1024)
#define LINK_LIMIT 40
#define NAME_TRIES 1000
#define LINK_LENGTH 4096
#define UNFINISHED_MOST 8

/* ---- bytes ---- */

static void set_error(struct output *output, int error)
{
	if (output->error == 0)
		output->error = error;
}

/* Writes everything or notes why not. A standard output that does not block is waited for. */
static void write_all(struct output *output, struct text text)
{
	while (output->error == 0 && text.length > 0) {
		ssize_t taken = write(output->descriptor, text.data, text.length);
		if (taken > 0) {
			text.data += taken;
			text.length -= (size_t)taken;
		} else if (taken == 0) {
			set_error(output, EIO);
		} else if (errno == EAGAIN) {
			struct pollfd ready = { .fd = output->descriptor, .events = POLLOUT };
			poll(&ready, 1, -1);
		} else if (errno != EINTR) {
			set_error(output, errno);
		}
	}
}

static void flush(struct output *output)
{
	write_all(output, (struct text){ output->buffer.data, output->buffer.length });
	output->buffer.length = 0;
}

/* Only a temporary file may receive bytes before all is known to be well. */
static bool is_passed_on(const struct output *output)
{
	return output->temporary || output->is_released;
}

static void flush_if_full(struct output *output)
{
	if (is_passed_on(output) && output->buffer.length >= BUFFER_LIMIT)
		flush(output);
}

void output_write(struct output *output, struct text text)
{
	while (text.length > 0 && output->error == 0) {
		size_t piece = text.length;
		if (is_passed_on(output) && piece > BUFFER_LIMIT - output->buffer.length)
			piece = BUFFER_LIMIT - output->buffer.length;
		text_append(&output->buffer, (struct text){ text.data, piece });
		text.data += piece;
		text.length -= piece;
		flush_if_full(output);
	}
}

void output_string(struct output *output, const char *string)
{
	output_write(output, text_from(string));
}

void output_format(struct output *output, const char *format, ...)
{
	if (output->error != 0)
		return;
	va_list arguments;
	va_start(arguments, format);
	text_append_format_list(&output->buffer, format, arguments);
	va_end(arguments);
	flush_if_full(output);
}

struct text output_memory(struct output *output)
{
	return text_builder_text(&output->buffer);
}

/* ---- what is not finished ---- */

/* The names of temporary files, for a handler of signals, which is given no context. A product and its dependency file
 * are the most that is open at once. */
static _Atomic(const char *) unfinished[UNFINISHED_MOST];

static void note_unfinished(const char *path)
{
	for (size_t i = 0; i < UNFINISHED_MOST; i++) {
		const char *none = NULL;
		if (atomic_compare_exchange_strong(&unfinished[i], &none, path))
			return;
	}
}

static void forget_unfinished(const char *path)
{
	for (size_t i = 0; i < UNFINISHED_MOST; i++) {
		const char *known = path;
		atomic_compare_exchange_strong(&unfinished[i], &known, NULL);
	}
}

void output_abandon(void)
{
	for (size_t i = 0; i < UNFINISHED_MOST; i++) {
		const char *path = atomic_exchange(&unfinished[i], NULL);
		if (path)
			unlink(path);
	}
}

/* ---- opening ---- */

static void start(struct output *output, struct arena *arena, enum output_kind kind)
{
	*output = (struct output){ .kind = kind, .buffer = text_builder_start(arena), .descriptor = -1 };
}

void output_open_memory(struct output *output, struct arena *arena)
{
	start(output, arena, OUTPUT_MEMORY);
}

void output_open_standard(struct output *output, struct arena *arena)
{
	start(output, arena, OUTPUT_STREAM);
	output->descriptor = STDOUT_FILENO;
}

/* The folder part of a path with its slash; empty where it has none. */
static struct text folder_of(const char *path)
{
	const char *slash = strrchr(path, '/');
	return (struct text){ path, slash ? (size_t)(slash - path) + 1 : 0 };
}

/* Follows symbolic links by hand, so that one to a file that does not exist yet is kept too. */
static const char *follow_links(struct output *output, struct arena *arena, const char *path)
{
	for (int i = 0; i < LINK_LIMIT; i++) {
		struct stat status;
		if (lstat(path, &status) != 0 || !S_ISLNK(status.st_mode))
			return path;
		char link[LINK_LENGTH];
		ssize_t length = readlink(path, link, sizeof(link));
		if (length < 0 || (size_t)length == sizeof(link)) {
			set_error(output, length < 0 ? errno : ENAMETOOLONG);
			return path;
		}
		struct text folder = link[0] == '/' ? TEXT("") : folder_of(path);
		path = text_format(arena, "%.*s%.*s", TEXT_ARGUMENT(folder), (int)length, link).data;
	}
	set_error(output, ELOOP);
	return path;
}

/* Creates a file that is not there yet. No signal comes between its creation and the note of it. */
static int create_noted(const char *path, mode_t mode)
{
	sigset_t all, before;
	sigfillset(&all);
	sigprocmask(SIG_BLOCK, &all, &before);
	int descriptor = open(path, O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, mode);
	int error = errno;
	if (descriptor >= 0)
		note_unfinished(path);
	sigprocmask(SIG_SETMASK, &before, NULL);
	errno = error;
	return descriptor;
}

/* Makes the temporary file in the target's folder; the kernel applies the umask. Its name need not be secret: a file or
 * link that lies in its way is never opened. */
static void create_temporary(struct output *output, struct arena *arena)
{
	struct text folder = folder_of(output->target);
	mode_t mode = output->executable ? 0777 : 0666;
	for (int i = 0; i < NAME_TRIES; i++) {
		struct text name = text_format(arena, "%.*s.wetside-%ld-%d", TEXT_ARGUMENT(folder), (long)getpid(), i);
		output->descriptor = create_noted(name.data, mode);
		if (output->descriptor >= 0) {
			output->temporary = (char *)name.data;
			return;
		}
		if (errno != EEXIST)
			break;
	}
	set_error(output, errno);
}

/* Gives the temporary file the owner, as far as that may be done, and the mode of the file that it will replace. */
static void take_mode(struct output *output, const struct stat *old)
{
	struct stat own;
	if (fstat(output->descriptor, &own) != 0) {
		set_error(output, errno);
		return;
	}
	bool is_same_owner = own.st_uid == old->st_uid && own.st_gid == old->st_gid;
	if (!is_same_owner && fchown(output->descriptor, old->st_uid, old->st_gid) != 0)
		errno = 0; /* not ours to give away: the file becomes the writer's own */
	if (fchmod(output->descriptor, old->st_mode & 0777) != 0)
		set_error(output, errno);
}

void output_open_file(struct output *output, struct arena *arena, struct text path, bool executable)
{
	start(output, arena, OUTPUT_FILE);
	output->path = text_copy(arena, path);
	output->executable = executable;
	if (path.length == 0 || memchr(path.data, '\0', path.length)) {
		set_error(output, ENOENT);
		return;
	}
	struct stat status;
	bool exists = stat(output->path.data, &status) == 0;
	output->target = (char *)output->path.data;
	if (exists && S_ISDIR(status.st_mode)) {
		set_error(output, EISDIR);
		return;
	}
	if (exists && !S_ISREG(status.st_mode))
		return; /* a device or pipe cannot be replaced: it is written to at the end */
	output->target = (char *)follow_links(output, arena, output->target);
	if (exists && access(output->target, W_OK) != 0)
		set_error(output, errno); /* renaming would overwrite a file that is protected */
	if (output->error == 0)
		create_temporary(output, arena);
	if (output->error == 0 && exists)
		take_mode(output, &status);
}

int output_make_folder(struct arena *arena, struct text path)
{
	struct text name = text_copy(arena, path);
	struct stat status;
	int error;
	if (mkdir(name.data, 0777) == 0)
		return 0;
	error = errno;
	if (stat(name.data, &status) == 0 && S_ISDIR(status.st_mode))
		return 0;
	return error;
}

/* ---- ending ---- */

static void close_descriptor(struct output *output)
{
	if (output->kind == OUTPUT_FILE && output->descriptor >= 0 && close(output->descriptor) != 0 && errno != EINTR)
		set_error(output, errno);
	output->descriptor = -1;
}

static void open_device(struct output *output)
{
	output->descriptor = open(output->target, O_WRONLY | O_NOCTTY | O_CLOEXEC);
	if (output->descriptor < 0)
		set_error(output, errno);
}

void output_release(struct output *output)
{
	if (output->kind == OUTPUT_MEMORY)
		return;
	if (output->error == 0 && output->kind == OUTPUT_FILE && !output->temporary)
		open_device(output);
	output->is_released = true;
}

void output_fail(struct output *output, int error)
{
	set_error(output, error);
}

/* Has the bytes on the disk before the name is: after a power failure there is the old file or the new one. Where a
 * file system knows of no such thing, it cannot be had. */
static void store(struct output *output)
{
	while (output->error == 0 && fsync(output->descriptor) != 0)
		if (errno == EINVAL || errno == ENOSYS || errno == ENOTSUP)
			return;
		else if (errno != EINTR)
			set_error(output, errno);
}

int output_finish(struct output *output)
{
	if (output->kind == OUTPUT_MEMORY || output->is_finished)
		return output->error;
	if (output->error == 0 && output->kind == OUTPUT_FILE && !output->temporary && output->descriptor < 0)
		open_device(output);
	flush(output);
	if (output->temporary)
		store(output);
	close_descriptor(output);
	output->is_finished = true;
	return output->error;
}

int output_commit(struct output *output)
{
	if (output->kind == OUTPUT_MEMORY)
		return output->error;
	output_finish(output);
	if (output->error == 0 && output->temporary) {
		if (rename(output->temporary, output->target) != 0) {
			set_error(output, errno);
		} else {
			forget_unfinished(output->temporary);
			output->temporary = NULL;
		}
	}
	output_drop(output);
	return output->error;
}

void output_drop(struct output *output)
{
	close_descriptor(output);
	if (output->temporary) {
		unlink(output->temporary);
		forget_unfinished(output->temporary);
	}
	output->temporary = NULL;
	if (output->kind != OUTPUT_MEMORY)
		output->buffer.length = 0;
}
