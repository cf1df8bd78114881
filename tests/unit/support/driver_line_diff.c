/* Prints the difference of two files, for tests that give it to other programs. */
#include <stdio.h>
#include <stdlib.h>

#include "support/line_diff.h"
#include "support/source.h"

/* The difference of two files, printed; apart from main, whose values a jump to the landing place may spoil. */
static int print_difference(struct arena *arena, const char *old_path, const char *new_path)
{
	struct source_set sources;
	struct text problem;
	struct text difference;

	source_set_init(&sources, arena);
	const struct source_file *old = source_read(&sources, text_from(old_path), text_from(old_path), &problem);
	const struct source_file *new = source_read(&sources, text_from(new_path), text_from(new_path), &problem);

	if (old == NULL || new == NULL)
		return 2;
	difference = line_diff(arena, TEXT("old"), TEXT("new"), (struct text){ old->bytes, old->length },
			       (struct text){ new->bytes, new->length });
	fwrite(difference.data, 1, difference.length, stdout);
	return 0;
}

int main(int argc, char **argv)
{
	struct landing landing;
	struct arena arena;

	if (argc != 3 || setjmp(landing.place))
		return 2;
	arena_init(&arena, &landing);
	int status = print_difference(&arena, argv[1], argv[2]);
	arena_release(&arena);
	return status;
}
