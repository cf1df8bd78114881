#include "support/folder.h"

#include <dirent.h>
#include <string.h>
#include <sys/stat.h>

#include "support/limits.h"

struct search {
	struct arena *arena;
	struct folder_files *files;
	struct text suffix;
	bool is_deep;
	struct text *folders; /* still to be looked at */
	size_t folder_count;
	size_t folder_capacity;
	size_t seen;
};

static bool ends_in(struct text text, struct text suffix)
{
	return text.length > suffix.length &&
	       memcmp(text.data + text.length - suffix.length, suffix.data, suffix.length) == 0;
}

static void take(struct search *search, struct text folder, const char *name)
{
	struct text path = text_format(search->arena, "%.*s/%s", TEXT_ARGUMENT(folder), name);
	struct folder_files *files = search->files;
	struct stat status;

	if (lstat(path.data, &status) != 0)
		return;
	if (S_ISDIR(status.st_mode) && search->is_deep) {
		ARENA_RESERVE(search->arena, search->folders, search->folder_count, search->folder_capacity);
		search->folders[search->folder_count++] = path;
	} else if (S_ISREG(status.st_mode) && ends_in(path, search->suffix)) {
		ARENA_RESERVE(search->arena, files->paths, files->count, files->capacity);
		files->paths[files->count++] = path;
	}
}

static void look_through(struct search *search, struct text folder, DIR *stream)
{
	const struct dirent *entry;

	while (search->seen < limit_value(LIMIT_FOLDER) && (entry = readdir(stream)) != NULL) {
		search->seen++;
		if (entry->d_name[0] != '.')
			take(search, folder, entry->d_name);
	}
}

/* A stream must not stay open when memory runs out. */
static void look_into(struct search *search, struct text folder)
{
	struct landing *const outer = search->arena->landing;
	struct landing here;
	DIR *const stream = opendir(text_copy(search->arena, folder).data);

	if (stream == NULL)
		return;
	search->arena->landing = &here;
	if (setjmp(here.place) != 0) {
		search->arena->landing = outer;
		closedir(stream);
		longjmp(outer->place, 1);
	}
	look_through(search, folder, stream);
	search->arena->landing = outer;
	closedir(stream);
}

void folder_find(struct folder_files *files, struct arena *arena, struct text folder, struct text suffix, bool is_deep)
{
	struct search search = { .arena = arena, .files = files, .suffix = suffix, .is_deep = is_deep };

	look_into(&search, folder);
	while (search.folder_count > 0)
		look_into(&search, search.folders[--search.folder_count]);
}
