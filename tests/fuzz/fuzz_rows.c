/* Any bytes as a table of comma-separated values. Every byte lies in a row or in its line end, in order. */
#include <stdint.h>
#include <stdlib.h>

#include "support/csv.h"

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length);

int LLVMFuzzerTestOneInput(const uint8_t *bytes, size_t length)
{
	struct landing landing;
	struct arena arena;

	arena_init(&arena, &landing);
	if (setjmp(landing.place) == 0) {
		struct csv_reader reader = csv_start(&arena, (struct text){ (const char *)bytes, length });
		struct csv_row row = { 0 };
		size_t end = 0;

		while (csv_next(&reader, &row)) {
			if (row.begin < end || row.begin - end > 3 || row.begin + row.length > length || row.count == 0)
				abort();
			end = row.begin + row.length;
			for (size_t i = 0; i < row.count; i++)
				if (row.fields[i].begin < row.begin || row.fields[i].begin + row.fields[i].length > end)
					abort();
		}
	}
	arena_release(&arena);
	return 0;
}
