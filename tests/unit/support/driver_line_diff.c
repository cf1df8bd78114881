/* Prints the difference of two files, for tests that give it to other programs. */
#include <stdio.h>
#include <stdlib.h>

#include "support/line_diff.h"
#include "support/source.h"

int main(int argc, char **argv)
{
	struct landing landing;
	struct arena arena;
	struct source_set sources;
	struct text problem;
	struct text difference;

	if (argc != 3 || setjmp(landing.place))
		return 2;
	arena_init(&arena, &landing);
	source_set_init(&sources, &arena);
	const struct source_file *old = source_read(&sources, text_from(argv[1]), text_from(argv[1]), &problem);
	const struct source_file *new = source_read(&sources, text_from(argv[2]), text_from(argv[2]), &problem);

	if (old == NULL || new == NULL)
		return 2;
	difference = line_diff(&arena, TEXT("old"), TEXT("new"), (struct text){ old->bytes, old->length },
			       (struct text){ new->bytes, new->length });
	fwrite(difference.data, 1, difference.length, stdout);
	arena_release(&arena);
	return 0;
}
